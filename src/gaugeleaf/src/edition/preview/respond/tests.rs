//! Requests and what the preview answers, without a socket.

use std::sync::Arc;

use super::*;

fn shown() -> PreviewState {
    let mut shown = PreviewState::new(80);
    let page = |text: &str| Arc::new(text.as_bytes().to_vec());
    let site = [
        ("index.html", "front"),
        ("fit/index.html", "fit"),
        ("a b.html", "spaced"),
    ];
    shown.update(
        site.map(|(path, text)| (path.to_string(), page(text)))
            .into(),
        String::new(),
    );
    shown
}

fn try_ask(
    shown: &PreviewState,
    method: &str,
    target: &str,
    headers: &[(&str, &str)],
) -> Option<Reply> {
    let own = |(name, value): &(&str, &str)| (name.to_string(), value.to_string());
    let headers: Vec<_> = headers.iter().map(own).collect();
    let asked = PreviewRequest {
        method,
        target,
        headers: &headers,
        may_wait: true,
    };
    respond(shown, &asked)
}

fn ask_of(shown: &PreviewState, method: &str, target: &str, headers: &[(&str, &str)]) -> Reply {
    try_ask(shown, method, target, headers).expect("an answer at once")
}

fn ask(method: &str, target: &str, headers: &[(&str, &str)]) -> Reply {
    ask_of(&shown(), method, target, headers)
}

fn get(target: &str) -> u16 {
    ask("GET", target, &[("host", "localhost:80")]).status
}

#[test]
fn a_folder_gives_its_front_page_and_an_encoded_name_is_decoded_once() {
    for target in ["/", "/index.html", "/fit/", "/a%20b.html", "/?x=1"] {
        assert_eq!(get(target), 200, "{target}");
    }
    assert_eq!(get("/a%2520b.html"), 404);
}

#[test]
fn targets_that_try_to_leave_the_site_get_nothing() {
    for target in [
        "/../x",
        "/%2e%2e/x",
        "/%2e%2e%2fx",
        "/..%5cx",
        "/a%00.html",
        "/file:/etc",
        "/C:",
        "http://a/",
        "*",
        "/%c0%ae%c0%ae/x",
        "/fit\\x",
    ] {
        assert_eq!(get(target), 400, "{target}");
    }
    for target in ["//etc/passwd", "/%252e%252e/x", "/.git/config", "/fit"] {
        assert_eq!(get(target), 404, "{target}");
    }
}

#[test]
fn only_this_machines_own_names_are_answered() {
    for host in ["localhost:80", "127.0.0.1:80", "[::1]:80"] {
        assert_eq!(ask("GET", "/", &[("host", host)]).status, 200, "{host}");
    }
    for host in [
        "evil.example",
        "127.evil.example:80",
        "localhost.evil.example:80",
        "localhost.:80",
        "localhost",
        "0.0.0.0:80",
        "2130706433:80",
        "LOCALHOST:80 ",
        "",
    ] {
        assert_eq!(ask("GET", "/", &[("host", host)]).status, 403, "{host}");
    }
    assert_eq!(ask("GET", "/", &[]).status, 403);
    assert_eq!(
        ask(
            "GET",
            "/",
            &[("host", "localhost:80"), ("host", "localhost:80")]
        )
        .status,
        403
    );
}

#[test]
fn a_file_that_the_reader_has_is_not_sent_again() {
    let host = ("host", "localhost:80");
    let first = ask("GET", "/", &[host]);
    let tag = first
        .headers
        .iter()
        .find(|(name, _)| *name == "ETag")
        .map(|(_, tag)| tag.clone())
        .unwrap_or_default();
    let again = ask(
        "GET",
        "/",
        &[host, ("if-none-match", &format!("\"x\", W/{tag}"))],
    );
    assert_eq!((again.status, again.body.len()), (304, 0));
    assert!(again.headers.contains(&("ETag", tag)));
}

#[test]
fn anything_but_reading_is_refused_with_what_is_allowed() {
    let reply = ask("POST", "/", &[("host", "localhost:80")]);
    assert_eq!(reply.status, 405);
    assert!(reply.headers.contains(&("Allow", "GET, HEAD".to_string())));
}

#[test]
fn the_policy_is_the_themes_own_with_the_revision_let_through() {
    let base =
        crate::render::theme::built_in_texts().find(|(path, _)| path.ends_with("/base.html"));
    let policy = POLICY.trim_end_matches("; connect-src 'self'");
    assert!(base.is_some_and(|(_, text)| text.contains(&format!("content=\"{policy}{{%"))));
}

fn revision(shown: &PreviewState, query: &str, may_wait: bool) -> Option<serde_json::Value> {
    let reply = respond(
        shown,
        &PreviewRequest {
            method: "GET",
            target: &format!("{REVISION}{query}"),
            headers: &[("host".to_string(), "localhost:80".to_string())],
            may_wait,
        },
    )?;
    assert_eq!(reply.status, 200, "{query}");
    serde_json::from_slice(&reply.body).ok()
}

