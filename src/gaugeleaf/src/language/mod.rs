//! What templates, scripts and the generator say on a page, in words: the texts of the language files,
//! which the build script takes apart.

/// Words, then a place and words in turn.
pub type TextParts = &'static [&'static str];

/// What templates say, by ids in the order of the alphabet.
pub static SITE: &[(&str, TextParts)] = include!(concat!(env!("OUT_DIR"), "/site.rs"));

/// What scripts show, likewise.
static SCRIPTS: &[(&str, TextParts)] = include!(concat!(env!("OUT_DIR"), "/scripts.rs"));

/// The text that a script shows by this id.
pub fn script_text(id: &str) -> Option<TextParts> {
    let found = SCRIPTS.binary_search_by_key(&id, |(id, _)| id);
    found.ok().map(|at| SCRIPTS[at].1)
}

/// What the generator says itself: one function a text, with its places as arguments, so that a
/// text without words doesn't compile, nor does one that nothing says.
#[deny(dead_code)]
pub(crate) mod tell {
    include!(concat!(env!("OUT_DIR"), "/tell.rs"));
}
