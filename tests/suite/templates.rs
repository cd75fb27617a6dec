//! Templates of one's own: a small change is a small file, a mistake is told with file and line, and a hostile one
//! spends little, reads nothing outside its folder and makes no recipe's words act.

mod classes;

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use loafwright::render::html::{Renderer, TEMPLATES};
use loafwright::render::own::{OwnFile, OwnTemplates, built_in};
use sha2::Digest as _;

use super::cards::page::text_of;
use super::kitchen::{Kitchen, Served};

const BREAD: &str = "title: Bread & <b>butter</b>\nmakes: 1 loaf\ndough:\n  500 g bread flour\n  350 g water\n  10 g salt\n  \
                     5 g fresh yeast\n  10 min mix\n  2 h bulk\n  40 min bake at 230 C\n";

/// A kitchen with a bread and some templates, built with them.
fn built(templates: &[(&str, &str)]) -> (Kitchen, Served) {
    let kitchen = Kitchen::new().file("recipes/bread.loaf", BREAD);
    let kitchen = templates.iter().fold(kitchen, |kitchen, (name, text)| {
        kitchen.file(&format!("own/{name}"), text)
    });
    let served = kitchen.run(&["build", "recipes", "--out", "cards", "--templates", "own"]);
    (kitchen, served)
}

/// The page that a set of templates makes.
#[track_caller]
fn page(templates: &[(&str, &str)]) -> String {
    let (kitchen, served) = built(templates);
    let served = served.ends_with(0);
    assert!(!served.err.contains("error"), "{}", served.err);
    kitchen.read("cards/bread.html")
}

/// What is told of a set of templates that is at fault: the run ends with 2, and there is no card.
#[track_caller]
fn fault(templates: &[(&str, &str)]) -> String {
    let (kitchen, served) = built(templates);
    let served = served.ends_with(2);
    assert!(!kitchen.path("cards/bread.html").exists());
    served.err
}

#[test]
fn a_line_at_the_foot_is_a_file_of_two_lines() {
    let plain = page(&[("own.css", "")]);
    let own = page(&[(
        "foot.html",
        "{% include \"built-in/foot.html\" %}\n<p>Baked at the community bakehouse of Oxlip Row</p>\n",
    )]);
    let foot = "<p>Baked at the community bakehouse of Oxlip Row</p>";
    assert!(own.contains(foot), "{own}");
    assert_eq!(own.replace(foot, ""), plain, "nothing else changes");
}

/// Notes and records are one file for cards and readers' pages; a page of one's own prints them by either name.
#[test]
fn notes_stand_alike_on_card_and_page_for_readers() {
    let bread = format!("{BREAD}\nnotes:\n  Mind *it*.\n\nbake 2026-03-14:\n  20.5 C room\n");
    let pages = |templates: &[(&str, &str)]| {
        let kitchen = Kitchen::new()
            .file("recipes/bread.loaf", &bread)
            .file("own/own.css", "");
        let kitchen = templates.iter().fold(kitchen, |kitchen, (name, text)| {
            kitchen.file(&format!("own/{name}"), text)
        });
        let served = kitchen.run(&["build", "recipes", "--out", "cards", "--templates", "own"]);
        let _ = served.ends_with(0);
        ["cards/bread.html", "cards/bread.read.html"].map(|name| kitchen.read(name))
    };
    let sections = |page: &str| {
        let from = page.find("<section class=\"notes\">").expect("notes");
        let rest = &page[from..];
        text_of(&rest[..rest.find("</main>").unwrap()])
    };
    let [card, reader] = pages(&[]);
    assert_eq!(sections(&card), sections(&reader));
    assert!(
        card.contains("Mind <em>it</em>.") && card.contains("class=\"records\""),
        "{card}"
    );
    for page in pages(&[("notes.html", "<p>Ask Oxlip Row: {{ card.notes|safe }}</p>\n")]) {
        assert!(
            page.contains("<p>Ask Oxlip Row: <p>Mind <em>it</em>.</p>"),
            "{page}"
        );
        assert!(!page.contains("class=\"records\""), "{page}");
    }
    let [_, own] = pages(&[("reader.html", "<main>{{ reader.notes|safe }}</main>\n")]);
    assert!(own.starts_with("<main><p>Mind <em>it</em>.</p>"), "{own}");
}

