//! Notes in Markdown as structured, harmless HTML: paragraphs, lists, emphasis, tables and links.
//!
//! Owns the only HTML that is made outside templates. No HTML of the writer's own gets through, no address
//! but of the web, of mail or beside the page, and nothing is ever loaded: a picture becomes its words and
//! a plain link. Sizes and depth are bounded.

use pulldown_cmark::{Event, HeadingLevel, LinkType, Options, Parser, Tag, TagEnd};

use crate::model::recipe::Prose;
use crate::source::Span;

/// Longer notes stand as plain text.
const MOST_BYTES: usize = 64 * 1024;

/// Notes that grow past this, by a table of empty cells say, stand as plain text.
const MOST_OUTPUT: usize = 512 * 1024;

/// Deeper lists and quotes lose their tags and keep their text.
const DEEPEST: usize = 32;

/// How headings in a note are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Headings {
    /// As headings below a section of the card.
    BelowSection,
    /// As paragraphs of strong text, inside a step or a list.
    AsText,
}

/// An address in a note that no card links to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The line that it stands on.
    pub span: Span,
    /// The address as written, entities resolved.
    pub address: String,
}

/// Names the addresses in a note that no card links to, for a warning.
#[must_use]
pub fn refusals(prose: &Prose) -> Vec<Refusal> {
    let text = joined(prose);
    if text.len() > MOST_BYTES {
        return Vec::new();
    }
    let mut refused = Vec::new();
    for (event, range) in Parser::new_ext(&text, options()).into_offset_iter() {
        let Event::Start(
            Tag::Link {
                dest_url, link_type, ..
            }
            | Tag::Image {
                dest_url, link_type, ..
            },
        ) = event
        else {
            continue;
        };
        if link_type != LinkType::Email && harmless(&dest_url).is_none() {
            let line = text
                .get(..range.start)
                .map_or(0, |before| before.matches('\n').count());
            let span = prose.lines.get(line).map_or(prose.span, |line| line.span);
            refused.push(Refusal {
                span,
                address: dest_url.into_string(),
            });
        }
    }
    refused
}

/// Writes a note as HTML.
pub(super) fn html(prose: &Prose, headings: Headings) -> String {
    let text = joined(prose);
    if text.len() > MOST_BYTES {
        return plain(&text);
    }
    let mut writer = Writer::new(headings, text.len());
    for event in Parser::new_ext(&text, options()) {
        writer.write(event);
        if writer.out.len() > MOST_OUTPUT {
            return plain(&text);
        }
    }
    writer.out
}

/// Gives the words of a note without their structure, on one line.
pub(super) fn words_of(prose: &Prose) -> String {
    let text = joined(prose);
    let mut words = String::with_capacity(text.len());
    for event in Parser::new_ext(&text, options()) {
        match event {
            Event::Text(text)
            | Event::Code(text)
            | Event::Html(text)
            | Event::InlineHtml(text)
            | Event::InlineMath(text)
            | Event::DisplayMath(text) => words.push_str(&text),
            Event::SoftBreak
            | Event::HardBreak
            | Event::Rule
            | Event::End(
                TagEnd::Paragraph
                | TagEnd::Heading(_)
                | TagEnd::Item
                | TagEnd::CodeBlock
                | TagEnd::HtmlBlock
                | TagEnd::TableCell
                | TagEnd::TableRow,
            ) => words.push(' '),
            Event::Start(_) | Event::End(_) | Event::FootnoteReference(_) | Event::TaskListMarker(_) => {}
        }
    }
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The extensions that notes may use, one by one.
const fn options() -> Options {
    Options::ENABLE_TABLES.union(Options::ENABLE_STRIKETHROUGH)
}

fn joined(prose: &Prose) -> String {
    let lines: Vec<&str> = prose.lines.iter().map(|line| line.value.as_str()).collect();
    lines.join("\n")
}

/// Writes text without any structure but its paragraphs.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 64);
    for paragraph in text
        .split("\n\n")
        .filter(|paragraph| !paragraph.trim().is_empty())
    {
        out.push_str("<p>");
        escape(paragraph, &mut out);
        out.push_str("</p>");
    }
    out
}

