//! Who is answered: this machine's own browser, that was pointed at this server, and nobody else.
//!
//! A page of any other site may send requests to this machine, and may have its own name point here. So the names
//! in the request decide, and not where it comes from. Pure: looks at the head of a request and gives a verdict.

use hyper::header::{CONTENT_LENGTH, HOST, HeaderMap, HeaderName, HeaderValue, ORIGIN, TRANSFER_ENCODING};
use hyper::http::request::Parts;
use hyper::{Method, StatusCode};

/// The page that stands for the folder.
const INDEX: &str = "index.html";

/// Where pages hear of changes. No page of the folder can have such a name.
const TICKS: &str = "/.live/ticks";

/// Where pages ask what there is to know of them.
const NEWS: &str = "/.live/news";

/// What a request wants.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Wish {
    /// A page of the folder, by its name there.
    Page(String),
    /// A stream with a line whenever something changed.
    Ticks,
    /// What there is to know of a page, by its name.
    News(String),
}

/// Looks at the head of a request to a server on a port.
pub(super) fn admit(head: &Parts, port: u16) -> Result<Wish, StatusCode> {
    if head.method != Method::GET && head.method != Method::HEAD {
        return Err(StatusCode::METHOD_NOT_ALLOWED);
    }
    // What asks for a page has nothing to send along, and names the server in its head alone.
    let has_body = head.headers.contains_key(TRANSFER_ENCODING)
        || head
            .headers
            .get_all(CONTENT_LENGTH)
            .iter()
            .any(|length| length != "0");
    if has_body || head.uri.authority().is_some() {
        return Err(StatusCode::BAD_REQUEST);
    }
    let host = only(&head.headers, &HOST)?.ok_or(StatusCode::BAD_REQUEST)?;
    if !is_ours(host, port) {
        return Err(StatusCode::FORBIDDEN);
    }
    if let Some(origin) = only(&head.headers, &ORIGIN)?
        && !origin
            .strip_prefix("http://")
            .is_some_and(|origin| is_ours(origin, port))
    {
        return Err(StatusCode::FORBIDDEN);
    }
    if is_embedded_elsewhere(&head.headers) {
        return Err(StatusCode::FORBIDDEN);
    }
    wish(head.uri.path(), head.uri.query()).ok_or(StatusCode::NOT_FOUND)
}

/// Gives the value of a field that may stand once.
fn only<'head>(headers: &'head HeaderMap, name: &HeaderName) -> Result<Option<&'head str>, StatusCode> {
    let mut values = headers.get_all(name).iter();
    let first = values.next();
    if values.next().is_some() {
        return Err(StatusCode::BAD_REQUEST);
    }
    first
        .map(HeaderValue::to_str)
        .transpose()
        .map_err(|_| StatusCode::BAD_REQUEST)
}

/// Says whether a host is one of the names of this machine, with our port.
fn is_ours(host: &str, port: u16) -> bool {
    let (name, number) = match host.rsplit_once(':') {
        Some((name, number)) if !number.ends_with(']') => (name, number),
        _ => (host, "80"),
    };
    ["127.0.0.1", "localhost", "[::1]"]
        .iter()
        .any(|ours| name.eq_ignore_ascii_case(ours))
        && number == port.to_string()
}

/// Recognises a request that a page of another site makes, be it for a frame, a picture or a script. Somebody who
/// follows a link from there is welcome.
fn is_embedded_elsewhere(headers: &HeaderMap) -> bool {
    let says = |name: &str, word: &str| headers.get(name).is_some_and(|value| value == word);
    let is_foreign = says("sec-fetch-site", "cross-site") || says("sec-fetch-site", "same-site");
    is_foreign && !says("sec-fetch-dest", "document")
}

/// Finds out what is wanted. Names of pages are plain, so that nothing has to be decoded.
fn wish(path: &str, query: Option<&str>) -> Option<Wish> {
    match path {
        TICKS => return Some(Wish::Ticks),
        NEWS => {
            let page = query?.strip_prefix("page=/")?;
            return name(page).map(Wish::News);
        }
        _ => {}
    }
    name(path.strip_prefix('/')?).map(Wish::Page)
}

fn name(written: &str) -> Option<String> {
    let name = if written.is_empty() { INDEX } else { written };
    crate::disk::is_page_name(name).then(|| name.to_owned())
}

#[cfg(test)]
mod tests {
    use hyper::{Request, StatusCode};

    use super::{Wish, admit};

