//! Everything that a site is made from.

use crate::handbook::book::Book;
use crate::handbook::files::Handbook;
use crate::page::compose::ComposedPage;
use crate::page::composed::Composed;
use crate::render::edition::Edition;
use crate::render::theme::Theme;
use crate::values::graph::Graph;
use crate::values::scope::JobScope;

/// Everything that a site is made from.
pub struct Materials<'m> {
    pub handbook: &'m Handbook,
    pub book: &'m Book,
    pub graph: &'m Graph,
    pub theme: &'m Theme,
    /// One for each page of the book.
    pub composed: &'m [Composed<ComposedPage>],
    /// The values that hold in all of the handbook.
    pub own: &'m JobScope,
    pub edition: &'m dyn Edition,
}
