//! Slips of units: spellings that are not known, and measures that are none.

use crate::diag::{Code, Diagnostic};
use crate::source::Span;
use crate::syntax::reader::Reader;

/// Words that bakers write for a unit, with the unit that is known.
const MEANT: &[(&str, &str)] = &[
    ("gr", "g"),
    ("grs", "g"),
    ("grm", "g"),
    ("grms", "g"),
    ("gm", "g"),
    ("gms", "g"),
    ("ozs", "oz"),
    ("#", "lb"),
    ("ts", "tsp"),
    ("tbs", "tbsp"),
    ("tbl", "tbsp"),
    ("tblsp", "tbsp"),
    ("cupful", "cup"),
    ("cupfuls", "cups"),
    ("cc", "ml"),
    ("m", "min"),
    ("mn", "min"),
    ("mns", "min"),
    ("hs", "h"),
    ("pc", "%"),
    ("pct", "%"),
];

/// Measures that the language does not have, with what to write instead.
const OTHERS: &[(&str, &str)] = &[
    ("c", "write `cup`"),
    (
        "C",
        "degrees stand behind `at`, as in `water at 20 C`; a cup is a `cup`",
    ),
    ("F", "degrees stand behind `at`, as in `water at 70 F`"),
    ("T", "write `tbsp` for a tablespoon"),
    ("t", "write `tsp` for a teaspoon"),
    ("cl", "write it in `ml`: 1 cl is 10 ml"),
    ("dl", "write it in `ml`: 1 dl is 100 ml"),
    ("pint", "write it in `cups`: a US pint is 2 cups"),
    ("pints", "write it in `cups`: a US pint is 2 cups"),
    ("pt", "write it in `cups`: a US pint is 2 cups"),
    ("quart", "write it in `cups`: a US quart is 4 cups"),
    ("quarts", "write it in `cups`: a US quart is 4 cups"),
    ("qt", "write it in `cups`: a US quart is 4 cups"),
    ("stick", "write the weight: a US stick of butter is 4 oz"),
    ("sticks", "write the weight: a US stick of butter is 4 oz"),
    ("pinch", "weigh it, or write `some`"),
    ("pinches", "weigh it, or write `some`"),
    ("dash", "weigh it, or write `some`"),
    ("handful", "weigh it, or write `some`"),
    ("handfuls", "weigh it, or write `some`"),
    ("knob", "weigh it, or write `some`"),
    ("drop", "weigh it, or write `some`"),
    ("drops", "weigh it, or write `some`"),
    ("bp", "write the share in per cent"),
];

/// Units that are long enough for a slip of one letter to be told from another word.
const LONG: &[&str] = &[
    "gram",
    "grams",
    "kilogram",
    "kilograms",
    "ounce",
    "ounces",
    "pound",
    "pounds",
    "litre",
    "litres",
    "tbsp",
    "tablespoon",
    "tablespoons",
    "teaspoon",
    "teaspoons",
    "cups",
    "parts",
    "minute",
    "minutes",
    "hour",
    "hours",
    "days",
    "percent",
    "overnight",
];

/// Every unit that a quantity or a time may have.
const SHOWN: &str =
    "`g`, `kg`, `oz`, `lb`, `%`, `parts`, `ml`, `l`, `tsp`, `tbsp`, `cups`, `min`, `h`, `days`";

/// Gives the sentence and the mend for a word that is no unit but was meant as one.
fn slip_of(word: &str) -> Option<(Option<&'static str>, String)> {
    let lower = word.to_lowercase();
    if let Some((_, help)) = OTHERS
        .iter()
        .find(|(slip, _)| *slip == word || slip.len() > 1 && *slip == lower)
    {
        return Some((None, (*help).to_owned()));
    }
    let meant = MEANT
        .iter()
        .find(|(slip, _)| *slip == lower)
        .map(|(_, unit)| *unit);
    let near = || LONG.iter().copied().find(|unit| is_one_slip_off(&lower, unit));
    let unit = meant.or_else(near)?;
    Some((Some(unit), format!("write `{unit}`")))
}

/// Says whether two words differ by one letter too many, too few or another, or by two that changed places.
///
/// A count may stand before any word, so that nothing but a plain slip is taken for a unit: grapes are no
/// grams.
fn is_one_slip_off(word: &str, unit: &str) -> bool {
    let (word, unit) = (word.as_bytes(), unit.as_bytes());
    if word.len() < 4 || word.first() != unit.first() || word == unit {
        return false;
    }
    let same = |(left, right): &(&u8, &u8)| left == right;
    let front = word.iter().zip(unit).take_while(same).count();
    let room = word.len().min(unit.len()) - front;
    let back = word
        .iter()
        .rev()
        .zip(unit.iter().rev())
        .take(room)
        .take_while(same)
        .count();
    match (
        word.get(front..word.len() - back),
        unit.get(front..unit.len() - back),
    ) {
        (Some([_] | []), Some([_] | [])) => true,
        (Some([first, second]), Some([third, fourth])) => first == fourth && second == third,
        _ => false,
    }
}

/// Reports a word that was meant as a unit; says whether it was one.
pub(super) fn report_unit_slip(word: &str, span: Span, reader: &mut Reader<'_>) -> bool {
    let Some((unit, help)) = slip_of(word) else {
        return false;
    };
    let fault = Diagnostic::new(Code::UnknownUnit, span, format!("`{word}` is no unit")).help(help);
    reader.report(match unit {
        Some(unit) => fault.fix(format!("write `{unit}`"), span, unit),
        None => fault,
    });
    true
}

/// Reports a word that stands where only a unit can.
pub(super) fn report_unknown_unit(word: &str, span: Span, reader: &mut Reader<'_>) {
    if report_unit_slip(word, span, reader) {
        return;
    }
    let fault = Diagnostic::new(Code::UnknownUnit, span, format!("`{word}` is no unit"));
    reader.report(fault.help(format!("the units are {SHOWN}")));
}
