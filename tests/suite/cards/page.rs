//! A page taken apart again: its tags with their attributes, and the text that a reader sees. A strict little
//! reader of its own, so that the program is not judged by itself.

/// A start tag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Tag {
    /// Its name.
    pub(crate) name: String,
    /// Its attributes as they are after entities are resolved.
    pub(crate) attributes: Vec<(String, String)>,
}

/// Gives the start tags of a page in order; anything that is not strictly formed stops the test.
pub(crate) fn tags(page: &str) -> Vec<Tag> {
    pieces(page)
        .into_iter()
        .filter(|piece| piece.is_tag && !piece.text.starts_with(['/', '!']))
        .map(|piece| tag(&piece.text))
        .collect()
}

/// Gives what a reader sees: a line a block, spaces put together, entities resolved, styles and scripts left out.
pub(crate) fn text_of(page: &str) -> String {
    const BLOCKS: [&str; 18] = [
        "p", "/p", "tr", "li", "/li", "h1", "h2", "h3", "h4", "div", "dt", "section", "ol", "ul", "text",
        "title", "desc", "footer",
    ];
    let mut text = String::new();
    let mut in_code = false;
    for piece in pieces(page) {
        if piece.is_tag {
            let name = piece.text.split([' ', '>']).next().unwrap_or_default();
            in_code = matches!(name, "style" | "script") || in_code && !matches!(name, "/style" | "/script");
            let separator = if BLOCKS.contains(&name) {
                "\n"
            } else if name.ends_with("td") || name == "dd" {
                " "
            } else {
                ""
            };
            text.push_str(separator);
        } else if !in_code {
            text.push_str(&resolved(&piece.text));
        }
    }
    let lines = text.lines().map(|line| {
        line.split([' ', '\u{a0}'])
            .filter(|word| !word.is_empty())
            .collect::<Vec<_>>()
            .join(" ")
    });
    lines
        .filter(|line| !line.is_empty())
        .collect::<Vec<_>>()
        .join("\n")
}

struct Piece {
    is_tag: bool,
    text: String,
}

/// Cuts a page into tags and text.
fn pieces(page: &str) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut rest = page;
    while let Some(start) = rest.find('<') {
        let end = rest[start..].find('>').expect("a tag has an end") + start;
        pieces.push(Piece {
            is_tag: false,
            text: rest[..start].to_owned(),
        });
        let inside = &rest[start + 1..end];
        assert!(!inside.contains('<'), "a tag inside a tag: {inside}");
        pieces.push(Piece {
            is_tag: true,
            text: inside.to_owned(),
        });
        rest = &rest[end + 1..];
        for name in ["style", "script"] {
            if inside == name || inside.starts_with(&format!("{name} ")) {
                let end = rest.find(&format!("</{name}>")).expect("it has an end");
                pieces.push(Piece {
                    is_tag: false,
                    text: rest[..end].to_owned(),
                });
                rest = &rest[end..];
            }
        }
    }
    pieces
}

fn tag(inside: &str) -> Tag {
    let inside = inside.trim_end_matches('/');
    let (name, mut rest) = inside.split_once(' ').unwrap_or((inside, ""));
    let mut attributes = Vec::new();
    while !rest.trim().is_empty() {
        // An attribute without a value, of which the program writes two.
        if let Some(bare) = ["hidden", "checked"].into_iter().find(|bare| {
            let behind = rest.trim_start().strip_prefix(bare);
            behind.is_some_and(|behind| behind.is_empty() || behind.starts_with(' '))
        }) {
            attributes.push((bare.to_owned(), String::new()));
            rest = &rest.trim_start()[bare.len()..];
            continue;
        }
        let (attribute, value) = rest
            .split_once("=\"")
            .unwrap_or_else(|| panic!("an odd tag: <{inside}>"));
        let (value, behind) = value
            .split_once('"')
            .unwrap_or_else(|| panic!("an odd tag: <{inside}>"));
        attributes.push((attribute.trim().to_owned(), resolved(value)));
        rest = behind;
    }
    Tag {
        name: name.to_owned(),
        attributes,
    }
}

/// Gives the text of the first `script` element of a kind.
pub(crate) fn script_of<'page>(page: &'page str, opening: &str) -> &'page str {
    let (_, rest) = page.split_once(opening).expect("the page has such a script");
    rest.split("</script>").next().unwrap_or_default()
}

/// Resolves the entities that the program writes; any other `&` stops the test.
pub(crate) fn resolved(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('&') {
        out.push_str(before);
        let (name, behind) = after.split_once(';').expect("an entity has an end");
        out.push(match name {
            "amp" => '&',
            "lt" => '<',
            "gt" => '>',
            "quot" | "#34" => '"',
            "#39" | "#x27" => '\'',
            "#x2f" => '/',
            other => panic!("an entity that nobody writes: &{other};"),
        });
        rest = behind;
    }
    out.push_str(rest);
    out
}
