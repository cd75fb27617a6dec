//! The server and the way in which the program ends: who is answered, what is refused, what is said.
//!
//! Requests are written byte by byte; ordinary clients tidy paths and names.

use std::fs;
use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::thread;
use std::time::{Duration, Instant};

use super::{BOUND, Watched, bread, save};
use crate::kitchen::Kitchen;

fn kitchen() -> Kitchen {
    Kitchen::new()
        .file("book/rye.loaf", bread("Rye"))
        .file("secret.html", "secret")
}

fn status(answer: &str) -> &str {
    answer.split(' ').nth(1).unwrap_or("closed")
}

#[test]
fn names_of_other_hosts_and_pages_of_other_sites_are_refused() {
    let kitchen = kitchen();
    let watched = Watched::start(&kitchen, &[]);
    let port = watched.address.port();
    let ask = |head: &str| watched.raw(head.replace("PORT", &port.to_string()).as_bytes());
    for good in ["127.0.0.1:PORT", "localhost:PORT", "[::1]:PORT"] {
        let answer = ask(&format!("GET /rye.html HTTP/1.1\r\nHost: {good}\r\n\r\n"));
        assert!(
            status(&answer) == "200" && answer.contains("<title>Rye</title>"),
            "{good}: {answer}"
        );
    }
    for bad in [
        "GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: evil.example:PORT\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: localhost.evil.example:PORT\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: 127.0.0.1:1\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: \r\n\r\n",
        "GET / HTTP/1.1\r\n\r\n",
        "GET / HTTP/1.0\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\nHost: 127.0.0.1:PORT\r\n\r\n",
        "GET / HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\nHost: evil.example\r\n\r\n",
        "GET http://127.0.0.1:PORT/ HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\n\r\n",
        "GET http://evil.example/ HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\n\r\n",
        "GET /.live/ticks HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\nOrigin: http://evil.example\r\n\r\n",
        "GET /.live/ticks HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\nOrigin: null\r\n\r\n",
        "GET /rye.html HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\nSec-Fetch-Site: cross-site\r\nSec-Fetch-Dest: iframe\r\n\r\n",
        "GET /.live/ticks HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\nOrigin: http://evil.example\r\nUpgrade: websocket\r\n\
         Connection: upgrade\r\n\r\n",
    ] {
        let answer = ask(bad);
        assert!(status(&answer).starts_with('4'), "{bad:?}: {answer}");
        assert!(
            !answer.contains("Rye") && !answer.to_lowercase().contains("access-control"),
            "{bad:?}: {answer}"
        );
    }
}

#[test]
fn nothing_but_the_cards_is_served() {
    let kitchen = kitchen();
    let watched = Watched::start(&kitchen, &[]);
    save(&kitchen, "cards/foreign.html", "secret");
    symlink(kitchen.path("secret.html"), kitchen.path("cards/link.html")).unwrap();
    fs::rename(kitchen.path("cards/rye.html"), kitchen.path("rye.html")).unwrap();
    symlink(kitchen.path("secret.html"), kitchen.path("cards/rye.html")).unwrap();
    for path in [
        "/../secret.html",
        "/cards/../../secret.html",
        "/%2e%2e/secret.html",
        "/..%2fsecret.html",
        "/..%5csecret.html",
        "/%252e%252e/secret.html",
        "//secret.html",
        "/./secret.html",
        "/secret.html%00.html",
        "/C:/secret.html",
        "/.loafwright/manifest",
        "/.loafwright/lock",
        "/.loafwright/new-1",
        "/foreign.html",
        "/link.html",
        "/rye.html",
        "/rye.loaf",
        "/book/rye.loaf",
        "/.live/",
        "/.live/news?page=/../secret.html",
        "/index.html/",
        "/index.HTML",
    ] {
        let answer = watched.get(path);
        assert!(
            status(&answer).starts_with('4') && !answer.contains("secret"),
            "{path}: {answer}"
        );
    }
    assert_eq!(status(&watched.get("/")), "200");
}

#[test]
fn every_answer_says_to_whom_it_belongs() {
    let kitchen = kitchen();
    let watched = Watched::start(&kitchen, &[]);
    for path in ["/", "/rye.html", "/none.html", "/.live/news?page=/rye.html"] {
        let answer = watched.get(path);
        let head = answer.split("\r\n\r\n").next().unwrap();
        for field in [
            "content-security-policy: frame-ancestors 'none'",
            "cross-origin-resource-policy: same-origin",
            "x-content-type-options: nosniff",
            "cache-control: no-store",
        ] {
            assert!(head.contains(field), "{path}: {head}");
        }
    }
    let page = watched.get("/rye.html");
    let body = page.split("\r\n\r\n").nth(1).unwrap();
    assert_eq!(body.matches("<script").count(), 1);
    assert!(
        body.contains("script-src 'sha256-") && body.contains("connect-src 'self'"),
        "{}",
        &body[..800]
    );
    assert!(
        !kitchen.read("cards/rye.html").contains("script"),
        "the file is as it was built"
    );
    let head =
        watched.raw(format!("HEAD /rye.html HTTP/1.1\r\nHost: {}\r\n\r\n", watched.address).as_bytes());
    assert!(status(&head) == "200" && head.ends_with("\r\n\r\n"), "{head}");
    for method in ["POST", "PUT", "DELETE", "OPTIONS", "TRACE"] {
        let answer =
            watched.raw(format!("{method} / HTTP/1.1\r\nHost: {}\r\n\r\n", watched.address).as_bytes());
        assert!(
            status(&answer) == "405" && answer.contains("allow: GET, HEAD"),
            "{method}: {answer}"
        );
    }
}

