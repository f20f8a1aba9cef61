//! The catalog as the page gets it: already read, checked and parsed, without
//! what only a reader of its files needs.

use super::Catalog;

impl Catalog {
    /// Packs what calculating needs. The form is this version's own: what one
    /// version packed, only the same version unpacks.
    pub fn pack(&self) -> Vec<u8> {
        // Nothing in a catalog can fail to serialize: no foreign types, no maps with odd keys.
        postcard::to_allocvec(self).unwrap_or_default()
    }

    /// Unpacks a catalog; `None` for bytes that aren't one.
    pub fn unpack(bytes: &[u8]) -> Option<Catalog> {
        postcard::from_bytes(bytes).ok()
    }
}
