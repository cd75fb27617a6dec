//! The command line as a whole: streams, colour, pipes, locales, help, completions, and what `new` writes.

use std::io::Read as _;
use std::process::Stdio;

use crate::kitchen::Kitchen;

const FAULTY: &str = "title: a\ndough:\n  100 %  bred flour\n  1,000 g water\n";

#[test]
fn colour_comes_only_where_it_is_wanted() {
    let escape = "\u{1b}[";
    let kitchen = Kitchen::new().file("a.loaf", FAULTY);
    assert!(!kitchen.run(&["check"]).out.contains(escape));
    assert!(kitchen.run(&["check", "--color", "always"]).out.contains(escape));
    assert!(kitchen.run(&["--color=always", "check"]).out.contains(escape));
    assert!(!kitchen.run(&["check", "--color=never"]).out.contains(escape));
    let kitchen = kitchen.env("CLICOLOR_FORCE", "1").env("NO_COLOR", "");
    assert!(kitchen.run(&["check"]).out.contains(escape));
    assert!(!kitchen.run(&["check", "--color=never"]).out.contains(escape));
    assert!(!kitchen.run(&["check", "--short"]).out.contains(escape));
}

#[test]
fn a_stranger_cannot_steer_the_terminal() {
    let name = "e\u{1b}]0;x\u{7}\u{9b}2J\u{202e}\u{180e}\u{fffa}\u{e0041}.loaf";
    let text = "title: \u{1b}[2Jx\u{8}\u{9b}31m\ndough:\n  100 %  \u{1b}]52;c;eA==\u{7} flour\n  1 zz \u{202e}sa\u{ad}l\u{e0041}t\n";
    let kitchen = Kitchen::new().file(name, text);
    let forms: [&[&str]; 6] = [
        &["check"],
        &["check", "--short"],
        &["check", "--json"],
        &["sheet", name],
        &["check", "\u{1b}[2J.loaf"],
        &["explain", "\u{1b}[2J"],
    ];
    for arguments in forms {
        let served = kitchen.run(arguments);
        for text in [&served.out, &served.err] {
            let hidden = |c: char| {
                c.is_control() && c != '\n'
                    || matches!(
                        c,
                        '\u{202a}'..='\u{202e}' | '\u{ad}' | '\u{180e}' | '\u{fffa}' | '\u{e0041}'
                    )
            };
            assert!(!text.contains(hidden), "{arguments:?}: {text:?}");
        }
    }
}

#[test]
fn no_line_begins_with_what_a_stranger_wrote() {
    let text = "::error::a\n##vso[b]\ntitle: ::warning::c\ndough:\n::error:: d\n  1 zz ::error::e\n";
    let kitchen = Kitchen::new()
        .file("::error::.loaf", text)
        .file("##vso[x].loaf", text);
    for arguments in [&["check"][..], &["check", "--short"], &["check", "--json"]] {
        let served = kitchen.run(arguments);
        for line in served.out.lines().chain(served.err.lines()) {
            let is_order = line.starts_with("::") || line.starts_with("##");
            assert!(!is_order, "{arguments:?}: {line}");
        }
    }
}

#[test]
fn a_reader_who_leaves_is_no_fault() {
    let text = format!("title: a\ndough:\n{}", "  12 zz  what is this\n".repeat(2000));
    let kitchen = Kitchen::new().file("a.loaf", text);
    let mut child = kitchen.command(&["check", "--short"]).spawn().unwrap();
    let mut first = [0; 10];
    let mut out = child.stdout.take().unwrap();
    out.read_exact(&mut first).unwrap();
    drop(out);
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(!said.contains("panicked") && !said.contains("pipe"), "{said}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_and_a_closed_stream_are_told_apart_from_success() {
    let full = || Stdio::from(std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap());
    let kitchen = Kitchen::new().file("a.loaf", FAULTY);
    let output = kitchen.command(&["check"]).stdout(full()).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("could not be written"));
    let output = kitchen.command(&["check"]).stderr(full()).output().unwrap();
    assert_eq!(output.status.code(), Some(1));
}

