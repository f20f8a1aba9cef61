//! The stages of one page, in their order.

use gaugeleaf_calc::finding::Finding;

use crate::handbook::files::HandbookFiles;
use crate::handbook::page::Page;
use crate::handbook::whole::Handbook;
use crate::page::composed::Composed;
use crate::page::context::{Context, Drawings};
use crate::page::footnotes::footnotes;
use crate::page::kind::{BlockKinds, scripts};
use crate::page::node::{Block, Node};
use crate::page::number::number;
use crate::page::route::Route;
use crate::page::sections::{self, Section};
use crate::page::sign_off::SignOff;
use crate::page::steps;
use crate::page::terms::terms;
use crate::page::text::text;
use crate::values::graph::Graph;
use crate::values::scope::JobScope;

/// A page composed, until an edition prints it.
#[derive(Debug, Clone, Default)]
pub struct ComposedPage {
    pub nodes: Vec<Node>,
    /// The opening words.
    pub description: String,
    /// What a search can lead to.
    pub sections: Vec<Section>,
    /// The scripts that the page needs besides those of every page.
    pub scripts: Vec<&'static str>,
    /// Where the page is a test, what its sheet to sign says of it.
    pub sign_off: Option<SignOff>,
    /// On a prepared job's page, the values that each of its setup sheets is worked out from; without
    /// one, the page's.
    pub scopes: Vec<JobScope>,
    /// Whose values hold on the page, as the engine is asked; empty where it gives none itself.
    pub request: String,
}

/// What pages are composed with.
#[derive(Clone, Copy)]
pub struct Composer<'w> {
    pub handbook: &'w Handbook,
    pub files: &'w HandbookFiles,
    pub graph: &'w Graph,
    /// The values that hold in all of the handbook.
    pub own: &'w JobScope,
    pub kinds: &'w BlockKinds,
    pub drawings: &'w dyn Drawings,
}

impl<'w> From<&Context<'w>> for Composer<'w> {
    fn from(context: &Context<'w>) -> Composer<'w> {
        Composer {
            handbook: context.handbook,
            files: context.files,
            graph: context.graph,
            own: context.own,
            kinds: context.kinds,
            drawings: context.drawings,
        }
    }
}

impl Composer<'_> {
    /// The values that hold on a page, and what is wrong with those of its own.
    pub fn scope(&self, page: &Page) -> (JobScope, Vec<Finding>) {
        let mut findings = Vec::new();
        let settings = &page.outline.settings;
        let prepared;
        let beneath = match &settings.job {
            Some(job) => {
                prepared = JobScope::prepared(self.graph, &job.value, settings.kit());
                &prepared
            }
            None => self.own,
        };
        let scope = beneath.with(self.graph, &page.path, &settings.given, &mut findings);
        (scope, findings)
    }

    /// What parts of a page are composed from.
    pub fn context<'c>(&'c self, page: &'c Page, scope: &'c JobScope) -> Context<'c> {
        Context {
            file: &page.path,
            text: self.files.texts.get(&page.path).map_or("", String::as_str),
            page,
            handbook: self.handbook,
            files: self.files,
            graph: self.graph,
            own: self.own,
            scope,
            kinds: self.kinds,
            drawings: self.drawings,
        }
    }
}

/// Composes one page of a handbook.
pub fn compose(page: &Page, composer: &Composer) -> Composed<ComposedPage> {
    let (scope, findings) = composer.scope(page);
    let context = composer.context(page, &scope);
    let mut composed = text(&page.tree.nodes, &context);
    composed.findings.extend(findings);
    let nodes = std::mem::take(&mut composed.value);
    let nodes = composed.take(footnotes(nodes, &context));
    let mut nodes = steps::steps(nodes);
    let description = sections::description(&nodes);
    let sections = sections::sections(&nodes, &page.outline.title);
    // the glossary tells what terms mean, and needs no way to itself
    let glossary = composer
        .handbook
        .glossary
        .as_ref()
        .filter(|path| **path != page.path);
    if let Some(glossary) = glossary {
        nodes = terms(nodes, &composer.handbook.words, &Route::page(glossary));
    }
    let steps = page.outline.steps;
    if steps > 0 {
        nodes.extend(Node::block(Some(Block::new(
            "blocks/step-bar.html",
            "steps",
            &steps,
        ))));
    }
    number(&mut nodes, &mut page.outline.ids.clone());
    composed.uses.sort_by_key(|one| one.start);
    let mut blocks = Vec::new();
    gather(&nodes, &mut blocks);
    let settings = &page.outline.settings;
    let gives = settings.job.is_some() || !settings.given.is_empty();
    let request = if gives {
        scope.request().to_string()
    } else {
        String::new()
    };
    let mut scopes = Vec::new();
    if settings.job.is_some() {
        scopes.extend(blocks.iter().filter_map(|one| one.scope.clone()));
        if scopes.is_empty() {
            scopes.push(scope);
        }
    }
    let sign_off = blocks.iter().find_map(|one| one.sign_off.clone());
    let scripts = scripts(composer.kinds, &composed.needs.kinds, steps > 0);
    composed.with(ComposedPage {
        nodes,
        description,
        sections,
        scripts,
        sign_off,
        scopes,
        request,
    })
}

/// Every block, in order.
fn gather<'n>(nodes: &'n [Node], blocks: &mut Vec<&'n Block>) {
    for node in nodes {
        if let Node::Block(block) = node {
            blocks.push(block);
        }
        node.parts()
            .into_iter()
            .for_each(|part| gather(part, blocks));
    }
}