/// Writes text so that it is text wherever it stands.
pub(super) fn escape(text: &str, out: &mut String) {
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            other => out.push(other),
        }
    }
}

/// Gives an address as it may stand in a link; nothing where it is not of the web, of mail, or beside the
/// page.
fn harmless(address: &str) -> Option<String> {
    // What browsers pass over in an address is taken out before the scheme is looked at.
    let bare: String = address
        .chars()
        .filter(|c| !c.is_control() && !c.is_whitespace())
        .collect();
    let scheme_end = bare.find([':', '/', '?', '#', '\\']);
    let scheme = match scheme_end.and_then(|end| Some((bare.get(..end)?, bare.get(end..)?))) {
        Some((scheme, rest)) if rest.starts_with(':') => Some(scheme.to_ascii_lowercase()),
        _ => None,
    };
    let is_known = scheme.is_none_or(|scheme| matches!(scheme.as_str(), "http" | "https" | "mailto"));
    // Two slashes name another machine without a scheme, and a backslash counts as a slash.
    let is_beside = !bare.starts_with("//") && !bare.contains('\\');
    (is_known && is_beside && !bare.is_empty()).then(|| percent_coded(address.trim()))
}

/// Codes what may not stand in an address; what is coded already stays.
fn percent_coded(address: &str) -> String {
    let mut coded = String::with_capacity(address.len());
    for letter in address.chars() {
        let is_odd = letter.is_control()
            || matches!(letter, ' ' | '"' | '<' | '>' | '\\' | '^' | '`' | '{' | '|' | '}');
        if is_odd {
            let mut bytes = [0; 4];
            for byte in letter.encode_utf8(&mut bytes).bytes() {
                coded.push_str(&format!("%{byte:02X}"));
            }
        } else {
            coded.push(letter);
        }
    }
    coded
}

/// Writes events as HTML, with the state that tags need.
struct Writer {
    out: String,
    headings: Headings,
    /// Lists and quotes that are open.
    depth: usize,
    /// The level of the last heading, so that none is left out on the way down.
    last_heading: u8,
    /// Links and pictures that are open, and whether each wrote a tag; only the outermost one may.
    links: Vec<Option<usize>>,
    /// The address of the link that wrote a tag.
    address: String,
    in_head: bool,
    /// Whether the rows of a table below its head have begun.
    in_body: bool,
}

impl Writer {
    fn new(headings: Headings, size: usize) -> Self {
        Self {
            out: String::with_capacity(size + size / 4 + 32),
            headings,
            depth: 0,
            last_heading: 2,
            links: Vec::new(),
            address: String::new(),
            in_head: false,
            in_body: false,
        }
    }

    fn write(&mut self, event: Event<'_>) {
        match event {
            Event::Start(tag) => self.start(tag),
            Event::End(end) => self.end(end),
            Event::Text(text) | Event::Html(text) | Event::InlineHtml(text) => escape(&text, &mut self.out),
            Event::Code(text) | Event::InlineMath(text) | Event::DisplayMath(text) => {
                self.out.push_str("<code>");
                escape(&text, &mut self.out);
                self.out.push_str("</code>");
            }
            Event::FootnoteReference(name) => escape(&name, &mut self.out),
            Event::SoftBreak => self.out.push('\n'),
            Event::HardBreak => self.out.push_str("<br>"),
            Event::Rule => self.out.push_str("<hr>"),
            Event::TaskListMarker(_) => {}
        }
    }

    fn start(&mut self, tag: Tag<'_>) {
        match tag {
            Tag::Link {
                dest_url, link_type, ..
            } => self.open_link(&dest_url, link_type),
            Tag::Image {
                dest_url, link_type, ..
            } => {
                // A picture beside the page is not loaded either, and a link to it would lead nowhere useful.
                let is_remote = dest_url.contains("://");
                self.open_link(if is_remote { &dest_url } else { "" }, link_type);
            }
            Tag::Heading { level, .. } => self.open_heading(level),
            Tag::List(Some(first)) if first != 1 => self.open(&format!("<ol start=\"{first}\">"), true),
            Tag::TableHead => {
                self.in_head = true;
                self.out.push_str("<thead><tr>");
            }
            Tag::TableRow => {
                self.out
                    .push_str(if self.in_body { "<tr>" } else { "<tbody><tr>" });
                self.in_body = true;
            }
            Tag::TableCell if self.in_head => self.out.push_str("<th scope=\"col\">"),
            other => {
                let end = other.to_end();
                match nesting(end) {
                    Some((open, _)) => self.open(open, end != TagEnd::Item),
                    None => self.out.push_str(pair(end).0),
                }
            }
        }
    }

