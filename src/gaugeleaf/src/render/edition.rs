//! What tells one form of the published handbook from another, as its pages see it.

use crate::page::route::Route;

/// One form of the published handbook. `from` is the page that is being printed.
pub trait Edition: Sync {
    /// Where a link leads.
    fn href(&self, to: &Route, from: &str) -> String;

    /// What leads from a page to the root of what is published.
    fn root(&self, from: &str) -> &'static str;

    /// A script that every page runs besides its own.
    fn script(&self) -> Option<&'static str> {
        None
    }
}
