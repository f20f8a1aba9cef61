//! Publishing judges itself: what the handbook's own values come to, and who answers for it.

use gaugeleaf::session::BuiltSite;
use gaugeleaf_finding::{Finding, Level};

use crate::support::*;

/// The pressures of a line that bears 14 000 psi, and a jaw.
const LINE: [(&str, &str); 11] = [
    ("pump_rating", "15000 psi"),
    ("hose_rating", "15000 psi"),
    ("lance_rating", "14000 psi"),
    ("nozzle_rating", "20000 psi"),
    ("valve_rating", "15000 psi"),
    ("gauge_rating", "20000 psi"),
    ("jumper_rating", "20000 psi"),
    ("adapter_rating", "20000 psi"),
    ("jaw_travel_least", "1/8 in"),
    ("jaw_min", "5/8 in"),
    ("jaw_max", "3 1/4 in"),
];
const PAST: (&str, &str) = ("working_pressure", "15500 psi");
const JAW: &str = "clamp-jaw.flange in the jaw";
const PRESSURE: &str = "pressure-rating.working pressure";
/// Another check of the same pressure.
const FLOW: &str = "flow-at-pressure.lowest rating";

fn kit(folder: &Folder, ratings: &[(&str, &str)]) {
    let rows: Vec<String> = ratings
        .iter()
        .map(|(name, value)| format!("{name} = {{ value = \"{value}\", source = \"plate\" }}\n"))
        .collect();
    let head = "[kit]\nname = \"blue\"\ntitle = \"Blue\"\n\n[rating]\n";
    let text = format!("{head}{}", rows.concat());
    folder.put("content/equipment/blue.toml", text);
}

fn job(folder: &Folder, settings: &str, text: &str) {
    let head = "job = \"T9\"\npeople = [\"lead\"]\nreview = 2027-03-01";
    let page = format!("```page\n{head}\n{settings}\n```\n\n# Job T9\n\nText.\n\n{text}");
    folder.put("content/jobs/t9.md", page);
}

fn answer(check: &str) -> String {
    format!(
        "answered = [{{ check = \"{check}\", because = \"Spacers are fitted.\", by = \"lead\" }}]"
    )
}

/// Code, file and offending text of what is found, the head's warnings and what is lacking aside.
fn told(built: &BuiltSite) -> Vec<(&'static str, String, String)> {
    let aside = [
        "no-people",
        "no-review",
        "no-tools",
        "nothing-set",
        "own-open",
    ];
    let found = built.findings.iter();
    found
        .filter(|one| !aside.contains(&one.code.name()))
        .map(|one| {
            let text = &built.sources[&one.file];
            let words = text[one.span.clone()].to_string();
            (one.code.name(), one.file.clone(), words)
        })
        .collect()
}

fn at(code: &'static str, file: &str, words: &str) -> (&'static str, String, String) {
    (code, file.to_string(), words.to_string())
}

fn of<'b>(built: &'b BuiltSite, code: &str) -> Vec<&'b Finding> {
    let found = built.findings.iter();
    found.filter(|one| one.code.name() == code).collect()
}

const BLUE: &str = "content/equipment/blue.toml";
const T9: &str = "content/jobs/t9.md";

#[test]
fn a_kit_that_stops_by_itself_is_told_at_its_own_line_and_stops_the_publish() {
    let folder = Folder::new();
    kit(&folder, &[&LINE[..], &[PAST]].concat());
    let built = folder.build();
    assert_eq!(
        told(&built),
        [
            at("own-stop", BLUE, "\"15500 psi\""),
            at("own-stop", BLUE, "\"15500 psi\"")
        ]
    );
    let stops = of(&built, "own-stop");
    let told_of = |check: &&&Finding| check.message.contains(PRESSURE);
    let stop = stops.iter().find(told_of).expect("the pressure's stop");
    assert_eq!(stop.level, Level::Error);
    assert!(
        stop.message.contains("is past the lowest rating"),
        "{}",
        stop.message
    );
    assert!(stop.message.contains(PRESSURE), "{}", stop.message);
    let help = stop.help.as_deref().unwrap_or_default();
    assert!(help.contains("answered = [{ check = "), "{help}");
    kit(
        &folder,
        &[&LINE[..], &[("working_pressure", "11000 psi")]].concat(),
    );
    assert_eq!(told(&folder.build()), []);
}

#[test]
fn the_handbooks_answer_lets_a_kits_stop_through_and_a_jobs_does_not() {
    let folder = Folder::new();
    kit(&folder, &[&LINE[..], &[PAST]].concat());
    job(&folder, &answer(PRESSURE), "");
    assert_eq!(
        told(&folder.build()),
        [
            at("own-stop", BLUE, "\"15500 psi\""),
            at("own-stop", BLUE, "\"15500 psi\"")
        ]
    );
    let both = answer(PRESSURE).replace("]", &answer(FLOW).replace("answered = [", ", "));
    folder.put("handbook.toml", format!("{HEAD}{}\n", both));
    let built = folder.build();
    assert_eq!(told(&built), []);
    // the verdict stays what it is, with the answer under it
    let page = page(&built, "calculators/pressure-rating.html");
    let (_, verdict) = page
        .split_once("<p class=\"verdict\" data-is=\"stop\"")
        .expect("a stop");
    let (verdict, _) = verdict.split_once("</p>").expect("its end");
    assert!(
        verdict.contains("Answered by lead: Spacers are fitted."),
        "{verdict}"
    );
}

fn page(built: &BuiltSite, path: &str) -> String {
    String::from_utf8_lossy(&built.site[path]).replace('\u{A0}', " ")
}

