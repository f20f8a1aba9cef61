//! `compare`: what changed between two published editions, and what to print anew.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use crate::command::arguments::Comparing;
use crate::command::say::{FAULTS, USAGE, WELL, complain, say};
use crate::compare::read::{EditionLedger, NotALedger};
use crate::compare::{self, machine, paper, terminal};

/// The ledger's name in a published site.
const LEDGER: &str = "ledger.json";

/// Something changed that a reader acts on.
const CHANGED: u8 = FAULTS;

/// Compares, and tells it in the form asked for.
pub fn compare(asked: &Comparing) -> u8 {
    // what is wrong with either is told at once
    let (old, new) = match (open(&asked.old), open(&asked.new)) {
        (Ok(old), Ok(new)) => (old, new),
        (old, new) => {
            let faults = [old.err(), new.err()];
            faults.iter().flatten().for_each(|words| complain(words));
            return USAGE;
        }
    };
    let found = compare::compare(&old, &new);
    if let Some(file) = &asked.page
        && let Err(words) = write(file, &paper::page(&found))
    {
        complain(&words);
        return USAGE;
    }
    let names = [&asked.old, &asked.new].map(|path| path.to_string_lossy());
    if asked.json {
        say(&machine::json(&found, &names[0], &names[1]));
    } else {
        say(&terminal::words(&found, &names[0], &names[1]));
        if let Some(file) = &asked.page {
            say(&format!("\nThe page to print: {}", file.display()));
        }
    }
    if found.cards.is_empty() {
        WELL
    } else {
        CHANGED
    }
}

/// An edition by the place that it was named by, or where what is wrong, and what to do.
fn open(path: &Path) -> Result<EditionLedger, String> {
    let file = match path.is_dir() {
        true => ledger_in(path)?,
        false => path.to_path_buf(),
    };
    let name = file.display();
    let metadata = fs::metadata(&file).map_err(|why| match why.kind() {
        ErrorKind::NotFound => {
            format!("{name}: there is no such file or folder\n  -> name the folder that an edition was published to, or its {LEDGER}")
        }
        _ => unreadable(&file, &why),
    })?;
    if !metadata.is_file() {
        return Err(format!(
            "{name}: this is no ordinary file\n  -> name a {LEDGER}"
        ));
    }
    let bytes = fs::read(&file).map_err(|why| unreadable(&file, &why))?;
    EditionLedger::read(&bytes).map_err(|why| match why {
        NotALedger::Broken { line, column, why } => format!(
            "{name}:{line}:{column}: this is no whole JSON: {why}\n  -> copy the {LEDGER} of that edition again, or publish it anew"
        ),
        NotALedger::Foreign(why) => format!(
            "{name}: this is no ledger of a handbook: {why}\n  -> name the {LEDGER} of a published site"
        ),
        NotALedger::Version(version) => format!(
            "{name}: its ledger has version {version}, and this program knows version 1\n  -> compare with the program that published the newer edition"
        ),
    })
}

fn unreadable(file: &Path, why: &std::io::Error) -> String {
    let name = file.display();
    format!("{name}: it can't be read: {why}\n  -> see that the file lies there and may be read")
}

/// The ledger in a published site's folder.
fn ledger_in(folder: &Path) -> Result<PathBuf, String> {
    let file = folder.join(LEDGER);
    if file.symlink_metadata().is_ok() {
        return Ok(file);
    }
    let (name, own) = (folder.display(), folder.join("public"));
    let help = match () {
        () if own.join(LEDGER).is_file() => format!("name {}", own.display()),
        () if folder.join("handbook.toml").is_file() => {
            format!(
                "this is a handbook, not its site: publish it, and name {}",
                own.display()
            )
        }
        () => "name the folder that an edition was published to".to_string(),
    };
    Err(format!(
        "{name}: there is no {LEDGER} in this folder\n  -> {help}"
    ))
}

/// Writes the page, over none that isn't such a page.
fn write(file: &Path, page: &str) -> Result<(), String> {
    let name = file.display();
    match fs::read(file) {
        Ok(there) if !String::from_utf8_lossy(&there).contains(paper::MARK) => {
            return Err(format!(
                "{name}: this file isn't a page of a comparison, and stays as it is\n  -> name another file"
            ));
        }
        _ => {}
    }
    fs::write(file, page).map_err(|why| {
        format!("{name}: the page can't be written: {why}\n  -> name a file in a folder that may be written to")
    })
}
