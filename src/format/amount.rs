//! One spelling for numbers and units, whatever the baker typed.
//!
//! Works on the characters as written, so that `1/2` stays a fraction and `0.5` a decimal: a formatter
//! tidies, it does not reckon.

/// Units in every accepted spelling, lower case, with the one that is kept.
const UNITS: &[(&str, &[&str])] = &[
    ("g", &["g", "gram", "grams"]),
    ("kg", &["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"]),
    ("mg", &["mg", "milligram", "milligrams"]),
    ("oz", &["oz", "ounce", "ounces"]),
    ("lb", &["lb", "lbs", "pound", "pounds"]),
    (
        "ml",
        &["ml", "millilitre", "millilitres", "milliliter", "milliliters"],
    ),
    ("l", &["l", "litre", "litres", "liter", "liters"]),
    ("tsp", &["tsp", "tsps", "teaspoon", "teaspoons"]),
    ("tbsp", &["tbsp", "tbsps", "tablespoon", "tablespoons"]),
    ("min", &["min", "mins", "minute", "minutes"]),
    ("h", &["h", "hr", "hrs", "hour", "hours"]),
    ("s", &["s", "sec", "secs", "second", "seconds"]),
    ("%", &["%", "percent", "per cent"]),
    ("C", &["c", "celsius"]),
    ("F", &["f", "fahrenheit"]),
    (
        "fl oz",
        &["fl oz", "floz", "fl. oz", "fl.oz", "fluid ounce", "fluid ounces"],
    ),
    ("cm", &["cm"]),
    ("mm", &["mm"]),
    ("in", &["in", "inch", "inches", "\"", "″"]),
];

/// Units whose spelling follows their number.
const COUNTED: &[(&str, &str)] = &[
    ("part", "parts"),
    ("cup", "cups"),
    ("day", "days"),
    ("week", "weeks"),
];

/// Writes an amount, a range or a clause with amounts in the one form: `500g` as `500 g`, `8–10 hours` as
/// `8-10 h`, `1½ cup` as `1 1/2 cups`, `24°C` as `24 C`. Words that are no units stay as they are.
pub(super) fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 4);
    let mut number: Option<String> = None;
    let mut glued = true;
    for token in tokens(text) {
        if !glued && !matches!(token, Token::Range | Token::Comma) {
            out.push(' ');
        }
        glued = matches!(token, Token::Range);
        match token {
            Token::Range => out.push('-'),
            Token::Comma => out.push(','),
            Token::Number(digits) => {
                let whole = number.take().filter(|_| digits.contains('/'));
                out.push_str(&digits);
                number = Some(whole.map_or_else(|| digits.clone(), |whole| format!("{whole} {digits}")));
                continue;
            }
            Token::Word(word) => out.push_str(&spelt(word, number.as_deref())),
        }
        number = None;
    }
    out
}

/// Writes the numbers of a text in the one form and leaves its words alone.
pub(super) fn tidy_numbers(text: &str) -> String {
    let words = tokens(text).into_iter().map(|token| match token {
        Token::Number(digits) => digits,
        Token::Range => "-".to_owned(),
        Token::Comma => ",".to_owned(),
        Token::Word(word) => word.to_owned(),
    });
    words.collect::<Vec<_>>().join(" ")
}

/// Gives the one spelling of a unit behind a number; any other word stays.
pub(super) fn spelt(word: &str, number: Option<&str>) -> String {
    let Some(number) = number else {
        return word.to_owned();
    };
    let lower = plain(word);
    if let Some((kept, _)) = UNITS.iter().find(|(_, typed)| typed.contains(&lower.as_str())) {
        return (*kept).to_owned();
    }
    match COUNTED.iter().find(|(one, many)| lower == *one || lower == *many) {
        Some((one, many)) => (if is_one_or_less(number) { one } else { many }).to_string(),
        None => word.to_owned(),
    }
}

/// Half a cup and one cup, but two cups.
fn is_one_or_less(number: &str) -> bool {
    let is_fraction = number.contains('/') && !number.contains(' ');
    is_fraction || number == "1" || number.starts_with("0.") || number.starts_with('.')
}

/// Gives the bare letters of a unit: lower case, single spaces, without the sign or the word of degrees.
fn plain(word: &str) -> String {
    let lower = word
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase();
    match lower.as_str() {
        "℃" => return "c".to_owned(),
        "℉" => return "f".to_owned(),
        _ => {}
    }
    ["°", "º", "degrees", "degree", "deg"]
        .iter()
        .find_map(|sign| lower.strip_prefix(sign))
        .map_or(lower.clone(), |scale| scale.trim_start().to_owned())
}

