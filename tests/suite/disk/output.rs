//! Folders of cards: which may hold them, what is overwritten, what goes and what stays.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use loafwright::disk::{OutFolder, Problem, Written, write_new};

use crate::kitchen::Kitchen;

/// A kitchen with two recipes.
fn kitchen() -> Kitchen {
    Kitchen::new()
        .file("p/rye.loaf", "rye")
        .file("p/sub/bun.loaf", "bun")
}

fn open(kitchen: &Kitchen, out: &str) -> OutFolder {
    OutFolder::open(&kitchen.path(out), &[kitchen.path("p")]).unwrap()
}

fn source(kitchen: &Kitchen, name: &str) -> PathBuf {
    kitchen.path("p").canonicalize().unwrap().join(name)
}

/// Writes both cards and the folder's page.
fn build(kitchen: &Kitchen, out: &str) -> Vec<String> {
    let folder = open(kitchen, out);
    folder
        .write("rye.html", Some(&source(kitchen, "rye.loaf")), b"rye card")
        .unwrap();
    folder
        .write(
            "sub/bun.html",
            Some(&source(kitchen, "sub/bun.loaf")),
            b"bun card",
        )
        .unwrap();
    folder.write("index.html", None, b"index").unwrap();
    folder.finish().unwrap()
}

/// The files of a folder that are no secret of ours, by name.
fn cards(kitchen: &Kitchen, out: &str) -> BTreeMap<String, Vec<u8>> {
    let below = |name: String| Some(name.strip_prefix(out)?.strip_prefix('/')?.to_owned());
    kitchen
        .files()
        .into_iter()
        .filter_map(|(name, bytes)| Some((below(name)?, bytes)))
        .filter(|(name, _)| !name.starts_with(".loafwright/"))
        .collect()
}

fn refusal(kitchen: &Kitchen, out: &Path) -> Problem {
    let before = kitchen.files();
    let problem = OutFolder::open(out, &[kitchen.path("p")]).unwrap_err().problem;
    assert_eq!(kitchen.files(), before, "{}", out.display());
    problem
}

#[test]
fn cards_are_written_once_and_left_alone_after_that() {
    let kitchen = kitchen();
    assert!(build(&kitchen, "p/cards").is_empty());
    let names: Vec<String> = cards(&kitchen, "p/cards").into_keys().collect();
    assert_eq!(names, ["index.html", "rye.html", "sub/bun.html"]);
    let times = |kitchen: &Kitchen| {
        ["rye.html", "index.html", ".loafwright/manifest"].map(|name| {
            let found = fs::metadata(kitchen.path("p/cards").join(name)).unwrap();
            found.modified().unwrap()
        })
    };
    let before = times(&kitchen);
    std::thread::sleep(std::time::Duration::from_millis(20));
    let folder = open(&kitchen, "p/cards");
    let rye = source(&kitchen, "rye.loaf");
    assert_eq!(
        folder.write("rye.html", Some(&rye), b"rye card").unwrap(),
        Written::Same
    );
    assert_eq!(folder.write("index.html", None, b"index").unwrap(), Written::Same);
    assert_eq!(folder.write("new.html", None, b"n").unwrap(), Written::New);
    folder.finish().unwrap();
    drop(folder);
    assert_eq!(times(&kitchen)[..2], before[..2]);
    let folder = open(&kitchen, "p/cards");
    assert_eq!(
        folder.write("rye.html", Some(&rye), b"other").unwrap(),
        Written::Changed
    );
    folder.finish().unwrap();
    assert_eq!(kitchen.read("p/cards/rye.html"), "other");
    assert!(
        fs::read_dir(kitchen.path("p/cards/.loafwright")).unwrap().count() <= 2,
        "no strays"
    );
}

/// What lies in the folder does not tell of the run that made it.
#[test]
fn the_hidden_files_are_the_same_after_every_run() {
    let (one, two) = (kitchen(), kitchen());
    build(&one, "p/cards");
    build(&two, "p/cards");
    build(&two, "p/cards");
    assert_eq!(one.files(), two.files());
    assert_eq!(one.read("p/cards/.loafwright/lock"), "");
}

/// Expectation 9: our own stale files go, and only they.
#[test]
fn a_card_goes_with_its_recipe() {
    let kitchen = kitchen();
    build(&kitchen, "cards");
    fs::write(kitchen.path("cards/letter.txt"), "mine").unwrap();
    fs::remove_file(kitchen.path("p/sub/bun.loaf")).unwrap();
    let folder = open(&kitchen, "cards");
    folder
        .write("rye.html", Some(&source(&kitchen, "rye.loaf")), b"rye card")
        .unwrap();
    assert_eq!(folder.finish().unwrap(), ["sub/bun.html"]);
    let names: Vec<String> = cards(&kitchen, "cards").into_keys().collect();
    assert_eq!(names, ["index.html", "letter.txt", "rye.html"]);
    assert!(!kitchen.path("cards/sub").exists());
}

