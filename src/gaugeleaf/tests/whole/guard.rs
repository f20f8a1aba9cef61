//! Nothing that a program on this machine may send takes the preview down.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;
#[cfg(target_os = "linux")]
use std::time::Instant;

use crate::support::preview::*;

#[test]
fn no_head_takes_the_preview_down() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    let host = format!("Host: localhost:{}", preview.port);
    let long = "x".repeat(1 << 20);
    for (request, status) in [
        // such a length was believed, and the program ended for want of memory
        (
            format!("GET / HTTP/1.1\r\n{host}\r\nContent-Length: 99999999999\r\n\r\n"),
            413,
        ),
        (
            "GET / HTTP/1.1\r\nHost: x\r\nContent-Length: 1200000000\r\n\r\n".to_string(),
            413,
        ),
        (
            format!("GET / HTTP/1.1\r\n{host}\r\nContent-Length: 18446744073709551616\r\n\r\n"),
            413,
        ),
        (
            format!("POST / HTTP/1.1\r\n{host}\r\nTransfer-Encoding: chunked\r\n\r\n{long}"),
            413,
        ),
        (
            format!("GET / HTTP/1.1\r\n{host}\r\nExpect: 100-continue\r\n\r\n"),
            417,
        ),
        (format!("GET / HTTP/2.0\r\n{host}\r\n\r\n"), 505),
        (format!("GET /{long} HTTP/1.1\r\n{host}\r\n\r\n"), 431),
        (format!("GET / HTTP/1.1\r\nx: {long}\r\n\r\n"), 431),
        (
            format!("GET / HTTP/1.1\r\n{host}\r\nx\u{e9}: y\r\n\r\n"),
            400,
        ),
        (format!("GET / HTTP/1.1\r\n{host}\r\nno colon\r\n\r\n"), 400),
        ("\u{16}\u{3}\u{1}\u{2}\r\n\r\n".to_string(), 400),
        ("GET /\r\n\r\n".to_string(), 400),
    ] {
        let told = preview.ask(&request);
        let start: String = request.chars().take(80).collect();
        assert_eq!(told.0, status, "{start}: {told:?}");
        assert_eq!(preview.get("/").0, 200, "after {start}");
    }
}

#[test]
fn connections_that_say_nothing_or_break_off_hold_up_nobody() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    let connect = || TcpStream::connect(("127.0.0.1", preview.port)).expect("connected");
    // more than there are threads to answer, or connections behind
    let mut silent: Vec<TcpStream> = (0..100).map(|_| connect()).collect();
    for (at, stream) in silent.iter_mut().enumerate().filter(|(at, _)| at % 2 == 0) {
        let half = format!("GET /{at} HTTP/1.1\r\nHost: local");
        stream.write_all(half.as_bytes()).expect("sent");
    }
    assert_eq!(preview.get("/").0, 200);
    drop(silent);
    // whole requests whose answers nobody takes
    for _ in 0..100 {
        let mut stream = connect();
        let host = format!("Host: localhost:{}", preview.port);
        let whole = format!("GET /scripts/engine.js HTTP/1.1\r\n{host}\r\n\r\n");
        stream.write_all(whole.as_bytes()).expect("sent");
    }
    assert_eq!(preview.get("/").0, 200);
}

/// More than the guard lets in: each of them has a thread, and none has one behind.
#[cfg(target_os = "linux")]
#[test]
fn threads_are_bounded_however_many_connect_and_are_given_back() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    let before = preview.threads();
    let connect = || TcpStream::connect(("127.0.0.1", preview.port)).expect("connected");
    let mut silent: Vec<TcpStream> = (0..600).map(|_| connect()).collect();
    let mut most = before;
    for stream in &mut silent {
        // who wasn't let in may be gone already
        let _ = stream.write_all(b"GET / HTTP/1.1\r\nHost: local");
        most = most.max(preview.threads());
    }
    assert!(
        most > before + 200,
        "{before} threads, then {most}: nobody was let in"
    );
    assert!(most <= before + 256 + 16, "{before} threads, then {most}");
    drop(silent);
    let patience = Instant::now() + Duration::from_secs(10);
    while preview.threads() > before + 16 {
        assert!(Instant::now() < patience, "{} threads", preview.threads());
        std::thread::sleep(Duration::from_millis(20));
    }
    assert_eq!(preview.get("/").0, 200);
}

#[test]
fn a_connection_serves_one_request_after_the_other_until_it_is_asked_to_close() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    let mut stream = TcpStream::connect(("127.0.0.1", preview.port)).expect("connected");
    let patience = Some(Duration::from_secs(10));
    stream.set_read_timeout(patience).expect("a time limit");
    let host = format!("Host: localhost:{}", preview.port);
    let requests = format!(
        "HEAD /scripts/look.js HTTP/1.1\r\n{host}\r\n\r\n\
         GET /gone.html HTTP/1.1\r\n{host}\r\n\r\n\
         GET / HTTP/1.1\r\n{host}\r\nConnection: close\r\n\r\n\
         GET /scripts/look.js HTTP/1.1\r\n{host}\r\n\r\n"
    );
    stream.write_all(requests.as_bytes()).expect("sent");
    let mut answers = String::new();
    stream.read_to_string(&mut answers).expect("to the end");
    let statuses: Vec<&str> = answers
        .match_indices("HTTP/1.1 ")
        .map(|(at, start)| &answers[at + start.len()..at + start.len() + 3])
        .collect();
    assert_eq!(statuses, ["200", "404", "200"], "{answers}");
    assert!(answers.ends_with("</html>\n"), "{answers}");
}
