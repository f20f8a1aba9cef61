//! What questions of every kind say alike.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};
use serde::Serialize;

use crate::handbook::page::Page;
use crate::page::context::Context;
use crate::page::node::Href;
use crate::page::route::Route;

/// A part of the handbook, as a link.
#[derive(Debug, Clone, Serialize)]
pub struct ReadMore {
    pub title: String,
    pub url: Href,
}

impl ReadMore {
    /// A page by its title.
    pub fn page(page: &Page) -> ReadMore {
        ReadMore {
            title: page.outline.title.clone(),
            url: Route::page(&page.path).into(),
        }
    }
}

/// A setting that isn't there.
pub fn missing(key: &str, message: &str, span: &Range<usize>, context: &Context) -> Finding {
    context
        .error(Code::MissingSetting, span.clone(), message)
        .help(format!("add {key} = \"…\""))
}

/// A number and its unit stay on one line.
pub fn spaced(text: &str) -> String {
    text.replace(' ', "\u{A0}")
}
