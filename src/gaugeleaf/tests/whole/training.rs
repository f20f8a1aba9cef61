//! Whole handbooks with tick lists, questions, tests, tasks and roles.

use gaugeleaf::session::BuiltSite;

use crate::support::*;

const QUESTIONS: &str = "## Ask yourself\n\n```question\nask = \"Behind {channel_depth}?\"\n\
    calculator = \"guide-tube-length\"\noutput = \"length\"\ntolerance = \"1/8 in\"\ncritical = true\n\
    draw = { channel_depth = [\"4 in\", \"13 in\", \"1/4 in\"] }\ngiven = { stock_length = \"12 in\" }\n```\n\n\
    ```question\nask = \"Who may stop the job?\"\nright = \"anyone\"\nwrong = [\"the lead\", \"nobody\", \"crew\"]\n\
    why = \"As [here](#do-it) and [there](../index.md).\"\n```\n";
const TRAIN: &str = "title = \"Train\"\norder = 80\npurpose = \"Learn.\"\n";

/// A handbook with two questions, and a page that tests a phase.
fn with_test(path: &str, phase: &str) -> Folder {
    let folder = Folder::with(QUESTIONS);
    folder.put("content/train/phase.toml", TRAIN);
    folder.put(path, format!("# Test\n\n```test {phase}\n```\n"));
    folder
}

fn page(built: &BuiltSite, path: &str) -> String {
    String::from_utf8_lossy(&built.site[path]).into_owned()
}

#[test]
fn a_test_holds_every_question_of_its_phase_and_a_sheet_to_sign() {
    let built = with_test("content/train/fit.md", "fit").build();
    assert_eq!(errors(&built), []);
    let test = page(&built, "train/fit.html");
    assert_eq!(test.matches("data-question=").count(), 2);
    for part in [
        "data-asked=\"1\"",
        "data-needed=\"1\"",
        "Sign-off sheet",
        "Test yard, revision A",
        "Comprehension checked in language",
        "scripts/test.js",
        // a link inside a question still leads to the question's own page
        "href=\"../fit/page.html#do-it\"",
        "href=\"../index.html\"",
    ] {
        assert!(test.contains(part), "{part}");
    }
    assert!(!page(&built, "fit/page.html").contains("Sign-off sheet"));
}

#[test]
fn the_answers_are_in_the_ledger_and_not_among_the_values_on_the_card() {
    let built = with_test("content/train/fit.md", "fit").build();
    let ledger = page(&built, "ledger.json");
    assert!(ledger.contains("\"page\": \"train/fit.html\""), "{ledger}");
    assert!(!page(&built, "train/fit.html").contains("Values on this card"));
}

#[test]
fn an_answer_cannot_be_searched_for() {
    let folder = with_test("content/train/fit.md", "fit");
    let index = |folder: &Folder| {
        let site = folder.build().site;
        ["scripts/search-index.js", "scripts/search-texts.js"].map(|script| site[script].clone())
    };
    let before = index(&folder);
    let other = QUESTIONS.replace("\"anyone\"", "\"every one\"");
    folder.put("content/fit/page.md", format!("{PAGE}\n{other}"));
    assert!(before == index(&folder));
}

#[test]
fn a_test_of_nothing_is_found_at_its_word() {
    let found = |path: &str, phase: &str| {
        let built = with_test(path, phase).build();
        let first = errors(&built).remove(0);
        (first.0, first.4)
    };
    assert_eq!(
        found("content/train/a.md", "fti"),
        ("unknown-phase", "fti".to_string())
    );
    assert_eq!(
        found("content/train/a.md", "train"),
        ("no-questions", "train".to_string())
    );
    assert_eq!(
        found("content/a.md", "fit"),
        ("test-place", "fit".to_string())
    );
    assert_eq!(
        found("content/train/a.md", ""),
        ("unnamed-block", "test".to_string())
    );
}

