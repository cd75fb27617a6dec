//! The bread as a whole in the document: what it makes, its figures, its tin, its allergens and cautions.

use schemars::JsonSchema;
use serde::Serialize;

use super::block::title_of;
use super::decimal::Decimal;
use crate::quantity::Ratio;
use crate::sheet::{
    Allergens, Caution, Figures, FilledBy, FittedTin, FlourBasis, Pieces, Sheet, TinBand, TinBread, TinFit,
    TooSmall,
};

/// What a recipe makes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct MakesDocument {
    /// Whether the recipe or the request says what it makes; else it is taken as one piece.
    stated: bool,
    /// How many pieces.
    count: Decimal,
    /// The same, exact.
    count_exact: String,
    /// What a piece is called.
    piece: String,
    /// Dough for a piece as it is scaled, the handling loss taken off.
    dough_per_piece_g: Decimal,
    /// The same, exact.
    dough_per_piece_g_exact: String,
    /// How many pieces are scaled at which weight, as the scales show it, so that they add up to the dough.
    scaled: Vec<ScaledDocument>,
    /// Filling and topping on a piece.
    extras_per_piece_g: Decimal,
    /// A piece after the bake, filling and topping as put on.
    baked_per_piece_g: Decimal,
    /// Share of the dough as mixed that is lost in the oven.
    bake_loss_percent: Decimal,
    /// Whether that share is assumed.
    bake_loss_assumed: bool,
    /// Share of the dough as mixed that is left in bowl and on hands.
    handling_loss_percent: Decimal,
    /// Slices a piece.
    #[serde(skip_serializing_if = "Option::is_none")]
    slices: Option<u32>,
}

/// Pieces that are scaled alike.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ScaledDocument {
    /// How many.
    count: i64,
    /// At which weight.
    dough_g: Decimal,
}

/// A line that the scales show too far from what it weighs.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct TooSmallDocument {
    /// Title of its block.
    block: String,
    /// The number of the line in its block, counted from 0.
    line: usize,
    /// What it is called.
    name: String,
    /// What it weighs.
    weight_g: Decimal,
    /// What the scales show.
    scale_weight_g: Decimal,
    /// The step of those scales.
    scale_step_g: Decimal,
    /// By how much of itself rounding moves it.
    moved_percent: Decimal,
    /// A weak solution of which more is weighed; absent where it does not dissolve, or there is no water for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    solution: Option<SolutionDocument>,
}

/// A weak solution in water.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[expect(
    clippy::struct_field_names,
    reason = "every figure of the document says its unit"
)]
struct SolutionDocument {
    /// So much of the thing
    stock_g: Decimal,
    /// is stirred into so much water,
    water_g: Decimal,
    /// and so much of the whole goes in,
    take_g: Decimal,
    /// with so much water left out elsewhere.
    less_water_g: Decimal,
}

/// What describes the bread; shares are in percent of all flour and absent where there is no flour.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct FiguresDocument {
    /// What the recipe's own percentages count against: `all_flour` or `block_flour`.
    #[schemars(extend("enum" = ["all_flour", "block_flour"]))]
    percentages_count_against: &'static str,
    /// The dough as mixed.
    dough_g: Decimal,
    /// The same, exact.
    dough_g_exact: String,
    /// All flour that reaches the dough.
    flour_g: Decimal,
    /// The same, exact.
    flour_g_exact: String,
    /// Flour in preferments and starters.
    #[serde(skip_serializing_if = "Option::is_none")]
    prefermented_flour_percent: Option<Decimal>,
    /// Flour in scalds.
    #[serde(skip_serializing_if = "Option::is_none")]
    scalded_flour_percent: Option<Decimal>,
    /// Water of everything that is wet.
    #[serde(skip_serializing_if = "Option::is_none")]
    hydration_percent: Option<Decimal>,
    /// The water that is poured as water alone.
    #[serde(skip_serializing_if = "Option::is_none")]
    poured_water_percent: Option<Decimal>,
    /// Salt of salt lines and salted goods.
    #[serde(skip_serializing_if = "Option::is_none")]
    salt_percent: Option<Decimal>,
    /// Sugars of all that is not flour.
    #[serde(skip_serializing_if = "Option::is_none")]
    sugar_percent: Option<Decimal>,
    /// Fat of all that is not flour.
    #[serde(skip_serializing_if = "Option::is_none")]
    fat_percent: Option<Decimal>,
    /// Egg, as weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    egg_percent: Option<Decimal>,
    /// Milk solids without their fat.
    #[serde(skip_serializing_if = "Option::is_none")]
    milk_solids_percent: Option<Decimal>,
    /// Wholegrain flours.
    #[serde(skip_serializing_if = "Option::is_none")]
    wholegrain_percent: Option<Decimal>,
    /// Rye flours.
    #[serde(skip_serializing_if = "Option::is_none")]
    rye_percent: Option<Decimal>,
    /// Weight of lines whose composition is not known, which the shares leave out.
    unknown_g: Decimal,
}

