//! What a question on the command line stands on: a prepared job, a kit, and what is typed.

use std::process::Output;

use serde_json::Value;

use crate::support::*;

/// A handbook with two kits, and a job that is prepared with one of them.
fn yard() -> Folder {
    let folder = Folder::new();
    let kit = |name: &str, most: &str| {
        let text = format!(
            "[kit]\nname = \"{name}\"\ntitle = \"{name}\"\n\n[rating]\n\
             jaw_min = {{ value = \"5/8 in\", source = \"plate\" }}\n\
             jaw_max = {{ value = \"{most}\", source = \"plate\" }}\n\
             jaw_travel_least = {{ value = \"1/8 in\", source = \"plate\" }}\n"
        );
        folder.put(&format!("content/equipment/{name}.toml"), text);
    };
    kit("blue", "3 1/4 in");
    kit("red", "2 in");
    folder.put(
        "handbook.toml",
        format!("{HEAD}kit = \"blue\"\ndemonstration = true\n"),
    );
    folder.put(
        "content/jobs/t9.md",
        "```page\njob = \"T9\"\ngiven = { flange_thickness = \"2 1/2 in\" }\nanswered = [{ check = \"clamp-jaw.flange in the jaw\", because = \"Spacers are fitted.\", by = \"lead\" }]\n```\n\n# Job T9\n\nText.\n",
    );
    folder
}

fn said(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (
        output.status.code(),
        text(&output.stdout),
        text(&output.stderr),
    )
}