#[test]
fn a_part_of_a_page_is_changed_by_extending_it() {
    let own = page(&[(
        "card.html",
        "{% extends \"built-in/card.html\" %}\n{% block head %}{{ super() }}<p>from {{ page.policy|length }}</p>{% endblock %}\n",
    )]);
    assert!(own.contains("<h1>") && own.contains("<p>from "), "{own}");
}

#[test]
fn a_style_of_one_s_own_is_added_and_the_policy_allows_it_and_nothing_else() {
    use base64::Engine as _;
    let css = "h1 { color: #333 }\n/* mine */\nfooter::after { content: \"Oxlip </ Row\" }";
    let own = page(&[("own.css", css)]);
    let styles: Vec<&str> = own
        .split("<style>")
        .skip(1)
        .map(|rest| rest.split("</style>").next().unwrap())
        .collect();
    assert!(styles[0].ends_with(css), "{}", styles[0]);
    for style in styles {
        let hash = base64::engine::general_purpose::STANDARD.encode(sha2::Sha256::digest(style));
        assert!(
            own.contains(&hash.replace('/', "&#x2f;")) || own.contains(&hash),
            "{hash}"
        );
    }
    assert!(own.contains("default-src &#x27;none&#x27;"));
}

#[test]
fn what_a_template_prints_is_escaped_whatever_the_file_is_called() {
    let own = page(&[
        (
            "foot.html",
            "{% include \"own-more.html\" %}{% set title = card.head.title %}<p>{{ title }}</p>",
        ),
        ("own-more.html", "<i>{{ card.head.title }}</i>"),
    ]);
    let title = "Bread &amp; &lt;b&gt;butter&lt;";
    assert!(
        own.contains(&format!("<i>{title}")) && own.contains(&format!("<p>{title}")),
        "{own}"
    );
    assert!(!own.contains("<b>butter"), "{own}");
}

#[test]
fn escaping_is_not_lost_silently() {
    for (text, what) in [
        (
            "<p>\n{{ card.head.title|safe }}</p>",
            "own/foot.html:2: `safe` is for prose alone",
        ),
        (
            "{{ card.head.title | lower | safe }}",
            "own/foot.html:1: `safe` is for prose alone",
        ),
        (
            "{% set words = card.head.title|safe %}{{ words }}",
            "own/foot.html:1: `safe` is for prose alone",
        ),
        (
            "\n\n{% autoescape false %}{{ card.head.title }}{% endautoescape %}",
            "own/foot.html:3: escaping is never",
        ),
    ] {
        let told = fault(&[("foot.html", text)]);
        assert!(told.contains(what), "{text}: {told}");
    }
    let told = fault(&[("own.css", "h1 {}\n</STYLE><script>")]);
    assert!(
        told.contains("own/own.css:2: `</style` would end the style sheet"),
        "{told}"
    );
}

#[test]
fn a_mistake_is_told_with_file_line_and_what_it_is() {
    for (name, text, what) in [
        (
            "foot.html",
            "<footer>\n{{ card.fot.author }}\n</footer>",
            "own/foot.html:2: this template gets no `card.fot.author`",
        ),
        (
            "foot.html",
            "<footer>\n{{ card.foot.autor }}\n</footer>",
            "own/foot.html:2: this template gets no `card.foot.autor` on a card;",
        ),
        // The foot of a page for readers gets less than that of a card.
        (
            "foot.html",
            "<footer>\n{{ card.about }}\n</footer>",
            "own/foot.html:2: this template gets no `card.about` on a page for readers;",
        ),
        (
            "foot.html",
            "{{ words.no_such_word }}",
            "own/foot.html:1: this template gets no `words.no_such_word`",
        ),
        ("foot.html", "\n\n{% if card %}", "own/foot.html:3: "),
        ("steps.html", "a\nb {{ 1 + }}", "own/steps.html:2: "),
        ("foot.html", "{% include \"foots.html\" %}", "foots.html"),
        ("foot.html", "{{ card.foot.author|shout }}", "shout"),
        (
            "fot.html",
            "x",
            "own/fot.html: there is no template of this name; did you mean `foot.html`?",
        ),
        (
            "mine.html",
            "x",
            "own/mine.html: there is no template of this name",
        ),
        ("card.cs", "x", "did you mean `card.css`?"),
    ] {
        let told = fault(&[(name, text)]);
        assert!(told.contains(what), "{text}: {told}");
        assert!(!told.contains('\u{1b}'), "{told}");
    }
}

