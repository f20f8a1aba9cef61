//! The preview as a browser meets it: over a socket, while files change.

use std::fs;
use std::io::Write;
use std::net::TcpStream;
use std::path::Path;
use std::time::{Duration, Instant};

use crate::support::preview::*;

#[test]
fn a_change_is_shown_and_what_has_faults_is_shown_as_it_is_with_its_findings() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    let page = folder.path().join("content/index.md");
    assert!(preview.get("/").2.contains("First words."));
    fs::write(&page, "# Front\n\nSecond words.\n").expect("written");
    preview.wait_for("/", "Second words.");
    fs::write(&page, "# Front\n\n[Broken](gone.md) words.\n").expect("written");
    preview.wait_for("/.preview/revision", "there is no page gone.md");
    assert!(preview.get("/").2.contains("Broken"));
    fs::write(&page, "# Front\n\nThird words.\n").expect("written");
    preview.wait_for("/", "Third words.");
    assert!(!preview.get("/.preview/revision").2.contains("gone.md"));
}

#[test]
fn a_stop_of_the_handbooks_own_values_is_shown_and_told() {
    let folder = handbook();
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../content");
    let content = folder.path().join("content");
    for (at, path) in [
        ("equipment", "yard-drive.toml"),
        ("equipment", "hose-sizes.toml"),
        ("jobs", "t1.md"),
    ] {
        fs::create_dir_all(content.join(at)).expect("made");
        let text = fs::read_to_string(from.join(at).join(path)).expect("the demonstration's");
        let text = text.replace("[the tube map](../run/tube-map.md)", "The tube map");
        fs::write(content.join(at).join(path), text).expect("written");
    }
    let preview = Preview::of(folder.path());
    let job = preview.get("/jobs/t1.html").2;
    let worst = |is: &str| format!("setup-worst\" data-is=\"{is}\"");
    assert!(!job.contains(&worst("stop")), "{job}");
    let kit = content.join("equipment/yard-drive.toml");
    let text = fs::read_to_string(&kit).expect("the kit");
    fs::write(&kit, text.replace("\"46 in\"", "\"20 in\"")).expect("written");
    preview.wait_for("/.preview/revision", "comes to a stop");
    let job = preview.get("/jobs/t1.html").2;
    assert!(job.contains(&worst("stop")), "{job}");
    assert!(!job.contains("data-worst=\"go\""));
    assert!(
        preview
            .get("/scripts/catalog.js")
            .2
            .contains("gaugeleafKits")
    );
}

#[test]
fn answers_carry_their_kind_and_the_policy_and_a_head_has_no_body() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    let (status, head, body) = preview.get("/scripts/look.js");
    assert_eq!(status, 200);
    for line in [
        "content-type: text/javascript",
        "x-content-type-options: nosniff",
        "cache-control: no-cache",
        "content-security-policy: default-src 'none'",
    ] {
        assert!(head.contains(line), "{line} in {head}");
    }
    assert!(!head.contains("access-control"));
    let host = format!("Host: localhost:{}\r\nConnection: close", preview.port);
    let (status, same, none) =
        preview.ask(&format!("HEAD /scripts/look.js HTTP/1.1\r\n{host}\r\n\r\n"));
    assert_eq!((status, none.as_str()), (200, ""));
    assert!(
        same.contains(&format!("content-length: {}", body.len())),
        "{same}"
    );
    let tag = head
        .lines()
        .find_map(|line| line.strip_prefix("etag: "))
        .expect("a tag");
    let again = preview.ask(&format!(
        "GET /scripts/look.js HTTP/1.1\r\n{host}\r\nIf-None-Match: {tag}\r\n\r\n"
    ));
    assert_eq!((again.0, again.2.as_str()), (304, ""));
}

#[test]
fn other_names_and_other_methods_are_refused() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    assert_eq!(
        preview
            .ask("GET / HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n")
            .0,
        403
    );
    let host = format!("Host: 127.0.0.1:{}\r\nConnection: close", preview.port);
    let (status, head, _) = preview.ask(&format!("DELETE / HTTP/1.1\r\n{host}\r\n\r\n"));
    assert_eq!(status, 405);
    assert!(head.contains("allow: get, head"));
    assert_eq!(
        preview
            .ask(&format!(
                "GET /%2e%2e/handbook.toml HTTP/1.1\r\n{host}\r\n\r\n"
            ))
            .0,
        400
    );
}

#[test]
fn tabs_that_stay_open_do_not_hold_up_the_next() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    let open: Vec<TcpStream> = (0..12)
        .map(|_| {
            let mut stream = TcpStream::connect(("127.0.0.1", preview.port)).expect("connected");
            write!(
                stream,
                "GET / HTTP/1.1\r\nHost: localhost:{}\r\n\r\n",
                preview.port
            )
            .expect("sent");
            stream
        })
        .collect();
    let start = Instant::now();
    assert_eq!(preview.get("/").0, 200);
    assert!(start.elapsed() < Duration::from_secs(5));
    drop(open);
}

