//! Versions in git: compared by commit and told as a history.

use std::fs;
use std::process::Command;

use crate::kitchen::Kitchen;

const BREAD: &str =
    "title: Corner loaf\n\ndough:\n  500 g     bread flour\n  WATER g     water\n  10 g      salt\n";

pub(super) fn bread(water: u32) -> String {
    BREAD.replace("WATER", &water.to_string())
}

pub(super) fn git(kitchen: &Kitchen, arguments: &[&str]) -> String {
    let home = kitchen.path(".home");
    fs::create_dir_all(&home).unwrap();
    let output = Command::new("git")
        .args(["-c", "user.name=Oxlip Row", "-c", "user.email=row@oxlip.example"])
        .args(arguments)
        .current_dir(kitchen.path("."))
        .env("HOME", home)
        .env("NO_COLOR", "1")
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "git {arguments:?}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).unwrap()
}

/// A repository with twenty versions of one bread, each two grams of water wetter.
pub(super) fn twenty_versions() -> Kitchen {
    let kitchen = Kitchen::new().file(".gitignore", ".home\n");
    git(&kitchen, &["init", "-q"]);
    for version in 0..20 {
        fs::write(kitchen.path("bread.loaf"), bread(300 + 2 * version)).unwrap();
        git(&kitchen, &["add", "bread.loaf"]);
        git(&kitchen, &["commit", "-q", "-m", &format!("version {version}")]);
    }
    kitchen
}

#[test]
fn a_version_is_compared_with_the_file_and_with_another_version() {
    let kitchen = twenty_versions();
    let told = kitchen
        .run(&["compare", "--since", "HEAD~5", "bread.loaf"])
        .ends_with(1);
    assert!(told.out.contains("65.6 % → 67.6 %"), "{}", told.out);
    let told = kitchen
        .run(&["compare", "HEAD~19:bread.loaf", "bread.loaf", "--markdown"])
        .ends_with(1);
    assert!(told.out.contains("hydration 60 → 67.6 %"), "{}", told.out);
    let _ = kitchen
        .run(&["compare", "HEAD:bread.loaf", "bread.loaf"])
        .ends_with(0);
}

#[test]
fn the_history_has_a_line_a_version() {
    let kitchen = twenty_versions();
    let told = kitchen.run(&["compare", "--history", "bread.loaf"]).ends_with(0);
    for version in 0..20 {
        assert!(
            told.out.contains(&format!("version {version}\n")),
            "{version}: {}",
            told.out
        );
    }
    assert!(told.out.contains("hydration 60 → 60.4 %"), "{}", told.out);
}

#[test]
fn a_book_is_told_recipe_by_recipe_also_under_new_names() {
    let kitchen = twenty_versions();
    for (name, title) in [("rye", "Rye"), ("bun", "Buns"), ("tin", "Tin")] {
        let text = bread(300).replace("Corner loaf", title);
        fs::write(kitchen.path(&format!("{name}.loaf")), text).unwrap();
    }
    git(&kitchen, &["add", "."]);
    git(&kitchen, &["commit", "-qm", "a book"]);
    fs::rename(kitchen.path("rye.loaf"), kitchen.path("dark.loaf")).unwrap();
    fs::remove_file(kitchen.path("bun.loaf")).unwrap();
    fs::write(
        kitchen.path("tin.loaf"),
        bread(600)
            .replace("500 g", "1 kg")
            .replace("10 g", "20 g")
            .replace("Corner loaf", "Tin"),
    )
    .unwrap();
    fs::write(
        kitchen.path("new.loaf"),
        "title: Batter\n\ndough:\n  1 kg plain flour\n  2 l whole milk\n",
    )
    .unwrap();
    let told = kitchen.run(&["compare", "--since", "HEAD"]).ends_with(1);
    let lines: Vec<&str> = told.out.lines().collect();
    assert!(lines.contains(&"HEAD:rye.loaf → dark.loaf"), "{}", told.out);
    assert!(lines.contains(&"Rye: the same, letter by letter"), "{}", told.out);
    assert!(
        lines.contains(&"Tin: scaled × 2, formula unchanged"),
        "{}",
        told.out
    );
    assert!(
        lines
            .iter()
            .any(|line| line.starts_with("Buns: gone: dough 810 g")),
        "{}",
        told.out
    );
    assert!(
        lines
            .iter()
            .any(|line| line.starts_with("Batter: a new recipe: dough ")),
        "{}",
        told.out
    );
    assert!(
        !told.out.contains("Corner loaf"),
        "what is the same takes no room: {}",
        told.out
    );
}

