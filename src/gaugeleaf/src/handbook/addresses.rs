//! Addresses of what the generator makes, and how a path becomes one.

use percent_encoding::{AsciiSet, CONTROLS, utf8_percent_encode};

/// What an address's path must not hold as it is.
const PATH: &AsciiSet = &CONTROLS
    .add(b' ')
    .add(b'"')
    .add(b'#')
    .add(b'%')
    .add(b'<')
    .add(b'>')
    .add(b'?')
    .add(b'\\')
    .add(b'`');

/// A path as an address.
pub fn encode_path(path: &str) -> String {
    utf8_percent_encode(path, PATH).to_string()
}

/// The address of a written page, by its path in the handbook.
pub fn page_url(path: &str) -> String {
    let inside = path.strip_prefix("content/").unwrap_or(path);
    format!("{}.html", inside.strip_suffix(".md").unwrap_or(inside))
}

/// A row's address on its table's page.
pub fn row_id(index: usize) -> String {
    format!("row-{}", index + 1)
}

/// The address of a table's page.
pub fn table_url(name: &str) -> String {
    format!("tables/{name}.html")
}

/// The address of a calculator's own page.
pub fn calculator_url(name: &str) -> String {
    format!("calculators/{name}.html")
}

/// A file's path without a place in it, and its folder's: what keeps a page from being there may
/// be a fault of either.
pub fn with_folder(path: &str) -> Vec<String> {
    let path = path.split('#').next().unwrap_or(path);
    let folder = path.rsplit_once('/').map(|(folder, _)| folder);
    std::iter::once(path)
        .chain(folder)
        .map(str::to_string)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_with_spaces_becomes_an_address() {
        assert_eq!(encode_path("fit/a b#1.png"), "fit/a%20b%231.png");
    }
}
