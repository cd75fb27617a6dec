//! Warmth and time in the document: water, scalds, doneness, times in another room. All of it is estimated by
//! physics, and none of it is exact.

use schemars::JsonSchema;
use serde::Serialize;

use super::block::title_of;
use super::decimal::{Decimal, Minutes};
use crate::sheet::{
    Advice, DoneSort, Doneness, Friction, Leaven, NoEstimate, ScaldHeat, Sheet, Starch, Tempered,
    TimeEstimate, TimedStep, Timing, WarmFrom, WarmPart, Warmth, WaterPlan,
};

/// What is worked out of warmth and time; absent what the recipe gives no cause for.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct WarmthDocument {
    /// The water for the dough temperature that is wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    water: Option<WaterDocument>,
    /// What each scald comes to.
    scalds: Vec<ScaldDocument>,
    /// When the bread is done.
    #[serde(skip_serializing_if = "Option::is_none")]
    done: Option<DoneDocument>,
    /// Times in the room that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    timing: Option<TimingDocument>,
    /// Times with the amount of starter or yeast that was asked for; the schedule is without it.
    #[serde(skip_serializing_if = "Option::is_none")]
    leaven: Option<TimingDocument>,
}

/// The water for a wanted dough temperature.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct WaterDocument {
    /// The dough temperature that is wanted.
    wanted_c: Decimal,
    /// What is tempered.
    liquid: String,
    /// How much of it there is.
    liquid_g: Decimal,
    /// The temperature that the recipe states for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    stated_c: Option<Decimal>,
    /// The temperature of the tap.
    tap_c: Decimal,
    /// Whether that is the default.
    tap_assumed: bool,
    /// The temperature of the room.
    room_c: Decimal,
    /// How mixing warms the dough.
    friction: FrictionDocument,
    /// Specific heat of the dough by the equations of Choi and Okos alone, kJ/(kg K).
    dough_choi_okos: Decimal,
    /// By the balance of heat.
    balance: TemperedDocument,
    /// By the rule of three factors.
    three_factor: TemperedDocument,
    /// By the rule of four; absent without a preferment.
    #[serde(skip_serializing_if = "Option::is_none")]
    four_factor: Option<TemperedDocument>,
    /// By the rule of two.
    two_factor: TemperedDocument,
    /// What else goes in.
    parts: Vec<PartDocument>,
}

/// How mixing warms the dough; both figures are differences of degrees Celsius.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct FrictionDocument {
    /// What warms it.
    way: String,
    /// The friction of the rule of three factors.
    factor_c_apart: Decimal,
    /// What the dough warms by.
    rise_c_apart: Decimal,
    /// Whether it is a starting value of the trade.
    assumed: bool,
}

/// A temperature and what to do about it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct TemperedDocument {
    /// The temperature; below nought it stands for a want of cold that only ice can fill.
    water_c: Decimal,
    /// What to do: `temper`, `ice`, `too_hot` or `too_cold`. With `too_hot` the temperature is not recommended.
    #[schemars(extend("enum" = ["temper", "ice", "too_hot", "too_cold"]))]
    advice: &'static str,
    /// Ice in place of as much of the water, not on top of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    ice_g: Option<Decimal>,
}

/// Something that goes into the dough, with its warmth.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct PartDocument {
    /// Its name.
    name: String,
    /// Its weight.
    weight_g: Decimal,
    /// Its temperature.
    at_c: Decimal,
    /// Where that comes from.
    #[schemars(extend("enum" = ["stated", "words", "stage", "room", "fridge", "ice"]))]
    from: &'static str,
    /// Specific heat as it is used, kJ/(kg K); flour as it was measured.
    specific_heat: Decimal,
    /// Specific heat by the equations of Choi and Okos alone, kJ/(kg K).
    choi_okos: Decimal,
    /// Whether its composition is known; else it is taken for bread flour.
    known: bool,
}

/// What a scald comes to.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ScaldDocument {
    /// Title of the block.
    block: String,
    /// Where water boils.
    boiling_c: Decimal,
    /// What it comes to by the balance of heat.
    mixed_c: Decimal,
    /// What a step heats it to.
    #[serde(skip_serializing_if = "Option::is_none")]
    heated_c: Option<Decimal>,
    /// Where its starch begins to swell.
    swells_from_c: Decimal,
    /// Where all of it has swollen.
    swells_to_c: Decimal,
    /// Whether it does.
    #[schemars(extend("enum" = ["swells", "partly", "raw"]))]
    starch: &'static str,
}

