//! `publish` and `inspect`.

use std::path::{Path, PathBuf};

use crate::command::arguments::Destination;
use crate::command::issue;
use crate::command::say::{FAULTS, USAGE, WELL, complain, complain_of, say};
use crate::edition::addresses::FolderEdition;
use crate::edition::folder::{Refused, Staging};
use crate::report::format::Format;
use crate::report::{count, has_errors};
use crate::session::{self, BuiltSite};

/// Publishes a handbook; the default place is its own `public` folder.
///
/// With a day it issues what has changed since the last issue.
pub fn publish(handbook: &Path, to: &Destination, day: Option<&str>) -> u8 {
    let own = || handbook.join("public");
    let target = to.folder.clone().unwrap_or_else(own);
    // the bare command takes this folder: whoever meant another can still stop it
    let (from, into) = (whole(handbook), whole(&target));
    say(&format!(
        "Publishing {} to {}",
        from.display(),
        into.display()
    ));
    let issue = match day.map(|day| issue::planned(handbook, day)) {
        Some(Err(code)) => return code,
        Some(Ok(line)) => line,
        None => None,
    };
    let next = match issue.as_ref().map(|line| issue::prepared(handbook, line)) {
        Some(Err(code)) => return code,
        Some(Ok(next)) => Some(next),
        None => None,
    };
    let staging = Staging::begin(&target, handbook, &|| {
        say("Another publish is writing there: waiting for its end.");
    });
    // without a listener the next publish clears what this one leaves
    let _ = staging.as_ref().map(Staging::clear_on_signal);
    let built = match &staging {
        Ok(staging) => {
            session::build_issue_into(handbook, &FolderEdition, staging, issue.as_deref())
        }
        // nothing can be written, and what is wrong with the handbook is told all the same
        Err(_) => session::inspect(handbook, &FolderEdition),
    };
    if !built.findings.is_empty() {
        complain_of(&built.findings, &built.sources);
    }
    if has_errors(&built.findings) {
        complain("Nothing was published.");
        return FAULTS;
    }
    match staging.and_then(|staging| staging.finish(&built.title, &built.worker, to.replace)) {
        Ok(()) => {
            let BuiltSite {
                values, findings, ..
            } = &built;
            let pages = built.pages();
            say(&format!(
                "Published {pages} pages and {values} values, with {}.",
                count(findings)
            ));
            let open = target.join("index.html");
            say(&format!("Open {}", whole(&open).display()));
            let kept = next.map(|next| issue::keep(handbook, next));
            kept.and_then(Result::err).unwrap_or(WELL)
        }
        Err(refused) => {
            complain(&format!("Nothing was published: {refused}"));
            if matches!(refused, Refused::Disk(..)) {
                FAULTS
            } else {
                USAGE
            }
        }
    }
}

/// A path as it stands on the disk, from its root where it can be told.
fn whole(path: &Path) -> PathBuf {
    std::path::absolute(path)
        .map_or_else(|_| path.to_path_buf(), |whole| whole.components().collect())
}

/// Says what is wrong with a handbook, and writes nothing. Where it is strict, a warning
/// fails it as an error does.
pub fn inspect(handbook: &Path, format: Format, strict: bool) -> u8 {
    let built = session::inspect(handbook, &FolderEdition);
    match format {
        Format::Terminal if built.findings.is_empty() => say(&format!(
            "{} pages and {} values, no findings.",
            built.pages(),
            built.values
        )),
        Format::Terminal => complain_of(&built.findings, &built.sources),
        Format::Lines | Format::Sarif => {
            say(&format.emitter(false).emit(&built.findings, &built.sources));
        }
    }
    if has_errors(&built.findings) || (strict && !built.findings.is_empty()) {
        FAULTS
    } else {
        WELL
    }
}