#[test]
fn the_first_fault_of_a_template_ends_the_run_and_old_cards_stay() {
    let kitchen = Kitchen::new().shipped_recipes();
    let _ = kitchen.run(&["build", "recipes", "--out", "cards"]).ends_with(0);
    let before = kitchen.files();
    let kitchen = kitchen.file("own/foot.html", "{{ card.nothing }}");
    let served = kitchen
        .run(&["build", "recipes", "--out", "cards", "--templates", "own"])
        .ends_with(2);
    assert_eq!(served.err.matches("own/foot.html:1").count(), 1, "{}", served.err);
    let mut after = kitchen.files();
    after.remove("own/foot.html");
    assert_eq!(before, after);
}

/// Hostile texts for the foot of a card: what begins it, what is repeated how often, what ends it.
const HOSTILE: [(&str, &str, usize, &str); 27] = [
    (
        "{% set a = \"0123456789\" %}",
        "{% set a = a ~ a %}",
        60,
        "{{ a }}",
    ),
    (
        "{% set a %}0123456789{% endset %}",
        "{% set b %}{{ a }}{{ a }}{% endset %}{% set a = b %}",
        60,
        "",
    ),
    ("{% set a = [1] %}", "{% set a = [a, a] %}", 60, "{{ a }}"),
    ("{% set a = [1] %}", "{% set a = [a, a] %}", 60, "{{ a == [a] }}"),
    (
        "{% set a = [1] %}",
        "{% set a = (a, a) %}",
        60,
        "{{ a|string|length }}{{ a ~ a }}{{ a|tojson }}",
    ),
    (
        "{% set a = [1] %}",
        "{% set a = a, a %}",
        60,
        "{{ [a, a]|sort }}{{ [a, a]|unique }}",
    ),
    (
        "{% set a = card.facts %}",
        "{% set a = a|zip(a)|list %}",
        60,
        "{{ a == a }}",
    ),
    (
        "{% set a = card.facts %}",
        "{% set a = a + a %}",
        60,
        "{{ a == a }}",
    ),
    (
        "{% set a = card.facts %}",
        "{% set a = dict(x=a, y=a) %}",
        60,
        "{{ a == a }}",
    ),
    (
        "{% set a = card.facts %}",
        "{% set a = {\"x\": a, \"y\": a} %}",
        60,
        "{{ a == a }}",
    ),
    (
        "{% set a = \"0123456789\" %}",
        "{% set a = a|replace(\"0\", a) %}",
        60,
        "",
    ),
    (
        "",
        "{% for a in words %}",
        12,
        "{% endfor %}{% endfor %}{% endfor %}{% endfor %}{% endfor %}{% endfor %}{% endfor %}{% endfor %}{% endfor %}{% endfor %}{% endfor %}{% endfor %}",
    ),
    (
        "{% for a in words %}{% for b in words %}",
        "x",
        100,
        "{% endfor %}{% endfor %}",
    ),
    ("{{ ", "(", 20_000, "1 }}"),
    ("", "{% if card %}", 9000, ""),
    ("{% if card %}", "{% elif card %}", 9000, "{% endif %}{{ x }}"),
    ("{{ card.head.title", "|lower", 30_000, "|x }}"),
    ("{{ card", ".x", 90_000, " }}"),
    ("{{ ", "not ", 60_000, "card }}{{ x }}"),
    ("{{ card", " and card", 25_000, " }}{{ x }}"),
    ("{{ 1", " ~ 1", 60_000, " }}{{ x }}"),
    (
        "{% macro m(n) %}{{ m(n ~ n) }}{{ m(n ~ n) }}{% endmacro %}{{ m(0) }}",
        "",
        0,
        "",
    ),
    ("{% include \"foot.html\" %}", "", 0, ""),
    ("{% extends \"foot.html\" %}", "", 0, ""),
    ("{% import \"foot.html\" as own %}{{ own.x }}", "", 0, ""),
    ("{% include \"card.html\" %}", "", 0, ""),
    ("{{ \"x\" * 99999999 }}", "{{ \"x\"|indent(999999999) }}", 1, ""),
];

