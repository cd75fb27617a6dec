//! Faults one a line, as editors and scripts read them: `file:line:column: error[slug]: text`.

use super::Pages;
use super::excerpt::visible;
use super::problems::{BYTES_AT_MOST, SHOWN_AT_MOST};
use crate::diag::Diagnostic;
use crate::source::{Position, Source};

/// Renders faults one a line, in the order given; hidden characters are written out. As many are shown as beside
/// excerpts, and a line at the end counts the others.
#[must_use]
pub fn render_short(sources: &[Source], faults: &[Diagnostic]) -> String {
    let pages = Pages::of(sources, faults);
    let mut lines = String::new();
    for (shown, fault) in faults.iter().enumerate() {
        let span = fault.primary.span;
        let page = pages.page(span.source);
        let position = page.map(|(_, lines)| lines.position(span.start));
        let name = page.map_or("", |(source, _)| &source.name);
        if shown == SHOWN_AT_MOST || lines.len() > BYTES_AT_MOST {
            let rest = faults.len() - shown;
            let told = format!("{rest} more like these are not shown; mend the first ones and check again");
            push_line(&mut lines, name, position, &format!("note: {told}"));
            break;
        }
        let (word, slug) = (fault.severity.word(), fault.code.slug());
        push_line(
            &mut lines,
            name,
            position,
            &format!("{word}[{slug}]: {}", visible(&fault.message)),
        );
    }
    lines
}

fn push_line(lines: &mut String, name: &str, position: Option<Position>, told: &str) {
    let (line, column) = position.map_or((1, 1), |position| (position.line, position.column));
    lines.push_str(&format!("{}:{line}:{column}: {told}\n", line_safe(name)));
}

/// Makes a file name fit to stand first on a line: no build log shall take it for an order.
fn line_safe(name: &str) -> String {
    let shown = visible(name);
    let plain = |first: char| first.is_alphanumeric() || matches!(first, '.' | '/' | '<' | '_');
    if shown.starts_with(plain) {
        shown
    } else {
        format!("./{shown}")
    }
}

#[cfg(test)]
mod tests {
    use super::render_short;
    use crate::diag::{Code, Diagnostic};
    use crate::source::{Source, SourceId, Span};

    #[test]
    fn columns_are_characters_and_names_give_no_orders() {
        let sources = [Source::new(SourceId(0), "::error::\u{1b}.loaf", "pâte 🍞 flower")];
        let span = Span::new(SourceId(0), 11, 17);
        let fault = Diagnostic::new(Code::UnknownIngredient, span, "`flower`\nis not known");
        assert_eq!(
            render_short(&sources, &[fault]),
            "./::error::<U+001B>.loaf:1:8: warning[unknown-ingredient]: `flower` is not known\n"
        );
    }
}
