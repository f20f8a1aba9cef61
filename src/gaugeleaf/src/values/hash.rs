//! Short names for bytes: two that are the same have the same.

use sha2::{Digest, Sha256};

/// Hash of some bytes, in hexadecimal.
pub fn hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