fn json(folder: &Folder, arguments: &[&str]) -> Value {
    let output = folder.run(&[arguments, &["--json"]].concat());
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// The verdict on the clamp's jaw.
fn jaw(folder: &Folder, options: &[&str]) -> String {
    let answer = json(folder, &[&["calculate", "clamp-jaw"], options].concat());
    answer["verdicts"][0]["is"]
        .as_str()
        .unwrap_or_default()
        .to_string()
}

#[test]
fn a_calculation_stands_on_the_job_and_the_kit_that_are_named() {
    let folder = yard();
    assert_eq!(jaw(&folder, &[]), "open");
    assert_eq!(jaw(&folder, &["--job", "T9"]), "go");
    assert_eq!(jaw(&folder, &["--job", "T9", "--kit", "red"]), "stop");
    assert_eq!(jaw(&folder, &["--kit", "red"]), "open");
    // what is typed is measured, and stands over the job's
    assert_eq!(
        jaw(&folder, &["--job", "T9", "flange_thickness=4in"]),
        "stop"
    );
    assert_eq!(
        jaw(&folder, &["--kit", "red", "flange_thickness=1in"]),
        "go"
    );
}

#[test]
fn a_sheet_stands_on_the_job_and_the_kit_that_are_named() {
    let folder = yard();
    let sheet = json(&folder, &["sheet", "--job", "T9"]);
    let flange = &sheet["measurements"]["flange_thickness"];
    assert_eq!(
        (flange["text"].as_str(), flange["ground"].as_str()),
        (Some("2 1/2 in"), Some("measured"))
    );
    assert_eq!(sheet["ratings"]["jaw_max"]["ground"], "rated");
    assert_eq!(sheet["training"], true);
    let red = json(
        &folder,
        &["sheet", "--job", "T9", "--kit", "red", "jaw_min=1in"],
    );
    assert_eq!(red["ratings"]["jaw_max"]["text"], "2 in");
    assert_eq!(red["ratings"]["jaw_min"]["ground"], "measured");
    assert_eq!(red["worst"], "stop");
    let (code, out, _) = said(&folder.run(&["sheet", "--job", "T9", "--kit", "red"]));
    assert_eq!(code, Some(0));
    for part in [
        "TRAINING, INVENTED EQUIPMENT",
        "STOP     The flange of 2 1/2 in is thicker than the open jaw",
        "Answered by lead: Spacers are fitted.",
        "Frame clamp, open",
        "(plate)",
        "(measured on T9)",
        "OPEN     Not measured:",
        "Local rules come first.",
    ] {
        assert!(out.contains(part), "{part} in {out}");
    }
}

#[test]
fn names_that_are_not_there_are_refused_with_the_nearest() {
    let folder = yard();
    folder.put(
        "content/jobs/t10.md",
        "```page\njob = \"Tower 10\"\n```\n\n# Job\n\nText.\n",
    );
    for command in [&["sheet"][..], &["calculate", "clamp-jaw"]] {
        let refused = |options: &[&str]| {
            let (code, out, err) = said(&folder.run(&[command, options].concat()));
            assert_eq!((code, out.as_str()), (Some(2), ""), "{err}");
            err
        };
        let err = refused(&["--job", "Tower 11"]);
        assert!(
            err.contains("no prepared job `Tower 11`") && err.contains("Tower 10"),
            "{err}"
        );
        let err = refused(&["--kit", "bleu"]);
        assert!(
            err.contains("no kit `bleu`") && err.contains("the nearest is blue"),
            "{err}"
        );
    }
    let bare = Folder(tempfile::tempdir().expect("a folder"));
    let (code, _, err) = said(&bare.run(&["sheet", "--job", "T9"]));
    assert_eq!(code, Some(2));
    assert!(err.contains("there is no handbook here"), "{err}");
}

#[test]
fn a_verdict_changes_the_exit_code_where_it_is_asked_to() {
    let folder = yard();
    let code = |arguments: &[&str]| folder.run(arguments).status.code();
    let jaw = ["calculate", "clamp-jaw", "--job", "T9"];
    assert_eq!(code(&[&jaw[..], &["--strict"]].concat()), Some(0));
    let stopped = [&jaw[..], &["--kit", "red"]].concat();
    assert_eq!(code(&stopped), Some(0));
    assert_eq!(code(&[&stopped[..], &["--strict"]].concat()), Some(1));
    // open is not settled either
    assert_eq!(code(&["calculate", "clamp-jaw", "--strict"]), Some(1));
    assert_eq!(code(&["sheet", "--job", "T9"]), Some(0));
    assert_eq!(code(&["sheet", "--job", "T9", "--strict"]), Some(1));
    let refused = code(&["sheet", "flange_thickness=1psi", "--strict"]);
    assert_eq!(refused, Some(2));
}

#[test]
fn an_unusual_value_on_a_sheet_is_doubted_as_in_a_calculation() {
    let folder = Folder(tempfile::tempdir().expect("a folder"));
    let typed = "working_pressure=110 psi";
    let (code, out, err) = said(&folder.run(&["sheet", typed]));
    assert_eq!(code, Some(0), "{err}");
    assert!(
        err.contains("warning  doubtful-input") && err.contains("`110 psi`"),
        "{err}"
    );
    assert!(out.contains("doubtful:"), "{out}");
    let sheet = json(&folder, &["sheet", typed]);
    let doubt = &sheet["ratings"]["working_pressure"]["doubt"];
    assert_eq!(doubt["doubtful"], true, "{sheet}");
    let (_, _, calculated) = said(&folder.run(&["calculate", "pressure-rating", typed]));
    assert!(
        calculated.contains("warning  doubtful-input"),
        "{calculated}"
    );
}

#[test]
fn outside_a_handbook_nothing_is_set_and_the_answer_says_what_is_lacking() {
    let folder = Folder(tempfile::tempdir().expect("a folder"));
    let (code, out, _) = said(&folder.run(&["calculate", "clamp-jaw", "flange_thickness=2in"]));
    assert_eq!(code, Some(0));
    for part in [
        "(given here)",
        "not set",
        "OPEN     Not set: frame clamp, open, frame clamp, closed, least travel that the clamp needs.",
        "WARNING: ",
    ] {
        assert!(out.contains(part), "{part} in {out}");
    }
    assert!(!out.contains("TRAINING"), "{out}");
}

#[test]
fn a_limit_of_an_open_verdict_is_told_for_what_it_is() {
    let folder = yard();
    let asked = ["calculate", "clamp-jaw", "--limit", "flange_thickness"];
    let (code, out, err) = said(&folder.run(&asked));
    assert_eq!((code, out.as_str()), (Some(2), ""), "{err}");
    assert!(
        err.contains("not-known") && err.contains("Not measured: flange thickness."),
        "{err}"
    );
    // shown as an example, the numbers have a limit, and the job has none
    let head = format!("{HEAD}kit = \"blue\"\ngiven = {{ flange_thickness = \"2 in\" }}\n");
    folder.put("handbook.toml", head);
    let (code, out, _) = said(&folder.run(&asked));
    assert_eq!(code, Some(0));
    assert!(out.contains("An open verdict has no limit yet."), "{out}");
    assert!(out.contains("flange in the jaw (open): "), "{out}");
    let limits = json(&folder, &asked)["limits"].clone();
    assert_eq!(limits[0]["open"], true, "{limits}");
    let sure = [&asked[..], &["--job", "T9"]].concat();
    let (_, out, _) = said(&folder.run(&sure));
    assert!(
        !out.contains("(open)") && !out.contains("no limit yet"),
        "{out}"
    );
}