/// When a bread is done.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct DoneDocument {
    /// What sort of bread it is taken for.
    #[schemars(extend("enum" = ["lean", "enriched", "rye"]))]
    sort: &'static str,
    /// The least of the usual cores.
    usual_least_c: Decimal,
    /// The highest of them.
    usual_most_c: Decimal,
    /// Where water boils.
    boiling_c: Decimal,
    /// The core that the recipe states.
    #[serde(skip_serializing_if = "Option::is_none")]
    stated_c: Option<Decimal>,
    /// How long it should cool before it is sliced.
    cool_minutes: Minutes,
}

/// Times in another room than the formula was written for.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct TimingDocument {
    /// The room that was asked for.
    room_c: Decimal,
    /// The room that the formula was written for.
    written_for_c: Decimal,
    /// Whether that is the default.
    written_for_assumed: bool,
    /// How much of the starter or yeast that is written there is in the dough.
    leaven_percent: Decimal,
    /// The steps that are timed anew.
    steps: Vec<TimedDocument>,
}

/// A step that hangs on the room.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct TimedDocument {
    /// Title of the block.
    block: String,
    /// Its number among the steps of its block, counted from 0.
    step: usize,
    /// What is done.
    words: String,
    /// How long the formula gives it.
    written_minutes: Minutes,
    /// What raises the dough.
    #[schemars(extend("enum" = ["yeast", "sourdough", "both", "nothing"]))]
    leaven: &'static str,
    /// How long it takes now; absent where that cannot be said.
    #[serde(skip_serializing_if = "Option::is_none")]
    estimate: Option<EstimateDocument>,
    /// Why it cannot be said.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("enum" = ["no_leaven", "outside_source", "too_long", "at_once", null]))]
    refused: Option<&'static str>,
}

/// An estimated time.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct EstimateDocument {
    /// From the least to the most that the sources make of it.
    takes_minutes: Minutes,
    /// By the first source, for the middle of what is written.
    middle_minutes: Decimal,
    /// The dough where the step begins, as the formula was written.
    written_begins_c: Decimal,
    /// What is around it, as the formula was written.
    written_around_c: Decimal,
    /// The dough where the step begins.
    begins_c: Decimal,
    /// The dough where it ends.
    ends_c: Decimal,
    /// What is around it.
    around_c: Decimal,
    /// The time constant of the drift.
    drift_minutes: Decimal,
    /// Growth in the step by the first source, the rate times hours.
    growth: Decimal,
}

pub(super) fn view_warmth(warmth: &Warmth, sheet: &Sheet) -> WarmthDocument {
    WarmthDocument {
        water: warmth.water.as_ref().map(view_water),
        scalds: warmth.scalds.iter().map(view_scald).collect(),
        done: warmth.done.as_ref().map(view_done),
        timing: warmth.timing.as_ref().map(|timing| view_timing(timing, sheet)),
        leaven: warmth.leaven.as_ref().map(|timing| view_timing(timing, sheet)),
    }
}

fn view_water(plan: &WaterPlan) -> WaterDocument {
    let Friction {
        way,
        factor,
        rise,
        assumed,
    } = &plan.friction;
    WaterDocument {
        wanted_c: Decimal::of_float(plan.wanted),
        liquid: plan.liquid.clone(),
        liquid_g: Decimal::of_float(plan.liquid_grams),
        stated_c: plan.stated.map(Decimal::of_float),
        tap_c: Decimal::of_float(plan.tap),
        tap_assumed: plan.tap_assumed,
        room_c: Decimal::of_float(plan.room),
        friction: FrictionDocument {
            way: way.clone(),
            factor_c_apart: Decimal::of_float(*factor),
            rise_c_apart: Decimal::of_float(*rise),
            assumed: *assumed,
        },
        dough_choi_okos: Decimal::of_float(plan.dough_specific_heat),
        balance: view_tempered(&plan.balance),
        three_factor: view_tempered(&plan.three_factor),
        four_factor: plan.four_factor.as_ref().map(view_tempered),
        two_factor: view_tempered(&plan.two_factor),
        parts: plan.parts.iter().map(view_part).collect(),
    }
}

