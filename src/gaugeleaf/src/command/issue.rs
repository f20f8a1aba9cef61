//! `publish --issue`: what is issued, and the line that it adds to the handbook's history.

use std::path::Path;

use crate::command::say::{FAULTS, USAGE, complain, complain_of, say};
use crate::edition::addresses::FolderEdition;
use crate::edition::history::{self, NextHistory};
use crate::handbook::places::HISTORY_FILE;
use crate::report::{count_of, has_errors};
use crate::session::{self, PlannedIssue};

/// The line of the issue of a day; none where nothing has changed since the last.
///
/// # Errors
/// The exit code, where it can't be issued; why is said.
pub fn planned(handbook: &Path, day: &str) -> Result<Option<String>, u8> {
    let PlannedIssue {
        built,
        issue,
        earlier,
    } = session::plan_issue(handbook, &FolderEdition, day);
    if has_errors(&built.findings) {
        complain_of(&built.findings, &built.sources);
        complain("Nothing was issued or published.");
        return Err(FAULTS);
    }
    let last = earlier.last();
    let (pages, gone) = (issue.pages.len(), issue.gone.len());
    if pages + gone == 0 {
        let since = last.map_or_else(String::new, |last| {
            format!(" since the issue of {}", last.day)
        });
        say(&format!("Nothing has changed{since}: no new issue."));
        return Ok(None);
    }
    let late = last.filter(|last| last.day.as_str() > day).map(|last| {
        let day_before = &last.day;
        format!("the last issue is of {day_before}, after {day}: write that day or a later one")
    });
    let used = earlier.iter().find(|one| one.revision == issue.revision);
    let used = used.map(|used| {
        let (revision, day) = (&used.revision, &used.day);
        let changed = count_of(pages + gone, "page");
        format!("{changed} changed, and revision {revision} was issued on {day}: write another revision in handbook.toml")
    });
    if let Some(why) = late.or(used) {
        complain(&format!("Nothing was issued or published: {why}"));
        return Err(USAGE);
    }
    let (pages, gone) = (count_of(pages, "page"), count_of(gone, "page"));
    let revision = &issue.revision;
    let first = if last.is_none() {
        ", the first issue"
    } else {
        ""
    };
    say(&format!(
        "Issuing revision {revision} on {day}{first}: {pages} new or changed, {gone} gone."
    ));
    Ok(Some(issue.line()))
}

/// The history with the line, made before the site is: a site that says it was issued, and no history
/// of it, would have cards printed that nobody knows.
///
/// # Errors
/// The exit code, where the disk said no; that is said.
pub fn prepared(handbook: &Path, line: &str) -> Result<NextHistory, u8> {
    history::with(handbook, line).map_err(|error| {
        let at = handbook.join(HISTORY_FILE);
        complain(&format!(
            "Nothing was issued or published: {} can't be written: {error}",
            at.display()
        ));
        FAULTS
    })
}

/// Puts it in its place, once the site is published.
///
/// # Errors
/// The exit code, where the disk said no; that is said.
pub fn keep(handbook: &Path, next: NextHistory) -> Result<(), u8> {
    let at = handbook.join(HISTORY_FILE);
    next.keep().map_err(|error| {
        complain(&format!(
            "The site is published as issued, and {} can't be written: {error}. Mend that and publish with --issue again.",
            at.display()
        ));
        FAULTS
    })?;
    say(&format!(
        "Added the issue to {}: commit it with the handbook.",
        at.display()
    ));
    Ok(())
}