#[test]
fn numbers_mean_the_same_in_every_country() {
    let text = "title: a\nmakes: 1 loaf of 800 g\ndough:\n  100 % bread flour\n  62,5 % water\n  0,125 % instant \
                yeast\n  1.000 g salt\n  1,000 g oil\n";
    let first = Kitchen::new().file("a.loaf", text).run(&["check", "--short"]);
    for locale in ["de_DE.UTF-8", "tr_TR.UTF-8", "ar_EG.UTF-8", "en_US.UTF-8"] {
        let kitchen = Kitchen::new()
            .env("LC_ALL", locale)
            .env("LANG", locale)
            .env("TZ", "Asia/Kathmandu")
            .file("a.loaf", text);
        let again = kitchen.run(&["check", "--short"]);
        assert_eq!((first.code, &first.out), (again.code, &again.out), "{locale}");
    }
    assert!(
        first.out.contains("a.loaf:7:3: warning[dot-thousand]"),
        "{}",
        first.out
    );
    assert!(
        first.out.contains("a.loaf:8:3: error[ambiguous-number]"),
        "{}",
        first.out
    );
}

#[test]
fn help_documents_the_exit_codes() {
    let served = Kitchen::new().run(&["--help"]).ends_with(0);
    assert!(served.out.contains("Exit codes: 0 all is well"), "{}", served.out);
    let help = served.out.split_whitespace().collect::<Vec<_>>().join(" ");
    let codes = &help[help.find("Exit codes").unwrap()..];
    let readme = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let readme = readme.split_whitespace().collect::<Vec<_>>().join(" ");
    for told in [
        "1 a fault in a recipe or, of `format --check` and `compare`, a difference",
        "2 the tool could not work",
        "130 it was ended with Ctrl-C",
        "143 it was told to end",
    ] {
        assert!(codes.contains(told), "{codes}");
        assert!(readme.contains(told), "the README does not say: {told}");
    }
    let language = concat!(env!("CARGO_MANIFEST_DIR"), "/grammar/README.md");
    let language = std::fs::read_to_string(language).unwrap();
    let (_, table) = language.split_once("\n| exit code | |\n").unwrap();
    for told in [
        "| 0 |",
        "| 1 |",
        "`format --check`",
        "`compare`",
        "| 2 |",
        "| 130, 143 |",
    ] {
        let table = table.split("\n\n").next().unwrap();
        assert!(table.contains(told), "{told}\n{table}");
    }
    assert_eq!(served.err, "");
    let _ = Kitchen::new().run(&[]).ends_with(2);
}

/// Names in capitals stand for words of the reader's own, so they are a reader's words.
#[test]
fn help_is_in_words_that_a_baker_knows() {
    let help = |verb: &str| {
        let out = Kitchen::new().run(&[verb, "--help"]).ends_with(0).out;
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for command in loafwright::cli::command().get_subcommands() {
        let help = help(command.get_name());
        assert!(!help.to_lowercase().contains("slug"), "{help}");
    }
    for verb in ["sheet", "build", "watch"] {
        let help = help(verb);
        assert!(
            help.contains("Scale each piece to a tin; their number stays"),
            "{help}"
        );
        assert!(help.contains("their number becomes that of the tins"), "{help}");
    }
    assert!(help("sheet").contains("its starter (levain) or yeast"));
    let faulty = Kitchen::new().file("a.loaf", "title: A\n\ndough:\n  500 g flower\n");
    let told = faulty.run(&["check"]).err;
    assert!(told.contains("`loafwright explain NAME` says more"), "{told}");
}

#[test]
fn completions_name_every_verb() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let served = Kitchen::new().run(&["completions", shell]).ends_with(0);
        for verb in ["check", "build", "sheet", "explain", "new"] {
            assert!(served.out.contains(verb), "{shell} lacks {verb}");
        }
        assert!(!served.out.contains("debug"), "{shell} names what is hidden");
    }
}

#[test]
fn manual_pages_are_written_for_every_verb() {
    let kitchen = Kitchen::new().file("man/.keep", "");
    let _ = kitchen.run(&["man", "man"]).ends_with(0);
    let files = kitchen.files();
    for page in [
        "loafwright.1",
        "loafwright-check.1",
        "loafwright-build.1",
        "loafwright-sheet.1",
    ] {
        assert!(
            files.contains_key(&format!("man/{page}")),
            "{page}: {:?}",
            files.keys()
        );
    }
    let _ = kitchen.run(&["man", "absent"]).ends_with(2);
}

