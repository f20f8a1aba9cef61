//! Where the terms of the trade lead to.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::addresses::with_folder;
use crate::handbook::page::Page;
use crate::handbook::places::WORDS_FILE;
use crate::handbook::words::GlossaryTerm;

/// Checks that every `see` leads to a page and a place on it.
pub fn check_targets(terms: &[GlossaryTerm], pages: &[Page], findings: &mut Vec<Finding>) {
    for term in terms {
        let Some(see) = &term.see else { continue };
        let at = |path: &str| pages.iter().find(|page| page.path == path);
        if target(&see.value, at).is_none() {
            let message = format!("`{}` leads to no page or no place on it", see.value);
            findings.push(
                Finding::error(Code::MissingPage, WORDS_FILE, see.span.clone(), message)
                    .follows(with_folder(&format!("content/{}", see.value)))
                    .help("write a page's path from content/ on, such as fit/page.md#heading"),
            );
        }
    }
}

/// The page that a `see` names, and the place on it.
pub fn target<'p, 's>(
    see: &'s str,
    at: impl Fn(&str) -> Option<&'p Page>,
) -> Option<(&'p Page, &'s str)> {
    let (path, place) = see.split_once('#').unwrap_or((see, ""));
    let page = at(&format!("content/{path}"))?;
    (place.is_empty() || page.outline.has_address(place)).then_some((page, place))
}
