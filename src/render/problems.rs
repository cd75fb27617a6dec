//! Faults as excerpts for a terminal: the line, a mark below it, the mend.
//!
//! The only place that knows the excerpt printer. Works for every kind of fault alike and never asks which
//! kind it is.

use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Renderer, Snippet};

use super::Pages;
use super::excerpt::{Excerpt, visible};
use crate::diag::{Diagnostic, Label, Severity};
use crate::source::{LineIndex, Source, SourceId, Span};

/// Faults of one file that are shown; the rest are counted.
pub(super) const SHOWN_AT_MOST: usize = 100;
/// Bytes of text for the faults of one file.
pub(super) const BYTES_AT_MOST: usize = 64 * 1024;

/// How an excerpt is dressed.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Whether colours are used.
    pub coloured: bool,
    /// Columns that the text may take.
    pub width: usize,
}

impl Look {
    /// With colour, at a width that fits every terminal; the stream takes the colour off where it is not wanted.
    pub const COLOURED: Self = Self {
        coloured: true,
        width: 100,
    };
    /// Without colour, at a width that fits every terminal and log.
    pub const PLAIN: Self = Self {
        coloured: false,
        width: 100,
    };
}

/// Renders the faults of one file with the lines that they are about, each followed by an empty line.
///
/// At most a hundred are shown, and 64 KiB; a line at the end counts the others.
#[must_use]
pub fn render_problems(sources: &[Source], faults: &[Diagnostic], look: Look) -> String {
    let renderer = if look.coloured {
        Renderer::styled().hyperlink(false)
    } else {
        Renderer::plain()
    }
    .term_width(look.width);
    let pages = Pages::of(sources, faults);
    let mut text = String::new();
    let mut shown = 0;
    for fault in faults.iter().take(SHOWN_AT_MOST) {
        let one = renderer.render(&[group(&pages, fault)]);
        if shown > 0 && text.len() + one.len() > BYTES_AT_MOST {
            break;
        }
        text.push_str(&one);
        text.push_str("\n\n");
        shown += 1;
    }
    if faults.len() > shown {
        let rest = faults.len() - shown;
        text.push_str(&format!(
            "{rest} more like these are not shown; mend the first ones and check again\n\n"
        ));
    }
    text
}

/// Puts a fault together for the printer: title, an excerpt a source, the mend.
fn group(pages: &Pages<'_>, fault: &Diagnostic) -> Group<'static> {
    let mut files: Vec<SourceId> = Vec::new();
    for label in std::iter::once(&fault.primary).chain(&fault.others) {
        if !files.contains(&label.span.source) {
            files.push(label.span.source);
        }
    }
    let snippets = files
        .into_iter()
        .filter_map(|id| pages.page(id))
        .map(|(source, lines)| snippet(source, lines, fault));
    let group = level(fault.severity)
        .primary_title(visible(&fault.message))
        .id(fault.code.slug())
        .elements(snippets);
    let mend = fault.help.as_ref().or(fault.fix.as_ref().map(|fix| &fix.title));
    match mend {
        Some(mend) => group.element(Level::HELP.message(visible(mend))),
        None => group,
    }
}

fn level(severity: Severity) -> Level<'static> {
    let level = match severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Caution => Level::INFO,
        Severity::Hint => Level::NOTE,
    };
    level.with_name(severity.word())
}

/// Draws the labels of a fault that lie in one source.
fn snippet(
    source: &Source,
    lines: &LineIndex<'_>,
    fault: &Diagnostic,
) -> Snippet<'static, Annotation<'static>> {
    let here = |label: &&Label| label.span.source == source.id;
    let spans: Vec<Span> = std::iter::once(&fault.primary)
        .chain(&fault.others)
        .filter(here)
        .map(|label| label.span)
        .collect();
    let excerpt = Excerpt::new(source, lines, &spans);
    let mark = |kind: AnnotationKind, label: &Label| {
        let mark = kind.span(excerpt.range(label.span));
        if label.text.is_empty() {
            mark
        } else {
            mark.label(visible(&label.text))
        }
    };
    let primary = Some(&fault.primary)
        .filter(here)
        .map(|label| mark(AnnotationKind::Primary, label));
    let others = fault
        .others
        .iter()
        .filter(here)
        .map(|label| mark(AnnotationKind::Context, label));
    let marks: Vec<_> = primary.into_iter().chain(others).collect();
    Snippet::source(excerpt.text)
        .path(visible(&source.name))
        .line_start(excerpt.first_line)
        .annotations(marks)
}

