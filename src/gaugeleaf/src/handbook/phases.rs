//! The phases of a handbook, and the phase that each page belongs to.

use std::collections::BTreeMap;

use gaugeleaf_calc::finding::{Code, Excerpt, Finding, settings};

use crate::handbook::file_kinds;
use crate::handbook::files::HandbookFiles;
use crate::handbook::page::Phase;

/// The folder of the pages for the trainer, which are no phase of the work.
const TRAINER: &str = "trainer";
/// The folder of the prepared jobs, which are no phase of the work.
const JOBS: &str = "jobs";

/// The phases in their order.
pub fn phases(files: &HandbookFiles, findings: &mut Vec<Finding>) -> Vec<Phase> {
    let mut phases = Vec::new();
    let mut orders: BTreeMap<i64, String> = BTreeMap::new();
    for (path, text) in files.texts_under("content/") {
        let Some(slug) = path
            .strip_prefix("content/")
            .and_then(|rest| rest.strip_suffix("/phase.toml"))
        else {
            continue;
        };
        if slug.contains('/') {
            let message = "a phase is a folder of content/ itself, not of another phase";
            findings.push(
                Finding::error(Code::DeepPhase, path, 0..0, message).help("move the folder up"),
            );
            continue;
        }
        let body = Excerpt::whole(text);
        let phase = settings::read(path, &body, file_kinds::PHASE, findings, |settings| {
            let order = settings.whole("order");
            if let Some(order) = &order
                && let Some(other) = orders.insert(order.value, path.to_string())
            {
                let message = format!("the order {} is taken by {other}", order.value);
                let fault = settings.error(Code::SameOrder, &order.span, message);
                fault.help = Some("give each phase a number of its own".into());
            }
            Some(Phase {
                slug: slug.to_string(),
                title: settings.plain("title"),
                purpose: settings.plain("purpose"),
                order: order.map_or(0, |order| order.value),
            })
        });
        let Some(phase) = phase else { continue };
        phases.push(phase);
    }
    phases.sort_by_key(|phase| (phase.order, phase.slug.clone()));
    phases
}

/// Whether a page is for the trainer, by its path.
pub fn is_trainers(path: &str) -> bool {
    let inside = path
        .strip_prefix("content/")
        .and_then(|inside| inside.split_once('/'));
    inside.is_some_and(|(folder, _)| folder == TRAINER)
}

/// The phase of the page at a path, by its number; none for a page that belongs to no phase.
///
/// # Errors
/// Why no page can lie there.
pub fn place(path: &str, phases: &[Phase]) -> Result<Option<usize>, Box<Finding>> {
    let inside = path.strip_prefix("content/").unwrap_or(path);
    let inside = inside.strip_suffix(".md").unwrap_or(inside);
    if !inside
        .chars()
        .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || "-_/".contains(c))
    {
        let message = format!("`{inside}` can't be an address");
        return Err(Box::new(
            Finding::error(Code::BadFileName, path, 0..0, message)
                .breaks([path])
                .help("name the file with small letters, digits and hyphens"),
        ));
    }
    let phase = match inside.split_once('/') {
        None => None,
        Some((slug, name)) => {
            let index = phases.iter().position(|phase| phase.slug == slug);
            let fault = if name.contains('/') {
                Some((
                    Code::DeepPage,
                    "a page lies in its phase's folder, not deeper",
                    "move the page up".to_string(),
                ))
            } else if name == "index" {
                Some((
                    Code::NameTaken,
                    "a phase's own page is made from its phase.toml",
                    "give the page another name, or put its text in phase.toml as purpose"
                        .to_string(),
                ))
            } else if index.is_none() && slug != TRAINER && slug != JOBS {
                let help = format!("write content/{slug}/phase.toml with title, order and purpose");
                Some((Code::NoPhase, "this page's folder is no phase", help))
            } else {
                None
            };
            if let Some((code, message, help)) = fault {
                let fault = Finding::error(code, path, 0..0, message).breaks([path]);
                let phase = (code == Code::NoPhase).then(|| format!("content/{slug}/phase.toml"));
                return Err(Box::new(fault.help(help).follows(phase)));
            }
            index
        }
    };
    Ok(phase)
}