#[test]
fn a_hostile_template_spends_little() {
    let card = super::cards::plain_card();
    for (first, repeated, times, last) in HOSTILE {
        let text = [first, &repeated.repeat(times), last].concat();
        let path = "own/foot.html".to_owned();
        let own = OwnTemplates::new([("foot.html".to_owned(), OwnFile { path, text })]);
        let start = Instant::now();
        let made = own
            .and_then(Renderer::with)
            .and_then(|renderer| renderer.card(&card));
        let spent = start.elapsed();
        // Far above what it takes, and far below what an unbounded one would.
        assert!(spent < Duration::from_secs(20), "{first}{repeated}: {spent:?}");
        let why = made.expect_err(repeated).to_string();
        let place = [
            "own/foot.html:1: ",
            "built-in template card.html:",
            "longer than 4 MiB",
        ];
        assert!(
            place.iter().any(|place| why.contains(place)),
            "{first}{repeated}: {why}"
        );
    }
}

#[test]
fn a_template_reads_nothing_outside_its_folder() {
    for name in [
        "../secret.html",
        "/etc/passwd",
        "own/../../secret.html",
        "..\\secret.html",
        "file:///etc/passwd",
    ] {
        let told = fault(&[("foot.html", &format!("{{% include \"{name}\" %}}"))]);
        assert!(told.contains("own/foot.html:1"), "{name}: {told}");
    }
}

#[cfg(unix)]
#[test]
fn links_pipes_folders_and_what_is_no_text_are_refused_in_a_folder_of_templates() {
    use std::os::unix::fs::symlink;
    let run = |change: &dyn Fn(&Path)| {
        let kitchen = Kitchen::new()
            .file("recipes/bread.loaf", BREAD)
            .file("secret.html", "SECRET")
            .file("own/own.css", "");
        change(&kitchen.path("own"));
        let served = kitchen.run(&["build", "recipes", "--out", "cards", "--templates", "own"]);
        served.ends_with(2).err
    };
    let told = run(&|own| symlink("../secret.html", own.join("foot.html")).unwrap());
    assert!(told.contains("own/foot.html: this is a link"), "{told}");
    let told = run(&|own| symlink("/etc", own.join("card.html")).unwrap());
    assert!(told.contains("own/card.html: this is a link"), "{told}");
    let told = run(&|own| fs::create_dir(own.join("card.html")).unwrap());
    assert!(told.contains("own/card.html: this is a folder"), "{told}");
    let told = run(&|own| fs::write(own.join("foot.html"), b"\xff\xfe").unwrap());
    assert!(told.contains("own/foot.html: this is no text in UTF-8"), "{told}");
    let told = run(&|own| fs::write(own.join("foot.html"), vec![b'x'; 300_000]).unwrap());
    assert!(
        told.contains("own/foot.html: no template has more than 256 KiB"),
        "{told}"
    );
    let kitchen = Kitchen::new().file("recipes/bread.loaf", BREAD);
    let served = kitchen
        .run(&["build", "recipes", "--templates", "nowhere"])
        .ends_with(2);
    assert!(
        served.err.contains("nowhere: there is no such file or folder"),
        "{}",
        served.err
    );
}

