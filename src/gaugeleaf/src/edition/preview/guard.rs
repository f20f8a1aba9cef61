//! Who connects to the preview is met here, and heard out only as far as the server behind may be.

use std::io::{self, BufReader, Read, Write};
use std::net::{Shutdown, TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

use super::behind::Connections;
use super::head::{self, RefusedHead};

/// How many may be connected at once: some browsers' worth.
const MOST: usize = 256;

/// How long nobody has to say anything, or to take what is said to him.
const PATIENCE: Duration = Duration::from_secs(30);

/// How much more is heard of a request that was refused, so that its refusal arrives.
const HEARD: u64 = 4 << 20;
const HEARD_FOR: Duration = Duration::from_millis(500);

/// How long to leave a system alone that has no connection to give.
const PAUSE: Duration = Duration::from_millis(50);

/// The guard of one preview.
pub struct Guard {
    behind: Connections,
    here: AtomicUsize,
}

impl Guard {
    pub fn new(behind: Connections) -> Guard {
        Guard {
            behind,
            here: AtomicUsize::new(0),
        }
    }

    /// Meets whoever connects, each on a thread of its own.
    pub fn meet(self: Arc<Self>, listener: TcpListener) -> ! {
        loop {
            let Ok((stream, _)) = listener.accept() else {
                std::thread::sleep(PAUSE);
                continue;
            };
            if self.here.fetch_add(1, Ordering::Relaxed) >= MOST {
                self.here.fetch_sub(1, Ordering::Relaxed);
                continue;
            }
            let guard = Arc::clone(&self);
            let met = std::thread::Builder::new().spawn(move || {
                // a reader who left is no fault of ours
                let _ = guard.hear(&stream);
                guard.here.fetch_sub(1, Ordering::Relaxed);
            });
            if met.is_err() {
                self.here.fetch_sub(1, Ordering::Relaxed);
            }
        }
    }

    /// Answers one request after the other.
    fn hear(&self, stream: &TcpStream) -> io::Result<()> {
        stream.set_nodelay(true)?;
        stream.set_read_timeout(Some(PATIENCE))?;
        stream.set_write_timeout(Some(PATIENCE))?;
        let mut from = BufReader::new(stream);
        while let Some(head) = head::read(&mut from)? {
            let head = match head::judge(&head) {
                Ok(head) => head,
                Err(refusal) => return refuse(stream, &refusal),
            };
            self.behind.pass(&head, &mut &*stream)?;
            if head.last {
                break;
            }
        }
        stream.shutdown(Shutdown::Both)
    }
}

/// Says why a request isn't passed on, and ends the connection: where the next would begin, nobody
/// knows.
fn refuse(mut stream: &TcpStream, RefusedHead(status, why): &RefusedHead) -> io::Result<()> {
    let length = why.len();
    let answer = format!(
        "HTTP/1.1 {status} Refused\r\ncontent-type: text/plain; charset=utf-8\r\n\
         x-content-type-options: nosniff\r\ncontent-length: {length}\r\nconnection: close\r\n\r\n{why}"
    );
    stream.write_all(answer.as_bytes())?;
    stream.shutdown(Shutdown::Write)?;
    // closed with words unheard, the system would take the refusal back
    stream.set_read_timeout(Some(HEARD_FOR))?;
    io::copy(&mut stream.take(HEARD), &mut io::sink())?;
    Ok(())
}
