//! The verbs of the trade: whether they need hands, and what a step with them is for.

/// A verb that is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Verb {
    /// Its spelling, as the baker finds it in the language reference.
    pub word: &'static str,
    /// Whether it needs somebody from start to end.
    pub hands_on: bool,
    /// What the step is for.
    pub purpose: Purpose,
}

/// What a step is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// Bringing things together: mix, stir, whisk, knead.
    Mix,
    /// Working the dough or the pieces: fold, divide, shape, brush, score, load, turn out.
    Handle,
    /// Heating something that is not the bread: cook, boil, melt, toast.
    Cook,
    /// Waiting without much fermentation: autolyse, soak, rest, bloom, drain.
    Rest,
    /// Fermentation in bulk: ripen, bulk, ferment, rise.
    Ferment,
    /// The last rise of the pieces.
    Proof,
    /// A cold rest: retard, chill, refrigerate, freeze.
    Chill,
    /// Coming back from cold: thaw, temper, warm.
    Warm,
    /// Heating the oven.
    Preheat,
    /// Baking.
    Bake,
    /// Steam in the oven or around the pieces.
    Steam,
    /// Cooling after the bake or of a part.
    Cool,
    /// Putting away or serving: slice, wrap.
    Keep,
}
