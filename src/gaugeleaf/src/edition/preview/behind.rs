//! The server behind the guard, reached by connections that are opened once and then kept.
//!
//! Each connection has a thread of the server to itself from its first answer on: of several that
//! arrive at once, the server may leave some in its queue until another ends.

use std::io::{self, BufRead, BufReader, Read, Write};
use std::sync::{Condvar, Mutex, PoisonError};

#[cfg(not(unix))]
use std::net::{Ipv4Addr, TcpListener, TcpStream as Inward};
#[cfg(unix)]
use std::os::unix::net::{UnixListener, UnixStream as Inward};

use tiny_http::Server;

use super::head::Head;

/// More than may wait at once for something new: there is always one to load with.
const CONNECTIONS: usize = super::waiting::MOST + 16;

/// The longest head of an answer; ours take some hundred bytes.
const LONGEST: u64 = 64 * 1024;

/// Asked by nobody else, and refused by what answers: it proves that a connection is served.
const PROBE: &str = "GET / HTTP/1.1\r\nhost: behind\r\n\r\n";

/// The connections that nobody uses at the moment.
pub struct Connections {
    free: Mutex<Vec<BufReader<Inward>>>,
    freed: Condvar,
}

/// Starts the server, lets `answer` take what it is asked, and connects to it. Where the system has
/// sockets with a path, the path is gone before the first request of others arrives.
pub fn begin(answer: impl FnOnce(Server)) -> io::Result<Connections> {
    #[cfg(unix)]
    let folder = tempfile::tempdir()?;
    #[cfg(unix)]
    let path = folder.path().join("preview");
    #[cfg(unix)]
    let (listener, connect) = (UnixListener::bind(&path)?, || Inward::connect(&path));
    #[cfg(not(unix))]
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0))?;
    #[cfg(not(unix))]
    let address = listener.local_addr()?;
    #[cfg(not(unix))]
    let connect = || Inward::connect(address);
    answer(Server::from_listener(listener, None).map_err(io::Error::other)?);
    let mut free = Vec::new();
    while free.len() < CONNECTIONS {
        let mut connection = BufReader::new(connect()?);
        pass(&mut connection, PROBE, false, &mut io::sink())?;
        free.push(connection);
    }
    Ok(Connections {
        free: Mutex::new(free),
        freed: Condvar::new(),
    })
}

impl Connections {
    /// Passes a request on and its answer back; an error is the reader's, who is gone.
    pub fn pass(&self, head: &Head, to: &mut impl Write) -> io::Result<()> {
        let mut free = self.free.lock().unwrap_or_else(PoisonError::into_inner);
        let mut connection = loop {
            match free.pop() {
                Some(connection) => break connection,
                None => {
                    free = self
                        .freed
                        .wait(free)
                        .unwrap_or_else(PoisonError::into_inner);
                }
            }
        };
        drop(free);
        let mut reader = Recipient { to, gone: None };
        let passed = pass(&mut connection, &head.passed, head.bodiless, &mut reader);
        let gone = reader.gone;
        // one whose answer broke off is of no use to the next
        if passed.is_ok() {
            let mut free = self.free.lock().unwrap_or_else(PoisonError::into_inner);
            free.push(connection);
            self.freed.notify_one();
        }
        passed.and(gone.map_or(Ok(()), Err))
    }
}

/// Whoever the answer is for; once gone, the rest of it goes nowhere, and is read all the same.
struct Recipient<'w, W> {
    to: &'w mut W,
    gone: Option<io::Error>,
}

impl<W: Write> Write for Recipient<'_, W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.gone.is_none() {
            self.gone = self.to.write_all(bytes).err();
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Sends a head, and copies the answer to the end of its body.
fn pass(
    connection: &mut BufReader<Inward>,
    head: &str,
    bodiless: bool,
    to: &mut impl Write,
) -> io::Result<()> {
    connection.get_mut().write_all(head.as_bytes())?;
    let mut answer = Vec::new();
    while !answer.ends_with(b"\r\n\r\n") {
        let room = LONGEST.saturating_sub(answer.len() as u64);
        if connection
            .by_ref()
            .take(room)
            .read_until(b'\n', &mut answer)?
            == 0
        {
            return Err(io::ErrorKind::UnexpectedEof.into());
        }
    }
    let length = length(&answer, bodiless).ok_or(io::ErrorKind::InvalidData)?;
    to.write_all(&answer)?;
    match io::copy(&mut connection.take(length), to)? {
        copied if copied == length => Ok(()),
        _ => Err(io::ErrorKind::UnexpectedEof.into()),
    }
}

/// How long the body of an answer is.
fn length(answer: &[u8], bodiless: bool) -> Option<u64> {
    let answer = std::str::from_utf8(answer).ok()?;
    let mut lines = answer.split("\r\n");
    let status = lines.next()?.split(' ').nth(1)?;
    if bodiless || ["204", "304"].contains(&status) {
        return Some(0);
    }
    let lengths = lines.filter_map(|line| {
        let (name, value) = line.split_once(':')?;
        name.eq_ignore_ascii_case("content-length")
            .then(|| value.trim().parse().ok())
    });
    lengths.last()?
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answers_length_is_read_off_its_head() {
        let of = |head: &str| length(head.as_bytes(), false);
        assert_eq!(
            of("HTTP/1.1 200 OK\r\ncontent-length: 12\r\n\r\n"),
            Some(12)
        );
        assert_eq!(
            of("HTTP/1.1 304 Not Modified\r\nContent-Length: 12\r\n\r\n"),
            Some(0)
        );
        assert_eq!(of("HTTP/1.1 200 OK\r\n\r\n"), None);
        assert_eq!(of("HTTP/1.1 200 OK\r\nContent-Length: much\r\n\r\n"), None);
        assert_eq!(
            length(b"HTTP/1.1 200 OK\r\nContent-Length: 5\r\n\r\n", true),
            Some(0)
        );
    }
}