/// How the dough suits its tin.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct TinDocument {
    /// The tin, as written.
    tin: String,
    /// What it holds to the brim.
    volume_ml: Decimal,
    /// Millilitres of tin for a gram of dough as scaled.
    ml_per_g: Decimal,
    /// What is usual for such a bread in such a tin.
    usual: TinBandDocument,
}

/// A usual range, in millilitres of tin for a gram of dough: trade practice, from memory.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct TinBandDocument {
    /// The bread that it holds for: `white_lidded`, `white_open`, `white`, `wholemeal` or `rye`.
    #[schemars(extend("enum" = ["white_lidded", "white_open", "white", "wholemeal", "rye"]))]
    bread: &'static str,
    /// Its lower end.
    low_ml_per_g: Decimal,
    /// Its upper end.
    high_ml_per_g: Decimal,
    /// How far it reaches where the dough is driven as high as in a factory.
    widest_ml_per_g: Decimal,
}

/// A tin that the recipe was sized for.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct FittedTinDocument {
    /// The tin, as it was asked for.
    tin: String,
    /// What it holds to the brim.
    volume_ml: Decimal,
    /// Millilitres of tin for a gram of dough.
    ml_per_g: Decimal,
    /// Who decided on that: `asked`, the `recipe`, or the middle of the usual `band`.
    #[schemars(extend("enum" = ["asked", "recipe", "band"]))]
    filled_by: &'static str,
    /// What is usual for such a bread in such a tin.
    usual: TinBandDocument,
    /// The dough that goes in, handling loss taken off.
    dough_g: Decimal,
    /// The same, exact.
    dough_g_exact: String,
    /// That dough after the bake, without filling and topping.
    baked_g: Decimal,
    /// The nearest weight that a piece is practically scaled at.
    practical_dough_g: Decimal,
    /// Millilitres of tin for a gram of dough at that weight.
    practical_ml_per_g: Decimal,
}

/// What is known of allergens in everything that goes into or onto the bread.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct AllergensDocument {
    /// Those that recognised ingredients contain.
    contains: Vec<&'static str>,
    /// Ingredients that could not be checked.
    not_checked: Vec<String>,
}

/// A caution.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct CautionDocument {
    /// Its number: `C03`.
    id: &'static str,
    /// The ingredients or steps that it is about.
    about: Vec<String>,
    /// A length of time that it speaks of.
    #[serde(skip_serializing_if = "Option::is_none")]
    minutes: Option<Decimal>,
    /// Whether the graver wording is called for.
    graver: bool,
}

pub(super) fn view_makes(pieces: &Pieces) -> MakesDocument {
    MakesDocument {
        stated: pieces.said,
        count: Decimal::of(&pieces.count),
        count_exact: pieces.count.to_string(),
        piece: pieces.piece.clone(),
        dough_per_piece_g: Decimal::grams(&pieces.dough),
        dough_per_piece_g_exact: pieces.dough.0.to_string(),
        scaled: pieces
            .scaled
            .iter()
            .map(|(count, weight)| ScaledDocument {
                count: *count,
                dough_g: Decimal::grams(weight),
            })
            .collect(),
        extras_per_piece_g: Decimal::grams(&pieces.extras),
        baked_per_piece_g: Decimal::grams(&pieces.baked),
        bake_loss_percent: Decimal::percent(&pieces.bake_loss),
        bake_loss_assumed: pieces.bake_loss_assumed,
        handling_loss_percent: Decimal::percent(&pieces.handling_loss),
        slices: pieces.slices,
    }
}

