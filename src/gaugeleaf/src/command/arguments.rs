//! What the program can be asked on a command line.

use std::ffi::OsString;
use std::path::PathBuf;

use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::error::{Error, ErrorKind};
use clap::{Args, CommandFactory, Parser, Subcommand};
use clap_complete::Shell;
use gaugeleaf_calc::finding::settings::is_day;

use crate::edition::preview;
use crate::report::format::{FORMATS, Format};

/// Builds a field handbook from Markdown pages and calculators.
///
/// Without a command it publishes the handbook in this folder. HANDBOOK is the folder that holds
/// handbook.toml; without it, this folder.
#[derive(Debug, Parser)]
#[command(name = "gaugeleaf", version, args_conflicts_with_subcommands = true)]
#[command(
    after_help = "Exit codes: 0 all well, 1 the handbook has errors (or, with --strict, more than that), 2 the request or an input can't be used. For compare: 0 nothing changed, 1 something did."
)]
pub struct CommandLine {
    #[command(subcommand)]
    command: Option<Command>,
    #[command(flatten)]
    bare: Destination,
}

/// What was asked.
#[derive(Debug, PartialEq, Eq, Subcommand)]
pub enum Command {
    /// Publish a handbook
    ///
    /// Writes the whole site to HANDBOOK/public, or to DIR. With any error it writes nothing, and
    /// what was published before stays as it was. A folder that holds files of others is left
    /// alone, and so is a site that was changed since, or another handbook's, without --replace.
    Publish {
        #[arg(default_value = ".", hide_default_value = true)]
        handbook: PathBuf,
        #[command(flatten)]
        to: Destination,
        /// Issue it: append the pages that changed since the last issue to history.jsonl, so that
        /// each page says since when it is as it is, and each older card what has changed. Commit
        /// the file with the handbook. With changes the revision must be a new one
        #[arg(long, value_name = "DAY", value_parser = day)]
        issue: Option<String>,
    },
    /// Say what is wrong with a handbook, and write nothing
    ///
    /// Reads the handbook as for publishing and lists what it finds: the file, line and column,
    /// what is wrong, and what to write. An error stops a publish, a warning doesn't.
    Inspect(Inspection),
    /// Show a handbook in a browser while you write
    ///
    /// Serves the handbook to browsers on this machine alone, and shows each change as it is
    /// saved. What has errors is shown as it is, with the errors laid over it.
    Preview {
        #[arg(default_value = ".", hide_default_value = true)]
        handbook: PathBuf,
        /// Where it listens
        #[arg(long, value_name = "N", default_value_t = preview::PORT)]
        port: u16,
    },
    /// Work everything for one job
    ///
    /// Works every calculator once for one job and prints the setup sheet: what to measure and to
    /// set, measurements, ratings in use, results and verdicts. Without --job the handbook's own
    /// job shows as an example. Outside a handbook nothing is set. A verdict doesn't change the
    /// exit code; with --strict a worst verdict that stops or is open gives 1.
    Sheet(SheetOf),
    /// Work one calculator
    ///
    /// What you give counts as measured. The other inputs come from the handbook: ratings from
    /// its kit, measurements from the job that it prepares as JOB, else its own as an example.
    /// Where a value is lacking or only an example, the verdict is open. Outside a handbook
    /// nothing is set. A verdict doesn't change the exit code; with --strict a stop or an open
    /// verdict gives 1.
    Calculate(Calculation),
    /// Say what changed between two editions, and what to print anew
    ///
    /// Holds the ledger of one published edition against that of another: which hazards, steps,
    /// values, rows, lists, pictures, blocks and formulas changed, from what to what; which cards
    /// are therefore out of date, by the fingerprint at their foot; and why: the ratings,
    /// measurements, formulas and tables from which a changed value comes. Exit code 0 says that
    /// nothing changed that a reader acts on, 1 that something did, and 2 that it can't be told.
    Compare(Comparing),
    /// Say what a finding's code means
    ///
    /// With an example that has the fault and one that hasn't. Without a code, lists them all.
    Why { code: Option<String> },
    /// Print what a shell needs to complete these commands
    Completions { shell: Shell },
    /// Print the manual page, or that of one command
    Manual { command: Option<String> },
    /// Say which version this is
    Version,
}

/// Where a site is written.
#[derive(Debug, Default, PartialEq, Eq, Args)]
pub struct Destination {
    /// Write the site there instead of to HANDBOOK/public
    #[arg(long = "to", value_name = "DIR")]
    pub folder: Option<PathBuf>,
    /// Replace a site that somebody changed, or another handbook's
    #[arg(long)]
    pub replace: bool,
}

/// An inspection asked for.
#[derive(Debug, PartialEq, Eq, Args)]
pub struct Inspection {
    #[arg(default_value = ".", hide_default_value = true)]
    pub handbook: PathBuf,
    /// Let a warning fail the inspection too
    #[arg(long)]
    pub strict: bool,
    /// In words, as one JSON object a line, or as one SARIF 2.1.0 log, which code hosts and
    /// editors show beside the source
    #[arg(long, default_value = "terminal", value_parser = format())]
    pub format: Format,
    /// The same as --format lines
    #[arg(long, conflicts_with = "format")]
    json: bool,
}

