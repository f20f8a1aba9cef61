//! The written pages of one look: composed and printed where they aren't as they were.

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use rayon::prelude::*;

use super::kept::{KeptPage, KeptPrint, SharedFiles};
use super::look::Look;
use super::states::{States, state_of};
use crate::page::compose::compose;
use crate::prose::{InspectedPage, Inspector};
use crate::render::files::NoFiles;
use crate::render::renderer::Renderer;
use crate::site::written::html;

/// The pages of a handbook, and what was kept of them.
pub struct PageLook<'l> {
    look: &'l Look<'l>,
    states: &'l States<'l>,
    /// The state of each page by itself.
    own: &'l [u64],
    kept: &'l HashMap<String, KeptPage>,
    inspector: &'l Inspector<'l>,
    turn: u64,
    /// The state of what every page is printed in.
    frame: u64,
    renderer: Renderer<'l>,
}

impl<'l> PageLook<'l> {
    pub fn new(
        look: &'l Look<'l>,
        states: &'l States<'l>,
        own: &'l [u64],
        kept: &'l HashMap<String, KeptPage>,
        inspector: &'l Inspector<'l>,
        turn: u64,
    ) -> PageLook<'l> {
        let frame = (
            look.common.theme,
            look.common.settings,
            format!("{:?}", look.frame),
        );
        PageLook {
            look,
            states,
            own,
            kept,
            inspector,
            turn,
            frame: state_of(frame),
            renderer: Renderer::new(&look.theme.theme, &look.frame, look.edition, &NoFiles),
        }
    }

    /// Every page, in the handbook's order. Those that were edited or are watched come first, and are
    /// handed over.
    pub fn pages(
        &self,
        watched: &BTreeSet<String>,
        first: &mut dyn FnMut(SharedFiles),
    ) -> Vec<KeptPage> {
        let count = self.look.handbook.pages.len();
        let urgent: Vec<usize> = (0..count)
            .filter(|at| self.is_urgent(*at, watched))
            .collect();
        let early: Vec<(usize, KeptPage)> = urgent
            .into_par_iter()
            .map(|at| (at, self.page(at)))
            .collect();
        let mut ready = SharedFiles::new();
        for (at, page) in &early {
            let html = page.printed.as_ref().map(|printed| &printed.html);
            if let Some(Ok(html)) = html {
                let url = &self.look.handbook.pages[*at].url;
                ready.insert(url.clone(), Arc::clone(html));
                ready.extend(self.shown_files(page));
            }
        }
        first(ready);
        let mut early: HashMap<usize, KeptPage> = early.into_iter().collect();
        let mut pages: Vec<Option<KeptPage>> = (0..count).map(|at| early.remove(&at)).collect();
        pages.par_iter_mut().enumerate().for_each(|(at, page)| {
            page.get_or_insert_with(|| self.page(at));
        });
        pages.into_iter().flatten().collect()
    }

    /// The pictures and other files that a page shows.
    fn shown_files(&self, page: &KeptPage) -> impl Iterator<Item = (String, Arc<Vec<u8>>)> {
        page.composed.needs.files.iter().filter_map(|path| {
            let bytes = self.look.files.bytes.get(path)?;
            let to = path.strip_prefix("content/").unwrap_or(path);
            Some((to.to_string(), Arc::new(bytes.clone())))
        })
    }

    /// Whether somebody waits for a page: it is watched, or its own text is another.
    fn is_urgent(&self, at: usize, watched: &BTreeSet<String>) -> bool {
        let page = &self.look.handbook.pages[at];
        let known = self.kept.get(&page.path);
        watched.contains(&page.url)
            || known.is_some_and(|known| {
                known.common == self.look.common && known.state != self.own[at]
            })
    }

    fn page(&self, at: usize) -> KeptPage {
        let page = &self.look.handbook.pages[at];
        let known = self.kept.get(&page.path);
        let known = known.filter(|known| known.state == self.own[at]);
        let good = known.filter(|known| {
            let mut reads = known.reads.iter();
            reads.all(|(read, state)| self.states.of_read(read) == *state)
        });
        let mut kept = match good {
            Some(good) => good.clone(),
            None => self.composed(at, known.map(|known| &known.inspected)),
        };
        kept.common = self.look.common;
        if !page.is_front() {
            self.print(at, &mut kept);
        }
        kept
    }

    /// Composes a page; what its text was found to be, if that is the same.
    fn composed(&self, at: usize, inspected: Option<&Arc<InspectedPage>>) -> KeptPage {
        let page = &self.look.handbook.pages[at];
        let composed = compose(page, &self.look.composer());
        let reads = composed.value.reads.iter();
        let reads = reads.map(|read| (read.clone(), self.states.of_read(read)));
        KeptPage {
            state: self.own[at],
            common: self.look.common,
            inspected: inspected.map_or_else(|| Arc::new(self.inspector.page(page)), Arc::clone),
            reads: Arc::new(reads.collect()),
            composed: Arc::new(composed),
            turn: self.turn,
            printed: None,
        }
    }

    /// Prints a page, unless what it is printed from is what it was.
    fn print(&self, at: usize, kept: &mut KeptPage) {
        let look = self.look;
        let page = &look.handbook.pages[at];
        let place = page.phase.zip(look.way.place(page));
        let near = place.map(|(phase, at)| (look.way.near(phase, at), at));
        let around = format!(
            "{:?} {:?} {:?}",
            look.way.neighbours(&page.url),
            page.phase.map(|at| look.way.phase(at)),
            near
        );
        let state = state_of((kept.turn, self.frame, around));
        if kept.printed.as_ref().is_some_and(|one| one.state == state) {
            return;
        }
        let html = html(
            &self.renderer,
            &look.handbook,
            page,
            &kept.composed,
            &look.way,
        );
        let html = html.map(Arc::new);
        kept.printed = Some(KeptPrint { state, html });
    }
}
