//! What is worked out of warmth and time, as plain data for views. Temperatures are in °C and not rounded;
//! they are physics, and no weight or share of the bread rests on them.

use std::collections::BTreeSet;

use crate::model::recipe::BlockId;
use crate::quantity::ElapsedRange;

/// Everything that is worked out of warmth and time.
#[derive(Clone, Debug, Default)]
pub struct Warmth {
    /// The water for the dough temperature that the recipe wants; nothing where it wants none.
    pub water: Option<WaterPlan>,
    /// What each scald comes to.
    pub scalds: Vec<ScaldHeat>,
    /// When the bread is done; nothing for what is not baked as a bread.
    pub done: Option<Doneness>,
    /// Times at another room temperature than the formula states; nothing where none was asked for.
    pub timing: Option<Timing>,
    /// Times with another amount of starter or yeast in the dough; nothing where none was asked for. The steps
    /// of the sheet stay as they are, since the weights do.
    pub leaven: Option<Timing>,
    /// The keys of the bakehouse that water and scalds rest on: `room`, `altitude`.
    pub rests_on: BTreeSet<String>,
}

/// The water for a wanted dough temperature, by heat and by the rules of the trade.
#[derive(Clone, Debug)]
pub struct WaterPlan {
    /// The dough temperature that is wanted.
    pub wanted: f64,
    /// What is tempered: `water`, or the wettest thing of a dough without any.
    pub liquid: String,
    /// How much of it there is, in grams.
    pub liquid_grams: f64,
    /// The temperature that the recipe states for it, if it does.
    pub stated: Option<f64>,
    /// The temperature of the tap.
    pub tap: f64,
    /// Whether that is the default.
    pub tap_assumed: bool,
    /// The temperature of the room.
    pub room: f64,
    /// How mixing warms the dough.
    pub friction: Friction,
    /// What else goes in, each with its temperature.
    pub parts: Vec<WarmPart>,
    /// Specific heat of the dough at the wanted temperature by the equations alone, kJ/(kg K).
    pub dough_specific_heat: f64,
    /// By the balance of heat over everything that goes in.
    pub balance: Tempered,
    /// By the rule of three factors.
    pub three_factor: Tempered,
    /// By the rule of four; nothing without a preferment.
    pub four_factor: Option<Tempered>,
    /// By the rule of two, which leaves room and friction out.
    pub two_factor: Tempered,
}

/// A temperature for the liquid, and what to do where the tap does not give it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tempered {
    /// The temperature; below 0 °C it stands for a want of cold that only ice can fill.
    pub celsius: f64,
    /// What to do about it.
    pub advice: Advice,
}

/// What to do about a temperature that is needed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Advice {
    /// Warm the liquid, or take it as it is.
    Temper,
    /// Take so many grams of ice in place of as much of the water, the rest from the tap.
    Ice(f64),
    /// No temperature is recommended: it would lie above 50 °C, where yeast suffers.
    TooHot,
    /// Not even all of it as ice, or as cold as the fridge, is cold enough.
    TooCold,
}

/// How mixing warms the dough.
#[derive(Clone, Debug, PartialEq)]
pub struct Friction {
    /// What warms it: `hand`, `spiral`.
    pub way: String,
    /// The friction of the trade's rule of three factors, a difference of degrees.
    pub factor: f64,
    /// What the dough warms by: a third of the factor.
    pub rise: f64,
    /// Whether the factor is a starting value of the trade, since the bakehouse gives none.
    pub assumed: bool,
}

/// Something that goes into the dough, with its warmth.
#[derive(Clone, Debug, PartialEq)]
pub struct WarmPart {
    /// What it is called.
    pub name: String,
    /// Its weight in grams.
    pub grams: f64,
    /// Its temperature.
    pub celsius: f64,
    /// Where that comes from.
    pub from: WarmFrom,
    /// Specific heat at that temperature as it is used, kJ/(kg K).
    pub specific_heat: f64,
    /// Specific heat at that temperature by the equations alone, kJ/(kg K).
    pub choi_okos: f64,
    /// Whether its composition is known; else it is taken for bread flour.
    pub known: bool,
}

