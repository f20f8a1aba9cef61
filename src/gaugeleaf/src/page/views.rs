//! Prints what a page's parts show. The page knows that there are templates, and no more of them.

use erased_serde::Serialize;
use gaugeleaf_calc::finding::Finding;

/// Whoever composes pages is handed one.
pub trait Views: Sync {
    /// A part of a page through its template, which is given one value under one name.
    ///
    /// # Errors
    /// What is wrong with the template.
    fn part(
        &self,
        template: &str,
        name: &'static str,
        value: &dyn Serialize,
        root: &str,
    ) -> Result<String, Finding>;

    /// The drawing of what a measurement measures: its path in a handbook, and its text.
    fn picture(&self, name: &str) -> Option<(String, &str)>;
}
