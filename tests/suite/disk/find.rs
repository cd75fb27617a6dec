//! Which recipes are found, and how far up a bakehouse is sought.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use loafwright::disk::{Found, OutFolder, Problem, find};

use crate::kitchen::Kitchen;

fn found(kitchen: &Kitchen, path: &str) -> Found {
    find(&[kitchen.path(path)])
}

/// The recipes by their paths in the kitchen.
fn recipes(kitchen: &Kitchen, found: &Found) -> Vec<String> {
    let name = |path: &Path| {
        let below = path.strip_prefix(kitchen.path("")).unwrap_or(path);
        below.to_string_lossy().into_owned()
    };
    found
        .recipes
        .iter()
        .map(|recipe| name(&recipe.file.path))
        .collect()
}

/// The bakehouses of a recipe by their folders in the kitchen, nearest first.
fn bakehouses(kitchen: &Kitchen, found: &Found, recipe: &str) -> Vec<String> {
    let of = found
        .recipes
        .iter()
        .find(|found| found.file.path.ends_with(recipe))
        .unwrap();
    let top = kitchen.path("").canonicalize().unwrap();
    found.chains[of.chain]
        .iter()
        .map(|place| found.bakehouses[*place].path.parent().unwrap())
        .map(|folder| {
            folder
                .strip_prefix(&top)
                .unwrap_or(folder)
                .to_string_lossy()
                .into_owned()
        })
        .collect()
}

#[test]
fn recipes_come_in_the_order_of_their_paths_without_hidden_and_ignored_ones() {
    let kitchen = Kitchen::new()
        .file("p/b.loaf", "b")
        .file("p/a/z.loaf", "z")
        .file("p/a/bakehouse.loaf", "room: 20 C")
        .file("p/.hidden/x.loaf", "x")
        .file("p/.x.loaf", "x")
        .file("p/drafts/x.loaf", "x")
        .file("p/.gitignore", "drafts/\n")
        .file("p/notes.txt", "n");
    let found = found(&kitchen, "p");
    assert_eq!(recipes(&kitchen, &found), ["p/a/z.loaf", "p/b.loaf"]);
    assert!(found.faults.is_empty(), "{:?}", found.faults);
    assert_eq!(bakehouses(&kitchen, &found, "z.loaf"), ["p/a"]);
    assert!(bakehouses(&kitchen, &found, "b.loaf").is_empty());
}

#[test]
fn a_recipe_that_is_met_twice_is_taken_once() {
    let kitchen = Kitchen::new().file("p/a.loaf", "a").file("p/sub/b.loaf", "b");
    let paths = ["p", "p/sub", "p/sub/../a.loaf"].map(|path| kitchen.path(path));
    assert_eq!(find(&paths).recipes.len(), 2);
}

#[test]
fn what_is_not_there_is_said_and_the_rest_is_found() {
    let kitchen = Kitchen::new().file("p/a.loaf", "a");
    let found = find(&[kitchen.path("q.loaf"), kitchen.path("p")]);
    assert_eq!(recipes(&kitchen, &found), ["p/a.loaf"]);
    let fault = found.faults[0].to_string();
    assert!(
        fault.ends_with("q.loaf: there is no such file or folder; look at the spelling"),
        "{fault}"
    );
}

/// Files in a folder that lies in no repository, as the build folder may.
fn in_no_repository(files: &[&str]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for name in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, "room: 20 C\n").unwrap();
    }
    folder
}

/// The bakehouse files that a path is read with, by their paths in a folder.
fn houses_of(folder: &tempfile::TempDir, path: &str) -> Vec<String> {
    let top = folder.path().canonicalize().unwrap();
    let found = find(&[folder.path().join(path)]);
    let houses = found.bakehouses.iter();
    houses
        .map(|house| {
            house
                .path
                .strip_prefix(&top)
                .unwrap()
                .to_str()
                .unwrap()
                .to_owned()
        })
        .collect()
}

#[test]
fn outside_a_repository_the_climb_ends_at_what_was_named() {
    let folder = in_no_repository(&[
        "bakehouse.loaf",
        "p/bakehouse.loaf",
        "p/a/b/bakehouse.loaf",
        "p/a/b/x.loaf",
        "p/a/y.loaf",
    ]);
    assert_eq!(
        houses_of(&folder, "p"),
        ["p/a/b/bakehouse.loaf", "p/bakehouse.loaf"]
    );
    assert_eq!(houses_of(&folder, "p/a/b/x.loaf"), ["p/a/b/bakehouse.loaf"]);
    assert!(houses_of(&folder, "p/a/y.loaf").is_empty());
}

#[test]
fn in_a_repository_the_climb_ends_at_its_top_whatever_was_named() {
    let folder = in_no_repository(&[
        "bakehouse.loaf",
        "p/.git/HEAD",
        "p/bakehouse.loaf",
        "p/a/b/bakehouse.loaf",
        "p/a/b/x.loaf",
    ]);
    for path in ["p", "p/a", "p/a/b", "p/a/b/x.loaf"] {
        assert_eq!(
            houses_of(&folder, path),
            ["p/a/b/bakehouse.loaf", "p/bakehouse.loaf"],
            "{path}"
        );
    }
}

