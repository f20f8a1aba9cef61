//! What the preview shows: the site as it is, and what tells it from the one before.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::session::SharedFiles;
use crate::values::hash::hash;

/// What no page shows: it is fetched when somebody searches or signs, or by nobody. All text is in it,
/// so that with it every edit would be an edit of every page.
const NOT_SHOWN: [&str; 8] = [
    "ledger.json",
    "scripts/cards.js",
    "scripts/edition.js",
    "scripts/grounds.js",
    "scripts/meanings.js",
    "scripts/sheets.js",
    "scripts/search-index.js",
    "scripts/search-texts.js",
];

/// What the preview has to show.
pub struct PreviewState {
    pub port: u16,
    /// Each file's bytes and their hash.
    site: BTreeMap<String, (Arc<Vec<u8>>, String)>,
    /// Tells one site from the next: of its styles, and of what pages share besides.
    styles: String,
    rest: String,
    /// The findings of the last look, in words; empty when there are none.
    pub findings: String,
    findings_hash: String,
}

/// What one page shows, in hashes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PageRevision<'a> {
    /// Of the page's own file; empty where there is none.
    pub page: &'a str,
    pub styles: &'a str,
    /// Of scripts, pictures and all else that is neither a page nor a style.
    pub rest: &'a str,
    findings: &'a str,
}

impl PageRevision<'_> {
    /// Tells one revision from another.
    pub fn token(&self) -> String {
        [self.page, self.styles, self.rest, self.findings]
            .map(|hash| hash.get(..16).unwrap_or(hash))
            .join(".")
    }
}

impl PreviewState {
    pub fn new(port: u16) -> Self {
        PreviewState {
            port,
            site: BTreeMap::new(),
            styles: String::new(),
            rest: String::new(),
            findings: String::new(),
            findings_hash: String::new(),
        }
    }

    /// A new look at the handbook: its site as it is now, and its findings.
    pub fn update(&mut self, site: SharedFiles, findings: String) {
        self.findings_hash = hash(findings.as_bytes());
        self.findings = findings;
        self.site.retain(|path, _| site.contains_key(path));
        self.put(site);
    }

    /// Replaces or adds single files, and leaves the others and the findings as they are.
    pub fn put(&mut self, files: SharedFiles) {
        for (path, bytes) in files {
            // comparing is quicker than hashing, and most files are the very same
            let same = |held: &Arc<Vec<u8>>| Arc::ptr_eq(held, &bytes) || *held == bytes;
            if !self.site.get(&path).is_some_and(|(held, _)| same(held)) {
                let hash = hash(&bytes);
                self.site.insert(path, (bytes, hash));
            }
        }
        self.styles = self.digest(|path| path.ends_with(".css"));
        self.rest = self.digest(|path| {
            !path.ends_with(".css") && !path.ends_with(".html") && !NOT_SHOWN.contains(&path)
        });
    }

    fn digest(&self, counts: impl Fn(&str) -> bool) -> String {
        let files = self.site.iter().filter(|(path, _)| counts(path));
        let all: String = files
            .map(|(path, (_, hash))| format!("{path} {hash}\n"))
            .collect();
        hash(all.as_bytes())
    }

    /// A file's bytes and their hash.
    pub fn file(&self, path: &str) -> Option<(&[u8], &str)> {
        let (bytes, hash) = self.site.get(path)?;
        Some((bytes, hash))
    }

    /// Whether there is nothing to show.
    pub fn is_empty(&self) -> bool {
        self.site.is_empty()
    }

    /// What a page shows, by its file.
    pub fn revision(&self, page: Option<&str>) -> PageRevision<'_> {
        PageRevision {
            page: page
                .and_then(|path| self.file(path))
                .map_or("", |(_, hash)| hash),
            styles: &self.styles,
            rest: &self.rest,
            findings: &self.findings_hash,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "index.html";

    fn files(files: &[(&str, &str)]) -> SharedFiles {
        let own =
            |(path, text): &(&str, &str)| (path.to_string(), Arc::new(text.as_bytes().to_vec()));
        files.iter().map(own).collect()
    }

    const SITE: [(&str, &str); 6] = [
        (PAGE, "front"),
        ("other.html", "other"),
        ("a.css", "style"),
        ("a.js", "script"),
        ("a.svg", "picture"),
        ("scripts/search-texts.js", "texts"),
    ];

    fn shown() -> PreviewState {
        let mut shown = PreviewState::new(80);
        shown.update(files(&SITE), "a warning".to_string());
        shown
    }

    /// Which of a page's hashes a new file moves: page, styles, rest, findings.
    fn moved(path: &str) -> [bool; 4] {
        let mut shown = shown();
        let parts = |shown: &PreviewState| {
            let now = shown.revision(Some(PAGE));
            [now.page, now.styles, now.rest, now.findings].map(str::to_string)
        };
        let before = (parts(&shown), shown.revision(Some(PAGE)).token());
        shown.put(files(&[(path, "anew")]));
        assert_eq!(
            shown.file(path),
            Some((&b"anew"[..], hash(b"anew").as_str()))
        );
        let after = (parts(&shown), shown.revision(Some(PAGE)).token());
        assert_eq!(before.0 != after.0, before.1 != after.1, "{path}");
        std::array::from_fn(|at| before.0[at] != after.0[at])
    }

    #[test]
    fn a_page_moves_by_what_it_shows_alone() {
        assert_eq!(moved(PAGE), [true, false, false, false]);
        assert_eq!(moved("a.css"), [false, true, false, false]);
        for path in ["a.js", "a.svg", "new.png"] {
            assert_eq!(moved(path), [false, false, true, false], "{path}");
        }
        for path in ["other.html", "new.html", "scripts/search-texts.js"] {
            assert_eq!(moved(path), [false; 4], "{path}");
        }
    }

    #[test]
    fn files_put_in_one_by_one_come_to_the_same_as_a_new_site() {
        let edit = [(PAGE, "anew"), ("a.css", "anew"), ("new.js", "new")];
        let mut by_one = shown();
        for file in edit {
            by_one.put(files(&[file]));
        }
        assert_eq!(by_one.findings, "a warning");
        assert!(by_one.file("other.html").is_some());
        let mut site = files(&SITE);
        site.extend(files(&edit));
        let mut at_once = PreviewState::new(80);
        at_once.update(site.clone(), "a warning".to_string());
        assert_eq!(by_one.site, at_once.site);
        assert_eq!(by_one.revision(Some(PAGE)), at_once.revision(Some(PAGE)));
        let before = by_one.revision(Some(PAGE)).token();
        by_one.update(site, "a warning".to_string());
        assert_eq!(by_one.revision(Some(PAGE)).token(), before);
    }

    #[test]
    fn a_file_that_a_new_site_lacks_is_gone() {
        let mut shown = shown();
        let before = shown.revision(Some(PAGE)).token();
        shown.update(files(&SITE[..4]), "a warning".to_string());
        assert_eq!(shown.file("a.svg"), None);
        assert_ne!(shown.revision(Some(PAGE)).token(), before);
    }

    #[test]
    fn findings_move_every_page_and_leave_the_site() {
        let mut shown = shown();
        let before = shown.revision(Some(PAGE)).token();
        shown.update(files(&SITE), "an error".to_string());
        assert_ne!(shown.revision(Some(PAGE)).token(), before);
        assert!(shown.file(PAGE).is_some());
    }
}
