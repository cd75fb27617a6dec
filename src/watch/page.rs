//! A page as it is served: the page of the folder, and what keeps it alive put in. The file stays as it was built.

use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::sync::LazyLock;

use crate::render::html::hash;

const SCRIPT: &str = include_str!("../../templates/live.js");
const STYLE: &str = include_str!("../../templates/live.css");

/// How the policy of a page begins, as our templates write it.
const POLICY: &str = "http-equiv=\"Content-Security-Policy\" content=\"";

/// What the policy of a served page allows besides: this script and style sheet, and to ask this server.
static ALLOWED: LazyLock<[(&str, String); 3]> = LazyLock::new(|| {
    [
        ("script-src", format!("'sha256-{}'", hash(SCRIPT))),
        ("style-src", format!("'sha256-{}'", hash(STYLE))),
        ("connect-src", "'self'".to_owned()),
    ]
});

/// Tells one content of a page from another.
pub(super) fn version(page: &[u8]) -> String {
    // Nobody is kept out by it: whoever can change a page may do so.
    let mut hasher = DefaultHasher::new();
    page.hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

/// Names the pictures that lie beside a page, as it names them.
pub(super) fn pictures(page: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(page);
    let sources = text.split("<img src=\"").skip(1);
    sources
        .filter_map(|rest| rest.split('"').next())
        .filter(|source| !source.starts_with("data:"))
        .map(|source| source.replace("&#x2f;", "/"))
        .collect()
}

/// Puts into a page what keeps it alive.
pub(super) fn alive(page: &[u8]) -> Vec<u8> {
    let Ok(text) = std::str::from_utf8(page) else {
        return page.to_owned();
    };
    let version = version(page);
    let script = format!("<script data-version=\"{version}\">{SCRIPT}</script>\n");
    let text = with_policy(text);
    let text = before(&text, "</head>", &format!("<style>{STYLE}</style>\n"));
    before(&text, "</body>", &script).into_bytes()
}

/// Makes the page of a recipe that has no card yet.
pub(super) fn empty() -> String {
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
     <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
     <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; base-uri 'none'; form-action 'none'\">\n\
     <title>No card yet</title>\n</head>\n<body>\n<main>\n<h1>No card yet</h1>\n\
     <p>It comes by itself when the recipe is mended.</p>\n</main>\n</body>\n</html>\n"
        .to_owned()
}

/// Puts a text before the last place where another stands.
fn before(page: &str, place: &str, text: &str) -> String {
    match page.rfind(place) {
        Some(at) => {
            let (front, back) = page.split_at(at);
            [front, text, back].concat()
        }
        None => page.to_owned(),
    }
}

/// Widens the policy in a page. A page without one is left alone: nothing of it is forbidden.
fn with_policy(page: &str) -> String {
    let Some((front, rest)) = page.split_once(POLICY) else {
        return page.to_owned();
    };
    let Some((policy, back)) = rest.split_once('"') else {
        return page.to_owned();
    };
    // The quotes are written as they must be between other marks than these.
    let policy = policy.replace("&#x27;", "'").replace("&#x2f;", "/");
    let mut rules: Vec<String> = policy.split("; ").map(str::to_owned).collect();
    for (name, source) in ALLOWED.iter() {
        match rules.iter_mut().find(|rule| rule.split(' ').next() == Some(name)) {
            Some(rule) => *rule = format!("{rule} {source}"),
            None => rules.push(format!("{name} {source}")),
        }
    }
    [front, POLICY, &rules.join("; "), "\"", back].concat()
}

#[cfg(test)]
mod tests {
    use super::{alive, version};

    #[test]
    fn what_is_served_is_the_page_with_one_script_and_one_style_more() {
        let page = "<head><meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; \
                    style-src &#x27;sha256-a&#x27; &#x27;sha256-b&#x2f;&#x27;; img-src data:\"></head><body>&lt;/body&gt;</body>";
        let served = String::from_utf8(alive(page.as_bytes())).unwrap();
        assert!(
            served.contains("content=\"default-src 'none'; style-src 'sha256-a' 'sha256-b/' 'sha256-"),
            "{served}"
        );
        assert!(served.contains("; script-src 'sha256-"), "{served}");
        assert!(
            served.contains("; connect-src 'self'\"></head>")
                || served.contains("; connect-src 'self'\"><style>")
        );
        assert_eq!(served.matches("<script").count(), 1);
        assert!(served.ends_with("</script>\n</body>"), "{served}");
        assert!(served.contains(&version(page.as_bytes())));
    }

    #[test]
    fn a_script_that_is_there_already_stays_allowed() {
        let page =
            "<meta http-equiv=\"Content-Security-Policy\" content=\"script-src 'sha256-b'\"></head></body>";
        let served = String::from_utf8(alive(page.as_bytes())).unwrap();
        assert!(
            served.contains("content=\"script-src 'sha256-b' 'sha256-"),
            "{served}"
        );
    }
}
