//! What each line of words is understood as.

use super::*;

fn asked(line: &str) -> Result<Command, String> {
    let words = format!("gaugeleaf {line}");
    let words: Vec<OsString> = words.split_whitespace().map(OsString::from).collect();
    parse(words).map_err(|error| error.to_string())
}

/// What the program says to a line that it can't understand.
fn wrong(line: &str) -> String {
    asked(line).err().unwrap_or_default()
}

fn publish(handbook: &str, to: Option<&str>, replace: bool) -> Command {
    Command::Publish {
        handbook: handbook.into(),
        to: Destination {
            folder: to.map(PathBuf::from),
            replace,
        },
        issue: None,
    }
}

#[test]
fn an_issue_is_of_a_day_that_there_is() {
    let Ok(Command::Publish { issue, .. }) = asked("publish a --issue 2026-11-30") else {
        panic!("it isn't understood");
    };
    assert_eq!(issue.as_deref(), Some("2026-11-30"));
    for odd in ["2026-02-30", "today", "30.11.2026", "2026-11-30T10:00:00Z"] {
        let told = wrong(&format!("publish --issue {odd}"));
        assert!(told.contains("such as 2026-11-30"), "{told}");
    }
}

#[test]
fn the_table_of_commands_contradicts_itself_nowhere() {
    CommandLine::command().debug_assert();
}

#[test]
fn no_arguments_publish_the_current_folder() {
    assert_eq!(asked(""), Ok(publish(".", None, false)));
    assert_eq!(asked("--to b"), Ok(publish(".", Some("b"), false)));
    assert_eq!(asked("--replace"), Ok(publish(".", None, true)));
    assert_eq!(
        asked("publish a --to b"),
        Ok(publish("a", Some("b"), false))
    );
    assert!(wrong("--to=").contains("a value is required for '--to <DIR>'"));
}

#[test]
fn a_code_may_be_asked_for_and_an_inspection_made_strict() {
    assert_eq!(asked("why"), Ok(Command::Why { code: None }));
    let code = Some("step-verb".to_string());
    assert_eq!(asked("why step-verb"), Ok(Command::Why { code }));
    let Ok(Command::Inspect(asked_for)) = asked("inspect --strict a") else {
        panic!("an inspection");
    };
    assert_eq!(asked_for.handbook, PathBuf::from("a"));
    assert!(asked_for.strict && asked_for.format == Format::Terminal);
    assert!(asked("publish --strict").is_err());
}

#[test]
fn an_inspection_takes_a_format_and_json_is_the_lines() {
    let format = |options: &str| match asked(&format!("inspect {options}")) {
        Ok(Command::Inspect(asked)) => Ok(asked.format),
        Ok(other) => Err(format!("{other:?}")),
        Err(words) => Err(words),
    };
    for (name, one) in FORMATS {
        assert_eq!(format(&format!("--format {name}")), Ok(one));
    }
    assert_eq!(format("--json"), Ok(Format::Lines));
    let wrong = |options: &str| format(options).err().unwrap_or_default();
    assert!(wrong("--format sarf").contains("'sarif'"));
    assert!(wrong("--format").contains("terminal, lines, sarif"));
    assert!(wrong("--json --format sarif").contains("cannot be used with"));
}

#[test]
fn a_calculation_is_a_name_and_inputs_in_any_order_with_options() {
    let pair = |name: &str, value: &str| (name.to_string(), value.to_string());
    let wanted = Calculation {
        name: "n".to_string(),
        given: vec![pair("a", "1in"), pair("b", "-2=x")],
        json: true,
        handbook: Some("h".into()),
        limit: Some("a".to_string()),
        ..Calculation::default()
    };
    assert_eq!(
        asked("calculate n a=1in --json b=-2=x --limit a --handbook h"),
        Ok(Command::Calculate(wanted))
    );
}

#[test]
fn a_sheet_is_a_folder_and_values_in_any_order() {
    let wanted = SheetOf {
        handbook: Some("h".into()),
        given: vec![("tube_od".to_string(), "1in".to_string())],
        json: true,
        ..SheetOf::default()
    };
    assert_eq!(
        asked("sheet tube_od=1in h --json"),
        Ok(Command::Sheet(wanted))
    );
}

#[test]
fn a_comparison_takes_two_editions_and_a_page_to_write() {
    let wanted = Comparing {
        old: "a".into(),
        new: "b/ledger.json".into(),
        json: true,
        page: Some("c.html".into()),
    };
    assert_eq!(
        asked("compare a --page c.html b/ledger.json --json"),
        Ok(Command::Compare(wanted))
    );
    assert!(wrong("compare a").contains("<NEW>"));
    assert!(wrong("compare a b c").contains("unexpected argument 'c'"));
    let help = wrong("help compare");
    assert!(
        help.contains("Exit code 0") && help.contains("--page <FILE.html>"),
        "{help}"
    );
}

#[test]
fn wrong_usage_says_what_is_wrong_and_the_nearest_name() {
    assert!(wrong("inspct").contains("'inspect'"));
    assert!(wrong("preview --port x").contains("'x' for '--port <N>'"));
    assert!(wrong("publish a b").contains("unexpected argument 'b'"));
    assert!(wrong("calculate").contains("NAME"));
    assert!(wrong("calculate a=1in").contains("needs the name of a calculator"));
    assert!(wrong("calculate n 14in").contains("`14in` isn't written name=value"));
    assert!(wrong("sheet a b").contains("`b` isn't written name=value"));
    assert!(wrong("publish --json").contains("unexpected argument '--json'"));
    assert!(wrong("calculate n --jsn").contains("'--json'"));
    assert!(wrong("-x").contains("unexpected argument '-x'"));
    assert!(wrong("help inspct").contains("inspct"));
}

#[test]
fn a_job_and_a_kit_may_be_named_and_verdicts_made_to_count() {
    let whose = AskedJob {
        job: Some("T1".to_string()),
        kit: Some("blue".to_string()),
    };
    let wanted = SheetOf {
        whose,
        strict: true,
        ..SheetOf::default()
    };
    assert_eq!(
        asked("sheet --job T1 --strict --kit blue"),
        Ok(Command::Sheet(wanted))
    );
    assert!(asked("calculate n --kit a --job b --strict").is_ok());
    assert!(wrong("sheet --job").contains("--job <JOB>"));
    assert!(wrong("publish --kit a").contains("unexpected argument '--kit'"));
}

#[test]
fn every_command_is_in_the_help_the_completions_and_the_manual() {
    let help = wrong("--help");
    let page = manual(None).expect("a manual page");
    let completed = completions(Shell::Bash);
    let line = CommandLine::command();
    for command in line.get_subcommands() {
        let name = command.get_name();
        assert!(help.contains(&format!("\n  {name} ")), "{name}");
        assert!(
            page.contains(&format!("gaugeleaf\\-{name}")),
            "{name}: {page}"
        );
        assert!(completed.contains(&format!("gaugeleaf,{name})")), "{name}");
        let own = manual(Some(name)).expect("a page of its own");
        assert!(
            own.contains(&format!("gaugeleaf\\-{name}")),
            "{name}: {own}"
        );
    }
    assert!(manual(Some("inspct")).is_err());
}
