//! What a handbook brings to the catalog: its kits, and the job whose values its pages show.

use gaugeleaf_calc::Job;
use gaugeleaf_calc::catalog::{Own, Rated};
use gaugeleaf_calc::day;
use gaugeleaf_calc::kit::KitRating;
use gaugeleaf_calc::message::Language;

use crate::handbook::page::Page;
use crate::handbook::whole::Handbook;
use crate::values::graph::Graph;

/// Kits and job, as the engine takes them.
pub fn own(handbook: &Handbook, graph: &Graph) -> Own {
    let language = &graph.catalog.language;
    let kits = graph.kits.iter().map(|(name, kit)| {
        let ratings = kit.ratings.iter();
        let ratings = ratings.map(|(name, rating)| (name.clone(), rated(rating, language)));
        (name.clone(), ratings.collect())
    });
    let only = graph.kits.keys().next().filter(|_| graph.kits.len() == 1);
    let named = handbook.kit.as_ref().map(|kit| &kit.value);
    let of_page = page_of_job(handbook).map(|page| &page.outline.settings.given);
    // what the job's own page gives stands over what handbook.toml does
    let given = handbook.given.iter().chain(of_page.into_iter().flatten());
    Own {
        kits: kits.collect(),
        kit: named.or(only).cloned().unwrap_or_default(),
        job: handbook.job.clone(),
        // what can't be read is told where it stands, and is as good as not given
        given: given
            .map(|one| (one.name.value.clone(), one.text.value.clone()))
            .filter(|pair| {
                let one = Job::from([pair.clone()]);
                matches!(graph.quantity(&pair.0, &one), Some(Ok(_)))
            })
            .collect(),
        demonstration: handbook.demonstration,
    }
}

/// The page that prepares the job whose values the handbook shows.
fn page_of_job(handbook: &Handbook) -> Option<&Page> {
    handbook.pages.iter().find(|page| {
        let job = page.outline.settings.job.as_ref();
        job.is_some_and(|job| job.value == handbook.job)
    })
}

fn rated(rating: &KitRating, language: &Language) -> Rated {
    let mut from = rating.source.clone();
    if !rating.read.is_empty() {
        from.push_str(&format!(
            ", read {}",
            language.say(&day::words(&rating.read))
        ));
    }
    if !rating.by.is_empty() {
        from.push_str(&format!(" by {}", rating.by));
    }
    Rated {
        text: rating.text.value.clone(),
        from,
    }
}
