//! Notes in Markdown: structure gets through, and nothing else.

use loafwright::view::CardOptions;

use super::{PLAIN, page};
use crate::cards::page::tags;

/// Gives the HTML that a note becomes.
fn note(text: &str) -> String {
    let indented: String = text.lines().map(|line| format!("  {line}\n")).collect();
    let page = page(&format!("{PLAIN}notes:\n{indented}"), &CardOptions::default());
    let notes = page.split("<section class=\"notes\">").nth(1).unwrap();
    let inside = notes.split_once("<div dir=\"auto\">").unwrap().1;
    inside
        .split_once("</section>")
        .unwrap()
        .0
        .trim()
        .trim_end_matches("</div>")
        .to_owned()
}

#[test]
fn structure_gets_through() {
    for (text, html) in [
        (
            "Wrap *when* **cool**.",
            "<p>Wrap <em>when</em> <strong>cool</strong>.</p>",
        ),
        ("one\n\ntwo", "<p>one</p><p>two</p>"),
        ("- a\n- b", "<ul><li>a</li><li>b</li></ul>"),
        ("3. a\n4. b", "<ol start=\"3\"><li>a</li><li>b</li></ol>"),
        ("> quoted", "<blockquote><p>quoted</p></blockquote>"),
        ("~~no~~ `code`", "<p><s>no</s> <code>code</code></p>"),
        (
            "# Big\n\n# Next\n\n### Small",
            "<h3>Big</h3><h3>Next</h3><h4>Small</h4>",
        ),
        (
            "[a mill](https://example.org/a?b=1&c=2)",
            "<p><a href=\"https://example.org/a?b=1&amp;c=2\">a mill</a></p>",
        ),
        ("[card](other.html)", "<p><a href=\"other.html\">card</a></p>"),
        (
            "<baker@example.org>",
            "<p><a href=\"mailto:baker@example.org\">baker@example.org</a></p>",
        ),
        (
            "| a | b |\n|---|---|\n| 1 | 2 |",
            "<table><thead><tr><th scope=\"col\">a</th><th scope=\"col\">b</th></tr></thead><tbody><tr><td>1</td><td>2</td></tr></tbody></table>",
        ),
    ] {
        assert_eq!(note(text), html, "{text}");
    }
}

#[test]
fn markup_of_the_writer_is_text() {
    for (text, html) in [
        ("a <b>bold</b> b", "<p>a &lt;b&gt;bold&lt;/b&gt; b</p>"),
        (
            "<script>alert(1)</script>",
            "<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>",
        ),
        ("<!-- hidden -->", "<p>&lt;!-- hidden --&gt;</p>"),
        (
            "# Head {#x onclick=alert(1)}",
            "<h3>Head {#x onclick=alert(1)}</h3>",
        ),
        ("```<img src=x onerror=y>\nx\n```", "<pre>x</pre>"),
        ("a note[^1]", "<p>a note[^1]</p>"),
        ("$x$ {{ 7 * 7 }} {% raw %}", "<p>$x$ {{ 7 * 7 }} {% raw %}</p>"),
    ] {
        assert_eq!(note(text).replace('\n', ""), html, "{text}");
    }
}

/// None of these spellings may become a link.
#[test]
fn only_addresses_of_web_mail_and_neighbours_become_links() {
    for address in [
        "javascript:alert(1)",
        "JavaScript:alert(1)",
        "JAVASCRIPT:alert(1)",
        "javascript&#58;alert(1)",
        "javascript&colon;alert(1)",
        "javascript&#x3a;alert(1)",
        "&#106;avascript:alert(1)",
        "&#x6A;avascript:alert(1)",
        "java&#9;script:alert(1)",
        "java&#10;script:alert(1)",
        "java&Tab;script:alert(1)",
        "java&NewLine;script:alert(1)",
        "&#1;javascript:alert(1)",
        "&#32;javascript:alert(1)",
        "&nbsp;javascript:alert(1)",
        "<javascript:alert(1)>",
        "< javascript:alert(1)>",
        "javascript\\:alert(1)",
        "vbscript:msgbox(1)",
        "VbScript:msgbox(1)",
        "data:text/html,<b>x",
        "data:text/html;base64,PHg+",
        "DATA:image/svg+xml,x",
        "file:///etc/passwd",
        "blob:https://example.org/x",
        "view-source:https://example.org",
        "ftp://example.org/x",
        "//example.org/x",
        "\\\\example.org\\x",
        "/\\example.org/x",
        "jar:https://example.org!/x",
    ] {
        let html = note(&format!("[words]({address})"));
        assert!(!html.contains("<a "), "{address}: {html}");
        assert!(html.contains("words"), "{address}: {html}");
        let html = note(&format!("![words]({address})"));
        assert!(
            !html.contains("<a ") && !html.contains("<img"),
            "{address}: {html}"
        );
    }
}

#[test]
fn a_picture_becomes_its_words_and_a_plain_link() {
    assert_eq!(
        note("![a crumb](https://example.org/a.png)"),
        "<p><a href=\"https://example.org/a.png\">a crumb</a></p>"
    );
    assert_eq!(note("![a crumb](crumb.png)"), "<p>a crumb</p>");
    assert_eq!(
        note("[![in *it*](https://example.org/a.png)](https://example.org/b)"),
        "<p><a href=\"https://example.org/b\">in <em>it</em></a></p>"
    );
    assert_eq!(
        note("[](https://example.org/)"),
        "<p><a href=\"https://example.org/\">https://example.org/</a></p>"
    );
}

#[test]
fn deep_and_long_notes_stay_bounded() {
    let deep = format!("{}deep", ">".repeat(200));
    let html = note(&deep);
    assert!(
        html.matches("<blockquote>").count() <= 32 && html.contains("deep"),
        "{html}"
    );
    assert_eq!(
        html.matches("<blockquote>").count(),
        html.matches("</blockquote>").count()
    );
    let list: String = (0..60)
        .map(|level| format!("{}- x\n", "  ".repeat(level)))
        .collect();
    let html = note(&list);
    assert_eq!(html.matches("<ul>").count(), html.matches("</ul>").count());
    let table = format!(
        "|{}\n|{}\n{}",
        "a|".repeat(100),
        "-|".repeat(100),
        "|\n".repeat(8000)
    );
    assert!(note(&table).len() < 600 * 1024);
    for tag in tags(&note(&format!("{}\n", "[![*`~~**<".repeat(500)).repeat(6))) {
        assert!(
            ["p", "em", "s", "code", "strong"].contains(&tag.name.as_str()),
            "{tag:?}"
        );
    }
}
