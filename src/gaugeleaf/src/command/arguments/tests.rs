//! What each line of words is understood as.

use super::*;

fn asked(line: &str) -> Result<Command, String> {
    parse(
        format!("gaugeleaf {line}")
            .split_whitespace()
            .map(OsString::from)
            .collect::<Vec<_>>(),
    )
}

#[test]
fn no_arguments_publish_the_current_folder() {
    assert_eq!(
        asked(""),
        Ok(Command::Publish {
            handbook: ".".into(),
            to: None
        })
    );
    assert_eq!(
        asked("publish a --to b"),
        Ok(Command::Publish {
            handbook: "a".into(),
            to: Some("b".into())
        })
    );
}

#[test]
fn a_code_may_be_asked_for_and_an_inspection_made_strict() {
    assert_eq!(asked("why"), Ok(Command::Why(None)));
    assert_eq!(
        asked("why step-verb"),
        Ok(Command::Why(Some("step-verb".to_string())))
    );
    assert_eq!(
        asked("inspect --strict a"),
        Ok(Command::Inspect {
            handbook: "a".into(),
            format: Format::Terminal,
            strict: true
        })
    );
    assert!(asked("publish --strict").is_err());
}

#[test]
fn an_inspection_takes_a_format_and_json_is_the_lines() {
    let format = |options: &str| match asked(&format!("inspect {options}")) {
        Ok(Command::Inspect { format, .. }) => Ok(format),
        Ok(other) => Err(format!("{other:?}")),
        Err(words) => Err(words),
    };
    for (name, one) in FORMATS {
        assert_eq!(format(&format!("--format {name}")), Ok(one));
    }
    assert_eq!(format("--json"), Ok(Format::Lines));
    let wrong = |options: &str| format(options).err().unwrap_or_default();
    assert!(wrong("--format sarf").contains("no format `sarf`; the nearest is sarif"));
    assert!(wrong("--format").contains("one of terminal, lines, sarif"));
}

#[test]
fn a_calculation_is_a_name_and_inputs_in_any_order_with_options() {
    let given = vec![
        ("a".to_string(), "1in".to_string()),
        ("b".to_string(), "-2=x".to_string()),
    ];
    let wanted = Calculation {
        name: "n".to_string(),
        given,
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
fn wrong_usage_says_what_is_wrong_and_the_nearest_name() {
    let wrong = |line: &str| asked(line).err().unwrap_or_default();
    assert!(wrong("inspct").contains("the nearest is inspect"));
    assert!(wrong("preview --port x").contains("--port takes a number"));
    assert!(wrong("publish a b").contains("doesn't take"));
    assert!(wrong("calculate").contains("needs the name"));
    assert!(wrong("calculate n 14in").contains("input=value"));
    assert!(wrong("publish --json").contains("publish has no option --json; it takes --to"));
    assert!(wrong("calculate n --jsn").contains("the nearest is --json"));
    assert!(wrong("-x").contains("gaugeleaf has no option -x"));
    assert!(wrong("help inspct").contains("the nearest is inspect"));
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
    let wrong = |line: &str| asked(line).err().unwrap_or_default();
    assert!(wrong("sheet --job").contains("--job needs a prepared job's name"));
    assert!(wrong("publish --kit a").contains("no option --kit"));
}
