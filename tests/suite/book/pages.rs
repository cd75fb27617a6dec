//! The pages of a folder: which there are, how they name each other, what is written again and what is not.

use std::collections::BTreeMap;

use crate::cards::page::{script_of, tags};
use crate::kitchen::Kitchen;

fn recipe(title: &str) -> String {
    format!(
        "title: {title}\nmakes: 2 loaves of 500 g\ntags: {title} tag\ndough:\n  100 %     bread flour\n  60 %      water\n  2 %       salt\n  40 min    bake at 230 C\n"
    )
}

/// Gives the addresses of a page that stand in attributes, with the words of `rel` or the name of the tag.
fn addresses(page: &str) -> Vec<(String, String)> {
    let found = tags(page).into_iter().filter_map(|tag| {
        let get = |wanted: &str| {
            let found = tag.attributes.iter().find(|(name, _)| name == wanted);
            found.map(|(_, value)| value.clone())
        };
        let href = get("href").or_else(|| get("src"))?;
        Some((get("rel").unwrap_or_else(|| tag.name.clone()), href))
    });
    found.collect()
}

fn beside(page: &str, rel: &str) -> Option<String> {
    let found = addresses(page).into_iter().find(|(name, _)| name == rel);
    found.map(|(_, href)| href)
}

/// Puts the part of a page's address and one that stands on it together, as a browser does.
fn resolved(page: &str, href: &str) -> String {
    let mut parts: Vec<&str> = page.split('/').collect();
    parts.pop();
    for part in href.split('/') {
        if part == ".." {
            parts.pop().expect("no address leads out of the folder");
        } else {
            parts.push(part);
        }
    }
    parts.join("/")
}

fn html(kitchen: &Kitchen) -> BTreeMap<String, String> {
    let files = kitchen.files().into_iter();
    files
        .filter_map(|(name, bytes)| {
            let name = name.strip_prefix("cards/")?.to_owned();
            name.strip_suffix(".html")
                .is_some()
                .then(|| (name, String::from_utf8(bytes).unwrap()))
        })
        .collect()
}

#[test]
fn every_address_is_relative_and_leads_to_a_page() {
    let kitchen = Kitchen::new().shipped_recipes();
    let _ = kitchen
        .run(&["build", "recipes", "--paper", "a4,a5"])
        .ends_with(0);
    let pages = html(&kitchen);
    let readers = pages.keys().filter(|name| name.ends_with(".read.html")).count();
    assert_eq!(
        pages.len(),
        readers * 3 + 1,
        "two cards and a page for each recipe, and the index"
    );
    let mut followed = 0;
    for (name, page) in &pages {
        for (_, href) in addresses(page)
            .iter()
            .filter(|(_, href)| !href.starts_with("https://"))
        {
            assert!(!href.starts_with('/') && !href.contains(':'), "{name}: {href}");
            assert!(pages.contains_key(&resolved(name, href)), "{name}: {href}");
            followed += 1;
        }
    }
    assert!(followed > readers * 5, "{followed} addresses");
    assert!(!kitchen.path("cards/sitemap.xml").exists());
}

#[test]
fn pages_stand_in_one_row_across_every_break() {
    let mut kitchen = Kitchen::new();
    for number in 0..403 {
        // Some that have no page, where the work is cut too.
        let text = if [0, 7, 199, 200, 399, 402].contains(&number) {
            "title: none\n".to_owned()
        } else {
            recipe(&format!("Bread {number:03}"))
        };
        kitchen = kitchen.file(&format!("r/{}/b{number:03}.loaf", number / 100), text);
    }
    let _ = kitchen.run(&["build", "r"]).ends_with(1);
    let pages = html(&kitchen);
    let mut at = "0/b001.read.html".to_owned();
    assert_eq!(beside(&pages[&at], "prev"), None);
    let mut seen = 1;
    while let Some(next) = beside(&pages[&at], "next") {
        let next = resolved(&at, &next);
        let back = beside(&pages[&next], "prev").map(|back| resolved(&next, &back));
        assert_eq!(back.as_deref(), Some(at.as_str()));
        at = next;
        seen += 1;
    }
    assert_eq!((seen, at.as_str()), (397, "4/b401.read.html"));
}