pub(super) fn is_unit(word: &str) -> bool {
    let lower = plain(word);
    UNITS.iter().any(|(_, typed)| typed.contains(&lower.as_str()))
        || COUNTED.iter().any(|(one, many)| lower == *one || lower == *many)
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Token<'text> {
    /// A number in the one form: a dot for the decimals, a slash for a fraction.
    Number(String),
    /// The dash, or the word `to`, between two amounts.
    Range,
    /// A comma between two parts of a list.
    Comma,
    /// Anything else up to white space; a unit of two words is one.
    Word(&'text str),
}

/// Cuts an amount into numbers, ranges, commas and words.
fn tokens(text: &str) -> Vec<Token<'_>> {
    let mut tokens = Vec::new();
    let mut rest = text.trim();
    while let Some(first) = rest.chars().next() {
        let signed = usize::from(matches!(first, '-' | '+') && !ends_amount(&tokens));
        let length = if rest.get(signed..).is_some_and(begins_number) {
            let digits = number_length(rest.get(signed..).unwrap_or_default());
            push_number(
                &mut tokens,
                rest.get(..signed).unwrap_or_default(),
                rest.get(signed..signed + digits),
            );
            signed + digits
        } else if let Some(length) = range_length(&tokens, rest) {
            tokens.push(Token::Range);
            length
        } else if first == ',' {
            tokens.push(Token::Comma);
            1
        } else {
            let length = word_length(rest);
            tokens.push(Token::Word(rest.get(..length).unwrap_or(rest)));
            length
        };
        rest = rest.get(length.max(1)..).unwrap_or_default().trim_start();
    }
    tokens
}

/// Measures a number; what separates and stands at its end belongs to the sentence.
fn number_length(rest: &str) -> usize {
    let mut length = 0;
    for (at, c) in rest.char_indices() {
        let more = rest.get(at + c.len_utf8()..).and_then(|more| more.chars().next());
        let separates = matches!(c, '.' | ',' | '/' | '⁄');
        if is_vulgar(c) {
            return at + c.len_utf8();
        }
        if !(c.is_ascii_digit() || separates && more.is_some_and(|c| c.is_ascii_digit())) {
            break;
        }
        length = at + c.len_utf8();
    }
    length
}

fn push_number(tokens: &mut Vec<Token<'_>>, sign: &str, digits: Option<&str>) {
    let digits = digits.unwrap_or_default();
    let plain = |digits: &str| format!("{sign}{}", digits.replace(',', ".").replace('⁄', "/"));
    match digits.char_indices().find(|(_, c)| is_vulgar(*c)) {
        Some((0, vulgar)) => tokens.push(Token::Number(format!("{sign}{}", spelt_fraction(vulgar)))),
        Some((at, vulgar)) => {
            tokens.push(Token::Number(plain(digits.get(..at).unwrap_or_default())));
            tokens.push(Token::Number(spelt_fraction(vulgar).to_owned()));
        }
        None => tokens.push(Token::Number(plain(digits))),
    }
}