#[test]
fn a_page_waits_while_it_has_seen_what_there_is() {
    let mut shown = shown();
    let first = revision(&shown, "?page=%2Fa%2520b.html", true).expect("at once");
    let seen = format!(
        "?page=%2Fa%2520b.html&seen={}",
        first["token"].as_str().expect("a token")
    );
    assert_eq!(revision(&shown, &seen, true), None);
    assert_eq!(revision(&shown, &seen, false), Some(first.clone()));
    shown.put([("fit/index.html".to_string(), Arc::new(b"anew".to_vec()))].into());
    assert_eq!(revision(&shown, &seen, true), None);
    shown.put([("a b.html".to_string(), Arc::new(b"anew".to_vec()))].into());
    let second = revision(&shown, &seen, true).expect("something new");
    assert_ne!(first["page"], second["page"]);
    for same in ["styles", "rest", "findings"] {
        assert_eq!(first[same], second[same]);
    }
    let tag = ask_of(&shown, "GET", "/a%20b.html", &[("host", "localhost:80")]);
    let hash = second["page"].as_str().expect("a hash");
    let told = format!("page;desc=\"{hash}\"");
    let mut headers = tag.headers.iter();
    assert!(headers.any(|(name, value)| *name == "Server-Timing" && value.contains(&told)));
}

#[test]
fn nobody_waits_who_would_be_refused() {
    let token = shown().revision(None).token();
    let target = format!("{REVISION}?seen={token}");
    let own = [("host", "localhost:80")];
    let status = |method: &str, target: &str, headers: &[(&str, &str)]| {
        try_ask(&shown(), method, target, headers).map(|reply| reply.status)
    };
    assert_eq!(status("GET", &target, &own), None);
    assert_eq!(status("POST", &target, &own), Some(405));
    assert_eq!(
        status("GET", &target, &[("host", "evil.example")]),
        Some(403)
    );
    assert_eq!(status("GET", &target, &[]), Some(403));
    let outside = format!("{target}&page=%2F..%2Fx");
    assert_eq!(status("GET", &outside, &own), Some(400));
}

#[test]
fn findings_are_told_and_a_page_says_what_it_was_made_with() {
    let mut shown = shown();
    let good = revision(&shown, "", true).expect("a revision");
    let site = [("index.html", "front"), ("a.js", "script")];
    let site = site.map(|(path, text)| (path.to_string(), Arc::new(text.as_bytes().to_vec())));
    shown.update(site.into(), "one error".to_string());
    let told = revision(&shown, "", true).expect("a revision");
    assert_ne!(told["rest"], good["rest"]);
    assert_eq!(told["findings"], "one error");
    assert_ne!(told["token"], good["token"]);
    assert!(shown.file("fit/index.html").is_none());
    // scripts may change between a page's loading and its first question
    let page = try_ask(&shown, "GET", "/", &[("host", "localhost:80")]).expect("a page");
    let mut timing = page
        .headers
        .iter()
        .filter(|(name, _)| *name == "Server-Timing");
    let (_, timing) = timing.next().expect("what it was made with");
    for part in ["styles", "rest"] {
        let hash = told[part].as_str().expect("a hash");
        assert!(
            timing.contains(&format!("{part};desc=\"{hash}\"")),
            "{timing}"
        );
    }
}

#[test]
fn a_page_is_sent_again_when_what_it_was_made_with_is_other() {
    let mut shown = shown();
    let host = ("host", "localhost:80");
    let tag = |shown: &PreviewState, target: &str| {
        let reply = try_ask(shown, "GET", target, &[host]).expect("a file");
        let mut headers = reply.headers.into_iter();
        headers
            .find(|(name, _)| *name == "ETag")
            .expect("its tag")
            .1
    };
    shown.put([("b.css".to_string(), Arc::new(b"b".to_vec()))].into());
    let (page, style) = (tag(&shown, "/"), tag(&shown, "/b.css"));
    // else a browser that kept the page would keep loading it
    shown.put([("a.js".to_string(), Arc::new(b"anew".to_vec()))].into());
    assert_ne!(tag(&shown, "/"), page);
    assert_eq!(tag(&shown, "/b.css"), style);
}

#[test]
fn a_page_that_is_not_there_asks_whether_it_came() {
    let gone = ask("GET", "/fit/gone.html", &[("host", "localhost:80")]);
    assert_eq!(gone.status, 404);
    assert!(String::from_utf8_lossy(&gone.body).contains(RELOAD_SCRIPT));
}

#[test]
fn a_page_that_asks_whether_it_changed_is_watched_and_nothing_else_is() {
    let watched = |target: &str| watched_page(target);
    assert_eq!(
        watched("/.preview/revision?page=%2Ffit%2F&seen=x").as_deref(),
        Some("fit/index.html")
    );
    for target in [
        "/.preview/revision",
        "/fit/?page=%2F",
        "/.preview/revision?page=..%2F",
    ] {
        assert_eq!(watched(target), None, "{target}");
    }
}

#[test]
fn a_worker_that_a_published_site_left_is_told_to_go() {
    let reply = ask_of(&shown(), "GET", "/worker.js", &[("host", "localhost:80")]);
    assert_eq!(reply.status, 200);
    let script = String::from_utf8_lossy(&reply.body);
    assert!(script.contains("registration.unregister()"), "{script}");
    let kind = reply
        .headers
        .iter()
        .find(|(name, _)| *name == "Content-Type");
    assert_eq!(
        kind.map(|(_, kind)| kind.as_str()),
        Some("text/javascript; charset=utf-8")
    );
}
