//! Short names for texts, for what a phone remembers of them.

use std::collections::BTreeMap;

use crate::values::hash::short_hash;

/// Short names for texts: the same for the same text, and apart where it occurs again.
#[derive(Debug, Default)]
pub struct ContentHashes(BTreeMap<String, usize>);

impl ContentHashes {
    pub fn give(&mut self, text: &str) -> String {
        let key = short_hash(text.as_bytes());
        let times = self.0.entry(key.clone()).or_default();
        *times += 1;
        if *times == 1 {
            key
        } else {
            format!("{key}-{times}")
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::page::hashes::ContentHashes;

    #[test]
    fn a_text_that_occurs_again_gets_a_key_of_its_own() {
        let mut hashes = ContentHashes::default();
        let (first, other, again) = (hashes.give("a"), hashes.give("b"), hashes.give("a"));
        assert!(first != other && again == format!("{first}-2"));
    }
}
