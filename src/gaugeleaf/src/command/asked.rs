//! What a command works with: the handbook's graph, and the values under those that are typed.

use std::ops::Range;
use std::path::{Path, PathBuf};

use gaugeleaf_calc::finding::{Code, Finding, nearest};

use crate::command::arguments::AskedJob;
use crate::command::say::{FAULTS, USAGE, complain, complain_of};
use crate::handbook::answered::{Answered, StopAnswers};
use crate::handbook::files::{HandbookFiles, read};
use crate::handbook::whole::Handbook;
use crate::report::emitter::Emitter;
use crate::report::lines::Lines;
use crate::report::{Sources, has_errors};
use crate::session;
use crate::values::graph::Graph;
use crate::values::scope::JobScope;

/// What findings about arguments name as their file.
pub const FILE: &str = "command line";

/// A handbook that is asked, or the built-in catalog where there is none.
#[derive(Default)]
pub struct AskedHandbook {
    pub graph: Graph,
    pub handbook: Handbook,
    /// There is a handbook.
    pub found: bool,
    /// What the prepared job's page answers for, where one is asked of.
    pub answered: Vec<Answered>,
}

/// Why a command can't go on: what to tell of which texts, and the exit code.
pub type NotAsked = (Vec<Finding>, Sources, u8);

impl AskedHandbook {
    /// The handbook asked for, the one in this folder, or none.
    pub fn open(folder: Option<&Path>) -> Result<AskedHandbook, NotAsked> {
        let here = PathBuf::from(".");
        let (read_from, mut findings) = match folder {
            Some(folder) => read(folder),
            None if here.join("handbook.toml").is_file() => read(&here),
            None => (HandbookFiles::default(), Vec::new()),
        };
        // what is wrong with the pages doesn't matter to a calculation
        findings.retain(|finding| {
            !finding.file.starts_with("content/") && !finding.file.starts_with("themes/")
        });
        let (graph, handbook, found) = session::asked(&read_from);
        findings.extend(found);
        if has_errors(&findings) {
            let files = graph
                .files
                .iter()
                .map(|file| (file.path.clone(), file.text.clone()));
            let sources = read_from.texts.into_iter().chain(files).collect();
            return Err((findings, sources, FAULTS));
        }
        Ok(AskedHandbook {
            graph,
            handbook,
            found: !read_from.texts.is_empty(),
            answered: Vec::new(),
        })
    }

    /// The values under those that are typed, which are measured. The request is one line, to which
    /// the names of job and kit are added.
    pub fn scope(&mut self, whose: &AskedJob, line: &mut String) -> Result<JobScope, Finding> {
        let mut add = |option: &str, name: &Option<String>| -> Range<usize> {
            let Some(name) = name else { return 0..0 };
            line.push_str(&format!(" {option} "));
            line.push_str(name);
            line.len() - name.len()..line.len()
        };
        let job_at = add("--job", &whose.job);
        let kit_at = add("--kit", &whose.kit);
        if let Some(kit) = &whose.kit {
            if !self.graph.kits.contains_key(kit) {
                let known: Vec<&str> = self.graph.kits.keys().map(String::as_str).collect();
                return Err(self.unknown(Code::UnknownKit, "kit", kit, &known, kit_at));
            }
            self.graph.catalog.own.kit.clone_from(kit);
        }
        let Some(name) = &whose.job else {
            return Ok(match self.found {
                true => JobScope::of_handbook(&self.graph).typed_over(),
                false => JobScope::asked(&self.graph, ""),
            });
        };
        let jobs = self.handbook.pages.iter().filter_map(|page| {
            let job = page.outline.settings.job.as_ref()?;
            Some((job.value.as_str(), page))
        });
        let Some((_, page)) = jobs.clone().find(|(job, _)| job == name) else {
            let known: Vec<&str> = jobs.map(|(job, _)| job).collect();
            return Err(self.unknown(Code::UnknownJob, "prepared job", name, &known, job_at));
        };
        let settings = &page.outline.settings;
        let kit = whose.kit.as_deref().unwrap_or(settings.kit());
        self.answered.clone_from(&settings.answered);
        // what is wrong with the page's values is told when it is published
        let scope = JobScope::prepared(&self.graph, name, kit).with(
            &self.graph,
            &page.path,
            &settings.given,
            &mut Vec::new(),
        );
        Ok(scope.typed_over())
    }

    fn unknown(
        &self,
        code: Code,
        what: &str,
        name: &str,
        known: &[&str],
        span: Range<usize>,
    ) -> Finding {
        let help = match (
            nearest(name, known.iter().copied().filter(|one| !one.is_empty())),
            known,
        ) {
            (Some(near), _) => format!("the nearest is {near}"),
            (None, []) if !self.found => format!("there is no handbook here, and so no {what}"),
            (None, []) => format!("this handbook has no {what}"),
            (None, known) => format!("there are {}", known.join(", ")),
        };
        let message = format!("there is no {what} `{name}`");
        Finding::error(code, FILE, span, message).help(help)
    }

    /// The answers to stops that hold for what is asked.
    pub fn answers(&self) -> StopAnswers<'_> {
        StopAnswers {
            job: &self.answered,
            all: &self.handbook.answered,
        }
    }

    /// Whether the equipment is invented.
    pub fn demonstration(&self) -> bool {
        self.graph.catalog.own.demonstration
    }
}

/// Tells what is wrong with the request, which is one line.
pub fn refuse(findings: &[Finding], line: String, json: bool) -> u8 {
    tell(findings, &Sources::from([(FILE.to_string(), line)]), json);
    USAGE
}

pub fn tell(findings: &[Finding], sources: &Sources, json: bool) {
    if json {
        complain(&Lines.emit(findings, sources));
    } else {
        complain_of(findings, sources);
    }
}
