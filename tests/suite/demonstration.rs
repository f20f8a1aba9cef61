//! The demonstration handbook's catalog: its kit, its table of hoses and its job's values.

use std::sync::LazyLock;

use gaugeleaf::handbook::files::read;
use gaugeleaf::session::asked;
use gaugeleaf_calc::Catalog;

/// Whose values hold on a page without a job in hand: what the engine is told first.
pub const PAGE: &str = r#"{"do":"job","whose":"page","given":{}}"#;

static CATALOG: LazyLock<Catalog> = LazyLock::new(|| {
    let (files, _) = read(crate::root());
    let (graph, _, findings) = asked(&files);
    assert_eq!(findings, []);
    graph.catalog
});

pub fn catalog() -> Catalog {
    CATALOG.clone()
}
