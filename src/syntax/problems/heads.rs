//! Slips in the first column: misspelt keys and blocks, colons that are missing or in the way.

use crate::diag::{Code, Diagnostic, nearest};
use crate::source::{Span, Spanned};
use crate::syntax::header::Header;
use crate::syntax::keys::{known_key, parse_key_line};
use crate::syntax::reader::{Reader, single_spaced};
use crate::syntax::tree::{BlockKind, FileKind, KeyLine};

/// What a line that ends with a colon turned out to be.
pub(crate) enum Resolved {
    /// The header of a block; its kind is the nearest one where it was misspelt.
    Block(Header),
    /// A misspelt key without a value, which has been reported.
    Reported,
}

/// Judges the kind of a header, and takes the nearest one for a word that is none.
pub(crate) fn resolve_header(
    mut header: Header,
    head: &str,
    file: FileKind,
    next_is_indented: bool,
    reader: &mut Reader<'_>,
) -> Resolved {
    if header.kind.value != BlockKind::Unknown {
        expect_block_in_its_file(&header, file, reader);
        return Resolved::Block(header);
    }
    let whole = single_spaced(head.trim_end());
    if !next_is_indented && nearest(&whole, file.keys().iter().copied()).is_some() {
        report_key(&whole, reader.span(0, head.trim_end().len()), file, reader);
        return Resolved::Reported;
    }
    match report_unknown_block(&whole, head, &header, file, reader) {
        Meant::Kind(kind) => {
            header.kind.value = kind;
            if kind == BlockKind::OldDough {
                header.name = None;
            }
        }
        Meant::Turned(kind, name) => {
            let end = header.kind.span.start + name.len();
            header.name = Some(Spanned::new(
                name,
                Span {
                    end,
                    ..header.kind.span
                },
            ));
            header.kind.value = kind;
        }
        Meant::Nothing => {}
    }
    Resolved::Block(header)
}

/// What a word that is no kind of block was meant for.
enum Meant {
    /// A kind that is spelt nearly alike.
    Kind(BlockKind),
    /// A kind with its name in front of it.
    Turned(BlockKind, String),
    /// Nothing that can be told.
    Nothing,
}

/// Reports a block that belongs into the other kind of file.
fn expect_block_in_its_file(header: &Header, file: FileKind, reader: &mut Reader<'_>) {
    let is_ingredient = header.kind.value == BlockKind::Ingredient;
    let help = match (file, is_ingredient) {
        (FileKind::Recipe, true) => "put it into `bakehouse.loaf`, where all recipes of the folder find it",
        (FileKind::Bakehouse, false) => {
            "a bakehouse file holds keys and `ingredient` blocks; put this into a recipe"
        }
        _ => return,
    };
    let word = header.kind.value.word();
    let place = if is_ingredient { "recipe" } else { "bakehouse file" };
    let message = format!("a block `{word}` has no place in a {place}");
    reader.fault(Code::UnknownBlock, header.kind.span, message, help);
}

/// Reports a block whose word is none, and gives what was meant.
fn report_unknown_block(
    whole: &str,
    head: &str,
    header: &Header,
    file: FileKind,
    reader: &mut Reader<'_>,
) -> Meant {
    let kinds = BlockKind::SPELT.iter().filter(|(_, kind)| match file {
        FileKind::Recipe => *kind != BlockKind::Ingredient,
        FileKind::Bakehouse => *kind == BlockKind::Ingredient,
    });
    let kinds: Vec<(&str, BlockKind)> = kinds.copied().collect();
    let words = || kinds.iter().map(|(word, _)| *word);
    let length = header.kind.span.end - header.kind.span.start;
    let written = head.get(..length).unwrap_or_default();
    let title = whole.split(',').next().unwrap_or(whole).trim();
    let span = header.kind.span;
    let unknown = |written: &str| {
        Diagnostic::new(
            Code::UnknownBlock,
            span,
            format!("no block is called `{written}`"),
        )
    };
    let near = nearest(title, words()).or_else(|| nearest(written, words()));
    if let Some((near, kind)) = kinds.iter().find(|(word, _)| Some(*word) == near) {
        let fault = unknown(written).label(format!("did you mean `{near}`?"));
        reader.report(
            fault
                .help(format!("write `{near}:`"))
                .fix(format!("write `{near}`"), span, *near),
        );
        return Meant::Kind(*kind);
    }
    if let Some((word, kind)) = kinds.iter().find(|(word, _)| ends_with_word(title, word)) {
        let name = title.get(..title.len() - word.len()).unwrap_or_default().trim();
        reader.report(unknown(title).help(format!("the kind stands first: write `{word} {name}:`")));
        return Meant::Turned(*kind, name.to_owned());
    }
    let list: Vec<&str> = words().collect();
    reader.report(unknown(written).help(format!("the blocks are {}", listed(&list))));
    Meant::Nothing
}

