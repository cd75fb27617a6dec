//! The tags of a template, cut out as the engine cuts them: strings, remarks and raw parts are told apart, so that
//! what is looked for in a tag cannot hide in one. Judges nothing.

/// A tag, `{{ … }}` or `{% … %}`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tag<'t> {
    /// Where it begins, in bytes.
    pub(super) at: usize,
    /// What stands inside, without the signs that take spaces away.
    pub(super) inside: &'t str,
}

impl<'t> Tag<'t> {
    /// Gives the first word, which says what a tag of the second kind does.
    pub(super) fn word(self) -> &'t str {
        let end = self.inside.find(|letter: char| !is_word(letter));
        self.inside
            .get(..end.unwrap_or(self.inside.len()))
            .unwrap_or_default()
    }

    /// Cuts what stands inside into words, signs and strings.
    pub(super) fn pieces(self) -> Vec<&'t str> {
        let mut pieces = Vec::new();
        let mut rest = self.inside.trim_start();
        while let Some(first) = rest.chars().next() {
            let length = match first {
                '"' | '\'' => string_length(rest, first),
                _ if is_word(first) => rest.find(|letter| !is_word(letter)).unwrap_or(rest.len()),
                _ => first.len_utf8(),
            };
            let (piece, behind) = rest.split_at_checked(length).unwrap_or((rest, ""));
            pieces.push(piece);
            rest = behind.trim_start();
        }
        pieces
    }
}

/// Lists the tags of a template in order.
pub(super) fn tags(text: &str) -> Vec<Tag<'_>> {
    let mut found = Vec::new();
    let mut from = 0;
    while let Some(place) = text.get(from..).and_then(|rest| rest.find('{')) {
        let at = from + place;
        let rest = text.get(at..).unwrap_or_default();
        let close = match rest.as_bytes().get(1) {
            Some(b'{') => "}}",
            Some(b'%') => "%}",
            Some(b'#') => {
                from = rest.find("#}").map_or(text.len(), |end| at + end + 2);
                continue;
            }
            _ => {
                from = at + 1;
                continue;
            }
        };
        let end = end_of_tag(rest, close);
        let inside = rest.get(2..end).unwrap_or_default();
        let inside = inside
            .trim_start_matches(['-', '+'])
            .trim_end_matches(['-', '+'])
            .trim();
        let tag = Tag { at, inside };
        from = (at + end + 2).min(text.len());
        if close == "%}" && tag.word() == "raw" {
            from = end_of_raw(text, from);
        }
        found.push(tag);
    }
    found
}

/// Finds where a tag closes, strings left out.
fn end_of_tag(tag: &str, close: &str) -> usize {
    let mut at = 2;
    while let Some(rest) = tag.get(at..).filter(|rest| !rest.is_empty()) {
        if rest.starts_with(close) {
            return at;
        }
        at += match rest.chars().next() {
            Some(quote @ ('"' | '\'')) => string_length(rest, quote),
            Some(letter) => letter.len_utf8(),
            None => 1,
        };
    }
    tag.len()
}

/// Finds where a raw part closes; what stands in it is no tag.
fn end_of_raw(text: &str, from: usize) -> usize {
    let mut at = from;
    while let Some(place) = text.get(at..).and_then(|rest| rest.find("{%")) {
        at += place + 2;
        let rest = text.get(at..).unwrap_or_default();
        if rest
            .trim_start_matches(['-', '+'])
            .trim_start()
            .starts_with("endraw")
        {
            return at - 2;
        }
    }
    text.len()
}

/// Measures a string with its quotes.
fn string_length(text: &str, quote: char) -> usize {
    let mut is_escaped = false;
    for (at, letter) in text.char_indices().skip(1) {
        match letter {
            _ if is_escaped => is_escaped = false,
            '\\' => is_escaped = true,
            _ if letter == quote => return at + 1,
            _ => {}
        }
    }
    text.len()
}

fn is_word(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

#[cfg(test)]
mod tests {
    use super::tags;

    #[test]
    fn tags_are_cut_as_the_engine_cuts_them() {
        let insides = |text| tags(text).iter().map(|tag| tag.inside).collect::<Vec<_>>();
        assert_eq!(insides("a {{ b }} {%- if c -%} { {# {{ d }} #}"), ["b", "if c"]);
        assert_eq!(insides("{{ \"}}\" ~ [a] }}{{ x }}"), ["\"}}\" ~ [a]", "x"]);
        assert_eq!(insides("{{ '\\'}}' }}"), ["'\\'}}'"]);
        assert_eq!(
            insides("{% raw %}{{ \" {%- endraw %}{{ y }}"),
            ["raw", "endraw", "y"]
        );
        assert_eq!(insides("{{ open"), ["open"]);
    }

    #[test]
    fn a_tag_is_words_signs_and_strings() {
        let first = tags("{{ card.notes|safe ~ \"a | b\" }}")[0];
        assert_eq!(
            first.pieces(),
            ["card", ".", "notes", "|", "safe", "~", "\"a | b\""]
        );
    }
}
