//! `publish --issue`: what is issued, and the line that it adds to the handbook's history.

use std::path::Path;

use crate::command::say::{FAULTS, USAGE, complain, complain_of, say};
use crate::edition::addresses::FolderEdition;
use crate::edition::history;
use crate::handbook::places::HISTORY_FILE;
use crate::report::{count_of, has_errors};
use crate::session::{self, PlannedIssue};

/// The line of the issue of a day; none where nothing has changed since the last.
///
/// # Errors
/// The exit code, where it can't be issued; why is said.
pub fn planned(handbook: &Path, day: &str) -> Result<Option<String>, u8> {
    let PlannedIssue { built, issue, last } = session::plan_issue(handbook, &FolderEdition, day);
    if has_errors(&built.findings) {
        complain_of(&built.findings, &built.sources);
        complain("Nothing was issued or published.");
        return Err(FAULTS);
    }
    let (pages, gone) = (issue.pages.len(), issue.gone.len());
    if pages + gone == 0 {
        let since = last.map_or_else(String::new, |last| {
            format!(" since the issue of {}", last.day)
        });
        say(&format!("Nothing has changed{since}: no new issue."));
        return Ok(None);
    }
    if let Some(last) = last {
        let refused = if last.day.as_str() > day {
            Some(format!("the last issue is of {}, after {day}", last.day))
        } else if last.revision == issue.revision {
            Some(format!(
                "{} changed, and revision {} was issued on {}: write another revision in handbook.toml",
                count_of(pages + gone, "page"),
                last.revision,
                last.day
            ))
        } else {
            None
        };
        if let Some(why) = refused {
            complain(&format!("Nothing was issued or published: {why}"));
            return Err(USAGE);
        }
    }
    let (pages, gone) = (count_of(pages, "page"), count_of(gone, "page"));
    let revision = &issue.revision;
    say(&format!(
        "Issuing revision {revision} on {day}: {pages} new or changed, {gone} gone."
    ));
    Ok(Some(issue.line()))
}

/// Adds the line, once the site that it tells of is published.
///
/// # Errors
/// The exit code, where the disk said no; that is said.
pub fn append(handbook: &Path, line: &str) -> Result<(), u8> {
    let at = handbook.join(HISTORY_FILE);
    history::append(handbook, line).map_err(|error| {
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
