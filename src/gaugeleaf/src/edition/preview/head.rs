//! The head of a request as far as the server behind the guard may have it.
//!
//! That server takes a request at its word: it makes room for as many bytes as the head promises,
//! and what it can't read it answers in ways of its own. It gets heads that promise nothing.

use std::io::{self, BufRead, Read};

/// The longest head that is read; a browser's takes one or two thousand bytes.
pub const LONGEST: u64 = 16 * 1024;

/// What the guard goes by itself, or what asks for more than an answer: none of it is passed on.
const KEPT_BACK: [&str; 7] = [
    "connection",
    "content-length",
    "keep-alive",
    "proxy-connection",
    "te",
    "trailer",
    "upgrade",
];

/// A request that may be passed on.
#[derive(Debug, PartialEq, Eq)]
pub struct Head {
    /// As the server behind gets it, to the empty line.
    pub passed: String,
    /// Its answer has no body.
    pub bodiless: bool,
    /// Whoever asks closes after the answer, or expects us to.
    pub last: bool,
}

/// A request that is not passed on: the status it gets instead, and why.
#[derive(Debug, PartialEq, Eq)]
pub struct RefusedHead(pub u16, pub &'static str);

/// The bytes of the next head, without what comes after it; none where nothing comes any more.
pub fn read(from: &mut impl BufRead) -> io::Result<Option<Vec<u8>>> {
    let mut head = Vec::new();
    let mut from = from.take(LONGEST);
    loop {
        let before = head.len();
        if from.read_until(b'\n', &mut head)? == 0 {
            // cut off in the middle is told from never begun; too long is for who judges it
            let begun = !head.is_empty();
            return Ok(begun.then_some(head));
        }
        match &head[before..] {
            // empty lines before a request are nobody's
            b"\r\n" if before == 0 => head.clear(),
            b"\r\n" => return Ok(Some(head)),
            _ => {}
        }
    }
}

/// What is passed on of a head, or why nothing is.
pub fn judge(head: &[u8]) -> Result<Head, RefusedHead> {
    if head.len() as u64 >= LONGEST {
        return Err(RefusedHead(431, "The head of the request is too long.\n"));
    }
    let unreadable = RefusedHead(400, "The request can't be read.\n");
    let text = std::str::from_utf8(head).ok().filter(|text| {
        let plain = |byte: u8| matches!(byte, b' '..=b'~' | b'\t' | b'\r' | b'\n');
        text.ends_with("\r\n\r\n") && text.bytes().all(plain)
    });
    let Some(text) = text else {
        return Err(unreadable);
    };
    let mut lines = text.trim_end().split("\r\n");
    let line: Vec<&str> = lines.next().unwrap_or_default().split(' ').collect();
    let [method, target, version] = line[..] else {
        return Err(unreadable);
    };
    if !is_token(method) || target.is_empty() || text.replace("\r\n", "").contains(['\r', '\n']) {
        return Err(unreadable);
    }
    let old = match version {
        "HTTP/1.1" => false,
        "HTTP/1.0" => true,
        _ => return Err(RefusedHead(505, "The preview speaks HTTP/1.1.\n")),
    };
    let mut judged = Head {
        passed: format!("{method} {target} HTTP/1.1\r\n"),
        bodiless: method == "HEAD",
        last: old,
    };
    for line in lines {
        let Some((name, value)) = line.split_once(':').filter(|(name, _)| is_token(name)) else {
            return Err(unreadable);
        };
        judged.header(&name.to_ascii_lowercase(), value.trim())?;
    }
    judged.passed.push_str("\r\n");
    Ok(judged)
}

impl Head {
    fn header(&mut self, name: &str, value: &str) -> Result<(), RefusedHead> {
        let carries = |status| {
            Err(RefusedHead(
                status,
                "The preview takes no request with a body.\n",
            ))
        };
        match name {
            "content-length" if value != "0" => return carries(413),
            "transfer-encoding" => return carries(413),
            "expect" => return carries(417),
            "connection" if value.to_ascii_lowercase().contains("close") => self.last = true,
            _ => {}
        }
        if !KEPT_BACK.contains(&name) {
            self.passed.push_str(&format!("{name}: {value}\r\n"));
        }
        Ok(())
    }
}

/// A name as HTTP allows it.
fn is_token(text: &str) -> bool {
    let token = |byte: u8| byte.is_ascii_alphanumeric() || b"!#$%&'*+-.^_`|~".contains(&byte);
    !text.is_empty() && text.bytes().all(token)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn status(head: &str) -> u16 {
        judge(head.as_bytes()).map_or_else(|RefusedHead(status, _)| status, |_| 0)
    }

    #[test]
    fn a_head_is_passed_on_without_what_the_guard_goes_by() {
        let head = "GET /a?b HTTP/1.1\r\nHost: localhost:1\r\nConnection: Close\r\nTE: chunked\r\nContent-Length: 0\r\n\r\n";
        let passed = judge(head.as_bytes()).expect("passed on");
        assert_eq!(
            passed.passed,
            "GET /a?b HTTP/1.1\r\nhost: localhost:1\r\n\r\n"
        );
        assert!(passed.last && !passed.bodiless);
        let old = judge(b"HEAD / HTTP/1.0\r\n\r\n").expect("passed on");
        assert_eq!(old.passed, "HEAD / HTTP/1.1\r\n\r\n");
        assert!(old.last && old.bodiless);
    }

    #[test]
    fn a_body_promised_is_refused_however_it_is_promised() {
        let with = |header: &str| status(&format!("GET / HTTP/1.1\r\n{header}\r\n\r\n"));
        for header in [
            "Content-Length: 99999999999",
            "content-length: 1",
            "Content-Length: 00",
            "Content-Length: -1",
            "Content-Length: 0\r\nContent-Length: 7",
            "Transfer-Encoding: chunked",
            "transfer-encoding: identity",
        ] {
            assert_eq!(with(header), 413, "{header}");
        }
        assert_eq!(with("Expect: 100-continue"), 417);
    }

    #[test]
    fn what_can_not_be_read_is_refused() {
        for head in [
            "GET /\r\n\r\n",
            "GET  / HTTP/1.1\r\n\r\n",
            "G(T / HTTP/1.1\r\n\r\n",
            "GET / HTTP/1.1\r\nno colon\r\n\r\n",
            "GET / HTTP/1.1\r\nHost : x\r\n\r\n",
            "GET / HTTP/1.1\r\n: x\r\n\r\n",
            "GET / HTTP/1.1\r\n folded: x\r\n\r\n",
            "GET / HTTP/1.1\r\nHost: \u{e9}\r\n\r\n",
            "GET / HTTP/1.1\r\nHost: a\rb\r\n\r\n",
            "GET / HTTP/1.1\nHost: a\r\n\r\n",
            "GET / HTTP/1.1\r\nHost: cut o",
            "\u{0}\r\n\r\n",
        ] {
            assert_eq!(status(head), 400, "{head:?}");
        }
        assert_eq!(status("GET / HTTP/2.0\r\n\r\n"), 505);
        assert_eq!(status("GET / HTTP/1.2\r\n\r\n"), 505);
    }

    #[test]
    fn heads_are_read_one_after_the_other_and_no_further_than_the_longest() {
        let two = b"\r\nGET /a HTTP/1.1\r\nHost: x\r\n\r\nGET /b HTTP/1.1\r\n\r\n";
        let mut from = io::BufReader::new(&two[..]);
        let mut next = || read(&mut from).expect("readable").unwrap_or_default();
        assert_eq!(next(), b"GET /a HTTP/1.1\r\nHost: x\r\n\r\n");
        assert_eq!(next(), b"GET /b HTTP/1.1\r\n\r\n");
        assert_eq!(next(), b"");
        let endless = io::repeat(b'x');
        let head = read(&mut io::BufReader::new(endless)).expect("readable");
        let head = head.unwrap_or_default();
        assert_eq!(head.len() as u64, LONGEST);
        assert_eq!(judge(&head).err().map(|refusal| refusal.0), Some(431));
    }
}
