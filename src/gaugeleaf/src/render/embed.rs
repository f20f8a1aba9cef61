//! Bytes that travel in a script, since a page opened as a file may load nothing
//! else: gzipped, then written in base64.

use std::io::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD as BASE64;
use flate2::{Compression, GzBuilder};

/// A script that hands bytes to the page under a name.
pub fn script(name: &str, bytes: &[u8]) -> String {
    // Without a time or a file's name the same bytes give the same script.
    let mut packer = GzBuilder::new().write(Vec::new(), Compression::default());
    let gzipped = packer
        .write_all(bytes)
        .and_then(|()| packer.finish())
        .unwrap_or_default();
    packed(name, &gzipped)
}

/// The same for bytes that are gzipped already.
pub fn packed(name: &str, gzipped: &[u8]) -> String {
    format!(
        "(globalThis.gaugeleafCarried ??= {{}})[\"{name}\"] = \"{}\";\n",
        BASE64.encode(gzipped)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Read;

    #[test]
    fn what_is_carried_unpacks_to_the_same_bytes() {
        let bytes: Vec<u8> = (0..=255).cycle().take(4000).collect();
        let script = script("x", &bytes);
        let letters = script.split('"').nth(3).unwrap_or_default();
        let packed = BASE64.decode(letters).unwrap_or_default();
        let mut unpacked = Vec::new();
        flate2::read::GzDecoder::new(packed.as_slice())
            .read_to_end(&mut unpacked)
            .unwrap_or_default();
        assert_eq!(unpacked, bytes);
    }
}
