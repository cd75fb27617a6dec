//! Pictures: beside the recipe or below it, known by what stands in them.

use std::fs;

use loafwright::disk::{PictureFormat, Problem, picture};

use crate::kitchen::Kitchen;

const PNG: &[u8] = b"\x89PNG\r\n\x1a\nrest";

fn problem(kitchen: &Kitchen, written: &str) -> Problem {
    let folder = kitchen.path("p").canonicalize().unwrap();
    picture(&folder, written).unwrap_err().problem
}

#[test]
fn pictures_are_known_by_their_content() {
    let kitchen = Kitchen::new()
        .file("p/crumb.jpg", PNG)
        .file("p/pictures/crust.png", b"\xff\xd8\xff\xe0rest")
        .file("p/slice", b"RIFF\x10\0\0\0WEBPVP8 ");
    let folder = kitchen.path("p").canonicalize().unwrap();
    for (written, format) in [
        ("crumb.jpg", PictureFormat::Png),
        ("pictures/crust.png", PictureFormat::Jpeg),
        ("slice", PictureFormat::WebP),
    ] {
        assert_eq!(picture(&folder, written).unwrap().format, format, "{written}");
    }
    assert_eq!(picture(&folder, "crumb.jpg").unwrap().bytes, PNG);
}

/// A drawing that may hold a script is no picture, whatever its name.
#[test]
fn drawings_and_other_files_are_refused() {
    let kitchen = Kitchen::new()
        .file(
            "p/a.png",
            "<svg xmlns='http://www.w3.org/2000/svg'><script>x</script></svg>",
        )
        .file("p/b.png", "<?xml version='1.0'?><svg/>")
        .file("p/c.gif", "GIF89a rest")
        .file("p/d.png", "")
        .file("p/e.loaf", "title: x");
    for name in ["a.png", "b.png", "c.gif", "d.png", "e.loaf"] {
        assert!(matches!(problem(&kitchen, name), Problem::NoPicture), "{name}");
    }
    assert!(matches!(problem(&kitchen, "gone.png"), Problem::Missing));
}

/// The path of a picture is names of folders and a file, and nothing that leads elsewhere.
#[test]
fn a_picture_lies_in_the_recipes_folder_or_below() {
    let kitchen = Kitchen::new().file("p/a.png", PNG).file("out.png", PNG);
    let absolute = kitchen.path("out.png");
    for written in [
        "../out.png",
        "sub/../../out.png",
        "./a.png",
        "/etc/passwd",
        absolute.to_str().unwrap(),
        "C:\\a.png",
        "c:a.png",
        "\\\\host\\share\\a.png",
        "..\\out.png",
        "file:///etc/passwd",
        "https://example.org/a.png",
        "~/a.png",
        "a.png\0",
        "a//b.png",
        "",
        "/",
    ] {
        assert!(
            matches!(problem(&kitchen, written), Problem::NoPicturePath),
            "{written}"
        );
    }
    // Taken letter by letter, these are names of files that are not there.
    for written in ["%2e%2e/out.png", "$HOME/a.png", "a.png?x"] {
        assert!(
            matches!(problem(&kitchen, written), Problem::Missing),
            "{written}"
        );
    }
}

#[test]
fn a_picture_past_the_limit_is_refused_before_it_is_read_whole() {
    let kitchen = Kitchen::new().file("p/a.png", PNG);
    let file = fs::OpenOptions::new()
        .write(true)
        .open(kitchen.path("p/a.png"))
        .unwrap();
    file.set_len(3 * 1024 * 1024 * 1024).unwrap();
    let problem = problem(&kitchen, "a.png");
    assert!(matches!(problem, Problem::PictureTooLarge(_)), "{problem:?}");
}

#[cfg(unix)]
#[test]
fn a_picture_is_no_link_and_lies_behind_none() {
    use std::os::unix::fs::symlink;
    let kitchen = Kitchen::new().file("p/a.png", PNG).file("out/b.png", PNG);
    symlink(kitchen.path("out/b.png"), kitchen.path("p/b.png")).unwrap();
    symlink("a.png", kitchen.path("p/c.png")).unwrap();
    symlink(kitchen.path("out"), kitchen.path("p/sub")).unwrap();
    for written in ["b.png", "c.png", "sub/b.png"] {
        assert!(
            matches!(problem(&kitchen, written), Problem::Outside),
            "{written}"
        );
    }
}
