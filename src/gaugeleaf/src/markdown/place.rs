//! Where parts of a block or a link stand in its file.

use std::ops::Range;

use gaugeleaf_calc::finding::settings::Placed;

/// The way from a text among a file's settings back to its place there: the text is looked up once,
/// for all ranges inside it.
pub fn way_back(said: &Placed<String>, file: &str) -> impl Fn(Range<usize>) -> Range<usize> {
    let written = file.get(said.span.clone()).unwrap_or("");
    let whole = said.inner(written, &(0..said.value.len()));
    // what is quoted with escapes is longer
    let literal = whole.len() == said.value.len();
    move |range| match literal {
        true => whole.start + range.start..whole.start + range.end,
        false => whole.clone(),
    }
}

/// The address of a link or a picture as it stands in the file, so that a part of it is found by
/// its place and not by its letters.
#[derive(Debug, Clone)]
pub struct Address {
    /// Where the address starts; none where it stands elsewhere, or not letter by letter.
    start: Option<usize>,
    length: usize,
    whole: Range<usize>,
}

impl Address {
    /// The address of the link or picture that stands at a range.
    pub fn of(text: &str, range: Range<usize>, address: &str) -> Address {
        let whole = text.get(range.clone()).unwrap_or("");
        let opens = whole.rmatch_indices("](").map(|(at, open)| at + open.len());
        let inline = opens
            .map(|at| {
                let rest = whole[at..].trim_start();
                let rest = rest.strip_prefix('<').unwrap_or(rest);
                whole.len() - rest.len()
            })
            .find(|at| whole[*at..].starts_with(address));
        let alone = whole
            .starts_with('<')
            .then(|| whole.find(address))
            .flatten();
        Address {
            start: inline.or(alone).map(|at| range.start + at),
            length: address.len(),
            whole: range,
        }
    }

    /// Where the address stands; the whole link where it lies elsewhere.
    pub fn span(&self) -> Range<usize> {
        self.part(0..self.length)
    }

    /// The rest of the address, from a place in it on.
    pub fn after(&self, at: usize) -> Range<usize> {
        self.part(at..self.length)
    }

    /// Where a part of the address stands; the whole address where nothing is written there, and
    /// the whole link where that is empty too.
    pub fn part(&self, at: Range<usize>) -> Range<usize> {
        let at = if at.is_empty() { 0..self.length } else { at };
        match self.start {
            Some(start) if !at.is_empty() => start + at.start..start + at.end,
            _ => self.whole.clone(),
        }
    }
}

/// What the address of every value link begins with.
pub const SCHEME: &str = "value:";

/// What the address of every link to a step of its own page begins with.
pub const STEP_SCHEME: &str = "step:";

/// The words of a fence's opening line with their places.
pub fn fence_words(text: &str, range: Range<usize>) -> Vec<(String, Range<usize>)> {
    let line = text
        .get(range.clone())
        .and_then(|block| block.lines().next())
        .unwrap_or("");
    let info = line.trim_start_matches(['`', '~']);
    let mut at = range.start + line.len() - info.len();
    let mut words = Vec::new();
    for piece in info.split_inclusive(char::is_whitespace) {
        let word = piece.trim_end();
        if !word.is_empty() {
            words.push((word.to_string(), at..at + word.len()));
        }
        at += piece.len();
    }
    words
}

/// Where the first word of a fence's opening line stands: the kind of block, or the language.
pub fn fence_kind(text: &str, range: Range<usize>) -> Range<usize> {
    let first = fence_words(text, range.clone()).into_iter().next();
    first.map_or(range, |(_, at)| at)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str, address: &str, part: Range<usize>) -> String {
        let range = 0..text.len();
        text[Address::of(text, range, address).part(part)].to_string()
    }

    #[test]
    fn a_part_is_found_by_its_place_though_the_same_letters_stand_elsewhere() {
        let text = "[length](value:length.length)";
        let place = Address::of(text, 0..text.len(), "value:length.length");
        assert_eq!(place.part(6..12), 15..21);
        assert_eq!(place.part(13..19), 22..28);
        assert_eq!(at("[a](<b c> \"b c\")", "b c", 0..1), "b");
        assert_eq!(at("![x](  y.png 'y.png')", "y.png", 0..5), "y.png");
    }

    #[test]
    fn a_part_where_nothing_is_written_is_the_whole_address() {
        assert_eq!(at("[a](value:)", "value:", 6..6), "value:");
        assert_eq!(at("[a]()", "", 0..0), "[a]()");
    }

    #[test]
    fn an_address_that_stands_elsewhere_is_the_whole_link() {
        assert_eq!(at("[a][ref]", "b.md", 0..4), "[a][ref]");
        assert_eq!(at("[a](b\\_c.md)", "b_c.md", 0..6), "[a](b\\_c.md)");
        assert_eq!(
            at("<https://a.example>", "https://a.example", 0..5),
            "https"
        );
    }

    #[test]
    fn the_words_of_a_fence_are_told_apart_by_their_places() {
        let text = "- a\n  ~~~chart chart  x\n  ~~~\n";
        let words = fence_words(text, 6..text.len());
        let places: Vec<&str> = words.iter().map(|(_, at)| &text[at.clone()]).collect();
        assert_eq!(places, ["chart", "chart", "x"]);
        assert_eq!((words[0].1.start, words[1].1.start), (9, 15));
    }
}