#[test]
fn a_history_goes_along_merges_and_new_names() {
    let kitchen = twenty_versions();
    git(&kitchen, &["checkout", "-qb", "side", "HEAD~1"]);
    fs::write(kitchen.path("other.loaf"), bread(280).replace("Corner", "Other")).unwrap();
    git(&kitchen, &["add", "other.loaf"]);
    git(&kitchen, &["commit", "-qm", "another bread"]);
    git(&kitchen, &["checkout", "-q", "-"]);
    git(&kitchen, &["merge", "-q", "--no-edit", "side"]);
    git(&kitchen, &["mv", "bread.loaf", "tin.loaf"]);
    git(&kitchen, &["commit", "-qm", "a better name"]);
    fs::write(kitchen.path("tin.loaf"), bread(360)).unwrap();
    let told = kitchen
        .run(&["compare", "--history", "tin.loaf"])
        .ends_with(0)
        .out;
    let rows: Vec<&str> = told.lines().filter(|line| !line.starts_with("    ")).collect();
    assert_eq!(
        rows.len(),
        22,
        "twenty versions, a name and what is not committed: {told}"
    );
    assert!(
        rows[0].ends_with("version 0") && rows[20].ends_with("a better name"),
        "{told}"
    );
    assert!(
        rows[21].starts_with("--------") && rows[21].contains("72 %"),
        "{told}"
    );
    assert!(told.contains("the same, letter by letter"), "{told}");
    assert!(!told.contains("another bread"), "{told}");
    let page = kitchen
        .run(&["compare", "--history", "tin.loaf", "--html"])
        .ends_with(0)
        .out;
    assert_eq!(page.matches("<article>").count(), 22);
    assert!(page.contains("<th scope=\"col\">hydration</th>"), "{page}");
    let table = kitchen
        .run(&["compare", "--history", "tin.loaf", "--markdown"])
        .ends_with(0)
        .out;
    assert_eq!(table.lines().count(), 24, "{table}");
    assert!(
        table.lines().all(|line| line.matches(" | ").count() == 7),
        "{table}"
    );
}

/// Days in zones of whole, half and quarter hours, across a change of clocks, a leap day and the turn of a year.
#[test]
fn a_version_has_the_day_that_its_author_had() {
    let days = [
        ("2026-03-28T23:59:59 +0100", "2026-03-28"),
        ("2026-03-29T02:30:00 +0100", "2026-03-29"),
        ("2026-10-25T02:30:00 +0200", "2026-10-25"),
        ("2026-10-25T02:30:00 +0100", "2026-10-25"),
        ("2024-02-29T00:00:00 +0545", "2024-02-29"),
        ("2024-02-29T23:59:59 -0330", "2024-02-29"),
        ("2025-02-28T23:45:00 +1030", "2025-02-28"),
        ("2025-12-31T23:59:59 +1400", "2025-12-31"),
        ("2026-01-01T00:00:00 -1200", "2026-01-01"),
        ("2011-12-31T00:30:00 +1400", "2011-12-31"),
        ("2000-02-29T12:00:00 +0000", "2000-02-29"),
        ("1999-12-31T23:59:59 -0800", "1999-12-31"),
    ];
    let kitchen = Kitchen::new().file(".gitignore", ".home\n");
    git(&kitchen, &["init", "-q"]);
    for (at, (date, _)) in days.iter().enumerate() {
        fs::write(
            kitchen.path("bread.loaf"),
            bread(300 + 2 * u32::try_from(at).unwrap()),
        )
        .unwrap();
        git(&kitchen, &["add", "bread.loaf"]);
        git(
            &kitchen,
            &["commit", "-q", "--date", date, "-m", &format!("at {date}")],
        );
    }
    for zone in [
        "UTC",
        "Pacific/Kiritimati",
        "America/St_Johns",
        "Asia/Kathmandu",
        "Europe/Dublin",
    ] {
        let mut command = kitchen.command(&["compare", "--history", "bread.loaf"]);
        let output = command.env("TZ", zone).output().unwrap();
        let told = String::from_utf8(output.stdout).unwrap();
        for (date, day) in days {
            let row = told
                .lines()
                .find(|line| line.ends_with(&format!("at {date}")))
                .unwrap();
            assert!(row.contains(&format!("  {day}  ")), "{zone}: {row}");
        }
    }
}