fn view_tempered(tempered: &Tempered) -> TemperedDocument {
    let (advice, ice) = match tempered.advice {
        Advice::Temper => ("temper", None),
        Advice::Ice(grams) => ("ice", Some(grams)),
        Advice::TooHot => ("too_hot", None),
        Advice::TooCold => ("too_cold", None),
    };
    TemperedDocument {
        water_c: Decimal::of_float(tempered.celsius),
        advice,
        ice_g: ice.map(Decimal::of_float),
    }
}

fn view_part(part: &WarmPart) -> PartDocument {
    PartDocument {
        name: part.name.clone(),
        weight_g: Decimal::of_float(part.grams),
        at_c: Decimal::of_float(part.celsius),
        from: match part.from {
            WarmFrom::Stated => "stated",
            WarmFrom::Words => "words",
            WarmFrom::Stage => "stage",
            WarmFrom::Room => "room",
            WarmFrom::Fridge => "fridge",
            WarmFrom::Ice => "ice",
        },
        specific_heat: Decimal::of_float(part.specific_heat),
        choi_okos: Decimal::of_float(part.choi_okos),
        known: part.known,
    }
}

fn view_scald(scald: &ScaldHeat) -> ScaldDocument {
    ScaldDocument {
        block: scald.title.clone(),
        boiling_c: Decimal::of_float(scald.boiling),
        mixed_c: Decimal::of_float(scald.mixed),
        heated_c: scald.heated.map(Decimal::of_float),
        swells_from_c: Decimal::of_float(scald.swells.0),
        swells_to_c: Decimal::of_float(scald.swells.1),
        starch: match scald.starch {
            Starch::Swells => "swells",
            Starch::Partly => "partly",
            Starch::Raw => "raw",
        },
    }
}

fn view_done(done: &Doneness) -> DoneDocument {
    DoneDocument {
        sort: match done.sort {
            DoneSort::Lean => "lean",
            DoneSort::Enriched => "enriched",
            DoneSort::Rye => "rye",
        },
        usual_least_c: Decimal::of_float(done.usual.0),
        usual_most_c: Decimal::of_float(done.usual.1),
        boiling_c: Decimal::of_float(done.boiling),
        stated_c: done.stated.map(Decimal::of_float),
        cool_minutes: Minutes::of(done.cool),
    }
}

fn view_timing(timing: &Timing, sheet: &Sheet) -> TimingDocument {
    TimingDocument {
        room_c: Decimal::of_float(timing.room),
        written_for_c: Decimal::of_float(timing.written_for),
        written_for_assumed: timing.written_for_assumed,
        leaven_percent: Decimal::of_float(timing.leaven * 100.0),
        steps: timing
            .steps
            .iter()
            .map(|timed| view_timed(timed, sheet))
            .collect(),
    }
}

fn view_timed(timed: &TimedStep, sheet: &Sheet) -> TimedDocument {
    TimedDocument {
        block: title_of(sheet, timed.block),
        step: timed.step,
        words: timed.words.clone(),
        written_minutes: Minutes::of(timed.written),
        leaven: match timed.leaven {
            Leaven::Yeast => "yeast",
            Leaven::Sourdough => "sourdough",
            Leaven::Both => "both",
            Leaven::Nothing => "nothing",
        },
        estimate: timed.estimate.as_ref().ok().map(view_estimate),
        refused: timed.estimate.err().map(|why| match why {
            NoEstimate::NoLeaven => "no_leaven",
            NoEstimate::OutsideSource(..) => "outside_source",
            NoEstimate::TooLong => "too_long",
            NoEstimate::AtOnce => "at_once",
        }),
    }
}

fn view_estimate(estimate: &TimeEstimate) -> EstimateDocument {
    EstimateDocument {
        takes_minutes: Minutes::of(estimate.takes),
        middle_minutes: Decimal::of_float(estimate.middle_minutes),
        written_begins_c: Decimal::of_float(estimate.begins.0),
        written_around_c: Decimal::of_float(estimate.around.0),
        begins_c: Decimal::of_float(estimate.begins.1),
        ends_c: Decimal::of_float(estimate.ends.1),
        around_c: Decimal::of_float(estimate.around.1),
        drift_minutes: Decimal::of_float(estimate.drift_minutes),
        growth: Decimal::of_float(estimate.growth),
    }
}