#[test]
fn a_card_that_its_recipe_no_longer_makes_goes() {
    let kitchen = kitchen();
    let rye = source(&kitchen, "rye.loaf");
    let folder = open(&kitchen, "cards");
    folder.write("rye.html", Some(&rye), b"rye").unwrap();
    folder.write("rye-dark.html", Some(&rye), b"dark").unwrap();
    folder.finish().unwrap();
    drop(folder);
    let folder = open(&kitchen, "cards");
    folder.write("rye.html", Some(&rye), b"rye").unwrap();
    assert_eq!(folder.finish().unwrap(), ["rye-dark.html"]);
}

/// Promise P5: a recipe with a fault keeps its cards, and so does one that this run did not look at.
#[test]
fn cards_of_faulty_and_of_other_recipes_stay() {
    let kitchen = kitchen();
    build(&kitchen, "cards");
    let before = cards(&kitchen, "cards");
    let folder = open(&kitchen, "cards");
    folder.keep(&source(&kitchen, "rye.loaf"));
    assert!(folder.finish().unwrap().is_empty());
    assert_eq!(cards(&kitchen, "cards"), before);
}

/// Two recipes with one name never overwrite each other.
#[test]
fn two_recipes_do_not_make_one_card() {
    let kitchen = kitchen();
    let folder = open(&kitchen, "cards");
    folder
        .write("rye.html", Some(&source(&kitchen, "rye.loaf")), b"one")
        .unwrap();
    let second = folder
        .write("rye.html", Some(&source(&kitchen, "sub/bun.loaf")), b"two")
        .unwrap_err();
    assert!(
        second
            .to_string()
            .contains("rye.loaf makes a card of the same name"),
        "{second}"
    );
    assert_eq!(kitchen.read("cards/rye.html"), "one");
}

/// Folders that belong to more than cards are refused, and nothing in them changes.
#[test]
fn folders_that_are_no_folders_for_cards() {
    let kitchen = kitchen()
        .file("full/letter.txt", "mine")
        .file("file", "f")
        .file("p/.git/HEAD", "");
    build(&kitchen, "ours");
    for (out, is_expected) in [
        ("p", Problem::AmongRecipes),
        ("p/sub/..", Problem::AmongRecipes),
        ("", Problem::AboveRecipes),
        ("full", Problem::NotEmpty(PathBuf::from("letter.txt"))),
        ("file", Problem::NotAFolder),
        ("p/.git", Problem::NobodysFolder),
        ("p/.git/cards", Problem::NobodysFolder),
        ("ours/inner", Problem::AmongCards),
        ("ours/.loafwright", Problem::NobodysFolder),
    ] {
        let problem = refusal(&kitchen, &kitchen.path(out));
        assert_eq!(format!("{problem:?}"), format!("{is_expected:?}"), "{out}");
    }
    assert!(matches!(
        refusal(&kitchen, Path::new("/")),
        Problem::NobodysFolder
    ));
    let home = std::env::home_dir().unwrap();
    assert!(matches!(refusal(&kitchen, &home), Problem::NobodysFolder));
}

/// A folder with nothing but a repository is somebody's.
#[test]
fn a_new_repository_is_not_empty() {
    let kitchen = kitchen().file("site/.git/HEAD", "");
    assert!(matches!(
        refusal(&kitchen, &kitchen.path("site")),
        Problem::NotEmpty(_)
    ));
}

#[test]
fn what_is_not_ours_is_neither_overwritten_nor_deleted() {
    let kitchen = kitchen();
    build(&kitchen, "cards");
    fs::write(kitchen.path("cards/bun.html"), "mine").unwrap();
    fs::create_dir(kitchen.path("cards/dir.html")).unwrap();
    let folder = open(&kitchen, "cards");
    for name in ["bun.html", "dir.html", "../x.html", ".hidden", "/etc/x", "a\\b"] {
        let fault = folder.write(name, None, b"card").unwrap_err();
        assert!(matches!(fault.problem, Problem::InTheWay), "{name}");
    }
    folder.finish().unwrap();
    assert_eq!(kitchen.read("cards/bun.html"), "mine");
    assert!(!kitchen.path("x.html").exists());
}

/// A list that somebody has changed never makes a run delete what lies elsewhere.
#[test]
fn a_list_changed_by_hand_deletes_nothing_elsewhere() {
    let kitchen = kitchen()
        .file("letter.txt", "mine")
        .file("cards/.loafwright/manifest", "");
    let lines =
        "loafwright 1\n../letter.txt\tgone\n/etc/hostname\tgone\np/../../letter.txt\tgone\nsub\tgone\n";
    fs::write(kitchen.path("cards/.loafwright/manifest"), lines).unwrap();
    fs::create_dir(kitchen.path("cards/sub")).unwrap();
    assert_eq!(open(&kitchen, "cards").finish().unwrap(), ["sub"]);
    assert_eq!(kitchen.read("letter.txt"), "mine");
    assert!(kitchen.path("cards/sub").is_dir());
}

