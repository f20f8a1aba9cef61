//! Words put together.

/// Like the standard library's `join`, which weighs ten times this in the browser's engine.
pub(crate) fn joined<T: AsRef<str>>(words: &[T], between: &str) -> String {
    let mut all = String::new();
    for (at, word) in words.iter().enumerate() {
        if at > 0 {
            all.push_str(between);
        }
        all.push_str(word.as_ref());
    }
    all
}