#[test]
fn a_new_recipe_is_clean_and_overwrites_nothing() {
    let kitchen = Kitchen::new();
    let served = kitchen.run(&["new", "Sunday tin"]).ends_with(0);
    assert_eq!(served.out, "Sunday tin.loaf\n");
    let written = kitchen.read("Sunday tin.loaf");
    assert!(written.contains("title:  Sunday tin\n"), "{written}");
    let _ = kitchen.run(&["check", "--deny-warnings"]).ends_with(0);
    let _ = kitchen
        .run(&["format", "--check", "Sunday tin.loaf"])
        .ends_with(0);
    let again = kitchen.run(&["new", "Sunday tin"]).ends_with(2);
    assert!(again.err.contains("Sunday tin.loaf"), "{}", again.err);
    assert_eq!(kitchen.read("Sunday tin.loaf"), written);
    for name in ["", "../..", "bakehouse", "a\u{1b}b", "-"] {
        let _ = kitchen.run(&["new", "--", name]).ends_with(2);
    }
    assert_eq!(kitchen.files().len(), 1);
}

#[test]
fn explain_knows_every_fault() {
    let kitchen = Kitchen::new();
    let list = kitchen.run(&["explain"]).ends_with(0);
    for code in loafwright::diag::Code::ALL {
        assert!(list.out.contains(&format!("{} ", code.slug())), "{}", code.slug());
    }
    let wrong = kitchen.run(&["explain", "unknown-ingredien"]).ends_with(2);
    assert!(
        wrong.err.contains("did you mean `unknown-ingredient`?"),
        "{}",
        wrong.err
    );
}

#[test]
fn developers_see_what_each_phase_makes() {
    let kitchen = Kitchen::new();
    let _ = kitchen.run(&["new", "a"]).ends_with(0);
    for (phase, shown) in [
        ("tree", "key title = \"A\""),
        ("recipe", "bread flour"),
        ("sheet", "of_block_flour"),
    ] {
        let served = kitchen.run(&["debug", phase, "a.loaf"]).ends_with(0);
        assert!(served.out.contains(shown), "{phase}: {}", served.out);
    }
    assert!(!kitchen.run(&["--help"]).out.contains("debug"));
}

/// An option that cannot be followed is the fault of the call: code 2, and the mark stands under what was asked.
#[test]
fn an_option_answers_for_itself() {
    let text =
        "title: a\nmakes: 2 loaves of 680 g\n\ndough:\n  800 g bread flour\n  544 g water\n  16 g salt\n";
    let kitchen = Kitchen::new().file("a.loaf", text);
    for (option, value, says) in [
        ("--tin", "20 x 10 x 10 cm", "2.8 ml per g"),
        ("--flour", "0 g", "less than a gram"),
        ("--flour", "0.001 g", "less than a gram"),
        ("--makes", "24", "the recipe says `loaves`"),
        ("--makes", "-3 buns", "leave the minus out"),
    ] {
        let served = kitchen
            .run(&["sheet", &format!("{option}={value}"), "a.loaf"])
            .ends_with(2);
        let mark = format!("\n1 | {value}\n  | ^");
        for part in [says, &mark, &format!("--> {option}:1:1")] {
            assert!(
                served.err.contains(part),
                "{option} {value}: {part}\n{}",
                served.err
            );
        }
        assert!(served.out.is_empty(), "{}", served.out);
    }
    let _ = kitchen
        .run(&["sheet", "--tin=20 x 10 x 10 cm, 2.8 ml per g", "a.loaf"])
        .ends_with(0);
    let _ = kitchen.run(&["sheet", "--flour=1 g", "a.loaf"]).ends_with(0);
    let none = kitchen.run(&["sheet", "--variation=nope", "a.loaf"]).ends_with(2);
    assert!(none.err.contains("the recipe has no variations"), "{}", none.err);
}

#[test]
fn what_is_not_there_is_said_so_and_no_more() {
    let kitchen = Kitchen::new();
    let checked = kitchen.run(&["check", "nosuch.loaf"]).ends_with(2);
    assert!(!checked.err.contains("no faults"), "{}", checked.err);
    let new = kitchen.run(&["new", "a/b/c"]).ends_with(2);
    assert!(new.err.contains("the folder is not there"), "{}", new.err);
}
