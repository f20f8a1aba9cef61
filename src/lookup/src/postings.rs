//! Which documents hold a group of words, and where in them.

use crate::bytes::{ByteReader, put_block, put_number};

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

/// The postings of a group as they are read back: its three lists, in this order. Each stops
/// at damage.
pub(crate) struct Postings<'a> {
    reader: ByteReader<'a>,
    titles: u32,
    placed: bool,
}

impl<'a> Postings<'a> {
    pub(crate) fn new(block: &'a [u8]) -> Self {
        let mut reader = ByteReader::new(block);
        let head = reader.number().unwrap_or(0);
        Postings {
            reader,
            titles: head / 2,
            placed: head % 2 == 1,
        }
    }

    pub(crate) fn titles(&mut self) -> Rising<'_, 'a> {
        Rising {
            left: std::mem::take(&mut self.titles),
            reader: &mut self.reader,
            at: 0,
        }
    }

    pub(crate) fn places(&mut self) -> Rising<'_, 'a> {
        let placed = std::mem::take(&mut self.placed);
        let left = if placed { self.reader.number() } else { None };
        Rising {
            left: left.unwrap_or(0),
            reader: &mut self.reader,
            at: 0,
        }
    }

    /// The documents, and how often the word stands in the text of each.
    pub(crate) fn texts(self) -> Texts<'a> {
        Texts {
            reader: self.reader,
            at: 0,
        }
    }
}

/// Numbers that rise.
pub(crate) struct Rising<'r, 'a> {
    reader: &'r mut ByteReader<'a>,
    left: u32,
    at: u32,
}

impl Iterator for Rising<'_, '_> {
    type Item = usize;

    #[inline]
    fn next(&mut self) -> Option<usize> {
        self.left = self.left.checked_sub(1)?;
        self.at = self.at.checked_add(self.reader.number()?)?;
        Some(self.at as usize)
    }
}

pub(crate) struct Texts<'a> {
    reader: ByteReader<'a>,
    at: u32,
}

impl Iterator for Texts<'_> {
    type Item = (usize, u32);

    #[inline]
    fn next(&mut self) -> Option<(usize, u32)> {
        let step = self.reader.number()?;
        let often = step % 2 == 1;
        let times = if often { self.reader.number()? } else { 1 };
        self.at = self.at.checked_add(step / 2)?;
        Some((self.at as usize, times))
    }
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
        let block = ByteReader::new(&out).block().unwrap_or(&[]);
        let mut postings = Postings::new(block);
        assert_eq!(postings.titles().collect::<Vec<_>>(), [0, 300]);
        assert_eq!(postings.places().collect::<Vec<_>>(), [2]);
        let texts: Vec<_> = postings.texts().collect();
        assert_eq!(texts, [(0, 1), (5, 9), (70_000, 1)]);
    }
}