fn ends_with_word(text: &str, word: &str) -> bool {
    text.len() > word.len() + 1
        && text
            .get(text.len() - word.len() - 1..)
            .is_some_and(|end| end.trim_start().eq_ignore_ascii_case(word) && end.starts_with(' '))
}

/// Writes words as a list in backquotes.
fn listed(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    quoted.join(", ")
}

/// Reports a header that cannot be read at all.
pub(crate) fn report_header(head: &str, reader: &mut Reader<'_>) {
    let span = reader.span(0, head.len());
    let fault = Diagnostic::new(
        Code::UnreadableLine,
        span,
        "this header of a block cannot be read",
    );
    reader.report(fault.help("write the kind, a name if it needs one, then a colon: `levain night:`"));
}

/// Reports a header without its colon.
pub(crate) fn report_header_colon(text: &str, reader: &mut Reader<'_>) {
    let span = reader.span(0, text.len());
    let fault = Diagnostic::new(
        Code::UnreadableLine,
        span,
        format!("`{text}` wants a colon behind it"),
    );
    reader.report(
        fault
            .help(format!("write `{text}:`"))
            .fix("add the colon", span.tail(), ":"),
    );
}

/// Reports text behind the colon of a header.
pub(crate) fn report_text_behind_header(head: &str, more: &str, reader: &mut Reader<'_>) {
    let start = head.len() + 1 + (more.len() - more.trim_start().len());
    let span = reader.span(start, start + more.trim().len());
    let head = single_spaced(head.trim_end());
    let fault = Diagnostic::new(
        Code::UnreadableLine,
        span,
        format!("text behind the colon of `{head}:`"),
    );
    reader.report(
        fault
            .label("belongs on the line below")
            .help("start a new line behind the colon, and indent it by two spaces"),
    );
}

/// Reports a key that is none, and gives its line where it can only have been meant for one. Nothing is read
/// under the key that is nearest: it may not be the one that was meant.
pub(crate) fn report_unknown_key(
    text: &str,
    written: &str,
    file: FileKind,
    in_block: bool,
    reader: &mut Reader<'_>,
) -> Option<KeyLine> {
    let near = report_key(
        &single_spaced(written),
        reader.span(0, written.len()),
        file,
        reader,
    );
    // Below a block a line of the first column may be an entry or prose that lost its indent.
    if near.is_none() && in_block {
        return None;
    }
    parse_key_line(text, reader)
}

/// Reports a key that is none and gives the nearest one.
fn report_key(written: &str, span: Span, file: FileKind, reader: &mut Reader<'_>) -> Option<&'static str> {
    let fault = Diagnostic::new(Code::UnknownKey, span, format!("no key is called `{written}`"));
    if known_key(written, file.other()).is_some() {
        let place = match file {
            FileKind::Recipe => "it belongs into `bakehouse.loaf`, where all recipes of the folder find it",
            FileKind::Bakehouse => "it belongs into a recipe, not into the bakehouse file",
        };
        reader.report(fault.help(place));
        return None;
    }
    let near = nearest(written, file.keys().iter().copied());
    reader.report(match near {
        Some(near) => fault
            .label(format!("did you mean `{near}`?"))
            .help(format!("write `{near}:`"))
            .fix(format!("write `{near}`"), span, near),
        None => fault.help(format!("the keys are {}", listed(file.keys()))),
    });
    near
}

/// Reports a line of the first column that has no colon; reads it as a key where it begins with one.
pub(crate) fn report_no_colon(text: &str, file: FileKind, reader: &mut Reader<'_>) -> Option<KeyLine> {
    let opens = |key: &&&str| {
        text.get(..key.len())
            .is_some_and(|start| start.eq_ignore_ascii_case(key))
            && matches!(text.as_bytes().get(key.len()), None | Some(b' '))
    };
    let Some(key) = file.keys().iter().filter(opens).max_by_key(|key| key.len()) else {
        let span = reader.span(0, text.len());
        let fault = Diagnostic::new(
            Code::UnreadableLine,
            span,
            "neither a key nor the header of a block",
        );
        reader.report(fault.label("no colon here").help(
            "in the first column stands `key: value` or `block:`; prose goes indented below `about:` or `notes:`",
        ));
        return None;
    };
    let span = reader.span(0, key.len());
    let fault = Diagnostic::new(
        Code::UnreadableLine,
        span,
        format!("the key `{key}` wants a colon behind it"),
    );
    reader.report(
        fault
            .help(format!("write `{key}:`"))
            .fix("add the colon", span.tail(), ":"),
    );
    // A space stands where the colon belongs, so that every offset stays.
    let mut mended = text.to_owned();
    mended.replace_range(key.len()..(key.len() + 1).min(mended.len()), ":");
    parse_key_line(&mended, reader)
}
