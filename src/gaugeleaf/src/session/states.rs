//! In which state each thing is that pages read: two looks at a handbook in which it has the same one
//! give the same page.

use std::collections::{BTreeSet, HashMap};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::{Mutex, PoisonError};

use gaugeleaf_calc::catalog::Whose;
use gaugeleaf_calc::{Catalog, Job, Names};

use crate::blocks::question::QuestionBlock;
use crate::blocks::question::place::place;
use crate::handbook::files::HandbookFiles;
use crate::handbook::kind::BlockShape;
use crate::handbook::outline::PageSettings;
use crate::handbook::page::Page;
use crate::handbook::places::EQUIPMENT;
use crate::handbook::whole::Handbook;
use crate::page::fences::of_kind;
use crate::page::reads::Consulted;
use crate::values::graph::Graph;
use crate::values::scope::JobScope;

/// A number that stands for a value: the same for the same one.
pub fn state_of(value: impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    value.hash(&mut hasher);
    hasher.finish()
}

/// The states of a handbook's files, pages and pictures aside.
pub struct FolderStates {
    /// handbook.toml, phases, words, rules: all texts that are none of the others.
    pub settings: u64,
    /// The catalog and the kits, and handbook.toml, which may leave calculators out.
    pub catalog: u64,
    pub theme: u64,
}

impl FolderStates {
    pub fn of(files: &HandbookFiles) -> FolderStates {
        let mut settings = DefaultHasher::new();
        let mut catalog = DefaultHasher::new();
        let mut theme = DefaultHasher::new();
        for file in &files.texts {
            let path = file.0;
            if path.starts_with("themes/") {
                file.hash(&mut theme);
            } else if path.starts_with("calculators/") || path.starts_with(EQUIPMENT) {
                file.hash(&mut catalog);
            } else if !is_page(path) {
                file.hash(&mut settings);
            }
        }
        for file in &files.bytes {
            if file.0.starts_with("themes/") {
                file.hash(&mut theme);
            }
        }
        files.texts.get("handbook.toml").hash(&mut catalog);
        FolderStates {
            settings: settings.finish(),
            catalog: catalog.finish(),
            theme: theme.finish(),
        }
    }
}

/// What every page, and every part of the site, may hang on without asking.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct CommonStates {
    pub settings: u64,
    /// What can be worked out, whatever the kits' values are.
    pub definitions: u64,
    pub theme: u64,
}

fn is_page(path: &str) -> bool {
    path.starts_with("content/") && path.ends_with(".md")
}

/// The states of one look at a handbook, each worked out once.
pub struct States<'s> {
    files: &'s HandbookFiles,
    handbook: &'s Handbook,
    graph: &'s Graph,
    own: &'s JobScope,
    pub common: CommonStates,
    known: Mutex<HashMap<Consulted, u64>>,
    /// The measurements and ratings beneath each calculator.
    beneath: HashMap<&'s str, BTreeSet<&'s str>>,
    /// What each kit sets; "" is the handbook's own.
    of_kits: HashMap<&'s str, Job>,
}