#[test]
fn a_prepared_jobs_stop_is_told_at_its_value_and_answered_on_its_page() {
    let folder = Folder::new();
    kit(&folder, &LINE);
    let given = "given = { flange_thickness = \"4 in\" }";
    let sheet = "```setup-sheet\n```\n\n```calculator clamp-jaw\n```\n";
    job(&folder, given, sheet);
    assert_eq!(told(&folder.build()), [at("own-stop", T9, "\"4 in\"")]);
    job(&folder, &format!("{given}\n{}", answer(JAW)), sheet);
    let built = folder.build();
    assert_eq!(told(&built), []);
    let html = page(&built, "jobs/t9.html");
    let said = "Answered by lead: Spacers are fitted.";
    // in the sheet's row, among its alarms and in the widget
    assert_eq!(html.matches(said).count(), 3, "{html}");
    assert!(
        html.contains("data-check=\"flange in the jaw\" data-is=\"stop\""),
        "{html}"
    );
    // on other pages it answers nothing
    let other = page(&built, "calculators/clamp-jaw.html");
    assert!(!other.contains(said), "{other}");
}

#[test]
fn a_jobs_stop_without_a_value_of_its_own_is_told_at_the_kit_and_the_kits_own_once() {
    let folder = Folder::new();
    let backwards = [("jaw_min", "4 in"), ("jaw_max", "3 in")];
    kit(&folder, &backwards);
    // the jaw runs backwards, whatever the flange: the kit's own stop
    job(&folder, "given = { flange_thickness = \"3 1/2 in\" }", "");
    assert_eq!(told(&folder.build()), [at("own-stop", BLUE, "\"4 in\"")]);
    folder.put("content/jobs/t8.md", "```page\njob = \"T8\"\npeople = [\"lead\"]\nreview = 2027-03-01\ngiven = { flange_thickness = \"2 in\" }\n```\n\n# Job T8\n\nText.\n");
    assert_eq!(told(&folder.build()), [at("own-stop", BLUE, "\"4 in\"")]);
}

#[test]
fn values_of_the_handbooks_job_are_judged_where_no_page_prepares_it() {
    let folder = Folder::new();
    kit(&folder, &LINE);
    folder.put(
        "handbook.toml",
        format!("{HEAD}given = {{ flange_thickness = \"4 in\" }}\n"),
    );
    assert_eq!(
        told(&folder.build()),
        [at("own-stop", "handbook.toml", "\"4 in\"")]
    );
}

#[test]
fn a_prepared_job_that_is_open_says_once_what_to_measure() {
    let folder = Folder::new();
    kit(&folder, &LINE);
    job(
        &folder,
        "given = { flange_thickness = \"2 in\" }",
        "```setup-sheet\n```\n",
    );
    let built = folder.build();
    let [open] = of(&built, "own-open")[..] else {
        panic!("{:?}", built.findings);
    };
    assert_eq!((open.level, open.file.as_str()), (Level::Warning, T9));
    assert_eq!(&built.sources[T9][open.span.clone()], "\"T9\"");
    let (_, measure) = open
        .message
        .split_once("not measured: ")
        .expect("to measure");
    let (measure, set) = measure
        .split_once("; not set in its kit: ")
        .expect("to set");
    for listed in [measure, set] {
        assert_eq!(listed.matches(", ").count(), 4, "{listed}");
        assert!(listed.ends_with(" more"), "{listed}");
    }
    assert!(
        !open.message.contains("flange_thickness"),
        "{}",
        open.message
    );
}

#[test]
fn an_answer_to_what_does_not_stop_is_told() {
    let folder = Folder::new();
    kit(&folder, &LINE);
    folder.put("handbook.toml", format!("{HEAD}{}\n", answer(JAW)));
    let quoted = format!("\"{JAW}\"");
    assert_eq!(
        told(&folder.build()),
        [at("answers-nothing", "handbook.toml", &quoted)]
    );
    folder.put("handbook.toml", HEAD);
    let given = "given = { flange_thickness = \"2 in\" }\n";
    job(&folder, &format!("{given}{}", answer(JAW)), "");
    assert_eq!(told(&folder.build()), [at("answers-nothing", T9, &quoted)]);
    // on a page that is no job's it can answer nothing
    job(&folder, given, "");
    let head = PAGE.replace("order = 10", &format!("order = 10\n{}", answer(JAW)));
    folder.put("content/fit/page.md", head);
    assert_eq!(
        told(&folder.build()),
        [at("answers-nothing", "content/fit/page.md", &quoted)]
    );
}

#[test]
fn an_answer_needs_a_reason_and_a_name() {
    let folder = Folder::new();
    for lacking in ["because = \"x\"", "by = \"lead\""] {
        let answered = format!("answered = [{{ check = \"{JAW}\", {lacking} }}]\n");
        folder.put("handbook.toml", format!("{HEAD}{answered}"));
        let codes: Vec<_> = errors(&folder.build())
            .into_iter()
            .map(|one| one.0)
            .collect();
        assert_eq!(codes, ["missing-setting"], "{lacking}");
    }
}

#[test]
fn an_unusual_value_of_a_job_is_doubted_where_it_stands() {
    let folder = Folder::new();
    folder.put(
        "handbook.toml",
        format!("{HEAD}given = {{ channel_depth = \"70 in\" }}\n"),
    );
    let head = at("doubtful-input", "handbook.toml", "\"70 in\"");
    assert_eq!(told(&folder.build()), std::slice::from_ref(&head));
    job(
        &folder,
        "given = { channel_depth = \"80 in\" }",
        "```setup-sheet\n```\n",
    );
    let page = at("doubtful-input", T9, "\"80 in\"");
    let built = folder.build();
    assert_eq!(told(&built), [page, head]);
    assert!(
        of(&built, "doubtful-input")
            .iter()
            .all(|one| one.level == Level::Warning)
    );
}
