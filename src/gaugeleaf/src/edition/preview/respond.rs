//! What the preview answers: a pure function of what is shown and what was asked.

use std::sync::Arc;

use percent_encoding::percent_decode_str;
use serde_json::json;

use crate::render::files::SiteFiles;
use crate::values::hash::hash;

/// The script that reloads a page; it exists in the preview alone.
pub const RELOAD_SCRIPT: &str = "/.preview/reload.js";
const REVISION: &str = "/.preview/revision";

/// The policy of every answer: the theme's own, and the revision may be asked for.
pub const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
    img-src 'self' data:; base-uri 'none'; form-action 'none'; connect-src 'self'";

/// What the preview has to show.
pub struct PreviewState {
    port: u16,
    /// The last site without errors.
    site: Arc<SiteFiles>,
    /// Tells one site from the next: of its styles, and of all the rest.
    styles: String,
    rest: String,
    /// The findings of the last look, in words; empty when there are none.
    findings: String,
}

/// A request.
pub struct PreviewRequest<'a> {
    pub method: &'a str,
    pub target: &'a str,
    /// Names in small letters.
    pub headers: &'a [(String, String)],
}

/// An answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reply {
    pub status: u16,
    pub headers: Vec<(&'static str, String)>,
    pub body: Vec<u8>,
}

impl PreviewState {
    pub fn new(port: u16) -> Self {
        PreviewState {
            port,
            site: Arc::default(),
            styles: String::new(),
            rest: String::new(),
            findings: String::new(),
        }
    }

    /// A new look at the handbook: its site, unless it has errors, and its findings.
    pub fn update(&mut self, site: Option<SiteFiles>, findings: String) {
        self.findings = findings;
        let Some(site) = site else { return };
        let digest = |styles: bool| {
            let files = site
                .iter()
                .filter(|(path, _)| path.ends_with(".css") == styles);
            let all: String = files
                .map(|(path, bytes)| format!("{path} {}\n", hash(bytes)))
                .collect();
            hash(all.as_bytes())
        };
        (self.styles, self.rest) = (digest(true), digest(false));
        self.site = Arc::new(site);
    }
}

/// The answer to a request.
pub fn respond(shown: &PreviewState, asked: &PreviewRequest) -> Reply {
    if let Some(refusal) = refuse(shown, asked) {
        return refusal;
    }
    let path = match decode(asked.target) {
        Ok(path) => path,
        Err(status) => return plain(status, "There is no such address.\n"),
    };
    match format!("/{path}").as_str() {
        RELOAD_SCRIPT => return file(asked, "reload.js", include_bytes!("reload.js")),
        REVISION => {
            let body =
                json!({ "styles": shown.styles, "rest": shown.rest, "findings": shown.findings });
            return file(asked, "revision.json", body.to_string().as_bytes());
        }
        _ => {}
    }
    let path = if path.is_empty() || path.ends_with('/') {
        format!("{path}index.html")
    } else {
        path
    };
    match shown.site.get(&path) {
        Some(bytes) => file(asked, &path, bytes),
        None if shown.site.is_empty() => {
            file(asked, "none.html", nothing_yet(&shown.findings).as_bytes())
        }
        None => plain(404, "The handbook has no such page.\n"),
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

fn file(asked: &PreviewRequest, path: &str, bytes: &[u8]) -> Reply {
    let tag = format!("\"{}\"", &hash(bytes)[..32]);
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
    let mut headers = common();
    headers.push(("Content-Type", kind(path).to_string()));
    headers.push(("ETag", tag));
    if matches {
        return Reply {
            status: 304,
            headers,
            body: Vec::new(),
        };
    }
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
mod tests {
    use super::*;

    fn shown() -> PreviewState {
        let mut shown = PreviewState::new(80);
        let page = |text: &str| text.as_bytes().to_vec();
        let site = [
            ("index.html", "front"),
            ("fit/index.html", "fit"),
            ("a b.html", "spaced"),
        ];
        shown.update(
            Some(
                site.map(|(path, text)| (path.to_string(), page(text)))
                    .into(),
            ),
            String::new(),
        );
        shown
    }

    fn ask(method: &str, target: &str, headers: &[(&str, &str)]) -> Reply {
        let own = |(name, value): &(&str, &str)| (name.to_string(), value.to_string());
        let headers: Vec<_> = headers.iter().map(own).collect();
        respond(
            &shown(),
            &PreviewRequest {
                method,
                target,
                headers: &headers,
            },
        )
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

    #[test]
    fn a_site_with_faults_leaves_the_last_good_one_and_tells_them() {
        let mut shown = shown();
        let revision = |shown: &PreviewState| {
            let headers = [("host".to_string(), "localhost:80".to_string())];
            let asked = PreviewRequest {
                method: "GET",
                target: REVISION,
                headers: &headers,
            };
            String::from_utf8(respond(shown, &asked).body).unwrap_or_default()
        };
        let good = shown.rest.clone();
        shown.update(None, "one error".to_string());
        assert!(revision(&shown).contains(&good) && revision(&shown).contains("one error"));
        assert!(shown.site.contains_key("index.html"));
    }
}
