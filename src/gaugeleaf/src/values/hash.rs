//! Short names for bytes: two that are the same have the same.

use sha2::{Digest, Sha256};

const DIGITS: [char; 16] = [
    '0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'a', 'b', 'c', 'd', 'e', 'f',
];

/// Hash of some bytes, in hexadecimal.
pub fn hash(bytes: &[u8]) -> String {
    let digest = Sha256::digest(bytes);
    let halves = digest.iter().flat_map(|byte| [byte >> 4, byte & 15]);
    halves.map(|half| DIGITS[usize::from(half)]).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_hash_is_what_everybody_calls_sha_256() {
        let empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
        assert_eq!(super::hash(b""), empty);
    }
}
