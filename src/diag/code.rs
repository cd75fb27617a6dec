//! Every kind of fault, with its slug and severity.

/// How grave a fault is; the graver one sorts first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// No card can be trusted.
    Error,
    /// The card is made; the baker should look.
    Warning,
    /// A matter of safety, on the card too; it never stops anything.
    Caution,
    /// Worth knowing.
    Hint,
}

impl Severity {
    /// Gives the word that stands before a fault.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Caution => "caution",
            Self::Hint => "hint",
        }
    }
}

/// Makes the enum, its slugs and its severities from one table, so that none of the three can be forgotten.
macro_rules! codes {
    ($($(#[$doc:meta])* $name:ident = $slug:literal, $severity:ident;)*) => {
        /// A kind of fault. Its slug is stable: scripts and pages may rely on it.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Code {
            $($(#[$doc])* $name,)*
        }

        impl Code {
            /// Every code, in the order of the table.
            pub const ALL: &[Self] = &[$(Self::$name,)*];

            /// Gives the stable name.
            #[must_use]
            pub const fn slug(self) -> &'static str {
                match self {
                    $(Self::$name => $slug,)*
                }
            }

            /// Gives the usual severity.
            #[must_use]
            pub const fn severity(self) -> Severity {
                match self {
                    $(Self::$name => Severity::$severity,)*
                }
            }
        }
    };
}

codes! {
    // The bytes and the shape of the file.
    /// The file is not text in UTF-8.
    NotUtf8 = "not-utf8", Error;
    /// The file is past the limit of one source.
    FileTooLarge = "file-too-large", Error;
    /// There is nothing in the file.
    EmptyFile = "empty-file", Error;
    /// A control character stands in the text.
    ControlCharacter = "control-character", Error;
    /// A character that turns the reading direction about.
    HiddenDirection = "hidden-direction", Error;
    /// A character that cannot be seen, or a letter that looks like another.
    LookAlike = "look-alike", Warning;
    /// A byte order mark inside the text.
    StrayByteOrderMark = "stray-byte-order-mark", Warning;
    /// LF and CRLF in one file.
    MixedLineEnds = "mixed-line-ends", Warning;
    /// A line past the limit.
    LineTooLong = "line-too-long", Error;
    /// Brackets or marks nested past the limit.
    NestedTooDeep = "nested-too-deep", Error;
    /// More lines, steps, stages or variations than the limit.
    TooMany = "too-many", Error;
    /// A name or title past the limit.
    NameTooLong = "name-too-long", Error;
    /// A line that is no known form.
    UnreadableLine = "unreadable-line", Error;
    /// An entry that stands in no block.
    EntryOutsideBlock = "entry-outside-block", Error;
    /// A tab among the spaces of an indent.
    TabIndent = "tab-indent", Warning;
    /// Entries of a block that are not indented alike.
    UnevenIndent = "uneven-indent", Warning;
    /// Prose that reads as an entry.
    ProseLooksLikeEntry = "prose-looks-like-entry", Warning;
    /// A version-control merge mark.
    MergeMark = "merge-mark", Error;

    // Quantities.
    /// A number that two bakers read differently.
    AmbiguousNumber = "ambiguous-number", Error;
    /// A dot with three digits after it, which may be meant as a thousand.
    DotThousand = "dot-thousand", Warning;
    /// A number that cannot be read.
    BadNumber = "bad-number", Error;
    /// An amount below nought.
    NegativeAmount = "negative-amount", Error;
    /// An amount past all bakehouses.
    AbsurdAmount = "absurd-amount", Error;
    /// An amount of nought.
    ZeroAmount = "zero-amount", Warning;
    /// A unit that is not known.
    UnknownUnit = "unknown-unit", Error;
    /// A range of weights.
    WeightRange = "weight-range", Error;
    /// A range whose end lies before its start.
    RangeBackwards = "range-backwards", Error;
    /// A temperature that is no place's and no oven's.
    BadTemperature = "bad-temperature", Error;
    /// A time past the limit.
    TimeTooLong = "time-too-long", Error;

    // Keys and blocks.
    /// A key that is not known.
    UnknownKey = "unknown-key", Error;
    /// A key given twice.
    KeyTwice = "key-twice", Error;
    /// A key whose value cannot be read.
    BadValue = "bad-value", Error;
    /// No title.
    MissingTitle = "missing-title", Error;
    /// A block of a kind that is not known.
    UnknownBlock = "unknown-block", Error;
    /// Two blocks of one name.
    BlockTwice = "block-twice", Error;
    /// A block without entries.
    EmptyBlock = "empty-block", Warning;
    /// No dough and no formula.
    MissingDough = "missing-dough", Error;
    /// A dough beside a formula.
    DoughBesideFormula = "dough-beside-formula", Error;
    /// A qualifier of a block header that cannot be read.
    BadQualifier = "bad-qualifier", Error;
    /// An entry of a kind that has no place in its block.
    EntryNotAllowed = "entry-not-allowed", Error;
    /// A picture that is not there or cannot be used.
    PictureMissing = "picture-missing", Warning;
    /// A link that is left out of the notes.
    LinkLeftOut = "link-left-out", Warning;
    /// A language that cards have no words of.
    LanguageWithoutWords = "language-without-words", Hint;

    // Ingredients and stages.
    /// An ingredient that the table does not know.
    UnknownIngredient = "unknown-ingredient", Warning;
    /// `yeast` without its kind.
    WhichYeast = "which-yeast", Error;
    /// `flour` without its kind.
    WhichFlour = "which-flour", Hint;
    /// A count of something that has no unit weight.
    NoUnitWeight = "no-unit-weight", Error;
    /// A volume where a weight is wanted.
    VolumeForWeight = "volume-for-weight", Warning;
    /// A spoon of something that kitchen scales weigh badly.
    SpoonForWeight = "spoon-for-weight", Hint;
    /// A volume of something whose density is not known.
    NoDensity = "no-density", Error;
    /// A stage that is never poured.
    StageUnused = "stage-unused", Warning;
    /// A stage name that answers to two stages.
    AmbiguousStage = "ambiguous-stage", Error;
    /// Stages that pour one another in a round.
    StageRound = "stage-round", Error;
    /// A starter whose hydration is nought.
    StarterDry = "starter-dry", Error;
    /// `all` of something that is no stage.
    AllOfNoStage = "all-of-no-stage", Error;
    /// A starter or old dough in a formula.
    StarterInFormula = "starter-in-formula", Error;

    // Sizes.
    /// The flours of a block do not add up to 100 %.
    FlourShares = "flour-shares", Error;
    /// Nothing says how much.
    SizeOpen = "size-open", Error;
    /// Two lines that give different sizes.
    SizesDisagree = "sizes-disagree", Error;
    /// Two lines whose sizes differ a little.
    SizesDiffer = "sizes-differ", Warning;
    /// More of a stage is poured than there is.
    StageShort = "stage-short", Error;
    /// More of a stage than is poured.
    StageLeftOver = "stage-left-over", Hint;
    /// A stage takes what the formula does not have.
    StageTakesTooMuch = "stage-takes-too-much", Error;
    /// Less kept back than the seed.
    KeptBelowSeed = "kept-below-seed", Error;
    /// Fractions that grow past the limit.
    SumsTooAwkward = "sums-too-awkward", Error;
    /// Percentages with no flour to count against.
    NoFlour = "no-flour", Error;
    /// A tin that does not size by itself.
    TinDoesNotSize = "tin-does-not-size", Error;

    // Steps.
    /// A step without a verb of the trade.
    UnknownVerb = "unknown-verb", Hint;
    /// `at` a place that the bakehouse does not name.
    UnknownPlace = "unknown-place", Warning;
    /// Folds that do not fit into their step.
    FoldsDoNotFit = "folds-do-not-fit", Warning;
    /// A temperature out of all reason for what the step does.
    OddTemperature = "odd-temperature", Warning;
    /// A target that cannot be reached.
    OutOfReach = "out-of-reach", Warning;
    /// A step that stands where it cannot be done, such as a rise behind the bake.
    StepOrder = "step-order", Warning;

    // Variations, records, the bakehouse.
    /// A variation names what is not there.
    VariationMisses = "variation-misses", Error;
    /// A variation names what stands on two lines.
    VariationUnsure = "variation-unsure", Error;
    /// A bench record that cannot be read.
    BadRecord = "bad-record", Error;
    /// A reading of something that is not measured like this.
    UnknownReading = "unknown-reading", Warning;
    /// A chain of `like` that comes back to itself.
    LikeRound = "like-round", Error;
    /// An ingredient entry with a value that cannot be.
    BadIngredient = "bad-ingredient", Error;
    /// An override that drops an allergen.
    AllergenDropped = "allergen-dropped", Warning;

    // What the sheet shows.
    /// A figure outside the usual range for this kind of bread.
    UnusualFigure = "unusual-figure", Hint;
    /// A figure that is almost surely a slip.
    LikelySlip = "likely-slip", Warning;
    /// A line too small for the scales.
    TooSmallForScale = "too-small-for-scale", Warning;
    /// The dough does not suit the tin.
    TinFit = "tin-fit", Hint;

    // What is asked for beside the recipe.
    /// A wish that the recipe cannot have: another starter, another ingredient.
    WishRefused = "wish-refused", Error;

    // Food.
    /// A caution for the card.
    FoodCaution = "food-caution", Caution;
    /// A claim that an ingredient contradicts.
    ClaimContradicted = "claim-contradicted", Caution;
}

#[cfg(test)]
mod tests {
    use super::Code;
    use std::collections::BTreeSet;

    #[test]
    fn slugs_are_kebab_case_and_unique() {
        let slugs: BTreeSet<_> = Code::ALL.iter().map(|code| code.slug()).collect();
        assert_eq!(slugs.len(), Code::ALL.len());
        for slug in slugs {
            assert!(
                slug.bytes()
                    .all(|byte| byte.is_ascii_lowercase() || byte == b'-' || byte == b'8'),
                "{slug}"
            );
        }
    }
}