#[test]
fn what_is_wrong_with_a_question_is_told_once_on_its_own_page() {
    let folder = with_test("content/train/fit.md", "fit");
    let wrong = QUESTIONS.replace("wrong = [\"the lead\", \"nobody\", \"crew\"]", "wrong = []");
    folder.put("content/fit/page.md", format!("{PAGE}\n{wrong}"));
    let built = folder.build();
    let told: Vec<_> = errors(&built)
        .into_iter()
        .map(|one| (one.0, one.1))
        .collect();
    assert_eq!(told, [("answer-count", "content/fit/page.md".to_string())]);
}

#[test]
fn a_test_of_named_pages_asks_theirs_and_no_more_than_half_without_a_word() {
    let folder = Folder::with(QUESTIONS);
    folder.put("content/train/phase.toml", TRAIN);
    let test = |more: &str| {
        let block = format!("pages = [\"../fit/page.md\"]\ntitle = \"what kills\"\n{more}");
        folder.put(
            "content/train/a.md",
            format!("# Test\n\n```test\n{block}\n```\n"),
        );
        let built = folder.build();
        // what this handbook lacks besides is not asked here
        let apart = [
            "no-people",
            "no-review",
            "no-tools",
            "critical-without-rest",
        ];
        let told = built.findings.iter().map(|one| one.code.name());
        let told: Vec<_> = told.filter(|code| !apart.contains(code)).collect();
        (page(&built, "train/a.html"), told)
    };
    let (html, told) = test("ask = 1\nevery = true");
    assert_eq!(told, [""; 0]);
    for part in [
        "data-asked=\"1\"",
        "1 questions on what kills, out of 2",
        "every one must be right",
    ] {
        assert!(html.contains(part), "{part} in {html}");
    }
    assert_eq!(test("ask = 2").1, ["small-pool"]);
    let (_, told) = test("title = \"twice\"");
    assert_eq!(told, ["bad-settings"]);
}

/// An observation sheet of eight lines about the one page.
const TASK: &str = "# Task: Set\n\n```task\npages = [\"../fit/page.md\"]\nlines = [\n\
    { see = \"Locks the air\", critical = true },\n{ see = \"Says a\" },\n{ see = \"Says b\" },\n\
    { see = \"Says c\" },\n{ see = \"Says d\" },\n{ see = \"Says e\" },\n{ see = \"Says f\" },\n\
    { see = \"Says g\" },\n]\n```\n";

#[test]
fn a_role_links_its_tests_and_tasks_and_the_site_tells_what_they_stand_on() {
    let folder = with_test("content/train/fit.md", "fit");
    folder.put("content/train/set.md", TASK);
    let role = "# Role\n\n```role\nname = \"Fitter\"\ntests = [\"fit.md\"]\namong_strokes = [\"set.md\"]\nstrokes = 3\n```\n\n```register\n```\n";
    folder.put("content/train/role.md", role);
    let hazard = "> **WARNING** Air in the clamp. It crushes. Lock it first.\n\n1. Open it [](value:stock_guide_tube).\n";
    folder.put(
        "content/fit/page.md",
        format!("{PAGE}\n{hazard}\n{QUESTIONS}"),
    );
    let built = folder.build();
    assert_eq!(errors(&built), []);
    let role = page(&built, "train/role.html");
    for part in [
        "href=\"../train/fit.html\"",
        "href=\"../train/set.html\"",
        "data-kind=\"strokes\"",
        "scripts/role.js",
        "scripts/register.js",
    ] {
        assert!(role.contains(part), "{part} in {role}");
    }
    let grounds = grounds(&built);
    let own = serde_json::json!(["fit/page.html"]);
    let shown = |page: &str| &grounds["shown"][page];
    for (page, title) in [("train/fit.html", "Test"), ("train/set.html", "Task: Set")] {
        assert_eq!(
            (&shown(page)["pages"], &shown(page)["title"]),
            (&own, &title.into())
        );
    }
    let wanted = serde_json::json!({
        "name": "Fitter", "first": [], "tests": ["train/fit.html"], "tasks": [],
        "among": ["train/set.html"], "strokes": 3, "beside": "", "months": 12,
    });
    assert_eq!(grounds["roles"]["train/role.html"], wanted);
    let stands = &grounds["pages"]["fit/page.html"];
    let hazards: Vec<_> = stands["hazards"]
        .as_object()
        .expect("hazards")
        .values()
        .collect();
    let own = serde_json::json!([
        "warning",
        "WARNING Air in the clamp. It crushes. Lock it first."
    ]);
    assert!(hazards.contains(&&own), "{hazards:?}");
    let value = &stands["values"]["stock_guide_tube"];
    assert!(
        value[1].as_str().is_some_and(|text| text.contains("in")),
        "{stands}"
    );
}

