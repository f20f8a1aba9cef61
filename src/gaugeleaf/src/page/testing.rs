//! A desk for the stages' own tests: one page, `content/fit/page.md`, beside a front
//! page with one heading, "Set it".

use std::collections::{BTreeMap, BTreeSet};

use gaugeleaf_calc::finding::Finding;

use crate::blocks::registry::{KINDS, shapes};
use crate::handbook::book::Book;
use crate::handbook::outline::outline;
use crate::handbook::page::Page;
use crate::markdown::event::{Piece, to_html};
use crate::markdown::parse::parser;
use crate::page::desk::Desk;
use crate::page::fences;
use crate::render::theme::Theme;
use crate::values::graph::Graph;
use crate::values::scope::JobScope;

/// The smallest picture there is, near enough: a GIF's head.
pub const PIXEL: &[u8] = b"GIF89a\x01\0\x01\0";

/// Runs a stage that needs no desk.
pub fn rendered<'a>(text: &'a str, stage: impl FnOnce(Vec<Piece<'a>>) -> Vec<Piece<'a>>) -> String {
    to_html(stage(parser(text).into_offset_iter().collect()))
}

/// Runs a stage on a handbook without pictures.
pub fn with_desk(
    text: &str,
    stage: impl for<'a> FnOnce(Vec<Piece<'a>>, &mut Desk) -> Vec<Piece<'a>>,
) -> (String, Vec<Finding>) {
    with_pictures(text, &[], stage)
}

/// Runs a stage on a handbook that holds these pictures.
pub fn with_pictures(
    text: &str,
    pictures: &[(&str, &[u8])],
    stage: impl for<'a> FnOnce(Vec<Piece<'a>>, &mut Desk) -> Vec<Piece<'a>>,
) -> (String, Vec<Finding>) {
    let graph = Graph::built_in();
    on_desk(text, pictures, &graph, |pieces, desk| {
        let html = to_html(stage(pieces, desk));
        (html, std::mem::take(&mut desk.findings))
    })
}

/// Hands a stage its pieces and its desk.
pub fn on_desk<T>(
    text: &str,
    pictures: &[(&str, &[u8])],
    graph: &Graph,
    stage: impl FnOnce(Vec<Piece>, &mut Desk) -> T,
) -> T {
    let page = |path: &str, url: &str, text: &str| Page {
        path: path.to_string(),
        url: url.to_string(),
        phase: None,
        outline: outline(path, text, &shapes(), &mut Vec::new()),
    };
    let book = Book {
        pages: vec![
            page("content/index.md", "index.html", "# Front\n\n## Set it\n"),
            page("content/fit/page.md", "fit/page.html", text),
        ],
        ..Book::default()
    };
    let pictures: BTreeMap<String, Vec<u8>> = pictures
        .iter()
        .map(|(path, bytes)| (path.to_string(), bytes.to_vec()))
        .collect();
    let theme = Theme::default();
    let texts = BTreeMap::from([("content/fit/page.md".to_string(), text.to_string())]);
    let mut desk = Desk {
        file: "content/fit/page.md",
        text,
        page: &book.pages[1],
        book: &book,
        texts: &texts,
        pictures: &pictures,
        graph,
        views: &theme,
        own: &JobScope::default(),
        scope: JobScope::default(),
        sheets: Vec::new(),
        findings: Vec::new(),
        uses: Vec::new(),
        shown: BTreeSet::new(),
        ids: book.pages[1].outline.ids.clone(),
        words_text: "",
        terms: Vec::new(),
        kinds: BTreeSet::new(),
        sign_off: None,
        away: false,
    };
    stage(parser(text).into_offset_iter().collect(), &mut desk)
}

/// The stage that replaces blocks, with every kind.
pub fn blocks<'a>(pieces: Vec<Piece<'a>>, desk: &mut Desk) -> Vec<Piece<'a>> {
    fences::blocks(pieces, &KINDS, desk)
}