pub(super) fn view_too_small(line: &TooSmall, sheet: &Sheet) -> TooSmallDocument {
    TooSmallDocument {
        block: title_of(sheet, line.block),
        line: line.line,
        name: line.name.clone(),
        weight_g: Decimal::grams(&line.weight),
        scale_weight_g: Decimal::of(&line.shown),
        scale_step_g: Decimal::of(&line.step),
        moved_percent: Decimal::percent(&line.moved),
        solution: line.solution.as_ref().map(|solution| SolutionDocument {
            stock_g: Decimal::grams(&solution.stock),
            water_g: Decimal::grams(&solution.water),
            take_g: Decimal::grams(&solution.take),
            less_water_g: Decimal::grams(&solution.less_water),
        }),
    }
}

pub(super) fn view_figures(figures: &Figures) -> FiguresDocument {
    let percent = |share: &Option<Ratio>| share.as_ref().map(Decimal::percent);
    FiguresDocument {
        percentages_count_against: match figures.basis {
            FlourBasis::AllFlour => "all_flour",
            FlourBasis::BlockFlour => "block_flour",
        },
        dough_g: Decimal::grams(&figures.dough),
        dough_g_exact: figures.dough.0.to_string(),
        flour_g: Decimal::grams(&figures.flour),
        flour_g_exact: figures.flour.0.to_string(),
        prefermented_flour_percent: percent(&figures.prefermented),
        scalded_flour_percent: percent(&figures.scalded),
        hydration_percent: percent(&figures.hydration),
        poured_water_percent: percent(&figures.poured_water),
        salt_percent: percent(&figures.salt),
        sugar_percent: percent(&figures.sugar),
        fat_percent: percent(&figures.fat),
        egg_percent: percent(&figures.egg),
        milk_solids_percent: percent(&figures.milk_solids),
        wholegrain_percent: percent(&figures.wholegrain),
        rye_percent: percent(&figures.rye),
        unknown_g: Decimal::grams(&figures.unknown),
    }
}

pub(super) fn view_tin(fit: &TinFit) -> TinDocument {
    TinDocument {
        tin: fit.tin.written.clone(),
        volume_ml: Decimal::of(&fit.tin.volume.0),
        ml_per_g: Decimal::of(&fit.ml_per_g),
        usual: view_band(&fit.band),
    }
}

fn view_band(band: &TinBand) -> TinBandDocument {
    TinBandDocument {
        bread: match band.bread {
            TinBread::WhiteLidded => "white_lidded",
            TinBread::WhiteOpen => "white_open",
            TinBread::White => "white",
            TinBread::Wholemeal => "wholemeal",
            TinBread::Rye => "rye",
        },
        low_ml_per_g: Decimal::of(&band.low),
        high_ml_per_g: Decimal::of(&band.high),
        widest_ml_per_g: Decimal::of(&band.widest),
    }
}

pub(super) fn view_fitted(fitted: &FittedTin) -> FittedTinDocument {
    FittedTinDocument {
        tin: fitted.tin.written.clone(),
        volume_ml: Decimal::of(&fitted.tin.volume.0),
        ml_per_g: Decimal::of(&fitted.ml_per_g),
        filled_by: match fitted.filled_by {
            FilledBy::Asked => "asked",
            FilledBy::Recipe => "recipe",
            FilledBy::Band => "band",
        },
        usual: view_band(&fitted.band),
        dough_g: Decimal::grams(&fitted.dough),
        dough_g_exact: fitted.dough.0.to_string(),
        baked_g: Decimal::grams(&fitted.baked),
        practical_dough_g: Decimal::grams(&fitted.practical),
        practical_ml_per_g: Decimal::of(&fitted.practical_ml_per_g),
    }
}

pub(super) fn view_allergens(allergens: &Allergens) -> AllergensDocument {
    AllergensDocument {
        contains: allergens
            .contains
            .iter()
            .map(|allergen| allergen.label())
            .collect(),
        not_checked: allergens.not_checked.clone(),
    }
}

pub(super) fn view_caution(caution: &Caution) -> CautionDocument {
    CautionDocument {
        id: caution.id,
        about: caution.about.clone(),
        minutes: caution.time.map(Decimal::minutes),
        graver: caution.graver,
    }
}
