//! A local server that shows the handbook while it is being written.
//!
//! It listens on this machine alone, answers from memory, and watches the folder. A guard stands
//! before the server that answers, and lets nothing through that the server would choke on.
//! What has faults is shown as it is, with the findings laid over it until they are
//! mended.

mod behind;
mod guard;
mod head;
mod heard;
mod respond;
mod state;
mod waiting;
mod watch;

use std::collections::BTreeSet;
use std::io::Write;
use std::net::{Ipv4Addr, Ipv6Addr, TcpListener};
use std::path::Path;
use std::sync::{Arc, PoisonError, RwLock};
use std::time::{Duration, Instant};

use tiny_http::{Header, Method, Request, Response, Server, StatusCode};

use guard::Guard;
pub use respond::{PreviewRequest, Reply, respond};
use respond::{RELOAD_SCRIPT, watched_page};
pub use state::{PageRevision, PreviewState};
use waiting::WaitingRequests;
use watch::{ChangedPaths, HandbookWatch};

use crate::edition::addresses::FolderEdition;
use crate::page::route::Route;
use crate::render::edition::Edition;
use crate::report::emitter::Emitter;
use crate::report::terminal::Terminal;
use crate::session::{Refreshed, Session};

/// The port when none is named.
pub const PORT: u16 = 7327;

/// Threads that answer, so that one slow reader doesn't hold up the next.
const ANSWERERS: usize = 8;

/// How often it is seen to who has waited long enough.
const LOOK: Duration = Duration::from_millis(150);

/// How long the machine is left to whoever loads the pages that come first.
const BREATH: Duration = Duration::from_millis(100);

/// Serves the handbook until the program ends; an error is why it couldn't start.
pub fn serve(root: &Path, port: u16, say: &dyn Fn(String)) -> Result<(), String> {
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port)).map_err(|error| {
        format!("can't listen on port {port}: {error}; choose another with --port")
    })?;
    let port = listener.local_addr().map_or(port, |at| at.port());
    // a browser may try the newer loopback address first; where there is none, the older serves
    let newer = TcpListener::bind((Ipv6Addr::LOCALHOST, port)).ok();
    let shown = Arc::new(ShownHandbook::new(port));
    let behind = behind::begin(|server| answer(server, &shown)).map_err(|error| {
        format!("can't start the server: {error}; see that there is room for temporary files")
    })?;
    let guard = Arc::new(Guard::new(behind));
    let watch = HandbookWatch::new(root);
    let mut session = Session::new(&PreviewEdition);
    refresh(&mut session, root, None, &shown, say);
    for listener in [Some(listener), newer].into_iter().flatten() {
        let guard = Arc::clone(&guard);
        std::thread::spawn(move || guard.meet(listener));
    }
    say(format!(
        "Preview: http://localhost:{port}/  (ends with Ctrl+C)"
    ));
    watch.each_change(say, |changed| {
        refresh(&mut session, root, Some(changed), &shown, say);
    });
    Ok(())
}

/// Answers what the server is asked, and who has waited long enough, for as long as the program runs.
fn answer(server: Server, shown: &Arc<ShownHandbook>) {
    let server = Arc::new(server);
    for _ in 0..ANSWERERS {
        let (server, shown) = (Arc::clone(&server), Arc::clone(shown));
        std::thread::spawn(move || {
            while let Ok(request) = server.recv() {
                shown.answer(request);
            }
        });
    }
    let shown = Arc::clone(shown);
    std::thread::spawn(move || {
        loop {
            std::thread::sleep(LOOK);
            shown.tell();
        }
    });
}

/// A folder of files whose pages ask the preview whether they changed.
pub struct PreviewEdition;

impl Edition for PreviewEdition {
    fn href(&self, to: &Route, from: &str) -> String {
        FolderEdition.href(to, from)
    }

    fn root(&self, from: &str) -> &'static str {
        FolderEdition.root(from)
    }

    fn script(&self) -> Option<&'static str> {
        Some(RELOAD_SCRIPT)
    }
}