#[test]
fn what_is_malformed_or_smuggled_is_refused() {
    let kitchen = kitchen();
    let watched = Watched::start(&kitchen, &[]);
    let host = format!("Host: {}\r\n", watched.address);
    let long = format!("GET /{} HTTP/1.1\r\n{host}\r\n", "a".repeat(9000));
    let wide = format!("GET / HTTP/1.1\r\n{host}X: {}\r\n\r\n", "a".repeat(20_000));
    let many = format!("GET / HTTP/1.1\r\n{host}{}\r\n", "X: y\r\n".repeat(2000));
    let both =
        format!("GET / HTTP/1.1\r\n{host}Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n");
    let body = format!("GET / HTTP/1.1\r\n{host}Content-Length: 5\r\n\r\nhello");
    let bare = format!("GET / HTTP/1.1\n{host} folded\n\n");
    for request in [
        long.as_str(),
        &wide,
        &many,
        &both,
        &body,
        &bare,
        "\r\n\r\n\r\n",
        "x",
        "GET\r\n\r\n",
        "\0\0\0\0\r\n\r\n",
    ] {
        let mut stream = TcpStream::connect(watched.address).unwrap();
        stream.set_read_timeout(Some(BOUND)).unwrap();
        let _ = stream.write_all(request.as_bytes());
        let _ = stream.shutdown(std::net::Shutdown::Write);
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        let answer = String::from_utf8_lossy(&answer);
        assert!(
            answer.is_empty() || status(&answer).starts_with('4'),
            "{request:.60}: {answer}"
        );
    }
    let two = format!("GET /none.html HTTP/1.1\r\n{host}\r\nGET /rye.html HTTP/1.1\r\n{host}\r\n");
    assert_eq!(
        watched.raw(two.as_bytes()).matches("HTTP/1.1").count(),
        1,
        "one request a connection"
    );
}

#[test]
fn a_thousand_slow_clients_keep_nobody_waiting() {
    let kitchen = kitchen();
    let watched = Watched::start(&kitchen, &[]);
    let mut slow = Vec::new();
    for number in 0..1000 {
        // A client may be shown the door at once.
        if let Ok(mut stream) = TcpStream::connect(watched.address) {
            let _ = stream.write_all(b"GET / HTTP/1.1\r\nHost: ");
            slow.push(stream);
        }
        if number % 250 == 249 {
            let start = Instant::now();
            assert_eq!(status(&watched.get("/rye.html")), "200");
            assert!(start.elapsed() < Duration::from_secs(5), "{:?}", start.elapsed());
        }
    }
    let handles = fs::read_dir(format!("/proc/{}/fd", watched.number())).map_or(0, Iterator::count);
    assert!(handles < 120, "{handles} handles");
    let last = slow.last_mut().unwrap();
    last.set_read_timeout(Some(Duration::from_secs(30))).unwrap();
    let start = Instant::now();
    let _ = last.read_to_end(&mut Vec::new());
    assert!(
        start.elapsed() < Duration::from_secs(25),
        "a head that never ends is not waited for"
    );
}

#[test]
fn streams_tell_of_changes_and_are_not_without_number() {
    let kitchen = kitchen();
    let watched = Watched::start(&kitchen, &[]);
    let open = || {
        let mut stream = TcpStream::connect(watched.address).unwrap();
        stream.set_read_timeout(Some(BOUND)).unwrap();
        let request = format!(
            "GET /.live/ticks HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\n\r\n",
            watched.address
        );
        stream.write_all(request.as_bytes()).unwrap();
        stream
    };
    let read_to = |stream: &mut TcpStream, word: &str| {
        let mut text = String::new();
        let mut some = [0; 512];
        while !text.contains(word) {
            let count = stream.read(&mut some).unwrap();
            assert!(count > 0, "{text}");
            text.push_str(&String::from_utf8_lossy(&some[..count]));
        }
        text
    };
    let mut streams: Vec<TcpStream> = (0..16).map(|_| open()).collect();
    for stream in &mut streams {
        assert!(read_to(stream, "data: hello\n\n").contains("text/event-stream"));
    }
    save(&kitchen, "book/rye.loaf", &bread("Rye two"));
    for stream in &mut streams {
        read_to(stream, "data: changed\n\n");
    }
    assert!(read_to(&mut open(), "\r\n\r\n").starts_with("HTTP/1.1 503"));
    drop(streams);
    watched.until("a place for another stream", || {
        read_to(&mut open(), "\r\n\r\n").starts_with("HTTP/1.1 200")
    });
}

