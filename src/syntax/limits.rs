//! How much one file may hold. Every limit has its own fault, so that none is met in silence.

/// Bytes of one source.
pub const FILE_BYTES: usize = 1024 * 1024;
/// Bytes of one line.
pub const LINE_BYTES: usize = 10_000;
/// Characters of one number.
pub const NUMBER_CHARACTERS: usize = 30;
/// Digits of one number, noughts in front not counted.
pub const NUMBER_DIGITS: usize = 12;
/// Bytes of a name.
pub const NAME_BYTES: usize = 200;
/// Bytes of a title.
pub const TITLE_BYTES: usize = 300;
/// Formula lines of a recipe; of each variation apart.
pub const FORMULA_LINES: usize = 1_000;
/// Steps of a recipe; of each variation apart.
pub const STEPS: usize = 1_000;
/// Stages of a recipe.
pub const STAGES: usize = 64;
/// Variations of a recipe.
pub const VARIATIONS: usize = 200;
/// Ingredients that one bakehouse file may define.
pub const INGREDIENTS: usize = 5_000;
/// Grams of one amount: a thousand tonnes.
pub const GRAMS: i64 = 1_000_000_000;
/// Grams of all that is made at once, of one block or of all pieces: two hundred thousand tonnes, so that the heaviest
/// flour may have the most water. What is shown is added up as whole millionths, and so many grams leave room for the sums.
pub const DOUGH_GRAMS: i64 = 200 * GRAMS;
/// Per cent of one share.
pub const PERCENT: i64 = 10_000;
/// Degrees Celsius of the coldest and of the hottest place.
pub const CELSIUS: (i64, i64) = (-40, 600);
/// Seconds of one time: 366 days.
pub const SECONDS: i64 = 366 * 24 * 3600;
/// Marks and brackets that may stand open within each other.
pub const NESTING: usize = 32;
/// Faults that are kept of one file; of more nobody reads.
pub const FAULTS: usize = 1_000;
/// Pieces or parts that one line may count.
pub const COUNT: i64 = 1_000_000;
/// Millimetres of one side of a tin.
pub const MILLIMETRES: i64 = 10_000;