#[test]
fn a_new_file_overwrites_nothing() {
    let kitchen = Kitchen::new();
    write_new(&kitchen.path("rye.loaf"), b"rye").unwrap();
    let fault = write_new(&kitchen.path("rye.loaf"), b"other").unwrap_err();
    assert!(matches!(fault.problem, Problem::Exists));
    assert_eq!(kitchen.read("rye.loaf"), "rye");
    assert_eq!(kitchen.files().len(), 1);
    let fault = write_new(&kitchen.path("gone/rye.loaf"), b"rye").unwrap_err();
    assert!(
        fault
            .to_string()
            .ends_with("this cannot be written: the folder is not there"),
        "{fault}"
    );
}

#[cfg(unix)]
mod unix {
    use std::os::unix::fs::{PermissionsExt as _, symlink};

    use super::*;

    /// A card is as readable as any file that the user makes; a file written aside is often nobody else's.
    #[test]
    fn cards_have_the_permissions_of_an_ordinary_file() {
        let kitchen = kitchen();
        build(&kitchen, "cards");
        fs::write(kitchen.path("ordinary"), "").unwrap();
        write_new(&kitchen.path("new.loaf"), b"").unwrap();
        let mode = |name: &str| fs::metadata(kitchen.path(name)).unwrap().permissions().mode();
        assert_eq!(mode("cards/rye.html"), mode("ordinary"));
        assert_eq!(mode("cards/.loafwright/manifest"), mode("ordinary"));
        assert_eq!(mode("new.loaf"), mode("ordinary"));
    }

    /// A link is refused, whatever it leads to.
    #[test]
    fn a_link_is_no_folder_for_cards() {
        let kitchen = kitchen().file("outside/x.txt", "");
        fs::create_dir(kitchen.path("empty")).unwrap();
        symlink(kitchen.path("empty"), kitchen.path("link")).unwrap();
        assert!(matches!(refusal(&kitchen, &kitchen.path("link")), Problem::Link));
        symlink("nowhere", kitchen.path("dangling")).unwrap();
        let fault = OutFolder::open(&kitchen.path("dangling"), &[]).unwrap_err();
        assert!(matches!(fault.problem, Problem::Link));
        assert!(!kitchen.path("nowhere").exists());
    }

    /// Links planted where we write are replaced or refused, and never written through.
    #[test]
    fn planted_links_are_not_written_through() {
        let kitchen = kitchen().file("letter.txt", "mine").file("dir/x.txt", "mine");
        build(&kitchen, "cards");
        let letter = kitchen.path("letter.txt");
        for name in ["new-1", "new-2", "new-list"] {
            symlink(&letter, kitchen.path("cards/.loafwright").join(name)).unwrap();
        }
        fs::remove_file(kitchen.path("cards/rye.html")).unwrap();
        symlink(&letter, kitchen.path("cards/rye.html")).unwrap();
        let folder = open(&kitchen, "cards");
        // These come after the folder has been swept.
        for name in ["new-1", "new-list"] {
            symlink(&letter, kitchen.path("cards/.loafwright").join(name)).unwrap();
        }
        let rye = source(&kitchen, "rye.loaf");
        assert_eq!(
            folder.write("rye.html", Some(&rye), b"rye").unwrap(),
            Written::Changed
        );
        folder.write("fresh.html", None, b"fresh").unwrap();
        symlink(kitchen.path("dir"), kitchen.path("cards/linked")).unwrap();
        let fault = folder.write("linked/x.html", None, b"x").unwrap_err();
        assert!(matches!(fault.problem, Problem::InTheWay));
        folder.finish().unwrap();
        assert_eq!(kitchen.read("letter.txt"), "mine");
        assert!(
            fs::symlink_metadata(kitchen.path("cards/rye.html"))
                .unwrap()
                .is_file()
        );
        assert_eq!(fs::read_dir(kitchen.path("dir")).unwrap().count(), 1);
    }

    /// The hidden folder and the files in it are no links either.
    #[test]
    fn a_planted_hidden_folder_is_refused() {
        let kitchen = kitchen().file("elsewhere/manifest", "x\t\n");
        fs::create_dir(kitchen.path("cards")).unwrap();
        symlink(kitchen.path("elsewhere"), kitchen.path("cards/.loafwright")).unwrap();
        assert!(matches!(
            refusal(&kitchen, &kitchen.path("cards")),
            Problem::InTheWay
        ));
        let kitchen = super::kitchen().file("letter.txt", "mine");
        build(&kitchen, "cards");
        for name in ["lock", "manifest"] {
            let planted = kitchen.path("cards/.loafwright").join(name);
            let before = fs::read(&planted).unwrap();
            fs::remove_file(&planted).unwrap();
            symlink(kitchen.path("letter.txt"), &planted).unwrap();
            assert!(
                OutFolder::open(&kitchen.path("cards"), &[kitchen.path("p")]).is_err(),
                "{name}"
            );
            fs::remove_file(&planted).unwrap();
            fs::write(&planted, before).unwrap();
        }
        assert_eq!(kitchen.read("letter.txt"), "mine");
    }
}
