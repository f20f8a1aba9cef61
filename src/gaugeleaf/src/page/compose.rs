//! The stages of one page, in their order.

use std::collections::BTreeSet;

use crate::handbook::page::Page;
use crate::page::acted_on::acted_on;
use crate::page::begin::{Begin, begin};
use crate::page::composed::Composed;
use crate::page::context::{Composer, Context};
use crate::page::footnotes::footnotes;
use crate::page::hazards;
use crate::page::kind::scripts;
use crate::page::meanings::meanings;
use crate::page::node::{Block, Node, STEP_BAR};
use crate::page::number::number;
use crate::page::reads::{Consulted, Reads};
use crate::page::route::Route;
use crate::page::rows::rows;
use crate::page::sections::{self, Section};
use crate::page::sign_off::SignOff;
use crate::page::steps;
use crate::page::terms::terms;
use crate::page::text::text;
use crate::page::ticks::ticks;
use crate::page::training::Training;
use crate::values::act::{Act, ActKind, fingerprint};
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
    /// What its glossary says that terms mean, by their addresses.
    pub meanings: Vec<(String, String)>,
    /// Where its work begins, if it has any.
    pub begin: Option<Begin>,
    /// Where the page is a test, what its sheet to sign says of it.
    pub sign_off: Option<SignOff>,
    /// What its questions ask, and where that is told.
    pub asked: Vec<(Route, String)>,
    /// What records of people are held against.
    pub training: Vec<Training>,
    /// Its hazard statements: the address of each, and what it says.
    pub hazards: Vec<(String, String)>,
    /// On a prepared job's page, the values that each of its setup sheets is worked out from; without
    /// one, the page's.
    pub scopes: Vec<JobScope>,
    /// Whose values hold on the page, as the engine is asked; empty where it gives none itself.
    pub request: String,
    /// How many steps and items of tick lists it has.
    pub ticks: usize,
    /// Tells whether a reader acts on the same: see [`fingerprint`].
    pub fingerprint: String,
    /// What a reader acts on besides its values.
    pub acts: Vec<Act>,
    /// What it was composed from besides its own text.
    pub reads: BTreeSet<Consulted>,
}

/// Composes one page of a handbook.
pub fn compose(page: &Page, composer: &Composer) -> Composed<ComposedPage> {
    let (scope, findings) = composer.scope(page);
    let reads = Reads::default();
    let context = Context::new(*composer, page, &scope, &reads);
    let mut composed = text(&page.tree.nodes, &context);
    composed.findings.extend(findings);
    let nodes = std::mem::take(&mut composed.value);
    let nodes = composed.take(footnotes(nodes, &context));
    let mut nodes = steps::steps(nodes);
    let mut ids = page.outline.ids.clone();
    if page.outline.finds_rows {
        rows(&mut nodes, &mut ids);
    }
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
            STEP_BAR,
            &steps,
        ))));
    }
    number(&mut nodes, &mut ids);
    composed.uses.sort_by_key(|one| one.start);
    let mut blocks = Vec::new();
    gather(&nodes, &mut blocks);
    let settings = &page.outline.settings;
    let gives = settings.job.is_some() || !settings.given.is_empty();
    let request = gives.then(|| scope.request().to_string());
    let mut scopes = Vec::new();
    if settings.job.is_some() {
        // the lists of jobs say the worst of all that its values come to
        reads.note(Consulted::EveryValue {
            kit: scope.kit().map(str::to_string),
        });
        scopes.extend(blocks.iter().filter_map(|one| one.scope.clone()));
        if scopes.is_empty() {
            scopes.push(scope);
        }
    }
    let hazards = hazards::told(&nodes);
    let ticks = ticks(&nodes);
    let acts = acts(page, &nodes, composer);
    let fingerprint = fingerprint(&page.url, &composed.uses, &acts);
    let training = blocks.iter().filter_map(|one| one.training.clone());
    let training: Vec<Training> = training.collect();
    // what a test asks is told nowhere but in it
    let asked = match training.is_empty() {
        true => blocks.iter().filter_map(|one| one.asked.clone()).collect(),
        false => Vec::new(),
    };
    let sign_off = blocks.iter().find_map(|one| one.sign_off.clone());
    let (meanings, begin) = (meanings(&blocks), begin(&nodes));
    let scripts = scripts(composer.kinds, &composed.needs.kinds, steps > 0);
    composed.with(ComposedPage {
        nodes,
        description,
        sections,
        scripts,
        meanings,
        begin,
        sign_off,
        asked,
        training,
        hazards,
        scopes,
        request: request.unwrap_or_default(),
        ticks,
        fingerprint,
        acts,
        reads: reads.all(),
    })
}

/// What a reader acts on, and who approves it.
fn acts(page: &Page, nodes: &[Node], composer: &Composer) -> Vec<Act> {
    let (settings, handbook) = (&page.outline.settings, composer.handbook);
    let approver = settings.approver.as_ref().or(handbook.approver.as_ref());
    let head = [
        page.outline.title.clone(),
        settings.time.clone().unwrap_or_default(),
        settings.people.join(", "),
        settings.tools.join(", "),
    ];
    let mut acts = acted_on(nodes);
    acts.push(Act::new(ActKind::Head, head.join(" | ")));
    acts.push(Act::new(ActKind::Text, handbook.caution.as_str()));
    acts.extend(approver.map(|by| Act::new(ActKind::Approver, by)));
    acts
}

/// Every block, in order.
fn gather<'n>(nodes: &'n [Node], blocks: &mut Vec<&'n Block>) {
    for node in nodes {
        if let Node::Block(block) = node {
            blocks.push(block);
        }
        node.parts().for_each(|part| gather(part, blocks));
    }
}