impl<'s> States<'s> {
    pub fn of(
        files: &'s HandbookFiles,
        handbook: &'s Handbook,
        graph: &'s Graph,
        own: &'s JobScope,
        common: CommonStates,
    ) -> States<'s> {
        let names = graph.catalog.calculators.keys();
        let beneath = names.map(|name| (name.as_str(), beneath(name, &graph.catalog)));
        let kits = graph.kits.keys().map(String::as_str).chain([""]);
        let of_kits = kits.map(|kit| {
            let given = Names::new();
            let name = "";
            let whose = Whose::Prepared { name, kit, given };
            (kit, graph.catalog.job_of(&whose))
        });
        States {
            files,
            handbook,
            graph,
            own,
            common,
            known: Mutex::default(),
            beneath: beneath.collect(),
            of_kits: of_kits.collect(),
        }
    }

    /// Of a page by itself, without what it asks for.
    pub fn of_page(&self, page: &Page) -> u64 {
        let text = self.files.texts.get(&page.path);
        let CommonStates {
            settings,
            definitions,
            ..
        } = self.common;
        let definitions = (definitions, &self.handbook.glossary);
        state_of((&page.path, text, page.phase, settings, definitions))
    }

    /// Of something that a page asked for.
    pub fn of_read(&self, read: &Consulted) -> u64 {
        let known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(state) = known.get(read) {
            return *state;
        }
        drop(known);
        let state = self.worked_out(read);
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        known.insert(read.clone(), state);
        state
    }

    fn worked_out(&self, read: &Consulted) -> u64 {
        match read {
            Consulted::Value { kit, name } => {
                let value = |name: &str| held(self.job(kit.as_deref())?, name);
                match self.beneath.get(name.as_str()) {
                    Some(names) => {
                        state_of(names.iter().map(|name| value(name)).collect::<Vec<_>>())
                    }
                    None => state_of(value(name)),
                }
            }
            Consulted::EveryValue { kit } => state_of(self.job(kit.as_deref()).map(every)),
            Consulted::Outline(path) => {
                let page = self.handbook.pages.at(path);
                state_of(page.map(|page| {
                    let headings = page.outline.headings.iter();
                    let headings: Vec<_> = headings.map(|one| (&one.id, &one.text)).collect();
                    let addresses: Vec<String> = page.outline.addresses().collect();
                    (&page.outline.title, headings, addresses)
                }))
            }
            Consulted::Text(path) => state_of(self.files.texts.get(path)),
            Consulted::Questions(path) => self
                .handbook
                .pages
                .at(path)
                .map_or(0, |page| self.questions(page)),
            Consulted::Pages(phase) => {
                let pages = self.handbook.pages.iter();
                let pages = pages.filter(|page| phase.is_none() || page.phase == *phase);
                state_of(
                    pages
                        .map(|page| (&page.path, page.phase))
                        .collect::<Vec<_>>(),
                )
            }
            Consulted::File(path) => state_of(self.files.bytes.get(path)),
            Consulted::FileNames => state_of(self.files.bytes.keys().collect::<Vec<_>>()),
            Consulted::Drawings => self.common.theme,
        }
    }

    /// Of what a page asks: each question with where it leads, and the values that hold on the page.
    fn questions(&self, page: &Page) -> u64 {
        let text = self.files.texts.get(&page.path).map_or("", String::as_str);
        let asked = of_kind(&page.tree.nodes, QuestionBlock.name()).into_iter();
        let asked: Vec<_> = asked
            .map(|node| {
                let place = place(page, node.range.start);
                (text.get(node.range.clone()), format!("{place:?}"))
            })
            .collect();
        let PageSettings {
            given, job, kit, ..
        } = &page.outline.settings;
        let given: Vec<_> = given
            .iter()
            .map(|one| (&one.name.value, &one.text.value))
            .collect();
        let job = job.as_ref().map(|job| &job.value);
        state_of((
            page.phase,
            asked,
            given,
            job,
            kit.as_ref().map(|kit| &kit.value),
        ))
    }

    /// The values that hold with a kit; none where there is no such kit.
    fn job(&self, kit: Option<&str>) -> Option<&Job> {
        match kit {
            Some(kit) => self.of_kits.get(kit),
            None => Some(self.own.job()),
        }
    }

    /// Of all values that the handbook has, whoever reads them.
    pub fn of_values(&self) -> u64 {
        let kits = self.graph.kits.values();
        let kits: Vec<String> = kits.map(|kit| format!("{kit:?}")).collect();
        state_of((every(self.own.job()), kits))
    }
}

fn held<'j>(job: &'j Job, name: &str) -> Option<(&'j str, &'static str, &'j str)> {
    let held = job.get(name)?;
    Some((held.text.as_str(), held.ground.word(), held.from.as_str()))
}

fn every(job: &Job) -> u64 {
    let names = job.iter().map(|(name, _)| (name, held(job, name)));
    state_of(names.collect::<Vec<_>>())
}

/// The measurements and ratings that a calculator's results hang on, and what stands against one of
/// them.
fn beneath<'c>(calculator: &str, catalog: &'c Catalog) -> BTreeSet<&'c str> {
    let (mut named, mut seen) = (BTreeSet::new(), BTreeSet::new());
    let mut left = Vec::from_iter(catalog.calculators.get(calculator));
    while let Some(one) = left.pop() {
        if !seen.insert(one.name.as_str()) {
            continue;
        }
        for from in one.inputs.iter().filter_map(|input| input.from.as_ref()) {
            if let Some((supplier, _)) = from.value.split_once('.') {
                left.extend(catalog.calculators.get(supplier));
            } else if named.insert(from.value.as_str()) {
                let against = catalog.calculators.values().filter(|other| {
                    let mut crosses = other.cross_checks.iter();
                    crosses.any(|cross| cross.measured.value == from.value)
                });
                left.extend(against);
            }
        }
        let crosses = one.cross_checks.iter();
        named.extend(crosses.map(|cross| cross.measured.value.as_str()));
    }
    named
}