/// Where a temperature comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WarmFrom {
    /// The line states it.
    Stated,
    /// The line's words do: `melted`, `boiling`.
    Words,
    /// The stage's steps do.
    Stage,
    /// The room's, as nothing else is said.
    Room,
    /// The fridge's, since such a thing is kept there.
    Fridge,
    /// Melting ice.
    Ice,
}

/// What a scald comes to.
#[derive(Clone, Debug)]
pub struct ScaldHeat {
    /// The block.
    pub block: BlockId,
    /// What it is called.
    pub title: String,
    /// Where water boils here.
    pub boiling: f64,
    /// What it comes to by the balance of heat, nothing lost to the bowl.
    pub mixed: f64,
    /// What a step heats it to, if one does.
    pub heated: Option<f64>,
    /// Where the starch of its flour swells, from and to.
    pub swells: (f64, f64),
    /// Whether the starch swells.
    pub starch: Starch,
}

/// What becomes of the starch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Starch {
    /// It swells.
    Swells,
    /// Some of it does.
    Partly,
    /// It stays raw.
    Raw,
}

/// When a bread is done.
#[derive(Clone, Debug)]
pub struct Doneness {
    /// What sort of bread it is taken for.
    pub sort: DoneSort,
    /// The usual core temperature, from and to, as the source has it.
    pub usual: (f64, f64),
    /// Where water boils here.
    pub boiling: f64,
    /// The core that the recipe states for its last bake.
    pub stated: Option<f64>,
    /// How long it should cool before it is sliced.
    pub cool: ElapsedRange,
}

/// The sorts of bread that are done at different cores.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DoneSort {
    /// Flour, water, salt and little else.
    Lean,
    /// Butter, egg or sugar in it.
    Enriched,
    /// Half or more of it rye.
    Rye,
}

/// Times at another room temperature.
#[derive(Clone, Debug)]
pub struct Timing {
    /// The room that was asked for.
    pub room: f64,
    /// The room that the formula was written for.
    pub written_for: f64,
    /// Whether that is the default.
    pub written_for_assumed: bool,
    /// How much of the written leaven there is, as a fraction of one.
    pub leaven: f64,
    /// The steps that are timed anew, in the order of the page.
    pub steps: Vec<TimedStep>,
}

/// A step that hangs on the room.
#[derive(Clone, Debug)]
pub struct TimedStep {
    /// Its block.
    pub block: BlockId,
    /// Its number among the steps of the block.
    pub step: usize,
    /// What is done, in the baker's words.
    pub words: String,
    /// How long the formula gives it.
    pub written: ElapsedRange,
    /// What raises the dough there.
    pub leaven: Leaven,
    /// How long it takes now, or why that cannot be said.
    pub estimate: Result<TimeEstimate, NoEstimate>,
}

/// What raises a dough.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaven {
    /// Yeast from the baker's shop.
    Yeast,
    /// A starter.
    Sourdough,
    /// Both.
    Both,
    /// Nothing that is known.
    Nothing,
}

/// An estimated time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeEstimate {
    /// From the least to the most that the sources make of it, to five minutes.
    pub takes: ElapsedRange,
    /// By the first of the sources, for the middle of what is written, in minutes.
    pub middle_minutes: f64,
    /// The dough's temperature where the step begins, as written and now.
    pub begins: (f64, f64),
    /// The dough's temperature where the step ends, by the middle.
    pub ends: (f64, f64),
    /// What the dough drifts towards, as written and now.
    pub around: (f64, f64),
    /// The time constant of the drift in minutes.
    pub drift_minutes: f64,
    /// The growth of the step by the first of the sources, as the area below its rate in the dough's
    /// own temperature, rate by hours.
    pub growth: f64,
}

/// Why there is no estimate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoEstimate {
    /// Nothing is known to raise the dough.
    NoLeaven,
    /// A temperature lies outside of what the source covers, from and to.
    OutsideSource(f64, f64),
    /// It takes, or would take, longer than a week.
    TooLong,
    /// So much leaven would be there at the start already.
    AtOnce,
}

/// What a bench record shows when it is worked back.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct RecordFindings {
    /// The friction by the rule of three factors, a difference of degrees.
    pub friction: Option<f64>,
    /// What the dough warmed by, by the balance of heat, a difference of degrees.
    pub rise: Option<f64>,
    /// What was lost in the oven, as a fraction of one of the dough as mixed.
    pub bake_loss: Option<f64>,
}