/// A calculation asked for.
#[derive(Debug, Default, PartialEq, Eq, Args)]
pub struct Calculation {
    /// The calculator's name, and its inputs: a number with its unit, as 14in, "1 1/4 in" or
    /// 355.6mm, or a bare number in the input's own unit; a tolerance may follow, as
    /// "14 in +- 1/8 in"
    #[arg(required = true, value_names = ["NAME", "INPUT=VALUE"], num_args = 1..)]
    pub words: Vec<String>,
    #[arg(skip)]
    pub name: String,
    /// `input=value`, split.
    #[arg(skip)]
    pub given: Vec<(String, String)>,
    /// Say how far this input may go before a verdict changes
    #[arg(long, value_name = "INPUT")]
    pub limit: Option<String>,
    #[command(flatten)]
    pub whose: AskedJob,
    /// Let a verdict that stops or is open give exit code 1
    #[arg(long)]
    pub strict: bool,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
    /// The handbook to take values from, instead of this folder's
    #[arg(long, value_name = "DIR")]
    pub handbook: Option<PathBuf>,
}

/// A setup sheet asked for.
#[derive(Debug, Default, PartialEq, Eq, Args)]
pub struct SheetOf {
    /// The handbook, and values that were measured or replace a rating, as
    /// "channel_depth=9 1/4 in"
    #[arg(value_names = ["HANDBOOK", "NAME=VALUE"], num_args = 0..)]
    pub words: Vec<String>,
    #[arg(skip)]
    pub handbook: Option<PathBuf>,
    /// `measurement=value`, split.
    #[arg(skip)]
    pub given: Vec<(String, String)>,
    #[command(flatten)]
    pub whose: AskedJob,
    /// Let a worst verdict that stops or is open give exit code 1
    #[arg(long)]
    pub strict: bool,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// A comparison asked for.
#[derive(Debug, Default, PartialEq, Eq, Args)]
pub struct Comparing {
    /// The older edition: the folder that it was published to, or its ledger.json alone
    pub old: PathBuf,
    /// The newer edition, in the same way
    pub new: PathBuf,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
    /// Write it as a page too, to print and to tick off
    #[arg(long, value_name = "FILE.html")]
    pub page: Option<PathBuf>,
}

/// Whose values lie under those that are typed: a prepared job's, a kit's.
#[derive(Debug, Default, PartialEq, Eq, Args)]
pub struct AskedJob {
    /// Take the values of a prepared job, and its kit
    #[arg(long)]
    pub job: Option<String>,
    /// Take another kit
    #[arg(long)]
    pub kit: Option<String>,
}

/// A calendar date that there is.
fn day(text: &str) -> Result<String, String> {
    match is_day(text) {
        true => Ok(text.to_string()),
        false => Err("write the day as year, month and day, such as 2026-11-30".to_string()),
    }
}

/// A format by the name that the table of formats gives it.
fn format() -> impl TypedValueParser<Value = Format> {
    PossibleValuesParser::new(FORMATS.map(|(name, _)| name))
        .map(|name| Format::named(&name).unwrap_or_default())
}

/// Understands the arguments, the program's own name first. The error may be the help that was
/// asked for.
pub fn parse(arguments: impl IntoIterator<Item = OsString>) -> Result<Command, Error> {
    let line = CommandLine::try_parse_from(arguments)?;
    let mut command = line.command.unwrap_or(Command::Publish {
        handbook: ".".into(),
        to: line.bare,
        issue: None,
    });
    match &mut command {
        Command::Inspect(asked) if asked.json => asked.format = Format::Lines,
        Command::Calculate(asked) => {
            let words = std::mem::take(&mut asked.words);
            let name = split(words, &mut asked.given, "calculate")?;
            asked.name = name.ok_or_else(|| {
                wrong(
                    "calculate",
                    ErrorKind::MissingRequiredArgument,
                    "calculate needs the name of a calculator".to_string(),
                )
            })?;
        }
        Command::Sheet(asked) => {
            let words = std::mem::take(&mut asked.words);
            asked.handbook = split(words, &mut asked.given, "sheet")?.map(PathBuf::from);
        }
        _ => {}
    }
    Ok(command)
}

/// The words that give a value, split; the one that doesn't is returned.
fn split(
    words: Vec<String>,
    given: &mut Vec<(String, String)>,
    of: &str,
) -> Result<Option<String>, Error> {
    let mut other = None;
    for word in words {
        match word.split_once('=') {
            Some((name, value)) => given.push((name.to_string(), value.to_string())),
            None if other.is_none() => other = Some(word),
            None => {
                return Err(wrong(
                    of,
                    ErrorKind::ValueValidation,
                    format!(
                        "`{word}` isn't written name=value; a value with a space in it stands in quotes"
                    ),
                ));
            }
        }
    }
    Ok(other)
}

/// An error of our own, with the usage of its command.
fn wrong(of: &str, kind: ErrorKind, message: String) -> Error {
    let mut whole = CommandLine::command();
    whole.build();
    match whole.find_subcommand_mut(of) {
        Some(command) => command.error(kind, message),
        None => whole.error(kind, message),
    }
}

/// What the shell needs, written out.
pub fn completions(shell: Shell) -> String {
    let mut written = Vec::new();
    clap_complete::generate(
        shell,
        &mut CommandLine::command(),
        "gaugeleaf",
        &mut written,
    );
    String::from_utf8_lossy(&written).into_owned()
}

/// The manual page, for `man`: of the program, or of one command.
pub fn manual(of: Option<&str>) -> Result<String, Error> {
    let mut whole = CommandLine::command();
    whole.build();
    let shown = match of {
        None => whole,
        Some(name) => match whole.find_subcommand(name) {
            Some(command) => command.clone().display_name(format!("gaugeleaf-{name}")),
            None => {
                let message = format!("there is no command `{name}`");
                return Err(whole.error(ErrorKind::InvalidSubcommand, message));
            }
        },
    };
    let mut written = Vec::new();
    clap_mangen::Man::new(shown).render(&mut written)?;
    Ok(String::from_utf8_lossy(&written).into_owned())
}

#[cfg(test)]
mod tests;