#[test]
fn hidden_files_and_backups_of_editors_are_passed_over() {
    let _ = page(&[
        ("own.css", ""),
        (".foot.html.swp", "{{ broken"),
        ("foot.html~", "{{ broken"),
    ]);
}

#[test]
fn every_built_in_one_is_listed_printed_and_written_but_never_over_a_file() {
    let kitchen = Kitchen::new();
    let list = kitchen.run(&["templates"]).ends_with(0).out;
    let names: BTreeSet<&str> = built_in().map(|(name, _)| name).collect();
    assert!(names.len() > TEMPLATES.len());
    for name in &names {
        let row = list.lines().find(|line| line.split(' ').next() == Some(*name));
        assert!(
            row.is_some_and(|row| row.len() > name.len() + 10),
            "{name} is not told of:\n{list}"
        );
        let printed = kitchen.run(&["templates", name]).ends_with(0).out;
        let on_disk = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates").join(name);
        let (_, behind) = printed.split_once('\n').unwrap();
        assert_eq!(behind, fs::read_to_string(on_disk).unwrap(), "{name}");
    }
    let kitchen = kitchen.file("mine/foot.html", "mine");
    let served = kitchen.run(&["templates", "--out", "mine"]).ends_with(0);
    assert!(served.err.contains("1 of the files"), "{}", served.err);
    assert_eq!(kitchen.read("mine/foot.html"), "mine");
    for name in names.iter().filter(|name| **name != "foot.html") {
        assert!(kitchen.path(&format!("mine/{name}")).is_file(), "{name}");
    }
    let told = kitchen.run(&["templates", "fot.html"]).ends_with(2).err;
    assert!(told.contains("did you mean `foot.html`?"), "{told}");
}

#[test]
fn all_of_them_printed_make_the_same_card() {
    let kitchen = Kitchen::new().file("recipes/bread.loaf", BREAD);
    let _ = kitchen.run(&["templates", "--out", "own"]).ends_with(0);
    let _ = kitchen.run(&["build", "recipes", "--out", "plain"]).ends_with(0);
    let served = kitchen
        .run(&["build", "recipes", "--out", "cards", "--templates", "own"])
        .ends_with(0);
    assert!(!served.err.contains("changed since"), "{}", served.err);
    assert_eq!(
        kitchen.read("cards/bread.html").trim(),
        kitchen.read("plain/bread.html").trim()
    );
}

#[test]
fn a_copy_of_an_older_built_in_template_is_told_of() {
    let kitchen = Kitchen::new();
    let printed = kitchen.run(&["templates", "foot.html"]).ends_with(0).out;
    let (_, served) = built(&[("foot.html", &printed)]);
    assert!(!served.ends_with(0).err.contains("changed since"));
    let first = printed.lines().next().unwrap();
    let mark = first.rsplit(", ").next().unwrap().split(' ').next().unwrap();
    let (_, served) = built(&[("foot.html", &printed.replace(mark, "0123456789ab"))]);
    let served = served.ends_with(0);
    assert!(
        served
            .err
            .contains("note: own/foot.html was printed from a built-in template that has changed since"),
        "{}",
        served.err
    );
}

/// The page on templates says what they get; it is written anew with `loafwright templates --values`.
#[test]
fn the_page_on_templates_lists_what_they_get() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/TEMPLATES.md");
    let page = fs::read_to_string(&path).unwrap();
    let values = Kitchen::new().run(&["templates", "--values"]).ends_with(0).out;
    let (intro, listed) = page
        .split_once("<!-- as `loafwright templates --values` prints it -->\n")
        .unwrap();
    if std::env::var_os("INSTA_UPDATE").is_some_and(|update| update == "always") {
        let mark = "<!-- as `loafwright templates --values` prints it -->\n";
        fs::write(&path, [intro, mark, &values].concat()).unwrap();
        return;
    }
    assert_eq!(listed, values, "run this test with INSTA_UPDATE=always");
    for (name, _) in built_in() {
        assert!(
            intro.contains(&format!("`{name}`")),
            "the page does not name {name}"
        );
    }
}
