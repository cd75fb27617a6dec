//! The order of a book's pages: which one stands before another and which after it, in the order of the recipes'
//! paths, and how one page names another. Works recipe by recipe, so that a large book needs little room: a page
//! is made as soon as the one after it is known.

use crate::view::{Around, Link};

/// Where a site stands on the web, if it does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct SiteUrl(String);

impl SiteUrl {
    /// Reads an address of the web, `https://example.org/breads`: no query, nothing that would have to be coded.
    pub(super) fn typed(text: &str) -> Result<Self, String> {
        let text = text.trim();
        let rest = text
            .strip_prefix("https://")
            .or_else(|| text.strip_prefix("http://"));
        let is_plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-._~:/[]%".contains(&byte);
        let host = rest.and_then(|rest| rest.split('/').next());
        let is_host = host.is_some_and(|host| {
            host.starts_with(|first: char| first.is_ascii_alphanumeric() || first == '[')
        });
        if is_host && rest.is_some_and(|rest| rest.bytes().all(is_plain)) {
            return Ok(Self(format!("{}/", text.trim_end_matches('/'))));
        }
        Err("write a whole address without a query, such as https://example.org/breads".to_owned())
    }

    /// Gives the whole address of a page.
    pub(super) fn address(&self, page: &str) -> String {
        [self.0.as_str(), page].concat()
    }
}

/// The pages beside a page, by their names in the folder of cards.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Beside {
    /// The index; nothing where none is made.
    pub(super) index: Option<&'static str>,
    /// The page before.
    pub(super) previous: Option<Link>,
    /// The page after.
    pub(super) next: Option<Link>,
}

/// Gives each recipe the pages beside it, from the pages of the recipes in order, of which some have none, and the
/// page before the first.
pub(super) fn beside(
    pages: &[Option<Link>],
    before: Option<&Link>,
    index: Option<&'static str>,
) -> Vec<Beside> {
    let mut after: Option<&Link> = None;
    let mut nexts: Vec<Option<&Link>> = Vec::with_capacity(pages.len());
    for page in pages.iter().rev() {
        nexts.push(after);
        after = page.as_ref().or(after);
    }
    let mut before = before;
    let beside = pages.iter().zip(nexts.into_iter().rev()).map(|(page, next)| {
        let beside = Beside {
            index,
            previous: before.cloned(),
            next: next.cloned(),
        };
        before = page.as_ref().or(before);
        beside
    });
    beside.collect()
}

/// Gives what stands around a page, its addresses as the page names them.
pub(super) fn around(page: &str, beside: &Beside, prints: Vec<Link>) -> Around {
    let up = "../".repeat(page.matches('/').count());
    let from_here = |link: Link| Link {
        href: [up.as_str(), &link.href].concat(),
        ..link
    };
    Around {
        index: beside.index.map(|index| [up.as_str(), index].concat()),
        previous: beside.previous.clone().map(from_here),
        next: beside.next.clone().map(from_here),
        prints: prints.into_iter().map(from_here).collect(),
        ..Around::default()
    }
}

#[cfg(test)]
mod tests {
    use super::{Beside, SiteUrl, around, beside};
    use crate::view::Link;

    fn page(name: &str) -> Link {
        Link {
            href: name.to_owned(),
            text: name.to_uppercase(),
        }
    }

    #[test]
    fn a_recipe_without_a_page_is_passed_over() {
        let pages = [Some(page("a")), None, Some(page("b")), None];
        let found = beside(&pages, Some(&page("z")), None);
        let names = |beside: &Beside| {
            let name = |link: &Option<Link>| link.as_ref().map(|link| link.href.clone());
            (name(&beside.previous), name(&beside.next))
        };
        let text = |name: &str| Some(name.to_owned());
        assert_eq!(
            found.iter().map(names).collect::<Vec<_>>(),
            [
                (text("z"), text("b")),
                (text("a"), text("b")),
                (text("a"), None),
                (text("b"), None)
            ]
        );
    }

    #[test]
    fn a_page_in_a_folder_goes_up_to_the_others() {
        let beside = Beside {
            index: Some("index.html"),
            previous: Some(page("rye.read.html")),
            next: None,
        };
        let around = around("rye/dark/x.read.html", &beside, Vec::new());
        assert_eq!(around.index.as_deref(), Some("../../index.html"));
        let previous = around.previous.map(|link| link.href);
        assert_eq!(previous.as_deref(), Some("../../rye.read.html"));
    }

    #[test]
    fn addresses_of_the_web() {
        for (text, address) in [
            ("https://example.org", "https://example.org/a.html"),
            ("http://example.org:8080/b/", "http://example.org:8080/b/a.html"),
            ("https://[::1]/x", "https://[::1]/x/a.html"),
        ] {
            assert_eq!(
                SiteUrl::typed(text).map(|url| url.address("a.html")).as_deref(),
                Ok(address)
            );
        }
        for text in [
            "example.org",
            "ftp://example.org",
            "javascript:alert(1)",
            "https://",
            "https:///x",
            "https://e.org/?q",
            "https://e.org/\"x",
            "https://e.org/<b>",
            "https://e.org/a b",
            "HTTPS://-x",
            "https://é.org",
            "https://a@b",
        ] {
            assert!(SiteUrl::typed(text).is_err(), "{text}");
        }
    }
}