#[test]
fn only_this_machine_can_connect_and_a_taken_port_is_told() {
    let kitchen = kitchen();
    let watched = Watched::start(&kitchen, &[]);
    assert!(watched.address.ip().is_loopback());
    let port = watched.address.port().to_string();
    let other = kitchen
        .run(&["watch", "book", "--out", "other", "--port", &port])
        .ends_with(2);
    assert_eq!(other.err.lines().count(), 1, "{}", other.err);
    assert!(
        other.err.starts_with(&format!("error: port {port} is taken")),
        "{}",
        other.err
    );
    let all = fs::read_to_string("/proc/net/tcp").unwrap_or_default();
    let hex = format!(":{:04X} ", watched.address.port());
    let listening: Vec<&str> = all
        .lines()
        .filter(|line| line.contains(&hex) && line.contains(" 0A "))
        .collect();
    assert!(
        listening.iter().all(|line| line.contains("0100007F:")),
        "{listening:?}"
    );
}

#[test]
fn a_build_beside_it_says_who_is_at_work() {
    let kitchen = kitchen();
    let watched = Watched::start(&kitchen, &[]);
    let served = kitchen.run(&["build", "book"]).ends_with(2);
    let who = format!("another run of loafwright (process {})", watched.number());
    assert!(served.err.contains(&who), "{}", served.err);
    assert_eq!(watched.end("-INT"), Some(130));
    let _ = kitchen.run(&["build", "book"]).ends_with(0);
}

#[test]
fn it_ends_cleanly_when_asked_to() {
    let kitchen = kitchen();
    for (signal, code) in [("-INT", 130), ("-TERM", 143)] {
        let watched = Watched::start(&kitchen, &[]);
        let start = Instant::now();
        assert_eq!(watched.end(signal), Some(code));
        assert!(start.elapsed() < BOUND);
        assert!(
            kitchen
                .files()
                .keys()
                .all(|name| !name.contains(".loafwright/new"))
        );
    }
}

#[test]
fn colour_is_where_it_is_wanted_and_nowhere_else() {
    let kitchen = Kitchen::new().file("book/rye.loaf", super::faulty("Rye"));
    let command = |more: &[&str]| {
        let mut command = kitchen.command(&[&["watch", "book", "--port", "0"], more].concat());
        command.env_remove("NO_COLOR");
        command
    };
    let plain = Watched::of(&kitchen, command(&[]));
    assert!(
        plain.said().contains("book/rye.loaf:6:") && !plain.said().contains('\u{1b}'),
        "{:?}",
        plain.said()
    );
    drop(plain);
    let coloured = Watched::of(&kitchen, command(&["--color", "always"]));
    assert!(coloured.said().contains('\u{1b}'), "{:?}", coloured.said());
    assert!(
        !coloured.get("/.live/news?page=/rye.html").contains("u001b"),
        "a page is told without colour"
    );
}

#[test]
fn a_browser_is_opened_when_asked_for() {
    let kitchen = kitchen().file("bin/xdg-open", "#!/bin/sh\necho \"$1\" > \"$HOME/opened\"\n");
    fs::set_permissions(kitchen.path("bin/xdg-open"), fs::Permissions::from_mode(0o755)).unwrap();
    let path = format!("{}:/usr/bin:/bin", kitchen.path("bin").display());
    let command = |more: &[&str]| {
        let mut command = kitchen.command(&[&["watch", "book", "--port", "0"], more].concat());
        command.env("PATH", &path).env_remove("BROWSER");
        command
    };
    let quiet = Watched::of(&kitchen, command(&[]));
    thread::sleep(Duration::from_millis(300));
    assert!(
        !kitchen.path(".home/opened").exists(),
        "nothing is started unasked"
    );
    drop(quiet);
    let open = Watched::of(&kitchen, command(&["--open"]));
    open.until("the browser", || kitchen.path(".home/opened").exists());
    open.until("its address", || {
        kitchen.read(".home/opened").trim() == format!("http://{}/", open.address)
    });
}

#[test]
fn a_folder_without_recipes_or_with_other_peoples_files_is_refused() {
    let kitchen = kitchen().file("full/letter.txt", "dear").file("empty/x.txt", "x");
    let _ = kitchen
        .run(&["watch", "book", "--out", "full", "--port", "0"])
        .ends_with(2);
    let _ = kitchen.run(&["watch", "empty", "--port", "0"]).ends_with(2);
    let _ = kitchen.run(&["watch", "nowhere", "--port", "0"]).ends_with(2);
    assert_eq!(kitchen.read("full/letter.txt"), "dear");
}
