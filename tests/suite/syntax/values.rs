//! Single values, as keys and the command line give them.

use loafwright::diag::Report;
use loafwright::quantity::{Elapsed, Ratio};
use loafwright::source::{SourceId, Span};
use loafwright::syntax::tree::{BlockKind, EntryKind, TemperatureWord};
use loafwright::syntax::{self, MakesSpec, TinShape, TinSpec};

fn span(text: &str) -> Span {
    Span::new(SourceId(0), 100, 100 + text.len())
}

/// Reads a value that must be read without a fault.
fn read<T>(text: &str, reader: impl Fn(&str, Span, &mut Report) -> Option<T>) -> T {
    let mut report = Report::new();
    let value = reader(text, span(text), &mut report);
    assert!(report.is_empty(), "{text}: {report:?}");
    value.unwrap_or_else(|| panic!("{text} cannot be read"))
}

/// Reads a value that must not be read, and gives the slug, what is pointed at, and the sentence.
fn fault<T>(text: &str, reader: impl Fn(&str, Span, &mut Report) -> Option<T>) -> String {
    let mut report = Report::new();
    let value = reader(text, span(text), &mut report);
    let faults = report.settled().into_faults();
    assert!(value.is_none() && faults.len() == 1, "{text}: {faults:?}");
    let at = faults[0].primary.span;
    let place = &text[at.start - 100..at.end - 100];
    format!("{} «{place}» {}", faults[0].code.slug(), faults[0].message)
}

fn ratio(above: i64, below: i64) -> Ratio {
    Ratio::fraction(above, below).unwrap()
}

#[test]
fn numbers_in_every_form() {
    for (text, above, below) in [
        ("14", 14, 1),
        ("1/2", 1, 2),
        ("1 1/2", 3, 2),
        ("1½", 3, 2),
        ("1 ½", 3, 2),
        ("½", 1, 2),
        ("3⁄4", 3, 4),
        ("12,5", 25, 2),
        ("0,125", 1, 8),
        ("0.125", 1, 8),
        (".5", 1, 2),
        ("1234,567", 1_234_567, 1000),
        ("000123", 123, 1),
    ] {
        assert_eq!(read(text, syntax::read_number), ratio(above, below), "{text}");
    }
}

#[test]
fn numbers_that_are_none() {
    for (text, told) in [
        (
            "1,000",
            "ambiguous-number «1,000» `1,000` is 1000 to one baker and 1 to another",
        ),
        (
            "1,250",
            "ambiguous-number «1,250» `1,250` is 1250 to one baker and 1.25 to another",
        ),
        (
            "1.000,5",
            "bad-number «1.000,5» `1.000,5` has more than one dot or comma",
        ),
        ("1'000", "bad-number «1'000» `1'000` has marks between its digits"),
        ("1/0", "bad-number «1/0» `1/0` divides by nought"),
        ("½½", "bad-number «½½» `½½` is no number"),
        ("1½½", "bad-number «1½½» `1½½` is no number"),
        ("1.", "bad-number «1.» `1.` is no number"),
        ("1e9", "bad-number «1e9» `1e9` is written as programs do"),
        ("0x10", "bad-number «0x10» `0x10` is written as programs do"),
        ("٣", "bad-number «٣» the digits of `٣` are of another script"),
        ("-4", "negative-amount «-4» `-4` is below nought"),
        (
            "\u{2212}4",
            "bad-number «\u{2212}4» a typographic minus in `\u{2212}4`",
        ),
        (
            "1234567890123",
            "bad-number «1234567890123» `1234567890123` has more than 12 digits",
        ),
        ("nan", "bad-number «nan» `nan` is no amount"),
        ("many", "bad-value «many» `many` is no number"),
    ] {
        assert_eq!(fault(text, syntax::read_number), told, "{text}");
    }
    assert!(fault(&"9".repeat(400), syntax::read_number).contains("a number of more than 30 characters"));
}