#[test]
fn a_link_out_of_the_folder_that_was_named_is_refused_though_the_climb_goes_further() {
    let folder = in_no_repository(&["p/.git/HEAD", "p/bakehouse.loaf", "p/other.loaf", "p/a/x.loaf"]);
    #[cfg(unix)]
    std::os::unix::fs::symlink("../other.loaf", folder.path().join("p/a/y.loaf")).unwrap();
    let found = find(&[folder.path().join("p/a")]);
    let read = found.recipes.iter().map(|recipe| recipe.file.read(99));
    let (sound, refused): (Vec<_>, Vec<_>) = read.partition(std::result::Result::is_ok);
    assert_eq!(sound.len(), 1);
    assert_eq!(refused.len(), usize::from(cfg!(unix)));
}

#[cfg(unix)]
#[test]
#[expect(clippy::print_stderr, reason = "a test that did not run says so")]
fn the_climb_does_not_come_into_a_folder_of_another_owner() {
    use std::os::unix::fs::chown;
    let folder = in_no_repository(&[".git/HEAD", "bakehouse.loaf", "p/bakehouse.loaf", "p/a/x.loaf"]);
    assert_eq!(houses_of(&folder, "p/a").len(), 2);
    if chown(folder.path(), Some(4242), None).is_err() {
        eprintln!("skipped: only the superuser can give a folder away");
        return;
    }
    for path in ["p/a", "p/a/x.loaf"] {
        assert_eq!(houses_of(&folder, path), ["p/bakehouse.loaf"], "{path}");
    }
}

#[test]
fn the_folder_that_the_program_was_started_in_is_part_of_the_project() {
    let bread =
        "title:  Corner loaf\n\ndough:\n  500 g     lane white\n  300 g     water\n  10 g      salt\n";
    let house = "ingredient lane white:\n  like      bread flour\n  contains  wheat\n";
    let folder = in_no_repository(&["x/y/bread.loaf", "x/bakehouse.loaf"]);
    fs::write(folder.path().join("x/y/bread.loaf"), bread).unwrap();
    fs::write(folder.path().join("x/bakehouse.loaf"), house).unwrap();
    let kitchen = Kitchen::new();
    let told = |below: &str, path: &str| {
        let mut command = kitchen.command(&["check", "--deny-warnings", path]);
        let output = command.current_dir(folder.path().join(below)).output().unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        (output.status.code().unwrap(), said)
    };
    for (below, path) in [
        ("", "x/y"),
        ("", "x/y/bread.loaf"),
        ("x", "y"),
        ("x", "."),
        ("x", "y/bread.loaf"),
    ] {
        let (code, said) = told(below, path);
        assert!(
            code == 0 && said.contains("bakehouse.loaf"),
            "{below} {path}: {said}"
        );
    }
    // The ingredient is not known, and so there is no flour.
    let (code, said) = told("x/y", "bread.loaf");
    assert!(code == 1 && said.contains("2 warnings"), "{said}");
    // In a repository it is the same from every folder.
    fs::create_dir(folder.path().join(".git")).unwrap();
    for (below, path) in [
        ("", "."),
        ("", "x/y"),
        ("x/y", "."),
        ("x/y", "bread.loaf"),
        ("x/y", "../y"),
    ] {
        let (code, said) = told(below, path);
        assert!(
            code == 0 && said.contains("bakehouse.loaf"),
            "{below} {path}: {said}"
        );
    }
}

/// Sixteen bakehouses above a recipe, and one more so that it is seen.
#[test]
fn a_chain_of_bakehouses_ends_one_past_the_limit() {
    let mut kitchen = Kitchen::new();
    let mut folder = "p".to_owned();
    for _ in 0..30 {
        folder.push_str("/d");
        kitchen = kitchen.file(&format!("{folder}/bakehouse.loaf"), "room: 20 C");
    }
    let kitchen = kitchen.file(&format!("{folder}/x.loaf"), "x");
    let found = found(&kitchen, "p");
    assert_eq!(bakehouses(&kitchen, &found, "x.loaf").len(), 17);
    assert_eq!(found.bakehouses.len(), 30);
}

/// What lies in a folder of cards is no source.
#[test]
fn a_folder_of_cards_is_passed_over() {
    let kitchen = Kitchen::new().file("p/a.loaf", "a");
    let out = OutFolder::open(&kitchen.path("p/cards"), &[kitchen.path("p")]).unwrap();
    out.write("stray.loaf", None, b"no recipe").unwrap();
    out.finish().unwrap();
    assert_eq!(recipes(&kitchen, &found(&kitchen, "p")), ["p/a.loaf"]);
}

/// A folder that is called like a recipe is said to be one.
#[test]
fn a_folder_called_like_a_recipe() {
    let kitchen = Kitchen::new().file("p/rye.loaf/x.txt", "").file("p/a.loaf", "a");
    let found = found(&kitchen, "p");
    assert_eq!(recipes(&kitchen, &found), ["p/a.loaf"]);
    assert!(matches!(found.faults[0].problem, Problem::Folder));
}

