//! Numbers in as few bytes as they need, and a reader that trusts none of them.

/// Appends `number`, seven bits a byte, lowest first.
pub(crate) fn put_number(out: &mut Vec<u8>, mut number: u32) {
    while number >= 0x80 {
        out.push((number & 0x7f) as u8 | 0x80);
        number >>= 7;
    }
    out.push(number as u8);
}

/// Appends the length of `block`, then `block`.
pub(crate) fn put_block(out: &mut Vec<u8>, block: &[u8]) {
    put_number(out, block.len() as u32);
    out.extend_from_slice(block);
}

/// Appends `word` without what it shares with the one before it in the order of the alphabet.
pub(crate) fn put_next_word(out: &mut Vec<u8>, before: &str, word: &str) {
    let pairs = before.bytes().zip(word.bytes());
    let shared = pairs.take_while(|(a, b)| a == b).count();
    put_number(out, shared as u32);
    put_block(out, &word.as_bytes()[shared..]);
}

/// Walks over bytes; every step can end in `None`, none in a panic.
#[derive(Clone)]
pub(crate) struct ByteReader<'a> {
    bytes: &'a [u8],
}

impl<'a> ByteReader<'a> {
    pub(crate) fn new(bytes: &'a [u8]) -> Self {
        ByteReader { bytes }
    }

    /// Turns a word into the next one, which `put_next_word` wrote; gives back how many bytes they
    /// share.
    pub(crate) fn next_word(&mut self, word: &mut Vec<u8>, longest: usize) -> Option<usize> {
        let shared = usize::try_from(self.number()?).ok()?;
        let rest = self.block()?;
        let fits = shared.checked_add(rest.len())? <= longest;
        // the first new byte puts it behind the word before
        let in_order = shared <= word.len() && rest.first()? > word.get(shared).unwrap_or(&0);
        if !fits || !in_order {
            return None;
        }
        word.truncate(shared);
        word.extend_from_slice(rest);
        Some(shared)
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.bytes.is_empty()
    }

    /// How many bytes are still to be read.
    pub(crate) fn left(&self) -> usize {
        self.bytes.len()
    }

    #[inline]
    pub(crate) fn number(&mut self) -> Option<u32> {
        // most numbers take one byte
        match self.bytes {
            [byte @ ..0x80, rest @ ..] => {
                self.bytes = rest;
                Some(u32::from(*byte))
            }
            _ => self.long_number(),
        }
    }

    fn long_number(&mut self) -> Option<u32> {
        let mut number = 0u32;
        for shift in [0, 7, 14, 21, 28] {
            let (&byte, rest) = self.bytes.split_first()?;
            self.bytes = rest;
            number |= u32::from(byte & 0x7f).checked_shl(shift)?;
            if byte < 0x80 {
                return Some(number);
            }
        }
        None
    }

    pub(crate) fn take(&mut self, length: usize) -> Option<&'a [u8]> {
        let (taken, rest) = self.bytes.split_at_checked(length)?;
        self.bytes = rest;
        Some(taken)
    }

    pub(crate) fn block(&mut self) -> Option<&'a [u8]> {
        let length = self.number()?;
        self.take(usize::try_from(length).ok()?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_come_back_as_they_were_put() {
        let numbers = [0, 1, 127, 128, 16_383, 16_384, u32::MAX];
        let mut out = Vec::new();
        for number in numbers {
            put_number(&mut out, number);
        }
        let mut reader = ByteReader::new(&out);
        for number in numbers {
            assert_eq!(reader.number(), Some(number));
        }
        assert!(reader.is_empty());
    }

    #[test]
    fn a_block_longer_than_the_bytes_is_refused() {
        let mut out = Vec::new();
        put_number(&mut out, 5);
        out.extend_from_slice(b"four");
        assert_eq!(ByteReader::new(&out).block(), None);
    }

    #[test]
    fn a_number_that_never_ends_is_refused() {
        assert_eq!(ByteReader::new(&[0x80; 9]).number(), None);
    }
}
