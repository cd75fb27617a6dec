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
    ("%", &["%", "percent"]),
    ("C", &["c", "°c", "ºc", "℃", "celsius"]),
    ("F", &["f", "°f", "ºf", "℉", "fahrenheit"]),
    ("cm", &["cm"]),
    ("mm", &["mm"]),
    ("in", &["in", "inch", "inches"]),
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
    let mut after_range = false;
    for token in tokens(text) {
        match token {
            Token::Range => {
                out.truncate(out.trim_end().len());
                out.push('-');
                after_range = true;
                number = None;
                continue;
            }
            Token::Number(digits) => {
                space(&mut out, after_range);
                let joined = number.take().filter(|_| digits.contains('/'));
                number = Some(joined.map_or_else(|| digits.clone(), |whole| format!("{whole} {digits}")));
                out.push_str(&digits);
            }
            Token::Word(word) => {
                space(&mut out, after_range);
                out.push_str(&unit(word, number.take().as_deref()));
            }
        }
        after_range = false;
    }
    out
}

fn space(out: &mut String, after_range: bool) {
    if !out.is_empty() && !after_range {
        out.push(' ');
    }
}

/// Gives the one spelling of a unit behind a number; any other word stays.
fn unit(word: &str, number: Option<&str>) -> String {
    let Some(number) = number else {
        return word.to_owned();
    };
    let (bare, tail) = match word.find([',', ';', ')']) {
        Some(at) => word.split_at(at),
        None => (word, ""),
    };
    let lower = bare.to_lowercase();
    if let Some((kept, _)) = UNITS
        .iter()
        .find(|(_, spellings)| spellings.contains(&lower.as_str()))
    {
        return format!("{kept}{tail}");
    }
    for (one, many) in COUNTED {
        if lower == *one || lower == *many {
            let single = matches!(number, "1" | "1/2" | "1/3" | "1/4" | "2/3" | "3/4" | "0.5");
            return format!("{}{tail}", if single { one } else { many });
        }
    }
    word.to_owned()
}

enum Token<'text> {
    /// A number in the one form: a dot for the decimals, a slash for a fraction.
    Number(String),
    /// The dash of a range.
    Range,
    /// Anything else up to white space.
    Word(&'text str),
}

/// Cuts an amount into numbers, dashes between amounts, and words.
fn tokens(text: &str) -> Vec<Token<'_>> {
    let mut tokens = Vec::new();
    let mut rest = text.trim();
    while let Some(first) = rest.chars().next() {
        let length = if first.is_ascii_digit() || is_vulgar(first) || starts_decimal(rest) {
            let length = rest.find(|c: char| !is_numeric(c)).unwrap_or(rest.len());
            let (digits, _) = rest.split_at(length);
            let trailing = digits.len() - digits.trim_end_matches([',', '.']).len();
            push_number(&mut tokens, digits.get(..length - trailing).unwrap_or(digits));
            (length - trailing).max(1)
        } else if is_dash(first) && range_goes_on(&tokens, rest) {
            tokens.push(Token::Range);
            first.len_utf8()
        } else {
            let length = rest
                .char_indices()
                .skip(1)
                .find(|(at, c)| {
                    c.is_whitespace()
                        || is_dash(*c)
                            && rest.get(at + c.len_utf8()..).is_some_and(begins_number)
                            && is_unit(rest.get(..*at))
                })
                .map_or(rest.len(), |(at, _)| at);
            tokens.push(Token::Word(rest.get(..length).unwrap_or(rest)));
            length
        };
        rest = rest.get(length..).unwrap_or_default().trim_start();
    }
    tokens
}

fn push_number(tokens: &mut Vec<Token<'_>>, digits: &str) {
    match digits.char_indices().find(|(_, c)| is_vulgar(*c)) {
        Some((at, vulgar)) => {
            if at > 0 {
                tokens.push(Token::Number(digits.get(..at).unwrap_or_default().to_owned()));
            }
            tokens.push(Token::Number(spelt_fraction(vulgar).to_owned()));
        }
        None => tokens.push(Token::Number(digits.replace(',', ".").replace('⁄', "/"))),
    }
}

fn starts_decimal(rest: &str) -> bool {
    let mut chars = rest.chars();
    chars.next() == Some('.') && chars.next().is_some_and(|c| c.is_ascii_digit())
}

fn is_numeric(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | '⁄') || is_vulgar(c)
}

const fn is_dash(c: char) -> bool {
    matches!(c, '-' | '–' | '—' | '\u{2011}')
}

fn begins_number(rest: &str) -> bool {
    rest.trim_start()
        .starts_with(|c: char| c.is_ascii_digit() || is_vulgar(c) || c == '.')
}

fn is_unit(word: Option<&str>) -> bool {
    let lower = word.unwrap_or_default().to_lowercase();
    UNITS
        .iter()
        .any(|(_, spellings)| spellings.contains(&lower.as_str()))
        || COUNTED.iter().any(|(one, many)| lower == *one || lower == *many)
}

/// A dash is a range's where an amount stands on both sides.
fn range_goes_on(tokens: &[Token<'_>], rest: &str) -> bool {
    let amount_before = match tokens.last() {
        Some(Token::Number(_)) => true,
        Some(Token::Word(word)) => is_unit(Some(word)),
        Some(Token::Range) | None => false,
    };
    amount_before
        && rest
            .chars()
            .next()
            .is_some_and(|dash| begins_number(rest.get(dash.len_utf8()..).unwrap_or_default()))
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
        ] {
            assert_eq!(tidy(typed), tidied, "{typed}");
            assert_eq!(tidy(tidied), tidied, "{tidied} again");
        }
    }
}