    fn end(&mut self, end: TagEnd) {
        match end {
            TagEnd::Link | TagEnd::Image => self.close_link(),
            TagEnd::Heading(_) => self.out.push_str(match (self.headings, self.last_heading) {
                (Headings::AsText, _) => "</strong></p>",
                (Headings::BelowSection, 3) => "</h3>",
                (Headings::BelowSection, _) => "</h4>",
            }),
            TagEnd::TableHead => {
                self.in_head = false;
                self.out.push_str("</tr></thead>");
            }
            TagEnd::Table => {
                self.out.push_str(if self.in_body {
                    "</tbody></table>"
                } else {
                    "</table>"
                });
                self.in_body = false;
            }
            TagEnd::TableCell if self.in_head => self.out.push_str("</th>"),
            other => match nesting(other) {
                Some((_, close)) => self.close(close, other != TagEnd::Item),
                None => self.out.push_str(pair(other).1),
            },
        }
    }

    /// Opens what nests: lists and quotes count, and an item goes the way of its list.
    fn open(&mut self, tag: &str, counts: bool) {
        self.depth += usize::from(counts);
        if self.depth <= DEEPEST {
            self.out.push_str(tag);
        }
    }

    fn close(&mut self, tag: &str, counts: bool) {
        if self.depth <= DEEPEST {
            self.out.push_str(tag);
        }
        self.depth -= usize::from(counts);
    }

    fn open_heading(&mut self, level: HeadingLevel) {
        if self.headings == Headings::AsText {
            return self.out.push_str("<p><strong>");
        }
        self.last_heading = if level == HeadingLevel::H1 || self.last_heading == 2 {
            3
        } else {
            4
        };
        self.out
            .push_str(if self.last_heading == 3 { "<h3>" } else { "<h4>" });
    }

    fn open_link(&mut self, address: &str, kind: LinkType) {
        let is_outermost = self.links.iter().all(Option::is_none);
        let address = if kind == LinkType::Email {
            Some(format!("mailto:{}", percent_coded(address)))
        } else {
            harmless(address)
        };
        let Some(address) = address.filter(|_| is_outermost) else {
            return self.links.push(None);
        };
        self.out.push_str("<a href=\"");
        escape(&address, &mut self.out);
        self.out.push_str("\">");
        self.address = address;
        self.links.push(Some(self.out.len()));
    }

    fn close_link(&mut self) {
        if let Some(Some(start)) = self.links.pop() {
            if self.out.len() == start {
                let address = std::mem::take(&mut self.address);
                escape(&address, &mut self.out);
            }
            self.out.push_str("</a>");
        }
    }
}

/// The tags of what can stand in itself.
const fn nesting(tag: TagEnd) -> Option<(&'static str, &'static str)> {
    Some(match tag {
        TagEnd::BlockQuote(_) => ("<blockquote>", "</blockquote>"),
        TagEnd::List(true) => ("<ol>", "</ol>"),
        TagEnd::List(false) => ("<ul>", "</ul>"),
        TagEnd::Item => ("<li>", "</li>"),
        _ => return None,
    })
}

/// The tags of what cannot, or none.
const fn pair(tag: TagEnd) -> (&'static str, &'static str) {
    match tag {
        TagEnd::Paragraph | TagEnd::HtmlBlock => ("<p>", "</p>"),
        TagEnd::CodeBlock => ("<pre>", "</pre>"),
        TagEnd::Table => ("<table>", "</table>"),
        TagEnd::TableRow => ("<tr>", "</tr>"),
        TagEnd::TableCell => ("<td>", "</td>"),
        TagEnd::Emphasis => ("<em>", "</em>"),
        TagEnd::Strong => ("<strong>", "</strong>"),
        TagEnd::Strikethrough => ("<s>", "</s>"),
        _ => ("", ""),
    }
}
