//! What a handbook brings to the catalog: its kits, and the job whose values its pages show.

use gaugeleaf_calc::Names;
use gaugeleaf_calc::catalog::{Own, Rated};
use gaugeleaf_calc::named::Role;

use crate::handbook::whole::Handbook;
use crate::values::graph::Graph;

/// Kits and job, as the engine takes them.
pub fn own(handbook: &Handbook, graph: &Graph) -> Own {
    let named = graph.catalog.named.values();
    let ratings = named.filter(|one| one.role == Role::Rating).map(|one| {
        let rated = Rated { text: one.old.clone(), from: "plate".into() };
        (one.field.name.clone(), rated)
    });
    let job = &handbook.job;
    let prepared = handbook.pages.iter().filter(|page| {
        let settings = &page.outline.settings;
        settings.job.as_ref().is_some_and(|one| one.value == *job)
    });
    let of_page = prepared.flat_map(|page| &page.outline.settings.given);
    Own {
        kits: Names::from([(String::new(), ratings.collect())]),
        kit: String::new(),
        job: job.clone(),
        given: handbook
            .given
            .iter()
            .chain(of_page)
            .map(|one| (one.name.value.clone(), one.text.value.clone()))
            .collect(),
        demonstration: true,
    }
}