    /// Gives the verdict on a request with these fields; the host is right where none is given.
    fn verdict(method: &str, target: &str, fields: &[(&str, &str)]) -> Result<Wish, StatusCode> {
        let mut request = Request::builder().method(method).uri(target);
        if !fields.iter().any(|(name, _)| *name == "Host") {
            request = request.header("Host", "127.0.0.1:4000");
        }
        for (name, value) in fields {
            request = request.header(*name, *value);
        }
        admit(&request.body(()).unwrap().into_parts().0, 4000)
    }

    fn page(name: &str) -> Wish {
        Wish::Page(name.to_owned())
    }

    #[test]
    fn only_the_names_of_this_machine_with_our_port_are_answered() {
        for host in ["127.0.0.1:4000", "localhost:4000", "LOCALHOST:4000", "[::1]:4000"] {
            assert_eq!(
                verdict("GET", "/", &[("Host", host)]),
                Ok(page("index.html")),
                "{host}"
            );
        }
        for host in [
            "localhost",
            "localhost:4001",
            "localhost.evil.example:4000",
            "evil.example:4000",
            "127.0.0.1",
            "[::1]",
            "127.0.0.1.evil.example:4000",
            "0.0.0.0:4000",
            "localhost:04000",
            "a@localhost:4000",
            "localhost:4000 ",
            "",
        ] {
            let refused = verdict("GET", "/", &[("Host", host)]);
            assert_eq!(refused, Err(StatusCode::FORBIDDEN), "{host}");
        }
        let two = [("Host", "127.0.0.1:4000"), ("Host", "127.0.0.1:4000")];
        assert_eq!(verdict("GET", "/", &two), Err(StatusCode::BAD_REQUEST));
        let elsewhere = verdict("GET", "http://127.0.0.1:4000/", &[]);
        assert_eq!(elsewhere, Err(StatusCode::BAD_REQUEST));
    }

    #[test]
    fn pages_of_other_sites_are_refused() {
        for origin in [
            "null",
            "https://127.0.0.1:4000",
            "http://evil.example",
            "http://127.0.0.1:4001",
            "",
        ] {
            let refused = verdict("GET", "/.live/ticks", &[("Origin", origin)]);
            assert_eq!(refused, Err(StatusCode::FORBIDDEN), "{origin}");
        }
        let own = verdict("GET", "/.live/ticks", &[("Origin", "http://localhost:4000")]);
        assert_eq!(own, Ok(Wish::Ticks));
        let frame = [("Sec-Fetch-Site", "cross-site"), ("Sec-Fetch-Dest", "iframe")];
        assert_eq!(verdict("GET", "/rye.html", &frame), Err(StatusCode::FORBIDDEN));
        let link = [("Sec-Fetch-Site", "cross-site"), ("Sec-Fetch-Dest", "document")];
        assert_eq!(verdict("GET", "/rye.html", &link), Ok(page("rye.html")));
    }

    #[test]
    fn nothing_is_taken_in() {
        for method in [
            "POST", "PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT", "PATCH", "BREAD",
        ] {
            assert_eq!(
                verdict(method, "/", &[]),
                Err(StatusCode::METHOD_NOT_ALLOWED),
                "{method}"
            );
        }
        assert_eq!(verdict("HEAD", "/", &[]), Ok(page("index.html")));
        for body in [("Content-Length", "5"), ("Transfer-Encoding", "chunked")] {
            assert_eq!(
                verdict("GET", "/", &[body]),
                Err(StatusCode::BAD_REQUEST),
                "{body:?}"
            );
        }
    }

    #[test]
    fn only_plain_names_lead_anywhere() {
        assert_eq!(
            verdict("GET", "/big-oven/rye.a5.html?x=1", &[]),
            Ok(page("big-oven/rye.a5.html"))
        );
        let news = verdict("GET", "/.live/news?page=/big-oven/rye.html", &[]);
        assert_eq!(news, Ok(Wish::News("big-oven/rye.html".to_owned())));
        for target in [
            "/../rye.html",
            "/a/../rye.html",
            "/%2e%2e/rye.html",
            "/rye%2ehtml",
            "/a%2fb.html",
            "/a%5cb.html",
            "/%252e%252e/x.html",
            "/rye.html%00",
            "//rye.html",
            "/a//b.html",
            "/c:/x.html",
            "/.loafwright/manifest",
            "/.loafwright/lock",
            "/a/.x.html",
            "/.live/",
            "/.live/ticks/",
            "/.live/news",
            "/.live/news?page=rye.html",
            "/.live/news?page=/../x",
            "/a/",
            "/a/.",
            "/rye.html/",
        ] {
            assert_eq!(
                verdict("GET", target, &[]),
                Err(StatusCode::NOT_FOUND),
                "{target}"
            );
        }
    }
}
