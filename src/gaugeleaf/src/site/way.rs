//! The way through a handbook: what comes before and after each page, and which pages of its phase
//! stand near it. Worked out once for all pages.

use rustc_hash::FxHashMap;

use crate::handbook::page::Page;
use crate::handbook::whole::Handbook;
use crate::render::context::{NavLink, NearPage, PhaseOf, Site};

/// A phase of no more pages is shown whole on each of them.
const WHOLE: usize = 24;
/// How many pages are shown on either side in a longer one.
const NEAR: usize = 6;

pub struct Way {
    /// The front page, then each phase and its pages.
    order: Vec<NavLink>,
    by_url: FxHashMap<String, usize>,
    /// The pages of each phase, and where each page of the handbook stands in its own.
    phases: Vec<(PhaseOf, Vec<NearPage>)>,
    places: FxHashMap<String, usize>,
}

impl Way {
    /// `frame` is the site before its lists.
    pub fn new(frame: &Site, handbook: &Handbook) -> Way {
        let link = |title: &str, url: &str| NavLink {
            title: title.to_string(),
            url: url.to_string(),
        };
        let mut order = vec![link(&frame.title, "index.html")];
        let mut phases: Vec<(PhaseOf, Vec<NearPage>)> = Vec::new();
        let mut places = FxHashMap::default();
        for phase in &frame.phases {
            let of = PhaseOf {
                slug: phase.slug.clone(),
                title: phase.title.clone(),
                url: phase.url.clone(),
                number: phase.number,
                of: 0,
            };
            phases.push((of, Vec::new()));
        }
        for page in handbook.pages.iter() {
            let Some((phase, near)) = page.phase.and_then(|phase| phases.get_mut(phase)) else {
                continue;
            };
            places.insert(page.path.clone(), near.len());
            near.push(NearPage {
                number: near.len() + 1,
                title: page.outline.title.clone(),
                url: page.url.clone(),
            });
            phase.of = near.len();
        }
        for (phase, pages) in &phases {
            order.push(link(&phase.title, &phase.url));
            order.extend(pages.iter().map(|page| link(&page.title, &page.url)));
        }
        // the first of two pages with one address, which is told as a fault
        let mut by_url = FxHashMap::default();
        for (at, one) in order.iter().enumerate() {
            by_url.entry(one.url.clone()).or_insert(at);
        }
        Way {
            order,
            by_url,
            phases,
            places,
        }
    }

    /// What comes before and after an address.
    pub fn neighbours(&self, url: &str) -> (Option<NavLink>, Option<NavLink>) {
        let Some(at) = self.by_url.get(url).copied() else {
            return (None, None);
        };
        let before = at.checked_sub(1).and_then(|before| self.order.get(before));
        (before.cloned(), self.order.get(at + 1).cloned())
    }

    pub fn phase(&self, phase: usize) -> Option<&PhaseOf> {
        self.phases.get(phase).map(|(of, _)| of)
    }

    /// Where a page stands in its phase, from 0.
    pub fn place(&self, page: &Page) -> Option<usize> {
        self.places.get(&page.path).copied()
    }

    /// The pages of a phase that stand near one of them.
    pub fn near(&self, phase: usize, place: usize) -> Vec<NearPage> {
        let phase = self.phases.get(phase);
        let pages = phase.map_or(&[][..], |(_, pages)| pages.as_slice());
        if pages.len() <= WHOLE {
            return pages.to_vec();
        }
        let from = place.saturating_sub(NEAR).min(pages.len());
        let to = (place + NEAR + 1).min(pages.len());
        pages[from..to].to_vec()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn way(pages: usize) -> Way {
        let link = |at: usize| NavLink {
            title: at.to_string(),
            url: at.to_string(),
        };
        let near = |at: usize| NearPage {
            number: at + 1,
            title: at.to_string(),
            url: at.to_string(),
        };
        Way {
            order: (0..pages).map(link).collect(),
            by_url: (0..pages).map(|at| (at.to_string(), at)).collect(),
            phases: vec![(PhaseOf::default(), (0..pages).map(near).collect())],
            places: FxHashMap::default(),
        }
    }

    fn urls(near: &[NearPage]) -> Vec<&str> {
        near.iter().map(|one| one.url.as_str()).collect()
    }

    #[test]
    fn the_first_page_has_nothing_before_it_and_the_last_nothing_after() {
        let way = way(2);
        let of = |url: &str| {
            let (before, after) = way.neighbours(url);
            (before.map(|one| one.url), after.map(|one| one.url))
        };
        assert_eq!(of("0"), (None, Some("1".to_string())));
        assert_eq!(of("1"), (Some("0".to_string()), None));
        assert_eq!(of("elsewhere"), (None, None));
    }

    #[test]
    fn a_long_phase_shows_what_stands_near_and_a_short_one_all() {
        assert_eq!(way(WHOLE).near(0, 3).len(), WHOLE);
        let long = way(1000);
        let near = long.near(0, 500);
        assert_eq!(near.len(), 2 * NEAR + 1);
        assert_eq!((urls(&near)[0], urls(&near)[2 * NEAR]), ("494", "506"));
        assert_eq!(long.near(0, 0).len(), NEAR + 1);
        assert_eq!(urls(&long.near(0, 999)).last(), Some(&"999"));
    }
}