/// Looks at the handbook and shows it as it is, faults or none: the pages that were edited or are
/// looked at first. What an older state showed may be a go that is gone.
fn refresh(
    session: &mut Session<'_>,
    root: &Path,
    changed: Option<&ChangedPaths>,
    shown: &ShownHandbook,
    say: &dyn Fn(String),
) {
    let watched = shown.watched();
    let Refreshed { built, .. } = session.refresh(root, changed, &watched, &mut |pages| {
        if pages.is_empty() {
            return;
        }
        shown.change(|state| state.put(pages));
        // the browser that loads them comes before the rest of the site
        std::thread::sleep(BREATH);
    });
    let words = Terminal { colour: false }.emit(&built.findings, &built.sources);
    say(words.clone());
    let findings = if built.findings.is_empty() {
        String::new()
    } else {
        words
    };
    shown.change(|state| state.update(session.site().clone(), findings));
}

/// What is shown, and the pages that wait until that is something else.
struct ShownHandbook {
    state: RwLock<PreviewState>,
    waiting: WaitingRequests<Request>,
}

impl ShownHandbook {
    fn new(port: u16) -> Self {
        ShownHandbook {
            state: RwLock::new(PreviewState::new(port)),
            waiting: WaitingRequests::default(),
        }
    }

    /// The files of the pages that somebody is looking at.
    fn watched(&self) -> BTreeSet<String> {
        let waiting = self.waiting.map(|request| watched_page(request.url()));
        waiting.into_iter().flatten().collect()
    }

    /// Changes what is shown, and tells the pages that wait for it.
    fn change(&self, change: impl FnOnce(&mut PreviewState)) {
        change(&mut self.state.write().unwrap_or_else(PoisonError::into_inner));
        self.tell();
    }

    /// Answers those who wait and needn't any longer.
    fn tell(&self) {
        let answer = |request: &Request, may_wait| self.reply(request, may_wait);
        for (request, reply) in self.waiting.take(Instant::now(), answer) {
            send_apart(request, reply);
        }
    }

    /// Answers a request, or keeps it until there is something new to tell.
    fn answer(&self, request: Request) {
        if let Some(reply) = self.reply(&request, true) {
            send(request, reply);
            return;
        }
        let answer = |request: &Request, may_wait| self.reply(request, may_wait);
        if let Some((request, reply)) = self.waiting.keep(request, Instant::now(), answer) {
            send_apart(request, reply);
        }
    }

    fn reply(&self, request: &Request, may_wait: bool) -> Option<Reply> {
        let headers: Vec<(String, String)> = request
            .headers()
            .iter()
            .map(|header| {
                (
                    header.field.as_str().as_str().to_lowercase(),
                    header.value.as_str().to_string(),
                )
            })
            .collect();
        let asked = PreviewRequest {
            method: request.method().as_str(),
            target: request.url(),
            headers: &headers,
            may_wait,
        };
        respond(
            &self.state.read().unwrap_or_else(PoisonError::into_inner),
            &asked,
        )
    }
}

/// Sends where a reader who doesn't take it holds up nobody who waits as well.
fn send_apart(request: Request, reply: Reply) {
    std::thread::spawn(move || send(request, reply));
}

fn send(request: Request, reply: Reply) {
    let mut response = Response::from_data(reply.body)
        .with_status_code(StatusCode(reply.status))
        .with_chunked_threshold(usize::MAX);
    for (name, value) in &reply.headers {
        if let Ok(header) = Header::from_bytes(name.as_bytes(), value.as_bytes()) {
            response.add_header(header);
        }
    }
    // in one piece: of two, the second would wait until the reader's system has confirmed the first
    let mut whole = Vec::new();
    let (version, body_left_out) = (
        request.http_version().clone(),
        *request.method() == Method::Head,
    );
    let written = response.raw_print(&mut whole, version, request.headers(), body_left_out, None);
    let mut writer = request.into_writer();
    // a reader who left is no fault of ours
    let _ = written
        .and_then(|()| writer.write_all(&whole))
        .and_then(|()| writer.flush());
}
