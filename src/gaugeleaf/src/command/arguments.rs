//! Reads the command line.

use std::ffi::OsString;
use std::path::PathBuf;

use gaugeleaf_calc::finding::nearest;
use lexopt::{Arg, Parser, ValueExt};

use crate::report::format::{FORMATS, Format};

/// What was asked.
#[derive(Debug, PartialEq, Eq)]
pub enum Command {
    Publish {
        handbook: PathBuf,
        to: Option<PathBuf>,
    },
    Inspect {
        handbook: PathBuf,
        format: Format,
        /// Whether warnings fail it too.
        strict: bool,
    },
    Preview {
        handbook: PathBuf,
        port: u16,
    },
    Calculate(Calculation),
    /// What a finding's code means, or all codes.
    Why(Option<String>),
    Sheet(SheetOf),
    Help(Option<String>),
    Version,
}

/// A calculation asked for.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Calculation {
    pub name: String,
    /// `input=value`, split.
    pub given: Vec<(String, String)>,
    pub json: bool,
    pub handbook: Option<PathBuf>,
    /// The input whose limits are asked for.
    pub limit: Option<String>,
    pub whose: AskedJob,
    /// Whether a verdict that stops or is open fails it.
    pub strict: bool,
}

/// A setup sheet asked for.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct SheetOf {
    pub handbook: Option<PathBuf>,
    /// `measurement=value`, split.
    pub given: Vec<(String, String)>,
    pub json: bool,
    pub whose: AskedJob,
    /// Whether a worst verdict that stops or is open fails it.
    pub strict: bool,
}

/// Whose values lie under those that are typed: a prepared job's, a kit's.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct AskedJob {
    pub job: Option<String>,
    pub kit: Option<String>,
}

/// Every command's name.
pub const NAMES: [&str; 8] = [
    "publish",
    "inspect",
    "preview",
    "sheet",
    "calculate",
    "why",
    "help",
    "version",
];

/// The options that a command takes, besides `--help`.
fn options(command: &str) -> &'static [&'static str] {
    match command {
        "" | "publish" => &["--to"],
        "inspect" => &["--strict", "--format", "--json"],
        "preview" => &["--port"],
        "sheet" => &["--job", "--kit", "--strict", "--json"],
        "calculate" => &[
            "--limit",
            "--job",
            "--kit",
            "--strict",
            "--json",
            "--handbook",
        ],
        _ => &[],
    }
}

/// What the options and words of one command were.
#[derive(Default)]
struct ParsedOptions {
    words: Vec<OsString>,
    json: bool,
    format: Option<Format>,
    strict: bool,
    to: Option<PathBuf>,
    handbook: Option<PathBuf>,
    limit: Option<String>,
    whose: AskedJob,
    port: Option<u16>,
}

/// Understands the arguments, the program's own name first; the error is in words.
pub fn parse(arguments: impl IntoIterator<Item = OsString>) -> Result<Command, String> {
    let mut parser = Parser::from_iter(arguments);
    let mut command = String::new();
    let mut seen = ParsedOptions::default();
    while let Some(argument) = parser.next().map_err(|error| usage(&error.to_string()))? {
        match argument {
            Arg::Short('h') | Arg::Long("help") => {
                return Ok(Command::Help(
                    Some(command).filter(|command| !command.is_empty()),
                ));
            }
            Arg::Short('V') | Arg::Long("version") if command.is_empty() => {
                return Ok(Command::Version);
            }
            Arg::Value(word) if command.is_empty() => {
                command = word.to_string_lossy().into_owned();
                if !NAMES.contains(&command.as_str()) {
                    return Err(unknown(&command));
                }
            }
            Arg::Value(word) => seen.words.push(word),
            Arg::Long("json") if works(&command) => seen.json = true,
            // what it was called before there were other formats
            Arg::Long("json") if command == "inspect" => seen.format = Some(Format::Lines),
            Arg::Long("format") if command == "inspect" => {
                let name = value(&mut parser, "--format", &format!("one of {}", formats()))?;
                seen.format = Some(format_named(&name.to_string_lossy())?);
            }
            Arg::Long("strict") if command == "inspect" || works(&command) => seen.strict = true,
            Arg::Long("job") if works(&command) => {
                let name = value(&mut parser, "--job", "a prepared job's name")?;
                seen.whose.job = Some(name.to_string_lossy().into_owned());
            }
            Arg::Long("kit") if works(&command) => {
                let name = value(&mut parser, "--kit", "a kit's name")?;
                seen.whose.kit = Some(name.to_string_lossy().into_owned());
            }
            Arg::Long("to") if ["", "publish"].contains(&command.as_str()) => {
                seen.to = Some(value(&mut parser, "--to", "a folder")?.into());
            }
            Arg::Long("handbook") if command == "calculate" => {
                seen.handbook = Some(value(&mut parser, "--handbook", "a folder")?.into());
            }
            Arg::Long("limit") if command == "calculate" => {
                let input = value(&mut parser, "--limit", "an input's name")?;
                seen.limit = Some(input.to_string_lossy().into_owned());
            }
            Arg::Long("port") if command == "preview" => {
                let port = value(&mut parser, "--port", "a number")?;
                let number = port.parse().map_err(|_| {
                    usage(&format!(
                        "--port takes a number up to 65535, not {}",
                        port.to_string_lossy()
                    ))
                })?;
                seen.port = Some(number);
            }
            Arg::Long(option) => return Err(no_option(&command, &format!("--{option}"))),
            Arg::Short(option) => return Err(no_option(&command, &format!("-{option}"))),
        }
    }
    command_of(&command, seen)
}