#[test]
fn a_changed_title_is_written_where_it_is_named() {
    let kitchen = Kitchen::new()
        .file("r/a.loaf", recipe("Anna"))
        .file("r/b.loaf", recipe("Berta"))
        .file("r/c.loaf", recipe("Clara"))
        .file("r/d.loaf", recipe("Dora"));
    let _ = kitchen.run(&["build", "r"]).ends_with(0);
    let first = html(&kitchen);
    let changed = |kitchen: &Kitchen| -> Vec<String> {
        let now = html(kitchen).into_iter();
        now.filter(|(name, page)| first.get(name) != Some(page))
            .map(|(name, _)| name)
            .collect()
    };
    let _ = kitchen.run(&["build", "r"]).ends_with(0);
    assert_eq!(changed(&kitchen), Vec::<String>::new());
    let kitchen = kitchen.file("r/b.loaf", recipe("Berta").replace("60 %", "61 %"));
    let _ = kitchen.run(&["build", "r"]).ends_with(0);
    assert_eq!(changed(&kitchen), ["b.html", "b.read.html"]);
    let kitchen = kitchen.file("r/b.loaf", recipe("Beate"));
    let _ = kitchen.run(&["build", "r"]).ends_with(0);
    assert_eq!(
        changed(&kitchen),
        [
            "a.read.html",
            "b.html",
            "b.read.html",
            "c.read.html",
            "index.html"
        ]
    );
    // A recipe that becomes faulty keeps its page, and its place in the row.
    let kitchen = kitchen.file("r/b.loaf", "title: Beate\nmakes: nothing at all\n");
    let _ = kitchen.run(&["build", "r"]).ends_with(1);
    let pages = html(&kitchen);
    assert_eq!(
        beside(&pages["a.read.html"], "next").as_deref(),
        Some("b.read.html")
    );
    assert!(pages["index.html"].contains("b.read.html"));
}

#[test]
fn one_recipe_alone_has_a_page_but_no_neighbours() {
    let kitchen = Kitchen::new().file("a.loaf", recipe("Anna"));
    let _ = kitchen.run(&["build", "a.loaf"]).ends_with(0);
    let pages = html(&kitchen);
    assert_eq!(pages.keys().collect::<Vec<_>>(), ["a.html", "a.read.html"]);
    let addresses = addresses(&pages["a.read.html"]);
    assert_eq!(addresses, [("a".to_owned(), "a.html".to_owned())]);
}

#[test]
fn a_site_has_whole_addresses() {
    let kitchen = Kitchen::new()
        .file("r/a.loaf", recipe("Anna"))
        .file("r/sub/b.loaf", recipe("Berta"));
    let built = kitchen.run(&["build", "r", "--site-url", "https://example.org/breads/"]);
    let _ = built.ends_with(0);
    let pages = html(&kitchen);
    for (name, address) in [
        ("index.html", "https://example.org/breads/"),
        ("a.read.html", "https://example.org/breads/a.read.html"),
        ("sub/b.read.html", "https://example.org/breads/sub/b.read.html"),
    ] {
        assert_eq!(beside(&pages[name], "canonical").as_deref(), Some(address));
        assert!(pages[name].contains(&format!(
            "<meta property=\"og:url\" content=\"{}\">",
            address.replace('/', "&#x2f;")
        )));
    }
    assert_eq!(
        kitchen.read("cards/sitemap.xml"),
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <urlset xmlns=\"http://www.sitemaps.org/schemas/sitemap/0.9\">\n\
         <url><loc>https://example.org/breads/</loc></url>\n\
         <url><loc>https://example.org/breads/a.read.html</loc></url>\n\
         <url><loc>https://example.org/breads/sub/b.read.html</loc></url>\n\
         </urlset>\n"
    );
    // What a site had goes with its address, and a file of somebody else's stays.
    let _ = kitchen.run(&["build", "r/a.loaf"]).ends_with(0);
    assert!(kitchen.path("cards/sitemap.xml").exists());
    let _ = kitchen.run(&["build", "r"]).ends_with(0);
    assert!(!kitchen.path("cards/sitemap.xml").exists());
    assert!(!kitchen.read("cards/a.read.html").contains("example.org"));
    let kitchen = kitchen.file("cards/sitemap.xml", "mine");
    let _ = kitchen.run(&["build", "r"]).ends_with(0);
    assert_eq!(kitchen.read("cards/sitemap.xml"), "mine");
    for wrong in [
        "example.org",
        "ftp://example.org",
        "javascript:alert(1)",
        "https://example.org/?q=\"",
        "",
    ] {
        let _ = kitchen.run(&["build", "r", "--site-url", wrong]).ends_with(2);
    }
}

