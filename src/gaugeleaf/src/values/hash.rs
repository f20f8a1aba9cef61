//! Short names for bytes: two that are the same have the same.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use twox_hash::{XxHash3_128, XxHash32};

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

/// A style's or script's hash, by which a page's policy allows it and no other.
pub fn policy_hash(bytes: &[u8]) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(bytes)))
}

/// Tells whether a file is as it was written: quick, and no proof against whoever means to deceive.
pub fn mark(bytes: &[u8]) -> String {
    format!("{:032x}", XxHash3_128::oneshot(bytes))
}

/// The same in eight digits, which a script works out as quickly.
pub fn small_mark(bytes: &[u8]) -> String {
    format!("{:08x}", XxHash32::oneshot(0, bytes))
}

/// Whether these are the bytes of that mark, or of the hash that sites up to 0.2.0 list instead.
pub fn is_as_marked(bytes: &[u8], mark_or_hash: &str) -> bool {
    match mark_or_hash.len() {
        64 => hash(bytes) == mark_or_hash,
        _ => mark(bytes) == mark_or_hash,
    }
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

    #[test]
    fn a_policy_takes_the_hash_in_base_64() {
        // that of nothing, as every text on the policy has it
        let empty = "sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=";
        assert_eq!(super::policy_hash(b""), empty);
    }

    #[test]
    fn a_mark_is_what_everybody_calls_xxh3_128() {
        // As the package `xxhash` of Python's registry tells them (4.1.0, around the authors' own C).
        let long: Vec<u8> = (0..7).flat_map(|_| 0..250).collect();
        assert_eq!(super::mark(&long), "95daa14a679577ff0d6d1073371acaad");
        assert_eq!(super::mark(b""), "99aa06d3014798d86001c324468d497f");
        assert_eq!(super::mark(b"a"), "a96faf705af16834e6c632b61e964e1f");
    }

    #[test]
    fn a_small_mark_is_what_everybody_calls_xxh32() {
        // The authors' own values without a seed, from memory.
        assert_eq!(super::small_mark(b""), "02cc5d05");
        assert_eq!(super::small_mark(b"a"), "550d7456");
        assert_eq!(super::small_mark(b"abc"), "32d153ff");
    }

    #[test]
    fn bytes_are_held_to_a_mark_and_to_the_hash_of_an_older_site() {
        for known in [super::mark(b"one"), super::hash(b"one")] {
            assert!(super::is_as_marked(b"one", &known));
            assert!(!super::is_as_marked(b"two", &known));
        }
        assert!(!super::is_as_marked(b"one", ""));
    }
}
