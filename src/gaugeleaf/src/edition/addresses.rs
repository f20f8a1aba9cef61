//! A site of files in folders: every page has an address of its own, relative to the others.

use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};

use crate::handbook::addresses::{calculator_url, encode_path, page_url, table_url};
use crate::page::route::{Route, To};
use crate::render::edition::Edition;

/// What stays as it is in an input's value in an address.
const VALUE: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'-')
    .remove(b'_')
    .remove(b'.')
    .remove(b'(')
    .remove(b')');

/// A folder of files.
pub struct FolderEdition;

impl Edition for FolderEdition {
    fn href(&self, to: &Route, from: &str) -> String {
        let url = match &to.to {
            To::Page(path) => page_url(path),
            To::Calculator(name) => calculator_url(name),
            To::Table(name) => table_url(name),
            To::File(path) => encode_path(path.strip_prefix("content/").unwrap_or(path)),
        };
        let mut href = if url == from && !to.anchor.is_empty() {
            String::new()
        } else {
            [self.root(from), &url].concat()
        };
        if !to.anchor.is_empty() {
            href.push('#');
            href.push_str(&to.anchor);
        }
        for (at, (name, text)) in to.given.iter().enumerate() {
            href.push(if at == 0 { '?' } else { '&' });
            href.extend([name, "="]);
            href.extend(utf8_percent_encode(text, VALUE));
        }
        href
    }

    fn root(&self, from: &str) -> &'static str {
        if from.contains('/') { "../" } else { "" }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_route_is_told_from_the_page_that_holds_it() {
        let href = |to: Route, from: &str| FolderEdition.href(&to, from);
        let step = Route::page("content/fit/a.md").at("step-2");
        assert_eq!(href(step.clone(), "fit/a.html"), "#step-2");
        assert_eq!(href(step.clone(), "fit/b.html"), "../fit/a.html#step-2");
        assert_eq!(href(step, "index.html"), "fit/a.html#step-2");
        let file = Route::file("content/fit/a plan.pdf");
        assert_eq!(href(file, "fit/a.html"), "../fit/a%20plan.pdf");
        let given = Route {
            given: vec![("depth".to_string(), "9 1/2 in".to_string())],
            ..Route::calculator("c").at("c")
        };
        assert_eq!(
            href(given, "index.html"),
            "calculators/c.html#c?depth=9%201%2F2%20in"
        );
    }
}
