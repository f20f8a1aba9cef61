//! The phases and pages of a handbook.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::addresses::page_url;
use crate::handbook::kind::BlockShapes;
use crate::handbook::outline::{Outline, outline};
use crate::markdown::tree::{self, Tree};

/// One stage of the work.
#[derive(Debug, Clone, Default)]
pub struct Phase {
    pub slug: String,
    pub title: String,
    pub purpose: String,
    pub order: i64,
}

/// One Markdown file, parsed, and what its head says.
#[derive(Debug, Clone)]
pub struct Page {
    /// Its path inside the handbook.
    pub path: String,
    /// Its address in the site.
    pub url: String,
    /// The index of its phase.
    pub phase: Option<usize>,
    pub tree: Tree,
    pub outline: Outline,
    /// What is wrong with its head.
    pub findings: Vec<Finding>,
}

impl Page {
    /// Parses a page's text.
    pub fn read(path: &str, text: &str, phase: Option<usize>, shapes: &BlockShapes) -> Page {
        let mut findings = Vec::from_iter(unseen(path, text));
        let tree = tree::of_page(text);
        Page {
            path: path.to_string(),
            url: page_url(path),
            phase,
            outline: outline(path, text, &tree, shapes, &mut findings),
            tree,
            findings,
        }
    }

    pub fn is_front(&self) -> bool {
        self.url == "index.html"
    }
}

/// The first character that nobody sees, and how many more there are.
fn unseen(path: &str, text: &str) -> Option<Finding> {
    // few texts have a byte that may be part of one; many are looked at in one step
    let may_be = |byte: u8| {
        let ends = (byte == b'\t') | (byte == b'\n') | (byte == b'\r');
        ((byte < b' ') & !ends) | (byte == 0x7F) | (byte == 0xC2)
    };
    if !text.bytes().fold(false, |found, byte| found | may_be(byte)) {
        return None;
    }
    let control = |(_, c): &(usize, char)| c.is_control() && !matches!(c, '\t' | '\n' | '\r');
    let mut found = text.char_indices().filter(control);
    let (at, first) = found.next()?;
    let more = match found.count() {
        0 => String::new(),
        more => format!(", and {more} more follow"),
    };
    let message = format!(
        "U+{:04X} stands here, a control character that nobody sees{more}",
        u32::from(first)
    );
    let range = at..at + first.len_utf8();
    let finding = Finding::error(Code::ControlCharacter, path, range, message);
    Some(finding.help("delete it"))
}