/// Measures the dash or the `to` of a range: what stands between two amounts.
fn range_length(tokens: &[Token<'_>], rest: &str) -> Option<usize> {
    let dash = rest.chars().next().filter(|c| is_dash(*c)).map(char::len_utf8);
    let word = rest
        .get(..3)
        .filter(|word| word.eq_ignore_ascii_case("to "))
        .map(|_| 2);
    let length = dash.or(word)?;
    let behind = rest.get(length..).unwrap_or_default().trim_start();
    let behind = behind.strip_prefix('-').unwrap_or(behind);
    (ends_amount(tokens) && begins_number(behind)).then_some(length)
}

/// Says whether an amount has just ended, so that a range may go on.
fn ends_amount(tokens: &[Token<'_>]) -> bool {
    match tokens.last() {
        Some(Token::Number(_)) => true,
        Some(Token::Word(word)) => is_unit(word),
        Some(Token::Range | Token::Comma) | None => false,
    }
}

/// Measures a word: up to white space, a comma, or the dash behind a unit; a unit of two words is one.
fn word_length(rest: &str) -> usize {
    let ends = |(at, c): &(usize, char)| {
        let word = rest.get(..*at).unwrap_or_default();
        let behind = rest.get(at + c.len_utf8()..).unwrap_or_default();
        let before_number = is_unit(word) && (c.is_ascii_digit() || is_vulgar(*c));
        c.is_whitespace()
            || *c == ','
            || before_number
            || is_dash(*c) && is_unit(word) && begins_number(behind)
    };
    let one = rest
        .char_indices()
        .skip(1)
        .find(ends)
        .map_or(rest.len(), |(at, _)| at);
    let more = rest.get(one..).unwrap_or_default();
    let gap = more.len() - more.trim_start().len();
    let second = more.trim_start();
    let two = second
        .char_indices()
        .find(|(_, c)| !c.is_alphabetic())
        .map_or(second.len(), |(at, _)| at);
    let whole = one + gap + two;
    let is_two_words = gap > 0
        && two > 0
        && rest
            .get(..whole)
            .is_some_and(|both| is_unit(both) && rest.get(..one).is_some_and(|one| !is_unit(one)));
    if is_two_words { whole } else { one }
}

const fn is_dash(c: char) -> bool {
    matches!(c, '-' | '–' | '—' | '\u{2011}')
}

fn begins_number(rest: &str) -> bool {
    let mut chars = rest.trim_start().chars();
    match chars.next() {
        Some('.') => chars.next().is_some_and(|c| c.is_ascii_digit()),
        Some(first) => first.is_ascii_digit() || is_vulgar(first),
        None => false,
    }
}

/// Vulgar fractions with what they are typed as.
const FRACTIONS: &[(char, &str)] = &[
    ('½', "1/2"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅕', "1/5"),
    ('⅖', "2/5"),
    ('⅗', "3/5"),
    ('⅘', "4/5"),
    ('⅙', "1/6"),
    ('⅚', "5/6"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅐', "1/7"),
    ('⅑', "1/9"),
    ('⅒', "1/10"),
];

fn is_vulgar(c: char) -> bool {
    FRACTIONS.iter().any(|(vulgar, _)| *vulgar == c)
}

fn spelt_fraction(c: char) -> &'static str {
    FRACTIONS
        .iter()
        .find(|(vulgar, _)| *vulgar == c)
        .map_or("", |(_, spelt)| spelt)
}

#[cfg(test)]
mod tests {
    use super::tidy;

    #[test]
    fn one_spelling_for_what_bakers_type() {
        for (typed, tidied) in [
            ("500g", "500 g"),
            ("68%", "68 %"),
            ("12,5 %", "12.5 %"),
            ("1½ cup", "1 1/2 cups"),
            ("1 1/2 cups", "1 1/2 cups"),
            ("1 part", "1 part"),
            ("3 part", "3 parts"),
            ("1 lb 4 ounces", "1 lb 4 oz"),
            ("8–10 hours", "8-10 h"),
            ("45 min-1 h", "45 min-1 h"),
            ("10 - 14 h", "10-14 h"),
            ("at 24°C", "at 24 C"),
            ("at 24-26°C", "at 24-26 C"),
            ("with 2 folds every 45 minutes", "with 2 folds every 45 min"),
            ("1 hour 30 minutes", "1 h 30 min"),
            ("overnight", "overnight"),
            ("2 eggs", "2 eggs"),
            (".5 kg", ".5 kg"),
            ("8 to 10 hours", "8-10 h"),
            ("45 min to 1 h", "45 min-1 h"),
            ("cool to 35 C", "cool to 35 C"),
            ("-18°C", "-18 C"),
            ("-2 - -1 C", "-2--1 C"),
            ("absorption +3%", "absorption +3 %"),
            ("20 deg C", "20 C"),
            ("20 ° C", "20 C"),
            ("68 degrees Fahrenheit", "68 F"),
            ("8 fl. oz", "8 fl oz"),
            ("2 per cent", "2 %"),
            ("1lb4oz", "1 lb 4 oz"),
            ("1h30min", "1 h 30 min"),
            ("1 ½ kg", "1 1/2 kg"),
            ("½ cups", "1/2 cup"),
            ("0.5 cups", "0.5 cup"),
            ("g,oz", "g, oz"),
            ("1g,0.1g under 50g", "1 g, 0.1 g under 50 g"),
            ("70 % hydration,bread flour", "70 % hydration, bread flour"),
            ("1.85€ per kg", "1.85 € per kg"),
            ("8\" x 4\"", "8 in x 4 in"),
        ] {
            assert_eq!(tidy(typed), tidied, "{typed}");
            assert_eq!(tidy(tidied), tidied, "{tidied} again");
        }
    }
}
