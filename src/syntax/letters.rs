//! The characters of a text: which of them nobody sees, which turn the text about, which look like others.
//!
//! Honest text passes: accents, other scripts, emoji with their joiners, Hebrew and Arabic with their marks.

use super::lines::{self, Line};
use super::{limits, nesting};
use crate::diag::{Code, Diagnostic, Report};
use crate::source::{Source, Span, Unseen};

/// Looks at every character of a source.
pub(super) fn check(source: &Source, report: &mut Report) {
    check_empty(source, report);
    check_line_ends(source, report);
    nesting::check(source, report);
    let text: &str = &source.text;
    if text.is_ascii() && !text.bytes().any(is_plain_control) {
        return;
    }
    let faults = lines::split(text).flat_map(|line| faults_of(source, line));
    report.extend(faults.take(limits::FAULTS));
}

/// Reports a file with nothing in it; a bakehouse may be empty.
fn check_empty(source: &Source, report: &mut Report) {
    let says_nothing = |line: Line<'_>| line.text.is_empty() || line.text.starts_with('#');
    if lines::split(&source.text).all(says_nothing) && !source.name.ends_with("bakehouse.loaf") {
        let place = source.whole().head();
        let fault = Diagnostic::new(Code::EmptyFile, place, "there is nothing in this file");
        report.push(fault.help("`loafwright new NAME` writes a recipe to start from"));
    }
}

/// Reports line ends of more than one kind, at the first that is not like those before it.
fn check_line_ends(source: &Source, report: &mut Report) {
    let text = source.text.as_bytes();
    if !text.contains(&b'\r') {
        return;
    }
    let kind_at = |at: usize| match (text.get(at)?, at.checked_sub(1).and_then(|at| text.get(at))) {
        (b'\n', Some(b'\r')) => Some("CRLF"),
        (b'\n', _) => Some("LF"),
        (b'\r', _) if text.get(at + 1) != Some(&b'\n') => Some("CR"),
        _ => None,
    };
    let mut ends = (0..text.len()).filter_map(|at| Some((at, kind_at(at)?)));
    let Some((_, first)) = ends.next() else { return };
    if let Some((at, other)) = ends.find(|(_, kind)| *kind != first) {
        let span = Span::new(source.id, at, at);
        let message = format!("lines end in two ways in this file: {first} above, {other} here");
        report.push(
            Diagnostic::new(Code::MixedLineEnds, span, message)
                .help("save the file with one kind of line end; `loafwright format` does it"),
        );
    }
}

const fn is_plain_control(byte: u8) -> bool {
    matches!(byte, 0..=8 | 11 | 12 | 14..=31 | 127)
}

/// Finds the faults of one line; of each kind the first, since one slip seldom comes alone.
fn faults_of(source: &Source, line: Line<'_>) -> Vec<Diagnostic> {
    let text = source.text.get(line.start..line.end).unwrap_or_default();
    if text.is_ascii() && !text.bytes().any(is_plain_control) {
        return Vec::new();
    }
    let letters: Vec<(usize, char)> = text.char_indices().collect();
    let right_to_left = text.chars().any(|letter| matches!(letter, '\u{590}'..='\u{8ff}'));
    let mut faults: Vec<Diagnostic> = Vec::new();
    for (number, (at, letter)) in letters.iter().enumerate() {
        let beside = Beside {
            before: number
                .checked_sub(1)
                .and_then(|number| letters.get(number))
                .map(|(_, letter)| *letter),
            after: letters.get(number + 1).map(|(_, letter)| *letter),
            right_to_left,
        };
        let start = line.start + at;
        let span = Span::new(source.id, start, start + letter.len_utf8());
        let fault = hidden(*letter, &beside, span).or_else(|| foreign(*letter, *at, text, span));
        if let Some(fault) = fault
            && faults.iter().all(|known| known.code != fault.code)
        {
            faults.push(fault);
        }
    }
    faults
}

