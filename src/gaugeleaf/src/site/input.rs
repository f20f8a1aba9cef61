//! Everything that a site is made from.

use std::sync::{Arc, OnceLock};

use crate::handbook::files::HandbookFiles;
use crate::handbook::whole::Handbook;
use crate::page::compose::ComposedPage;
use crate::page::composed::Composed;
use crate::render::context::Site;
use crate::render::edition::Edition;
use crate::render::theme::Theme;
use crate::site::way::Way;
use crate::values::act::MadePage;
use crate::values::graph::Graph;
use crate::values::scope::JobScope;

/// Everything that a site is made from.
pub struct SiteInput<'m> {
    pub files: &'m HandbookFiles,
    pub handbook: &'m Handbook,
    pub graph: &'m Graph,
    pub theme: &'m Theme,
    /// One for each page of the handbook.
    pub composed: &'m [Arc<Composed<ComposedPage>>],
    /// The values that hold in all of the handbook.
    pub own: &'m JobScope,
    /// The site before its lists, and the way through it.
    pub frame: &'m Site,
    pub way: &'m Way,
    pub edition: &'m dyn Edition,
    /// The catalog as pages carry it, once somebody asked.
    pub packed: OnceLock<Vec<u8>>,
    /// What a reader acts on in tables and calculators, once somebody asked.
    pub made: OnceLock<Vec<MadePage>>,
}

impl SiteInput<'_> {
    /// The catalog as pages carry it: what tells one edition's values from another's, too.
    pub fn packed_catalog(&self) -> &[u8] {
        self.packed.get_or_init(|| self.graph.catalog.pack())
    }
}