#[cfg(unix)]
mod unix {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt as _;
    use std::os::unix::fs::symlink;

    use super::*;

    /// Links to folders are not followed, so that a ring of them ends.
    #[test]
    fn links_to_folders_are_not_followed() {
        let kitchen = Kitchen::new()
            .file("p/a.loaf", "a")
            .file("outside/secret.loaf", "s");
        symlink(kitchen.path("outside"), kitchen.path("p/out")).unwrap();
        symlink(kitchen.path("p"), kitchen.path("p/ring")).unwrap();
        assert_eq!(recipes(&kitchen, &found(&kitchen, "p")), ["p/a.loaf"]);
    }

    /// A link is read where it leads below the root, and refused where it leads out.
    #[test]
    fn links_out_of_the_root_are_refused() {
        let kitchen = Kitchen::new()
            .file("p/.git/HEAD", "")
            .file("p/a.loaf", "a")
            .file("outside/secret.loaf", "secret")
            .file("outside/bakehouse.loaf", "room: 99 C");
        symlink(kitchen.path("outside/secret.loaf"), kitchen.path("p/b.loaf")).unwrap();
        symlink("a.loaf", kitchen.path("p/c.loaf")).unwrap();
        symlink("nowhere", kitchen.path("p/d.loaf")).unwrap();
        symlink("e.loaf", kitchen.path("p/e.loaf")).unwrap();
        symlink("../outside/bakehouse.loaf", kitchen.path("p/bakehouse.loaf")).unwrap();
        let found = found(&kitchen, "p");
        assert_eq!(found.recipes.len(), 5);
        let read: Vec<_> = found
            .recipes
            .iter()
            .map(|recipe| recipe.file.read(1000))
            .collect();
        assert_eq!(read[0].as_ref().unwrap(), b"a");
        assert!(matches!(read[1].as_ref().unwrap_err().problem, Problem::Outside));
        assert_eq!(read[2].as_ref().unwrap(), b"a");
        assert!(matches!(read[3].as_ref().unwrap_err().problem, Problem::Missing));
        assert!(matches!(
            read[4].as_ref().unwrap_err().problem,
            Problem::Unreadable(_)
        ));
        assert!(matches!(
            found.bakehouses[0].read(1000).unwrap_err().problem,
            Problem::Outside
        ));
    }

    /// A file that the user names is obeyed, wherever a link of that name leads.
    #[test]
    fn a_link_that_is_named_is_followed() {
        let kitchen = Kitchen::new().file("p/x.txt", "").file("outside/rye.loaf", "rye");
        symlink(kitchen.path("outside/rye.loaf"), kitchen.path("p/b.loaf")).unwrap();
        let found = found(&kitchen, "p/b.loaf");
        assert_eq!(found.recipes[0].file.read(1000).unwrap(), b"rye");
    }

    /// Odd names work and are shown escaped.
    #[test]
    fn odd_names_work_and_are_shown_escaped() {
        let kitchen = Kitchen::new()
            .file("p/a\nb.loaf", "1")
            .file("p/\u{1b}[31m.loaf", "2")
            .file("p/-x.loaf", "3");
        fs::write(kitchen.path("p").join(OsStr::from_bytes(b"r\xffye.loaf")), "4").unwrap();
        let found = found(&kitchen, "p");
        let read: BTreeSet<_> = found
            .recipes
            .iter()
            .map(|recipe| recipe.file.read(10).unwrap())
            .collect();
        assert_eq!(read.len(), 4);
        let names: String = found
            .recipes
            .iter()
            .map(|recipe| recipe.file.name.as_str())
            .collect();
        assert!(!names.chars().any(char::is_control), "{names:?}");
        for shown in ["a\\u{a}b.loaf", "\\u{1b}[31m.loaf", "-x.loaf", "r\\xffye.loaf"] {
            assert!(names.contains(shown), "{names}");
        }
    }

    /// Three hundred folders deep, and deeper than a path can be.
    #[test]
    fn deep_folders_work_or_are_named() {
        let kitchen = Kitchen::new().file("p/a.loaf", "a");
        let deep: PathBuf = std::iter::repeat_n("d", 300).collect();
        fs::create_dir_all(kitchen.path("p").join(&deep)).unwrap();
        fs::write(kitchen.path("p").join(&deep).join("x.loaf"), "x").unwrap();
        let found = found(&kitchen, "p");
        assert_eq!(found.recipes.len(), 2);
        assert_eq!(found.recipes[1].file.read(10).unwrap(), b"x");
    }

    /// Ten thousand files in one folder.
    #[test]
    fn ten_thousand_files() {
        let kitchen = Kitchen::new().file("p/bakehouse.loaf", "room: 20 C");
        for number in 0..10_000 {
            fs::write(kitchen.path(&format!("p/{number:05}.loaf")), "x").unwrap();
        }
        let found = found(&kitchen, "p");
        assert_eq!(
            (found.recipes.len(), found.bakehouses.len(), found.chains.len()),
            (10_000, 1, 1)
        );
        assert!(found.recipes.is_sorted_by_key(|recipe| recipe.file.path.clone()));
    }
}
