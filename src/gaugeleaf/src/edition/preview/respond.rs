//! What the preview answers: a pure function of what is shown and what was asked.

use std::borrow::Cow;

use percent_encoding::percent_decode_str;
use serde_json::json;

use crate::edition::preview::state::{PageRevision, PreviewState};
use crate::values::hash::hash as digest;

/// The script that reloads a page; it exists in the preview alone.
pub const RELOAD_SCRIPT: &str = "/.preview/reload.js";
/// A published site that was once served here may have left its worker, which would go on showing that
/// site; asked for its newer edition it gets one that goes away.
const WORKER: &str = "/worker.js";
const REVISION: &str = "/.preview/revision";

/// The policy of every answer: the theme's own, and the revision may be asked for.
pub const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
    img-src 'self' data:; base-uri 'none'; form-action 'none'; connect-src 'self'";

/// A request.
pub struct PreviewRequest<'a> {
    pub method: &'a str,
    pub target: &'a str,
    /// Names in small letters.
    pub headers: &'a [(String, String)],
    /// Whether it may wait until there is something new to tell.
    pub may_wait: bool,
}

/// An answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reply {
    pub status: u16,
    pub headers: Vec<(&'static str, String)>,
    pub body: Vec<u8>,
}

/// The answer to a request; none while it may wait and there is nothing new to tell.
pub fn respond(shown: &PreviewState, asked: &PreviewRequest) -> Option<Reply> {
    if let Some(refusal) = refuse(shown, asked) {
        return Some(refusal);
    }
    let (target, query) = asked.target.split_once('?').unwrap_or((asked.target, ""));
    let path = match decode(target) {
        Ok(path) => path,
        Err(status) => return Some(plain(status, "There is no such address.\n")),
    };
    match format!("/{path}").as_str() {
        RELOAD_SCRIPT => return Some(whole("reload.js", include_bytes!("reload.js"))),
        WORKER => return Some(whole("worker.js", include_bytes!("no-worker.js"))),
        REVISION => return revision(shown, query, asked.may_wait),
        _ => {}
    }
    let path = page_file(path);
    Some(match shown.file(&path) {
        Some((bytes, hash)) => file(asked, &path, bytes, hash, &shown.revision(None)),
        None if shown.is_empty() => whole("none.html", nothing_yet(&shown.findings).as_bytes()),
        None if path.ends_with(".html") => Reply {
            status: 404,
            ..whole("none.html", NO_PAGE.as_bytes())
        },
        None => plain(404, "The handbook has no such file.\n"),
    })
}

/// The file of the page that asks whether it changed; none where something else is asked.
pub fn watched_page(target: &str) -> Option<String> {
    let (target, query) = target.split_once('?')?;
    let page = query_value(query, "page").filter(|_| target == REVISION)?;
    decode(&page).ok().map(page_file)
}

fn query_value<'q>(query: &'q str, name: &str) -> Option<Cow<'q, str>> {
    let mut pairs = query.split('&').filter_map(|pair| pair.split_once('='));
    let (_, value) = pairs.find(|(key, _)| *key == name)?;
    Some(percent_decode_str(value).decode_utf8_lossy())
}

/// What a page that is shown asks: `page` is its address, and `seen` the token of the last answer.
fn revision(shown: &PreviewState, query: &str, may_wait: bool) -> Option<Reply> {
    let page = match query_value(query, "page").map(|address| decode(&address)) {
        Some(Ok(path)) => Some(page_file(path)),
        Some(Err(status)) => return Some(plain(status, "There is no such address.\n")),
        None => None,
    };
    let now = shown.revision(page.as_deref());
    let token = now.token();
    if may_wait && query_value(query, "seen").is_some_and(|seen| seen == token) {
        return None;
    }
    let body = json!({
        "page": now.page, "styles": now.styles, "rest": now.rest,
        "findings": shown.findings, "token": token,
    });
    Some(whole("revision.json", body.to_string().as_bytes()))
}

/// The file that stands at an address.
fn page_file(path: String) -> String {
    if path.is_empty() || path.ends_with('/') {
        format!("{path}index.html")
    } else {
        path
    }
}

