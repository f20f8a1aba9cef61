//! Short names for bytes: two that are the same have the same.

use sha2::{Digest, Sha256};

const DIGITS: [char; 16] = [
    '0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'a', 'b', 'c', 'd', 'e', 'f',
];

/// Hash of some bytes, in hexadecimal.
pub fn hash(bytes: &[u8]) -> String {
    digits(bytes, usize::MAX)
}

/// The first eight digits of it.
pub fn short_hash(bytes: &[u8]) -> String {
    digits(bytes, 4)
}

/// The digits of so many of its bytes.
fn digits(bytes: &[u8], most: usize) -> String {
    let digest = Sha256::digest(bytes);
    let mut digits = String::with_capacity(2 * digest.len().min(most));
    for byte in digest.iter().take(most) {
        digits.push(DIGITS[usize::from(byte >> 4)]);
        digits.push(DIGITS[usize::from(byte & 15)]);
    }
    digits
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_hash_is_what_everybody_calls_sha_256() {
        let empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
        assert_eq!(super::hash(b""), empty);
        assert_eq!(super::short_hash(b""), empty[..8]);
    }
}
