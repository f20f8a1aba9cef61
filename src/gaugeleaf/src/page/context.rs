//! What a part of a page is composed from. Nothing is written into it.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::answered::StopAnswers;
use crate::handbook::files::HandbookFiles;
use crate::handbook::page::{Page, Phase};
use crate::handbook::whole::Handbook;
use crate::handbook::words::GlossaryTerm;
use crate::page::kind::BlockKinds;
use crate::page::reads::{Consulted, Reads};
use crate::values::graph::Graph;
use crate::values::scope::JobScope;

/// The drawings of what measurements measure, which a theme brings.
pub trait Drawings: Sync {
    /// The drawing of a measurement: its path in a handbook, and its text.
    fn drawing(&self, measurement: &str) -> Option<(String, &str)>;
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
}

/// Where something is composed, and with what. Values, other pages and files are asked for by name,
/// and what was asked is noted.
#[derive(Clone, Copy)]
pub struct Context<'c> {
    /// The file that it is written in, which isn't the page's where a term is told.
    pub file: &'c str,
    pub text: &'c str,
    /// The page that it belongs to.
    pub page: &'c Page,
    /// What can be worked out; what it comes to is asked of the context.
    pub graph: &'c Graph,
    pub kinds: &'c BlockKinds,
    pub(super) with: Composer<'c>,
    pub(super) scope: &'c JobScope,
    pub(super) reads: &'c Reads,
}

impl<'c> Context<'c> {
    /// A page and the values that hold on it.
    pub fn new(
        with: Composer<'c>,
        page: &'c Page,
        scope: &'c JobScope,
        reads: &'c Reads,
    ) -> Context<'c> {
        Context {
            file: &page.path,
            text: with.files.texts.get(&page.path).map_or("", String::as_str),
            page,
            graph: with.graph,
            kinds: with.kinds,
            with,
            scope,
            reads,
        }
    }

    /// The same in another file's text.
    pub fn in_file(&self, path: &'c str) -> Context<'c> {
        Context {
            file: path,
            text: self.text_of(path),
            ..*self
        }
    }

    /// The values that hold on another page, for its questions.
    pub fn scope_of(&self, page: &Page) -> JobScope {
        self.reads.note(Consulted::Questions(page.path.clone()));
        self.with.scope(page).0
    }

    /// Where another page's questions are composed for this one.
    pub fn on<'o>(&'o self, page: &'o Page, scope: &'o JobScope) -> Context<'o> {
        Context::new(self.with, page, scope, self.reads)
    }

    /// The answers that hold here: a prepared job's own, and the handbook's.
    pub fn answers(&self) -> StopAnswers<'c> {
        let settings = &self.page.outline.settings;
        StopAnswers {
            job: match settings.job {
                Some(_) => &settings.answered,
                None => &[],
            },
            all: &self.with.handbook.answered,
        }
    }

    /// The handbook's caution.
    pub fn caution(&self) -> &'c str {
        &self.with.handbook.caution
    }

    /// What the job is called whose values the handbook prints.
    pub fn own_job(&self) -> &'c str {
        &self.with.handbook.job
    }

    pub fn terms(&self) -> &'c [GlossaryTerm] {
        &self.with.handbook.words
    }

    pub fn phases(&self) -> &'c [Phase] {
        &self.with.handbook.phases
    }

    pub fn error(&self, code: Code, span: Range<usize>, message: impl Into<String>) -> Finding {
        Finding::error(code, self.file, span, message)
    }

    pub fn warning(&self, code: Code, span: Range<usize>, message: impl Into<String>) -> Finding {
        Finding::warning(code, self.file, span, message)
    }

    /// A file named relative to this one, as a path inside the handbook; none when
    /// it leads out of `content/`.
    pub fn resolve(&self, relative: &str) -> Option<String> {
        let folder = self.file.rsplit_once('/').map_or("", |(folder, _)| folder);
        let mut parts: Vec<&str> = folder.split('/').collect();
        for part in relative.split('/') {
            match part {
                "" | "." => {}
                ".." if parts.len() > 1 => {
                    parts.pop();
                }
                ".." => return None,
                part => parts.push(part),
            }
        }
        Some(parts.join("/"))
    }
}
