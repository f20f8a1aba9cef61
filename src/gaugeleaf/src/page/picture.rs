//! What a picture's first bytes say of its size.

/// Width and height in pixels, or in an SVG's own units; none for a file that is
/// no picture we know.
pub fn size(bytes: &[u8]) -> Option<(u32, u32)> {
    let known = png(bytes)
        .or_else(|| gif(bytes))
        .or_else(|| jpeg(bytes))
        .or_else(|| webp(bytes));
    known
        .or_else(|| svg(std::str::from_utf8(bytes).ok()?))
        .filter(|(width, height)| *width > 0 && *height > 0)
}

/// Whether an SVG file could run something when opened by itself.
pub fn runs_script(bytes: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return false;
    };
    let text = text.to_ascii_lowercase();
    let handler = text.split_whitespace().any(|word| {
        word.strip_prefix("on")
            .and_then(|rest| rest.split_once('='))
            .is_some_and(|(name, _)| {
                !name.is_empty() && name.chars().all(|c| c.is_ascii_lowercase())
            })
    });
    text.contains("<svg")
        && (handler
            || ["<script", "javascript:", "<foreignobject"]
                .iter()
                .any(|bad| text.contains(bad)))
}

fn number(bytes: &[u8], at: usize, length: usize, little: bool) -> Option<u32> {
    let piece = bytes.get(at..at + length)?;
    let join = |sum: u32, byte: &u8| sum << 8 | u32::from(*byte);
    Some(if little {
        piece.iter().rev().fold(0, join)
    } else {
        piece.iter().fold(0, join)
    })
}

fn png(bytes: &[u8]) -> Option<(u32, u32)> {
    bytes.starts_with(b"\x89PNG\r\n\x1a\n").then_some(())?;
    Some((number(bytes, 16, 4, false)?, number(bytes, 20, 4, false)?))
}

fn gif(bytes: &[u8]) -> Option<(u32, u32)> {
    bytes.starts_with(b"GIF8").then_some(())?;
    Some((number(bytes, 6, 2, true)?, number(bytes, 8, 2, true)?))
}

fn jpeg(bytes: &[u8]) -> Option<(u32, u32)> {
    bytes.starts_with(b"\xFF\xD8").then_some(())?;
    let mut at = 2;
    loop {
        let marker = number(bytes, at, 2, false)?;
        // the frame headers, all but the tables among their numbers
        if (0xFFC0..=0xFFCF).contains(&marker) && ![0xFFC4, 0xFFC8, 0xFFCC].contains(&marker) {
            return Some((
                number(bytes, at + 7, 2, false)?,
                number(bytes, at + 5, 2, false)?,
            ));
        }
        if marker < 0xFF01 {
            return None;
        }
        at += 2 + number(bytes, at + 2, 2, false)?.max(2) as usize;
    }
}

fn webp(bytes: &[u8]) -> Option<(u32, u32)> {
    (bytes.starts_with(b"RIFF") && bytes.get(8..12)? == b"WEBP").then_some(())?;
    match bytes.get(12..16)? {
        b"VP8X" => Some((
            number(bytes, 24, 3, true)? + 1,
            number(bytes, 27, 3, true)? + 1,
        )),
        b"VP8 " => Some((
            number(bytes, 26, 2, true)? & 0x3FFF,
            number(bytes, 28, 2, true)? & 0x3FFF,
        )),
        b"VP8L" => {
            let bits = number(bytes, 21, 4, true)?;
            Some(((bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1))
        }
        _ => None,
    }
}

fn svg(text: &str) -> Option<(u32, u32)> {
    let tag = text.split_once("<svg")?.1.split('>').next()?;
    let attribute = |name: &str| {
        let rest = tag.split_once(&format!(" {name}="))?.1;
        let quote = rest.chars().next().filter(|c| "\"'".contains(*c))?;
        rest[1..].split(quote).next()
    };
    let pixels = |text: &str| text.trim_end_matches("px").trim().parse::<f64>().ok();
    let boxed: Option<Vec<f64>> = attribute("viewBox").and_then(|text| {
        text.split([' ', ','])
            .filter(|t| !t.is_empty())
            .map(pixels)
            .collect()
    });
    let given = attribute("width")
        .and_then(pixels)
        .zip(attribute("height").and_then(pixels));
    let (width, height) =
        given.or_else(|| Some((*boxed.as_ref()?.get(2)?, *boxed.as_ref()?.get(3)?)))?;
    Some((width.round() as u32, height.round() as u32))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_kind_of_picture_tells_its_size() {
        assert_eq!(
            size(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x01\0\0\0\0\x02"),
            Some((256, 2))
        );
        assert_eq!(size(b"GIF89a\x05\0\x06\0"), Some((5, 6)));
        assert_eq!(
            size(b"\xFF\xD8\xFF\xE0\0\x04ab\xFF\xC0\0\x08\x08\0\x07\0\x09"),
            Some((9, 7))
        );
        assert_eq!(
            size(b"<svg xmlns='x' viewBox='0 0 40 30'/>"),
            Some((40, 30))
        );
        assert_eq!(size(b"<svg width=\"4\" height=\"3\">"), Some((4, 3)));
    }

    #[test]
    fn cut_off_or_foreign_bytes_have_no_size() {
        for bytes in [
            &b""[..],
            b"\x89PNG",
            b"GIF8",
            b"\xFF\xD8\xFF\xE0\xFF",
            b"RIFFxxxxWEBPVP8X",
            b"<svg",
            b"hello",
        ] {
            assert_eq!(size(bytes), None);
        }
    }

    #[test]
    fn a_drawing_with_a_script_or_a_handler_is_told() {
        assert!(runs_script(b"<svg><script>x</script></svg>"));
        assert!(runs_script(b"<svg onload=\"x\"/>"));
        assert!(!runs_script(b"<svg><text>on = one</text></svg>"));
    }
}
