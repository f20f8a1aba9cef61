//! Which documents hold a group of words, and where in them.

use crate::bytes::{Reader, put_block, put_number};

/// What the builder gathers for one group; every list is in rising order.
#[derive(Default)]
pub(crate) struct Gathered {
    /// Documents with the word in the title.
    pub(crate) titles: Vec<u32>,
    /// Places (not documents: many documents share one) with the word.
    pub(crate) places: Vec<u32>,
    /// Documents with the word in the text, and how often.
    pub(crate) texts: Vec<(u32, u32)>,
}

/// Appends the postings of one group.
pub(crate) fn put_postings(out: &mut Vec<u8>, gathered: &Gathered) {
    let mut block = Vec::new();
    let placed = u32::from(!gathered.places.is_empty());
    put_number(&mut block, gathered.titles.len() as u32 * 2 + placed);
    let mut before = 0;
    for &document in &gathered.titles {
        put_number(&mut block, document - before);
        before = document;
    }
    if placed == 1 {
        put_number(&mut block, gathered.places.len() as u32);
        let mut before = 0;
        for &place in &gathered.places {
            put_number(&mut block, place - before);
            before = place;
        }
    }
    let mut before = 0;
    for &(document, times) in &gathered.texts {
        // most words stand once in a text: the count costs a bit, not a byte
        put_number(&mut block, (document - before) * 2 + u32::from(times > 1));
        if times > 1 {
            put_number(&mut block, times);
        }
        before = document;
    }
    put_block(out, &block);
}

/// One posting as read back.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Posting {
    Title(usize),
    Place(usize),
    Text(usize, u32),
}

/// Hands every posting of a group's block to `each`; stops at damage.
pub(crate) fn read_postings(block: &[u8], mut each: impl FnMut(Posting)) {
    let mut reader = Reader::new(block);
    let _ = read_lists(&mut reader, &mut each);
}

fn read_lists(reader: &mut Reader<'_>, each: &mut dyn FnMut(Posting)) -> Option<()> {
    let head = reader.number()?;
    let mut at = 0u32;
    for _ in 0..head / 2 {
        at = at.checked_add(reader.number()?)?;
        each(Posting::Title(at as usize));
    }
    if head % 2 == 1 {
        at = 0;
        for _ in 0..reader.number()? {
            at = at.checked_add(reader.number()?)?;
            each(Posting::Place(at as usize));
        }
    }
    at = 0;
    while !reader.is_empty() {
        let step = reader.number()?;
        let times = if step % 2 == 1 { reader.number()? } else { 1 };
        at = at.checked_add(step / 2)?;
        each(Posting::Text(at as usize, times));
    }
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn postings_come_back_as_gathered() {
        let mut out = Vec::new();
        put_postings(
            &mut out,
            &Gathered {
                titles: vec![0, 300],
                places: vec![2],
                texts: vec![(0, 1), (5, 9), (70_000, 1)],
            },
        );
        let block = Reader::new(&out).block().unwrap_or(&[]);
        let mut found = Vec::new();
        read_postings(block, |posting| found.push(posting));
        assert_eq!(
            found,
            [
                Posting::Title(0),
                Posting::Title(300),
                Posting::Place(2),
                Posting::Text(0, 1),
                Posting::Text(5, 9),
                Posting::Text(70_000, 1),
            ]
        );
    }
}