#[test]
fn weights_times_and_the_rest() {
    assert_eq!(read("1 kg", syntax::read_weight).0.0, Ratio::whole(1000));
    assert_eq!(read("1 lb 4 oz", syntax::read_weight).0.0.to_fixed(3), "566.990");
    assert_eq!(read("12,5 %", syntax::read_percent), ratio(1, 8));
    assert_eq!(read("2 in", syntax::read_length), ratio(254, 5));
    assert_eq!(read("8 1/2 inches", syntax::read_length), ratio(2159, 10));
    assert_eq!(read("1.5 l", syntax::read_volume).0, Ratio::whole(1500));
    let time = read("45 min-1 h 30 min", syntax::read_time);
    assert_eq!(
        (time.least, time.most),
        (Elapsed::minutes(45), Elapsed::minutes(90))
    );
    assert_eq!(read("4 days", syntax::read_time).least, Elapsed::hours(96));
    assert_eq!(read("overnight", syntax::read_time).most, Elapsed::hours(12));
    let place = TemperatureWord::Place("room".to_owned());
    assert_eq!(read(" room temperature ", syntax::read_temperature), place);
    let TemperatureWord::Degrees(range) = read("75\u{a0}F", syntax::read_temperature) else {
        panic!("degrees are no place");
    };
    assert_eq!(range.low.0, ratio(215, 9));
}

#[test]
fn values_that_slip() {
    for (text, told) in [
        ("10 gr", "unknown-unit «gr» `gr` is no unit"),
        (
            "1-2 kg",
            "weight-range «1-2 kg» `1-2 kg` is a range, not an amount",
        ),
        ("20 C", "bad-value «20 C» `20 C` is no weight"),
        (
            "2000000 kg",
            "absurd-amount «2000000 kg» more than a thousand tonnes on one line",
        ),
    ] {
        assert_eq!(fault(text, syntax::read_weight), told);
    }
    assert_eq!(
        fault("900 C", syntax::read_temperature),
        "bad-temperature «900 C» no freezer and no oven has this temperature"
    );
    assert_eq!(
        fault("\u{2212}18 C", syntax::read_temperature),
        "bad-number «\u{2212}18» a typographic minus in `\u{2212}18`"
    );
    assert_eq!(
        fault("3-2 h", syntax::read_time),
        "range-backwards «3-2 h» this range runs backwards"
    );
}

fn makes(text: &str) -> MakesSpec {
    read(text, syntax::parse_makes)
}

#[test]
fn what_a_recipe_makes() {
    let rolls = makes("4 dozen rolls of 60 g");
    assert_eq!((rolls.count.value, rolls.piece.value.as_str()), (48, "rolls"));
    assert_eq!(rolls.weight.unwrap().value.0.0, Ratio::whole(60));
    for (text, count, piece) in [
        ("2 dozen", 24, ""),
        ("2 dozen of 60 g", 24, ""),
        ("1 1/2 dozen buns of 60 g", 18, "buns"),
        ("a dozen rolls", 12, "rolls"),
        ("a dozen", 12, ""),
        ("half a dozen of 60 g", 6, ""),
        ("a half dozen small buns", 6, "small buns"),
        ("3 dozenal cakes", 3, "dozenal cakes"),
    ] {
        let read = makes(text);
        assert_eq!(
            (read.count.value, read.piece.value.as_str()),
            (count, piece),
            "{text}"
        );
        assert_eq!(read.weight.is_some(), text.contains("60 g"), "{text}");
    }
    let baked = makes("2 large loaves of 580 g baked");
    assert!(baked.baked && baked.piece.value == "large loaves");
    assert_eq!(
        makes("3 sticks of 12 oz each").weight.unwrap().value.1.symbol(),
        "oz"
    );
    assert_eq!(makes("1 batch").weight, None);
    for (text, told) in [
        ("0 loaves", "bad-value «0» no pieces at all"),
        ("2 loaves of 0 g", "bad-value «0 g» pieces that weigh nothing"),
        ("1/2 loaf", "bad-value «1/2» a part of a piece"),
        (
            "2-3 loaves",
            "bad-value «2-3 loaves» `2-3 loaves` is no number of pieces",
        ),
        (
            "two loaves",
            "bad-value «two loaves» `two loaves` is no number of pieces",
        ),
    ] {
        assert_eq!(fault(text, syntax::parse_makes), told);
    }
}

