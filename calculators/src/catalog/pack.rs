//! The catalog as the page gets it: already read, checked and parsed, without
//! what only a reader of its files needs.

use serde::Deserialize;

use super::Catalog;
use super::unpack::Unpacker;
use crate::names::Names;

/// Bytes of the seal that a packed catalog begins with.
const SEAL: usize = 8;

impl Catalog {
    /// Packs what calculating needs. The form is this version's own: what one
    /// version packed, only the same version unpacks.
    pub fn pack(&self) -> Vec<u8> {
        // Nothing in a catalog can fail to serialize: no foreign types, no maps with odd keys.
        let bytes = postcard::to_allocvec(self).unwrap_or_default();
        let mut packed = seal(&bytes).to_vec();
        packed.extend(bytes);
        packed
    }

    /// Unpacks a catalog; `None` for bytes that aren't one.
    pub fn unpack(bytes: &[u8]) -> Option<Catalog> {
        let bytes = sealed(bytes)?;
        let Ok(catalog) = Catalog::deserialize(&mut Unpacker { bytes });
        Some(catalog)
    }

    /// Packs the drawings of the setup sheet likewise.
    pub fn pack_drawings(&self) -> Vec<u8> {
        let bytes = postcard::to_allocvec(&self.drawings).unwrap_or_default();
        let mut packed = seal(&bytes).to_vec();
        packed.extend(bytes);
        packed
    }

    /// Takes drawings that were packed; false for bytes that aren't these.
    pub fn take_drawings(&mut self, bytes: &[u8]) -> bool {
        let Some(bytes) = sealed(bytes) else {
            return false;
        };
        let Ok(drawings) = Names::deserialize(&mut Unpacker { bytes });
        self.drawings = drawings;
        true
    }
}

fn sealed(bytes: &[u8]) -> Option<&[u8]> {
    let (found, bytes) = bytes.split_at_checked(SEAL)?;
    (found == seal(bytes)).then_some(bytes)
}

/// FNV-1a of these sources and these bytes: neither others nor damaged ones get past it.
fn seal(bytes: &[u8]) -> [u8; SEAL] {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for byte in env!("CATALOG_SOURCES").bytes().chain(bytes.iter().copied()) {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }
    hash.to_le_bytes()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::CATALOG;

    #[test]
    fn what_is_packed_is_unpacked_as_the_packing_crate_reads_it() {
        let packed = CATALOG.pack();
        let ours = Catalog::unpack(&packed).expect("it is sealed");
        let theirs: Catalog = postcard::from_bytes(&packed[SEAL..]).expect("it is postcard's");
        assert_eq!(ours.pack(), theirs.pack());
        assert_eq!(ours.pack(), packed);
    }

    #[test]
    fn damaged_bytes_are_refused_before_they_are_read() {
        let packed = CATALOG.pack();
        assert!(Catalog::unpack(&[]).is_none());
        assert!(Catalog::unpack(&packed[..packed.len() - 1]).is_none());
        for at in (0..packed.len()).step_by(997) {
            let mut damaged = packed.clone();
            damaged[at] ^= 1;
            assert!(Catalog::unpack(&damaged).is_none(), "{at}");
        }
    }
}
