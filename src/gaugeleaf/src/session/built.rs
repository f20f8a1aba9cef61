//! What building a site comes to.

use std::sync::Arc;

use gaugeleaf_calc::SourceFile;
use gaugeleaf_calc::finding::{Finding, fold};

use crate::page::compose::ComposedPage;
use crate::page::composed::Composed;
use crate::render::files::SiteFiles;
use crate::render::theme::built_in_texts;
use crate::report::{Sources, sort};
use crate::site::paths::SitePath;

/// What holds a site on a phone, before it knows the site's files.
#[derive(Debug, Clone, Default)]
pub struct Worker {
    pub script: Vec<u8>,
    /// Tells this handbook's pages from others of the same host.
    pub id: String,
    pub revision: String,
}

/// A site, and everything that is wrong with it.
#[derive(Debug, Default)]
pub struct BuiltSite {
    pub site: SiteFiles,
    pub findings: Vec<Finding>,
    /// The handbook's.
    pub title: String,
    /// What holds the site on a phone.
    pub worker: Worker,
    /// The texts that the findings point into.
    pub sources: Sources,
    /// Every file that the site holds, or would hold.
    pub paths: Vec<String>,
    pub values: usize,
}

impl BuiltSite {
    /// What comes of a folder in which there is no handbook.
    pub fn nothing(findings: Vec<Finding>) -> BuiltSite {
        BuiltSite {
            findings,
            sources: built_in_texts().collect(),
            ..BuiltSite::default()
        }
    }

    /// All but the files and the sources.
    pub fn of(
        mut findings: Vec<Finding>,
        paths: Vec<SitePath>,
        composed: &[Arc<Composed<ComposedPage>>],
    ) -> BuiltSite {
        sort(&mut findings);
        BuiltSite {
            findings: fold(findings),
            paths: paths.into_iter().map(|one| one.path).collect(),
            values: composed.iter().map(|page| page.uses.len()).sum(),
            ..BuiltSite::default()
        }
    }

    /// How many pages the site has.
    pub fn pages(&self) -> usize {
        let html = self.paths.iter().filter(|path| path.ends_with(".html"));
        html.count()
    }
}

/// The texts that findings point into.
pub fn sources(
    catalog: Vec<SourceFile>,
    texts: impl IntoIterator<Item = (String, String)>,
) -> Sources {
    let mut sources: Sources = built_in_texts().collect();
    sources.extend(catalog.into_iter().map(|file| (file.path, file.text)));
    sources.extend(texts);
    sources
}
