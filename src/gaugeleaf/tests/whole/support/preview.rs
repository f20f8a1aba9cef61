//! A running preview, asked over a socket.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A running preview, ended with the value.
pub struct Preview {
    child: Child,
    pub port: u16,
}

impl Drop for Preview {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Preview {
    pub fn of(folder: &Path) -> Preview {
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

    /// How many threads it has.
    #[cfg(target_os = "linux")]
    pub fn threads(&self) -> usize {
        let tasks = fs::read_dir(format!("/proc/{}/task", self.child.id()));
        tasks.expect("it runs").count()
    }

    /// Sends raw lines and gives the status, the head and the body.
    pub fn ask(&self, request: &str) -> (u16, String, String) {
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

    pub fn get(&self, path: &str) -> (u16, String, String) {
        self.ask(&format!(
            "GET {path} HTTP/1.1\r\nHost: localhost:{}\r\nConnection: close\r\n\r\n",
            self.port
        ))
    }

    /// What is shown of a page: at once, or, after a token, when that is something else.
    pub fn revision(&self, page: &str, seen: Option<&str>) -> Waiting {
        let page = page.replace('/', "%2F");
        let seen = seen.map_or(String::new(), |token| format!("&seen={token}"));
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("connected");
        write!(
            stream,
            "GET /.preview/revision?page={page}{seen} HTTP/1.1\r\nHost: localhost:{}\r\n\r\n",
            self.port
        )
        .expect("sent");
        Waiting(stream)
    }

    /// Waits until the page at a path holds a text.
    pub fn wait_for(&self, path: &str, text: &str) -> String {
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

/// A question to which the answer may take a while; the connection stays open, as a browser's.
pub struct Waiting(TcpStream);

impl Waiting {
    pub fn answer(mut self) -> Shown {
        // less than it takes until who waits is told what there is
        let patience = Some(Duration::from_secs(15));
        self.0.set_read_timeout(patience).expect("a time limit");
        let mut answer = Vec::new();
        let mut some = [0; 4096];
        loop {
            let count = self.0.read(&mut some).expect("an answer in time");
            answer.extend_from_slice(&some[..count]);
            let text = String::from_utf8_lossy(&answer);
            if let Some((_, body)) = text.split_once("\r\n\r\n")
                && body.ends_with('}')
            {
                return Shown(body.to_string());
            }
            assert!(count > 0, "cut off: {text}");
        }
    }
}

/// What is shown of a page, as JSON.
pub struct Shown(pub String);

impl Shown {
    pub fn value(&self, name: &str) -> &str {
        let start = format!("\"{name}\":\"");
        let rest = self.0.split_once(&start).expect("the key").1;
        rest.split('"').next().unwrap_or("")
    }
}

pub fn handbook() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir(folder.path().join("content")).expect("made");
    fs::write(
        folder.path().join("handbook.toml"),
        "title = \"T\"\nrevision = \"A\"\ncaution = \"C\"\nemergency = [{ label = \"Rescue\", number = \"112\" }]\n",
    )
    .expect("written");
    fs::write(
        folder.path().join("content/index.md"),
        "# Front\n\nFirst words.\n",
    )
    .expect("written");
    folder
}
