//! What a part of a page is composed from. Nothing is written into it.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::handbook::answered::StopAnswers;
use crate::handbook::files::HandbookFiles;
use crate::handbook::page::Page;
use crate::handbook::whole::Handbook;
use crate::page::kind::BlockKinds;
use crate::values::graph::Graph;
use crate::values::scope::JobScope;

/// The drawings of what measurements measure, which a theme brings.
pub trait Drawings: Sync {
    /// The drawing of a measurement: its path in a handbook, and its text.
    fn drawing(&self, measurement: &str) -> Option<(String, &str)>;
}

/// Where something is composed, and with what.
#[derive(Clone, Copy)]
pub struct Context<'c> {
    /// The file that it is written in, which isn't the page's where a term is told.
    pub file: &'c str,
    pub text: &'c str,
    /// The page that it belongs to.
    pub page: &'c Page,
    pub handbook: &'c Handbook,
    pub files: &'c HandbookFiles,
    pub graph: &'c Graph,
    /// The values that hold in all of the handbook.
    pub own: &'c JobScope,
    /// Those that hold on this page.
    pub scope: &'c JobScope,
    pub kinds: &'c BlockKinds,
    pub drawings: &'c dyn Drawings,
}

impl<'c> Context<'c> {
    /// The answers that hold here: a prepared job's own, and the handbook's.
    pub fn answers(&self) -> StopAnswers<'c> {
        let settings = &self.page.outline.settings;
        StopAnswers {
            job: match settings.job {
                Some(_) => &settings.answered,
                None => &[],
            },
            all: &self.handbook.answered,
        }
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
