//! Text in HTML.

/// Text made safe between tags and in attributes.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    let mark = |byte| matches!(byte, b'&' | b'<' | b'>' | b'"');
    while let Some(at) = rest.bytes().position(mark) {
        out.push_str(&rest[..at]);
        out.push_str(match rest.as_bytes()[at] {
            b'&' => "&amp;",
            b'<' => "&lt;",
            b'>' => "&gt;",
            _ => "&quot;",
        });
        rest = &rest[at + 1..];
    }
    out.push_str(rest);
    out
}