#[cfg(test)]
mod tests {
    use super::{Look, render_problems};
    use crate::diag::{Code, Diagnostic};
    use crate::source::{Source, SourceId, Span};

    fn source(number: u32, text: &str) -> Source {
        Source::new(SourceId(number), format!("{number}.loaf"), text)
    }

    fn span_of(source: &Source, word: &str) -> Span {
        let start = source.text.find(word).unwrap();
        Span::new(source.id, start, start + word.len())
    }

    fn shown(text: &str, word: &str) -> String {
        let source = source(0, text);
        let span = span_of(&source, word);
        let fault = Diagnostic::new(
            Code::UnknownIngredient,
            span,
            format!("`{word}` is not in the table"),
        )
        .label("nobody sells this")
        .help("write `bread flour`");
        render_problems(&[source], &[fault], Look::PLAIN)
    }

    #[test]
    fn the_mark_stands_under_the_word() {
        insta::assert_snapshot!(shown("title: x\n  100 %  bred flour\n", "bred flour"), @"
        warning[unknown-ingredient]: `bred flour` is not in the table
         --> 0.loaf:2:10
          |
        2 |   100 %  bred flour
          |          ^^^^^^^^^^ nobody sells this
          |
          = help: write `bread flour`
        ");
    }

    #[test]
    fn tabs_wide_letters_and_emoji_line_up() {
        // A tab is drawn as four columns, a wide letter as two, a combining accent as none.
        let text = shown("a\r\n\tpâte 🍞 小麦粉 e\u{301} flower  # x\r\nb", "flower");
        assert!(text.contains(" --> 0.loaf:2:16\n"), "{text}");
        assert!(
            text.contains("\n2 |     pâte 🍞 小麦粉 e\u{301} flower  # x\n"),
            "{text}"
        );
        assert!(
            text.contains("\n  |                      ^^^^^^ nobody"),
            "{text}"
        );
    }

    #[test]
    fn two_lines_and_two_files_are_shown_together() {
        let recipe = source(0, "makes: 2 loaves\nflour: 1 kg\n\nmakes: 3 loaves\n");
        let house = source(1, "bakehouse: Oxlip Row\nroom: 90 C\n");
        let fault = Diagnostic::new(
            Code::KeyTwice,
            span_of(&recipe, "makes: 3"),
            "`makes` stands twice",
        )
        .label("again here")
        .other(span_of(&recipe, "makes: 2"), "first here")
        .other(span_of(&house, "90 C"), "and this");
        insta::assert_snapshot!(render_problems(&[recipe, house], &[fault], Look::PLAIN), @"
        error[key-twice]: `makes` stands twice
         --> 0.loaf:4:1
          |
        1 | makes: 2 loaves
          | -------- first here
        ...
        4 | makes: 3 loaves
          | ^^^^^^^^ again here
          |
         ::: 1.loaf:2:7
          |
        2 | room: 90 C
          |       ---- and this
        ");
    }

    #[test]
    fn a_stranger_cannot_steer_the_terminal() {
        let text = shown("100 g \u{1b}[31mred\u{7} \u{202e}salt\n", "salt");
        assert!(text.chars().all(|shown| shown == '\n' || !shown.is_control()));
        assert!(text.contains("␛[31mred␇ �salt"), "{text}");
    }

    #[test]
    fn no_line_begins_with_what_a_user_wrote() {
        let text = shown("::error::x\n##vso[y] salt\n::error:: z", "salt");
        for line in text.lines() {
            let ours = ["warning", " ", "1", "2", "3"]
                .iter()
                .any(|start| line.starts_with(start));
            assert!(ours || line.is_empty(), "{line}");
        }
    }

    #[test]
    fn a_flood_is_cut_and_counted() {
        let source = source(0, "salt\n");
        let span = span_of(&source, "salt");
        let fault = Diagnostic::new(Code::BadNumber, span, "no");
        let text = render_problems(&[source], &vec![fault; 20_000], Look::PLAIN);
        assert_eq!(text.matches("bad-number").count(), 100);
        assert!(text.contains("19900 more"));
        assert!(text.len() < 70_000);
    }

    #[test]
    fn ends_of_lines_and_of_the_file_can_be_marked() {
        let source = source(0, "ab\r\n\r\ncd");
        for at in 0..=8 {
            let fault = Diagnostic::new(Code::MissingTitle, Span::new(source.id, at, at), "no title");
            let text = render_problems(std::slice::from_ref(&source), &[fault], Look::PLAIN);
            assert!(text.contains('^'), "{at}: {text}");
        }
    }
}