/// What records are held against.
fn grounds(built: &BuiltSite) -> serde_json::Value {
    let script = page(built, "scripts/grounds.js");
    let (_, json) = script
        .split_once("globalThis.gaugeleafGrounds = ")
        .expect("what scripts read");
    serde_json::from_str(json.trim_end_matches(";\n")).expect("JSON")
}

/// The mark of the task, and of the test, in which a try is kept.
fn marks(folder: &Folder) -> [String; 2] {
    let grounds = grounds(&folder.build());
    ["train/set.html", "train/fit.html"].map(|of| grounds["shown"][of]["mark"].to_string())
}

#[test]
fn a_try_is_marked_anew_where_a_line_a_question_a_hazard_or_a_value_beneath_it_changes() {
    let folder = with_test("content/train/fit.md", "fit");
    folder.put("content/train/set.md", TASK);
    let before = marks(&folder);
    folder.put("content/train/set.md", TASK.replace("Says c", "Says why"));
    let lines = marks(&folder);
    assert!(lines[0] != before[0] && lines[1] == before[1]);
    folder.put(
        "content/train/set.md",
        TASK.replace(
            "{ see = \"Says c\" }",
            "{ see = \"Says c\", critical = true }",
        ),
    );
    assert_ne!(marks(&folder)[0], before[0]);
    folder.put("content/train/set.md", TASK);
    let other = QUESTIONS.replace("\"anyone\"", "\"every one\"");
    folder.put("content/fit/page.md", format!("{PAGE}\n{other}"));
    let questions = marks(&folder);
    assert!(questions[0] == before[0] && questions[1] != before[1]);
    let hazard = "> **WARNING** Air in the clamp. It crushes. Lock it first.\n\n1. Open it.\n";
    folder.put(
        "content/fit/page.md",
        format!("{PAGE}\n{hazard}\n{QUESTIONS}"),
    );
    let hazards = marks(&folder);
    assert!(hazards[0] != before[0] && hazards[1] != before[1]);
    let value = "It is [](value:stock_guide_tube).\n";
    folder.put(
        "content/fit/page.md",
        format!("{PAGE}\n{value}\n{QUESTIONS}"),
    );
    let values = marks(&folder);
    assert!(values[0] != before[0] && values[0] != hazards[0]);
}

#[test]
fn a_page_has_one_role() {
    let folder = with_test("content/train/fit.md", "fit");
    let role = "```role\nname = \"Fitter\"\ntests = [\"fit.md\"]\n```\n";
    folder.put("content/train/role.md", format!("# Role\n\n{role}\n{role}"));
    let told: Vec<_> = errors(&folder.build())
        .into_iter()
        .map(|one| (one.0, one.4))
        .collect();
    assert_eq!(told, [("test-place", "role".to_string())]);
}

#[test]
fn a_tick_list_can_be_linked_to_and_searched() {
    let list = "See [the list](#checks).\n\n```checks\nitems = [ { do = \"Quillfeather valve\", want = \"shut\" } ]\ndone = \"Tell the lead.\"\n```\n";
    let built = Folder::with(list).build();
    assert_eq!(errors(&built), []);
    let page = page(&built, "fit/page.html");
    assert!(page.contains("id=\"checks\"") && page.contains("Quillfeather valve"));
    let without = Folder::with("See [the page](#do-it).\n").build();
    let size = |built: &BuiltSite| built.site["scripts/search-index.js"].len();
    assert!(size(&built) > size(&without));
}