fn tin(text: &str) -> TinSpec {
    read(text, syntax::parse_tin)
}

#[test]
fn tins() {
    let mm = |lengths: [i64; 3]| TinShape::Box(lengths.map(Ratio::whole));
    let lidded = tin("lidded 20 x 10 x 10 cm, 2.3 ml per g");
    assert_eq!((lidded.lidded, lidded.shape), (Some(true), mm([200, 100, 100])));
    assert_eq!(lidded.ml_per_g.unwrap().value, ratio(23, 10));
    assert_eq!(tin("200x100x100mm").shape, mm([200, 100, 100]));
    assert_eq!(tin("20 cm × 10 cm by 100 mm").shape, mm([200, 100, 100]));
    let TinShape::Box([length, ..]) = tin("open 8 1/2 x 4½ x 2 3/4 in").shape else {
        panic!("a box is a box");
    };
    assert_eq!(length, ratio(2159, 10));
    let whole = Ratio::whole;
    assert_eq!(
        tin("23 x 13 / 20 x 10 x 7 cm").shape,
        TinShape::Tapered {
            top: [whole(230), whole(130)],
            base: [whole(200), whole(100)],
            height: whole(70)
        }
    );
    assert_eq!(
        tin("round 20 x 7 cm").shape,
        TinShape::Round([200, 200, 70].map(whole))
    );
    assert_eq!(
        tin("round 23 / 20 x 7 cm").shape,
        TinShape::Round([230, 200, 70].map(whole))
    );
    let TinShape::Volume(volume) = tin("1.5 l").shape else {
        panic!("a volume is a volume");
    };
    assert_eq!(volume.0, whole(1500));
}

#[test]
fn tins_that_are_none() {
    for (text, told) in [
        (
            "20 x 10 cm",
            "bad-value «20 x 10 cm» the height of the tin is missing",
        ),
        (
            "round 20 cm",
            "bad-value «round 20 cm» the height of the tin is missing",
        ),
        (
            "23 x 13 / 20 x 10 cm",
            "bad-value «23 x 13 / 20 x 10 cm» the height of the tin is missing",
        ),
        (
            "20 x 10 x 10",
            "bad-value «20 x 10 x 10» these lengths have no unit",
        ),
        ("20 x 10 x 0 cm", "bad-value «0 cm» a length of nought"),
        (
            "1 x 2 x 3 x 4 cm",
            "bad-value «1 x 2 x 3 x 4 cm» these lengths make no tin",
        ),
        ("9999 x 1 x 1 cm", "absurd-amount «9999» longer than ten metres"),
        (
            "20 x 10 x 10 cm, 0 ml per g",
            "bad-value «0 ml per g» no tin at all for a gram of dough",
        ),
        ("0 l", "bad-value «0 l» a tin that holds nothing"),
        ("large", "bad-value «large» `large` is no tin"),
    ] {
        assert_eq!(fault(text, syntax::parse_tin), told);
    }
}

#[test]
fn prose_that_would_be_an_entry() {
    let reads = |text: &str| syntax::read_entry(text, span(text), BlockKind::Dough);
    assert!(matches!(reads("10 g salt # fine"), Some(EntryKind::Formula(_))));
    assert!(matches!(reads("10 min rest"), Some(EntryKind::Step(_))));
    assert!(reads("Warm the bowl first.").is_none());
    assert!(reads("10 gr salt").is_none());
}