/// No page names anything that a browser would fetch by itself.
#[test]
fn nothing_remote_is_named() {
    let kitchen = Kitchen::new().shipped_recipes();
    let _ = kitchen.run(&["build", "recipes"]).ends_with(0);
    for (name, page) in html(&kitchen) {
        for tag in tags(&page) {
            assert!(
                !["iframe", "object", "embed", "link", "base"].contains(&tag.name.as_str()),
                "{name}: {}",
                tag.name
            );
            let loads = tag
                .attributes
                .iter()
                .filter(|(name, _)| ["src", "srcset", "action"].contains(&name.as_str()));
            assert_eq!(loads.count(), 0, "{name}: {}", tag.name);
            assert!(
                !tag.attributes.iter().any(|(name, _)| name.starts_with("on")),
                "{name}: {}",
                tag.name
            );
        }
        let policy = "default-src &#x27;none&#x27;";
        let plain = "default-src 'none'";
        assert!(
            page.contains(policy) || page.contains(plain),
            "{name} has no policy"
        );
        assert!(!page.contains("@import") && !page.contains("url(http"), "{name}");
    }
}

/// What a page's policy allows: the very style and script that stand in it, and pictures beside it.
#[test]
fn a_policy_names_the_only_style_and_script() {
    use base64::Engine as _;
    use sha2::Digest as _;
    let kitchen = Kitchen::new().file("r/a.loaf", recipe("Anna"));
    let _ = kitchen.run(&["build", "r"]).ends_with(0);
    let pages = html(&kitchen);
    let hash =
        |text: &str| base64::engine::general_purpose::STANDARD.encode(sha2::Sha256::digest(text.as_bytes()));
    for name in ["index.html", "a.read.html"] {
        let page = &pages[name];
        let policy = tags(page).into_iter().find_map(|tag| {
            let value = |wanted: &str| {
                let found = tag.attributes.iter().find(|(name, _)| name == wanted);
                found.map(|(_, value)| value.clone())
            };
            (value("http-equiv").as_deref() == Some("Content-Security-Policy")).then(|| value("content"))?
        });
        let wanted = format!(
            "default-src 'none'; style-src 'sha256-{}'; script-src 'sha256-{}'; img-src 'self' data:; base-uri 'none'; \
             form-action 'none'",
            hash(script_of(page, "<style>").split("</style>").next().unwrap()),
            hash(script_of(page, "<script>"))
        );
        assert_eq!(policy.as_deref(), Some(wanted.as_str()), "{name}");
    }
    let card = &pages["a.html"];
    assert!(!card.contains("<script") && !card.contains("script-src"));
}

#[test]
fn a_record_has_its_day_in_the_language_of_the_page() {
    let text = recipe("Roggen") + "\nbake 2026-03-14:\n  94 C      core\n";
    let kitchen = Kitchen::new().file("roggen.loaf", format!("language: de\n{text}"));
    let _ = kitchen.run(&["build"]).ends_with(0);
    for page in ["cards/roggen.html", "cards/roggen.read.html"] {
        let html = kitchen.read(page);
        let day = "<time datetime=\"2026-03-14\">14. März 2026</time>";
        assert!(html.contains(day), "{page}");
    }
}

/// Two dozen of what is not named are pieces; only a recipe that says no number is counted in whole recipes.
#[test]
fn the_number_to_choose_is_named() {
    for (makes, name) in [
        ("makes: 2 dozen of 60 g", "pieces"),
        ("makes: 2 loaves of 600 g", "loaves"),
        ("flour: 1 kg", "times the recipe"),
    ] {
        let text = format!(
            "title: A\n{makes}\n\ndough:\n  100 % bread flour\n  70 % water\n  2 % salt\n  5 min mix\n  \
             40 min bake at 230 C\n"
        );
        let kitchen = Kitchen::new().file("a.loaf", text);
        let _ = kitchen.run(&["build"]).ends_with(0);
        let page = kitchen.read("cards/a.read.html");
        let (_, behind) = page.split_once("id=\"more\"").unwrap();
        let label: String = behind.chars().take(200).collect();
        assert!(label.contains(&format!("{name}<")), "{name}: {label}");
    }
}
