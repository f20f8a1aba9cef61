//! Events with the places in the file that they came from, and what is asked of runs of them.

use std::ops::Range;

use pulldown_cmark::{Event, TagEnd};

/// An event and the place in the file that it came from.
pub type Piece<'a> = (Event<'a>, Range<usize>);

/// A piece of finished HTML.
pub fn html<'a>(text: impl Into<String>, range: Range<usize>) -> Piece<'a> {
    (Event::Html(text.into().into()), range)
}

/// Everything up to an end, which is taken too but not returned.
pub fn take_until<'a>(
    pieces: &mut impl Iterator<Item = Piece<'a>>,
    end: &TagEnd,
) -> Vec<Piece<'a>> {
    let mut depth = 0;
    let mut taken = Vec::new();
    for (event, range) in pieces {
        match &event {
            Event::Start(tag) if tag.to_end() == *end => depth += 1,
            Event::End(tag) if tag == end && depth == 0 => break,
            Event::End(tag) if tag == end => depth -= 1,
            _ => {}
        }
        taken.push((event, range));
    }
    taken
}

/// The words up to an end, without marks.
pub fn plain(pieces: &[Piece], end: &TagEnd) -> String {
    let inner = pieces
        .iter()
        .take_while(|(event, _)| !matches!(event, Event::End(tag) if tag == end));
    words(inner.map(|(event, _)| event))
}

/// The words in a run of events.
pub fn words<'e, 'a: 'e>(events: impl Iterator<Item = &'e Event<'a>>) -> String {
    let mut words = String::new();
    for event in events {
        match event {
            Event::Text(text) | Event::Code(text) => words.push_str(text),
            Event::SoftBreak | Event::HardBreak => words.push(' '),
            _ => {}
        }
    }
    words
}

/// Finished HTML.
pub fn to_html(pieces: Vec<Piece>) -> String {
    let mut out = String::new();
    pulldown_cmark::html::push_html(&mut out, pieces.into_iter().map(|(event, _)| event));
    out
}