#[test]
fn a_handbook_that_starts_with_a_fault_shows_it_until_it_is_mended() {
    let folder = handbook();
    let page = folder.path().join("content/index.md");
    fs::write(&page, "# Front\n\n<b>x</b>\n").expect("written");
    let preview = Preview::of(folder.path());
    let told = || preview.get("/.preview/revision").2;
    assert!(told().contains("raw HTML is refused"));
    fs::write(&page, "# Front\n\nMended.\n").expect("written");
    preview.wait_for("/", "Mended.");
    let head = folder.path().join("handbook.toml");
    let text = fs::read_to_string(&head).expect("its settings");
    for path in ["handbook.toml", "content/index.md"] {
        fs::remove_file(folder.path().join(path)).expect("removed");
    }
    preview.wait_for("/", "can't be shown yet");
    fs::write(&page, "# Front\n\nBack.\n").expect("written");
    fs::write(&head, text).expect("written");
    preview.wait_for("/", "Back.");
}

#[test]
fn an_edit_is_told_to_the_tabs_that_show_its_page_and_to_no_other() {
    let folder = handbook();
    let content = folder.path().join("content");
    fs::write(content.join("other.md"), "# Other\n\nFirst words.\n").expect("written");
    let preview = Preview::of(folder.path());
    let front = preview.revision("/", None).answer();
    let other = preview.revision("/other.html", None).answer();
    assert_ne!(front.value("page"), other.value("page"));
    let at_front = preview.revision("/", Some(front.value("token")));
    let at_other = preview.revision("/other.html", Some(other.value("token")));
    fs::write(content.join("other.md"), "# Other\n\nSecond words.\n").expect("written");
    let edited = at_other.answer();
    assert_ne!(edited.value("page"), other.value("page"));
    for same in ["styles", "rest", "findings"] {
        assert_eq!(edited.value(same), other.value(same), "{same}");
    }
    fs::write(content.join("index.md"), "# Front\n\nSecond words.\n").expect("written");
    // had the first edit been told here, this would be the page as it was then
    let edited = at_front.answer();
    assert_ne!(edited.value("page"), front.value("page"));
    assert!(preview.get("/").2.contains("Second words."));
    // who comes with something old is told at once
    let late = preview.revision("/", Some(front.value("token"))).answer();
    assert_eq!(late.value("token"), edited.value("token"));
}

#[test]
fn a_fault_and_its_mending_are_told_to_who_waits() {
    let folder = handbook();
    let page = folder.path().join("content/index.md");
    let good = fs::read(&page).expect("read");
    let preview = Preview::of(folder.path());
    let first = preview.revision("/", None).answer();
    let waiting = preview.revision("/", Some(first.value("token")));
    fs::write(&page, "# Front\n\n[Broken](gone.md) words.\n").expect("written");
    // the page comes first, and what is found in all the handbook after it
    let mut told = waiting.answer();
    assert_ne!(told.value("page"), first.value("page"));
    while !told.value("findings").contains("gone.md") {
        told = preview.revision("/", Some(told.value("token"))).answer();
    }
    let waiting = preview.revision("/", Some(told.value("token")));
    fs::write(&page, good).expect("written");
    told = waiting.answer();
    assert_eq!(told.value("page"), first.value("page"));
    while told.value("token") != first.value("token") {
        told = preview.revision("/", Some(told.value("token"))).answer();
    }
}

#[test]
fn a_file_written_anew_with_the_same_length_and_time_is_shown() {
    let folder = handbook();
    let page = folder.path().join("content/index.md");
    let preview = Preview::of(folder.path());
    let first = preview.revision("/", None).answer();
    let waiting = preview.revision("/", Some(first.value("token")));
    let time = fs::metadata(&page).and_then(|data| data.modified());
    fs::write(&page, "# Front\n\nOther words.\n").expect("written");
    let file = fs::File::options().write(true).open(&page).expect("opened");
    file.set_modified(time.expect("a time")).expect("set");
    assert_ne!(waiting.answer().value("page"), first.value("page"));
    preview.wait_for("/", "Other words.");
}

#[test]
fn a_theme_made_while_it_runs_is_shown() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    let first = preview.revision("/", None).answer();
    let waiting = preview.revision("/", Some(first.value("token")));
    let styles = folder.path().join("themes/styles");
    fs::create_dir_all(&styles).expect("made");
    fs::write(styles.join("own.css"), "p { color: red }\n").expect("written");
    let styled = waiting.answer();
    assert_ne!(styled.0, first.0);
}

#[test]
fn tabs_that_wait_do_not_hold_up_what_is_loaded() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    let first = preview.revision("/", None).answer();
    let waiting: Vec<Waiting> = (0..12)
        .map(|_| preview.revision("/", Some(first.value("token"))))
        .collect();
    let start = Instant::now();
    for path in ["/", "/scripts/look.js", "/search.html", "/"] {
        assert_eq!(preview.get(path).0, 200, "{path}");
    }
    assert!(start.elapsed() < Duration::from_secs(5));
    fs::write(
        folder.path().join("content/index.md"),
        "# Front\n\nSecond words.\n",
    )
    .expect("written");
    for tab in waiting {
        assert_ne!(tab.answer().value("page"), first.value("page"));
    }
}
