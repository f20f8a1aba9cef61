//! What the commands do, in words.

const ALL: &str = "\
gaugeleaf builds a field handbook from Markdown pages and calculators.

  gaugeleaf                                  publish the handbook in this folder
  gaugeleaf publish [HANDBOOK]               publish a handbook
  gaugeleaf inspect [HANDBOOK]               say what is wrong with it, write nothing
  gaugeleaf preview [HANDBOOK]               show it in a browser while you write
  gaugeleaf sheet [HANDBOOK] [name=value …]  work everything for one job
  gaugeleaf calculate NAME [input=value …]   work one calculator
  gaugeleaf why [CODE]                       say what a finding's code means

HANDBOOK is the folder that holds handbook.toml; without it, this folder.
`gaugeleaf help publish` says more about one command. `gaugeleaf version` says which this is.
Exit codes: 0 all well, 1 the handbook has errors (or, with --strict, more than that), 2 the
request or an input can't be used.";

const PUBLISH: &str = "\
gaugeleaf publish [HANDBOOK] [--to DIR]

Writes the whole site to HANDBOOK/public, or to DIR. With any error it writes
nothing, and what was published before stays as it was. A folder that holds
files of others is left alone.";

const INSPECT: &str = "\
gaugeleaf inspect [HANDBOOK] [--strict] [--format terminal|lines|sarif]

Reads the handbook as for publishing and lists what it finds: the file, line and
column, what is wrong, and what to write. An error stops a publish, a warning
doesn't; with --strict a warning fails the inspection too. --format lines, or
--json, gives one JSON object a line; --format sarif gives one SARIF 2.1.0 log, which
code hosts and editors show beside the source.";

const WHY: &str = "\
gaugeleaf why [CODE]

Says what a finding's code means, with an example that has the fault and one that
hasn't. Without a code, lists them all.";

const PREVIEW: &str = "\
gaugeleaf preview [HANDBOOK] [--port N]

Serves the handbook to browsers on this machine alone, and shows each change as
it is saved. What has errors is shown as it is, with the errors laid over it.";

const CALCULATE: &str = "\
gaugeleaf calculate NAME [input=value …] [--job JOB] [--kit KIT] [--limit INPUT]
                    [--strict] [--json] [--handbook DIR]

Works one calculator. What you give counts as measured. A value is a number with its
unit, as 14in, \"1 1/4 in\" or 355.6mm; a bare number is in the input's own unit. A
tolerance may follow, as \"14 in +- 1/8 in\". The other inputs come from the handbook in
DIR or in this folder: ratings from its kit, or from KIT; measurements from the job that
it prepares as JOB, else its own as an example. Where a value is lacking or only an
example, the verdict is open. Outside a handbook nothing is set. --limit says how far
that input may go before a verdict changes. A verdict doesn't change the exit code;
with --strict a stop or an open verdict gives 1.";

const SHEET: &str = "\
gaugeleaf sheet [HANDBOOK] [name=value …] [--job JOB] [--kit KIT] [--strict] [--json]

Works every calculator once for one job and prints the setup sheet: what to measure and
to set, measurements, ratings in use, results and verdicts. --job takes the values of a
prepared job and its kit, --kit another kit. name=value gives a measurement, or replaces
a rating, as \"channel_depth=9 1/4 in\", and counts as measured. Without --job the
handbook's own job shows as an example. Without HANDBOOK it takes the handbook in this
folder; outside one nothing is set. A verdict doesn't change the exit code; with
--strict a worst verdict that stops or is open gives 1.";

/// Help on one command, or on all of them.
pub fn text(topic: Option<&str>) -> &'static str {
    match topic {
        Some("publish") => PUBLISH,
        Some("inspect") => INSPECT,
        Some("preview") => PREVIEW,
        Some("calculate") => CALCULATE,
        Some("why") => WHY,
        Some("sheet") => SHEET,
        _ => ALL,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::arguments::NAMES;

    #[test]
    fn every_command_is_in_the_help() {
        for name in NAMES {
            assert!(text(None).contains(&format!("gaugeleaf {name}")), "{name}");
        }
    }
}