/// What stands beside a character.
struct Beside {
    before: Option<char>,
    after: Option<char>,
    right_to_left: bool,
}

/// Judges a character that has no form of its own.
fn hidden(letter: char, beside: &Beside, span: Span) -> Option<Diagnostic> {
    let number = format_args!("U+{:04X}", u32::from(letter)).to_string();
    let fault = |code: Code, what: &str, help: &str| {
        Some(Diagnostic::new(code, span, format!("{what}, {number}, stands here")).help(help))
    };
    match Unseen::of(letter)? {
        Unseen::Control if letter == '\t' => None,
        Unseen::LineEnd => fault(
            Code::ControlCharacter,
            "a line separator that not every editor shows",
            "delete it, and start a new line where one is meant",
        ),
        Unseen::Control => fault(
            Code::ControlCharacter,
            "a control character",
            "delete it; a recipe is plain text",
        ),
        Unseen::Turn => fault(
            Code::HiddenDirection,
            "a hidden character that turns the reading direction about",
            "delete it: with it the line reads otherwise than it is computed",
        ),
        Unseen::ByteOrderMark if span.start == 0 => None,
        Unseen::ByteOrderMark => fault(
            Code::StrayByteOrderMark,
            "a byte order mark inside the text",
            "delete it; it belongs at the start of a file, if anywhere",
        ),
        unseen if !is_honest(letter, unseen, beside) => fault(
            Code::LookAlike,
            "a character that nobody sees",
            "delete it: names that look alike would not be alike",
        ),
        _ => None,
    }
}

/// Says whether an unseen character does honest work: it joins an emoji, picks the form of a sign, or orders
/// words of a script that needs it.
fn is_honest(letter: char, unseen: Unseen, beside: &Beside) -> bool {
    let of_other_script = |side: Option<char>| side.is_some_and(|side| side >= '\u{590}' && !is_tag(side));
    let picks_a_form = unseen == Unseen::Form || matches!(letter, '\u{e0100}'..='\u{e01ef}');
    match unseen {
        _ if picks_a_form => beside.before.is_some_and(|before| !before.is_ascii_alphabetic()),
        Unseen::Joiner => of_other_script(beside.before) && of_other_script(beside.after),
        Unseen::Direction => beside.right_to_left,
        // A flag of a region is a black flag and a row of tags.
        _ if is_tag(letter) => beside
            .before
            .is_some_and(|before| before == '\u{1f3f4}' || is_tag(before)),
        _ => false,
    }
}

const fn is_tag(letter: char) -> bool {
    matches!(letter, '\u{e0020}'..='\u{e007f}')
}

/// Judges a Greek or Cyrillic letter in a word that has Latin letters too.
fn foreign(letter: char, at: usize, line: &str, span: Span) -> Option<Diagnostic> {
    if !is_greek_or_cyrillic(letter) {
        return None;
    }
    let (before, behind) = line.split_at(at);
    let word = before
        .chars()
        .rev()
        .take_while(|side| side.is_alphanumeric())
        .chain(behind.chars().take_while(|side| side.is_alphanumeric()));
    let mut word = word.take(limits::NAME_BYTES);
    word.any(is_latin).then(|| {
        let number = format_args!("U+{:04X}", u32::from(letter)).to_string();
        let message = format!("`{letter}` ({number}) is a letter of another script among Latin ones");
        Diagnostic::new(Code::LookAlike, span, message)
            .help("type the word again; it looks right, but it is another word")
    })
}

fn is_greek_or_cyrillic(letter: char) -> bool {
    matches!(letter, '\u{370}'..='\u{52f}' | '\u{1f00}'..='\u{1fff}') && letter.is_alphabetic()
}

const fn is_latin(letter: char) -> bool {
    letter.is_ascii_alphabetic() || matches!(letter, '\u{c0}'..='\u{24f}')
}
