//! The preview as a browser meets it: over a socket, while files change.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A running preview, ended with the value.
struct Preview {
    child: Child,
    port: u16,
}

impl Drop for Preview {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Preview {
    fn of(folder: &Path) -> Preview {
        let mut child = Command::new(env!("CARGO_BIN_EXE_gaugeleaf"))
            .args(["preview", "--port", "0"])
            .current_dir(folder)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program runs");
        let mut lines = BufReader::new(child.stdout.take().expect("its output")).lines();
        let address = lines
            .by_ref()
            .map_while(Result::ok)
            .find_map(|line| {
                Some(
                    line.strip_prefix("Preview: http://localhost:")?
                        .split('/')
                        .next()?
                        .to_string(),
                )
            })
            .expect("its address");
        // what it goes on to say must not fill the pipe
        std::thread::spawn(move || lines.map_while(Result::ok).for_each(drop));
        Preview {
            child,
            port: address.parse().expect("a port"),
        }
    }

    /// Sends raw lines and gives the status, the head and the body.
    fn ask(&self, request: &str) -> (u16, String, String) {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("connected");
        stream
            .set_read_timeout(Some(Duration::from_secs(10)))
            .expect("a time limit");
        stream.write_all(request.as_bytes()).expect("sent");
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        let answer = String::from_utf8_lossy(&answer).into_owned();
        let (head, body) = answer.split_once("\r\n\r\n").unwrap_or((&answer, ""));
        let status = head
            .split(' ')
            .nth(1)
            .and_then(|code| code.parse().ok())
            .unwrap_or(0);
        (status, head.to_lowercase(), body.to_string())
    }

    fn get(&self, path: &str) -> (u16, String, String) {
        self.ask(&format!(
            "GET {path} HTTP/1.1\r\nHost: localhost:{}\r\nConnection: close\r\n\r\n",
            self.port
        ))
    }

    /// Waits until the page at a path holds a text.
    fn wait_for(&self, path: &str, text: &str) -> String {
        let start = Instant::now();
        loop {
            let body = self.get(path).2;
            if body.contains(text) {
                return body;
            }
            assert!(
                start.elapsed() < Duration::from_secs(20),
                "{text} never came: {body}"
            );
            std::thread::sleep(Duration::from_millis(50));
        }
    }
}

fn handbook() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir(folder.path().join("content")).expect("made");
    fs::write(
        folder.path().join("handbook.toml"),
        "title = \"T\"\nrevision = \"A\"\ncaution = \"C\"\n",
    )
    .expect("written");
    fs::write(
        folder.path().join("content/index.md"),
        "# Front\n\nFirst words.\n",
    )
    .expect("written");
    folder
}

#[test]
fn a_change_is_shown_and_a_fault_leaves_the_last_good_page_with_its_finding() {
    let folder = handbook();
    let preview = Preview::of(folder.path());
    let page = folder.path().join("content/index.md");
    assert!(preview.get("/").2.contains("First words."));
    fs::write(&page, "# Front\n\nSecond words.\n").expect("written");
    preview.wait_for("/", "Second words.");
    fs::write(&page, "# Front\n\n[Broken](gone.md) words.\n").expect("written");
    preview.wait_for("/.preview/revision", "there is no page gone.md");
    assert!(preview.get("/").2.contains("Second words."));
    fs::write(&page, "# Front\n\nThird words.\n").expect("written");
    preview.wait_for("/", "Third words.");
    assert!(!preview.get("/.preview/revision").2.contains("gone.md"));
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
    assert!(preview.get("/").2.contains("raw HTML is refused"));
    fs::write(&page, "# Front\n\nMended.\n").expect("written");
    preview.wait_for("/", "Mended.");
}
