//! Scripts and styles as a phone fetches them.

/// A script without its comments and indents.
pub fn small_script(script: &[u8]) -> Vec<u8> {
    std::str::from_utf8(script).map_or_else(
        |_| script.to_vec(),
        |text| minifier::js::minify(text).to_string().into_bytes(),
    )
}

/// Styles without their comments and indents; as they are where they can't be read.
pub fn small_styles(styles: Vec<u8>) -> Vec<u8> {
    let small = std::str::from_utf8(&styles)
        .ok()
        .and_then(|text| minifier::css::minify(text).ok())
        .map(|small| small.to_string().into_bytes());
    small.unwrap_or(styles)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scripts_lose_their_comments_and_nothing_else() {
        let small =
            small_script(b"// note\nconst a = `x // y  ${1 / 2}`; /* more */ const b = /\\s+/;\n");
        let small = String::from_utf8_lossy(&small);
        assert!(
            small.contains("`x // y  ${1 / 2}`") && small.contains("/\\s+/"),
            "{small}"
        );
        assert!(
            !small.contains("note") && !small.contains("more"),
            "{small}"
        );
    }
}