/// Requests that get no file: from elsewhere, or of a kind that we don't serve.
fn refuse(shown: &PreviewState, asked: &PreviewRequest) -> Option<Reply> {
    let mut hosts = asked
        .headers
        .iter()
        .filter(|(name, _)| name == "host")
        .map(|(_, value)| value.as_str());
    let (host, second) = (hosts.next(), hosts.next());
    let port = shown.port;
    // exact names only: a page elsewhere may have its own name point at this machine
    let known = [
        format!("localhost:{port}"),
        format!("127.0.0.1:{port}"),
        format!("[::1]:{port}"),
    ];
    if second.is_some() || !host.is_some_and(|host| known.iter().any(|name| name == host)) {
        return Some(plain(
            403,
            "The preview answers to this machine's own names only.\n",
        ));
    }
    if !matches!(asked.method, "GET" | "HEAD") {
        let mut reply = plain(405, "The preview can only be read.\n");
        reply.headers.push(("Allow", "GET, HEAD".to_string()));
        return Some(reply);
    }
    None
}

/// The path that a target names, decoded once.
fn decode(target: &str) -> Result<String, u16> {
    let path = target
        .split(['?', '#'])
        .next()
        .unwrap_or("")
        .strip_prefix('/')
        .ok_or(400u16)?;
    let lower = path.to_ascii_lowercase();
    if lower.contains("%2f") || lower.contains("%5c") {
        return Err(400);
    }
    let decoded = percent_decode_str(path).decode_utf8().map_err(|_| 400u16)?;
    if decoded
        .chars()
        .any(|c| matches!(c, '\\' | ':' | '\0') || c.is_control())
    {
        return Err(400);
    }
    if decoded.split('/').any(|part| part == "..") {
        return Err(400);
    }
    Ok(decoded.into_owned())
}

/// A file of the site, unless the reader has it.
fn file(asked: &PreviewRequest, path: &str, bytes: &[u8], hash: &str, now: &PageRevision) -> Reply {
    let PageRevision { styles, rest, .. } = now;
    let is_page = path.ends_with(".html");
    // a page that is kept keeps what it was made with, too
    let tag = match is_page {
        true => digest(format!("{hash} {styles} {rest}").as_bytes()),
        false => hash.to_string(),
    };
    let tag = format!("\"{}\"", &tag[..32]);
    let matches = asked
        .headers
        .iter()
        .filter(|(name, _)| name == "if-none-match")
        .any(|(_, value)| {
            value
                .split(',')
                .map(|one| one.trim().trim_start_matches("W/"))
                .any(|one| one == "*" || one == tag)
        });
    let mut reply = whole(path, if matches { &[] } else { bytes });
    reply.status = if matches { 304 } else { 200 };
    reply.headers.push(("ETag", tag));
    if is_page {
        // a page's script can't read its page's tag, but it can read this
        let shown = format!("page;desc=\"{hash}\", styles;desc=\"{styles}\", rest;desc=\"{rest}\"");
        reply.headers.push(("Server-Timing", shown));
    }
    reply
}

/// Bytes that are made anew for every reader.
fn whole(path: &str, bytes: &[u8]) -> Reply {
    let mut headers = common();
    headers.push(("Content-Type", kind(path).to_string()));
    Reply {
        status: 200,
        headers,
        body: bytes.to_vec(),
    }
}

fn common() -> Vec<(&'static str, String)> {
    vec![
        ("Cache-Control", "no-cache".to_string()),
        ("Content-Security-Policy", POLICY.to_string()),
        ("X-Content-Type-Options", "nosniff".to_string()),
        ("Referrer-Policy", "no-referrer".to_string()),
        ("Cross-Origin-Resource-Policy", "same-origin".to_string()),
    ]
}

fn plain(status: u16, words: &str) -> Reply {
    let mut headers = common();
    headers.push(("Content-Type", "text/plain; charset=utf-8".to_string()));
    Reply {
        status,
        headers,
        body: words.as_bytes().to_vec(),
    }
}

/// A page that isn't there may come: it asks as every page does.
const NO_PAGE: &str = "<!doctype html>\n<html lang=\"en\">\n<head><meta charset=\"utf-8\">\
    <title>No such page</title>\n<script src=\"/.preview/reload.js\" defer></script></head>\n\
    <body><h1>The handbook has no such page</h1></body>\n</html>\n";

fn nothing_yet(findings: &str) -> String {
    format!(
        "<!doctype html>\n<html lang=\"en\">\n<head><meta charset=\"utf-8\"><title>Not yet</title>\n\
         <script src=\"{RELOAD_SCRIPT}\" defer></script></head>\n\
         <body><h1>The handbook can't be shown yet</h1>\n<pre>{}</pre></body>\n</html>\n",
        crate::markdown::escape::escape(findings)
    )
}

fn kind(path: &str) -> &'static str {
    match path.rsplit_once('.').map_or("", |(_, ending)| ending) {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "jpg" | "jpeg" => "image/jpeg",
        "webp" => "image/webp",
        "gif" => "image/gif",
        "wasm" => "application/wasm",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests;