/// The commands that work with a job's values.
fn works(command: &str) -> bool {
    ["calculate", "sheet"].contains(&command)
}

fn command_of(command: &str, seen: ParsedOptions) -> Result<Command, String> {
    let mut words = seen.words.into_iter();
    let here = || PathBuf::from(".");
    let parsed = match command {
        "" | "publish" => Command::Publish {
            handbook: words.next().map_or_else(here, PathBuf::from),
            to: seen.to,
        },
        "inspect" => Command::Inspect {
            handbook: words.next().map_or_else(here, PathBuf::from),
            format: seen.format.unwrap_or_default(),
            strict: seen.strict,
        },
        "preview" => Command::Preview {
            handbook: words.next().map_or_else(here, PathBuf::from),
            port: seen.port.unwrap_or(crate::edition::preview::PORT),
        },
        "calculate" => {
            let mut calculation = Calculation {
                json: seen.json,
                handbook: seen.handbook,
                limit: seen.limit,
                whose: seen.whose,
                strict: seen.strict,
                ..Calculation::default()
            };
            for word in words.by_ref() {
                let word = text(word)?;
                match word.split_once('=') {
                    Some((input, value)) => calculation
                        .given
                        .push((input.to_string(), value.to_string())),
                    None if calculation.name.is_empty() => calculation.name = word,
                    None => return Err(usage(&format!("`{word}` isn't written input=value"))),
                }
            }
            if calculation.name.is_empty() {
                return Err(usage("calculate needs the name of a calculator"));
            }
            Command::Calculate(calculation)
        }
        "why" => Command::Why(words.next().map(|word| word.to_string_lossy().into_owned())),
        "sheet" => {
            let mut sheet = SheetOf {
                json: seen.json,
                whose: seen.whose,
                strict: seen.strict,
                ..SheetOf::default()
            };
            for word in words.by_ref() {
                let word = text(word)?;
                match word.split_once('=') {
                    Some((name, value)) => {
                        sheet.given.push((name.to_string(), value.to_string()));
                    }
                    None if sheet.handbook.is_none() => sheet.handbook = Some(word.into()),
                    None => return Err(usage(&format!("`{word}` isn't written name=value"))),
                }
            }
            Command::Sheet(sheet)
        }
        "help" => {
            let topic = words.next().map(|word| word.to_string_lossy().into_owned());
            if let Some(topic) = topic.iter().find(|topic| !NAMES.contains(&topic.as_str())) {
                return Err(unknown(topic));
            }
            Command::Help(topic)
        }
        _ => Command::Version,
    };
    match words.next() {
        Some(word) => Err(usage(&format!("{command} doesn't take {word:?}"))),
        None => Ok(parsed),
    }
}

fn text(word: OsString) -> Result<String, String> {
    word.into_string()
        .map_err(|word| usage(&format!("{word:?} isn't UTF-8 text")))
}

fn value(parser: &mut Parser, option: &str, wanted: &str) -> Result<OsString, String> {
    parser
        .value()
        .map_err(|_| usage(&format!("{option} needs {wanted}")))
}

/// The formats' names, for a sentence.
fn formats() -> String {
    FORMATS.map(|(name, _)| name).join(", ")
}

fn format_named(name: &str) -> Result<Format, String> {
    Format::named(name).ok_or_else(|| {
        let near = nearest(name, FORMATS.map(|(name, _)| name));
        let help = near.map_or_else(
            || format!("the formats are {}", formats()),
            |near| format!("the nearest is {near}"),
        );
        usage(&format!("there is no format `{name}`; {help}"))
    })
}

fn unknown(command: &str) -> String {
    usage(&match nearest(command, NAMES) {
        Some(near) => format!("there is no command `{command}`; the nearest is {near}"),
        None => format!(
            "there is no command `{command}`; the commands are {}",
            NAMES.join(", ")
        ),
    })
}

fn no_option(command: &str, wrong: &str) -> String {
    let name = if command.is_empty() {
        "gaugeleaf"
    } else {
        command
    };
    let known = options(command);
    let help = match (nearest(wrong, known.iter().copied()), known) {
        (Some(near), _) => format!("the nearest is {near}"),
        (None, []) => "it takes none".to_string(),
        (None, known) => format!("it takes {}", known.join(", ")),
    };
    usage(&format!("{name} has no option {wrong}; {help}"))
}

fn usage(what: &str) -> String {
    format!("{what}\n`gaugeleaf help` says what can be asked")
}

#[cfg(test)]
mod tests;
