//! Blank lines: one between blocks, none doubled, none at the ends.

/// A line of the page before its blank lines are settled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Laid {
    /// An empty line that the baker left.
    Blank,
    /// A comment in the first column; one right above a block belongs to it.
    Comment(String),
    /// The header of a block.
    Header(String),
    /// Any other line.
    Line(String),
}

/// Settles the blank lines.
pub(super) fn lay_out(laid: &[Laid]) -> Vec<String> {
    let mut out: Vec<String> = Vec::with_capacity(laid.len());
    for (at, line) in laid.iter().enumerate() {
        match line {
            Laid::Blank if follows_header(laid, at) => {}
            Laid::Blank => blank(&mut out),
            Laid::Line(text) => out.push(text.clone()),
            Laid::Comment(text) => {
                if leads_block(laid, at) && !follows_comment(laid, at) {
                    blank(&mut out);
                }
                out.push(text.clone());
            }
            Laid::Header(text) => {
                if !follows_comment(laid, at) {
                    blank(&mut out);
                }
                out.push(text.clone());
            }
        }
    }
    while out.last().is_some_and(String::is_empty) {
        out.pop();
    }
    out
}

/// Adds an empty line unless there is one, or nothing yet.
fn blank(out: &mut Vec<String>) {
    if out.last().is_some_and(|last| !last.is_empty()) {
        out.push(String::new());
    }
}

/// Says whether nothing but comments stands between here and the next header.
fn leads_block(laid: &[Laid], at: usize) -> bool {
    laid.iter()
        .skip(at)
        .find(|line| !matches!(line, Laid::Comment(_)))
        .is_some_and(|line| matches!(line, Laid::Header(_)))
}

/// Says whether only blank lines stand between here and a header above.
fn follows_header(laid: &[Laid], at: usize) -> bool {
    let mut above = laid.iter().take(at).rev();
    above
        .find(|line| !matches!(line, Laid::Blank))
        .is_some_and(|line| matches!(line, Laid::Header(_)))
}

fn follows_comment(laid: &[Laid], at: usize) -> bool {
    at.checked_sub(1)
        .and_then(|before| laid.get(before))
        .is_some_and(|line| matches!(line, Laid::Comment(_)))
}
