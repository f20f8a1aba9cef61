//! Which values hold at a place: the handbook's, over them the page's, over those the block's, and
//! on the command line what is typed there. Every place that shows values resolves them alike.

use std::fs;
use std::path::Path;

use gaugeleaf::session::BuiltSite;

use crate::support::*;

/// A bundle wider than the frame reaches, and one that it serves.
const STOPS: &str = "bundle_diameter = \"60 in\"\n";
const SERVES: &str = "bundle_diameter = \"22 1/4 in\"\n";

fn page(built: &BuiltSite, path: &str) -> String {
    let bytes = built.site.get(path);
    let bytes = bytes.unwrap_or_else(|| panic!("{path}: {:?}", built.findings));
    String::from_utf8_lossy(bytes).replace('\u{A0}', " ")
}

/// What stands between two words of a page, after the first place of the first.
fn between<'t>(text: &'t str, from: &str, to: &str) -> &'t str {
    let (_, rest) = text
        .split_once(from)
        .unwrap_or_else(|| panic!("no {from}:\n{text}"));
    rest.split(to).next().unwrap_or("")
}

/// A handbook with a prepared job: `[given]` of handbook.toml, `given` of the page, body of its sheet.
fn prepared(handbook: &str, on_page: &str, block: &str) -> BuiltSite {
    let folder = Folder::equipped();
    // what comes to a caution or stays open on that job, whatever the frame reaches
    let left_out = "leave_out = [\"gauge-window\", \"stored-energy\", \"waste-catch\"]";
    folder.put(
        "handbook.toml",
        format!("{HEAD}{left_out}\n[given]\n{handbook}"),
    );
    // every other measurement of the demonstration's first job
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../content/jobs/t1.md");
    let job = fs::read_to_string(root).expect("its first job");
    let given = job.lines().find_map(|line| line.strip_prefix("given = { "));
    let given = given.expect("its values").trim_end_matches(" }");
    let pairs = given
        .split("\", ")
        .filter(|pair| !pair.starts_with("bundle_diameter"));
    let others: String = pairs
        .map(|pair| format!("{}\"\n", pair.trim_end_matches('"')))
        .collect();
    folder.put(
        "content/jobs/a.md",
        format!(
            "```page\njob = \"J1\"\n\n[given]\n{others}{on_page}```\n\n# J1\n\nText.\n\n```setup-sheet\n{block}```\n"
        ),
    );
    folder.build()
}

/// The worst verdict that the front page tells of the job, and the one on the job's own sheet.
fn worst(built: &BuiltSite) -> (String, String) {
    let front = page(built, "index.html");
    let card = between(&front, "card-worst", "</span>");
    let sheet = page(built, "jobs/a.html");
    let sheet = between(&sheet, "setup-worst\" data-is=\"", "\"");
    (
        between(card, "<strong>", "<").to_lowercase(),
        sheet.to_string(),
    )
}

#[test]
fn the_front_page_judges_a_job_as_its_own_sheet_does_whatever_level_a_value_comes_from() {
    for (handbook, on_page, block, wanted) in [
        ("", "", "", "open"),
        (SERVES, "", "", "open"),
        ("", SERVES, "", "go"),
        ("", STOPS, "", "stop"),
        ("", "", STOPS, "stop"),
        (STOPS, SERVES, "", "go"),
        ("", STOPS, SERVES, "go"),
        (SERVES, SERVES, STOPS, "stop"),
    ] {
        let built = prepared(handbook, on_page, block);
        let mut faults = errors(&built);
        faults.retain(|fault| fault.0 != "own-stop");
        assert_eq!(faults, [], "{handbook}|{on_page}|{block}");
        let both = (wanted.to_string(), wanted.to_string());
        assert_eq!(worst(&built), both, "{handbook}|{on_page}|{block}");
    }
}

#[test]
fn a_page_hands_the_engine_whose_values_hold_on_it_where_it_gives_some() {
    let folder = Folder::new();
    folder.put("content/fit/page.md", "# Plain\n\nText.\n\n## Do it\n");
    let own = "```page\norder = 10\n\n[given]\nchannel_depth = \"9 in\"\n```\n\n# Fit\n\nText.\n\n## Do it\n";
    folder.put("content/fit/own.md", own);
    let job = "```page\njob = \"J1\"\n\n[given]\nchannel_depth = \"10 in\"\n```\n\n# J1\n\nText.\n";
    folder.put("content/jobs/a.md", job);
    let built = folder.build();
    assert_eq!(errors(&built), []);
    let head = |path| between(&page(&built, path), "<html", ">").replace("&quot;", "\"");
    assert!(!head("fit/page.html").contains("data-given"));
    let own = head("fit/own.html");
    assert!(own.contains("\"whose\":\"page\"") && own.contains("9 in"));
    let job = head("jobs/a.html");
    assert!(job.contains("\"whose\":\"prepared\"") && job.contains("10 in"));
}

#[test]
fn every_place_takes_its_values_from_the_same_levels() {
    let depth = |inches: &str| format!("channel_depth = \"{inches} in\"\n");
    let folder = Folder::new();
    folder.put("handbook.toml", format!("{HEAD}\n[given]\n{}", depth("9")));
    folder.put(
        "content/fit/page.md",
        "# Plain\n\nText. [](value:channel_depth)\n\n## Do it\n\n```calculator guide-tube-length\n```\n",
    );
    folder.put(
        "content/jobs/a.md",
        format!(
            "```page\njob = \"J1\"\n\n[given]\n{}```\n\n# J1\n\nText. [](value:channel_depth)\n\n```setup-sheet\n{}```\n\n```calculator guide-tube-length\n```\n",
            depth("10"),
            depth("11")
        ),
    );
    let built = folder.build();
    assert_eq!(errors(&built), []);
    let value = "data-value=\"channel_depth\"";
    let given =
        "id=\"guide-tube-length-channel_depth\" type=\"text\" inputmode=\"decimal\" value=\"";
    let plain = page(&built, "fit/page.html");
    assert_eq!(between(between(&plain, value, "/a>"), ">", "<"), "9 in");
    assert_eq!(between(&plain, given, "\""), "9 in");
    let job = page(&built, "jobs/a.html");
    assert_eq!(between(between(&job, value, "/a>"), ">", "<"), "10 in");
    assert_eq!(between(&job, given, "\""), "10 in");
    let sheet = between(&job, "data-setup", "</section>");
    let row = between(sheet, "data-named=\"channel_depth\"", "/tr>");
    assert_eq!(between(row, "class=\"value\">", "<"), "11 in");
    let calculator = page(&built, "calculators/guide-tube-length.html");
    assert_eq!(between(&calculator, given, "\""), "9 in");
    let run =
        |arguments: &[&str]| String::from_utf8_lossy(&folder.run(arguments).stdout).into_owned();
    let depth_of = |text: &str| {
        let line = text
            .lines()
            .find(|line| line.contains("Channel head depth"));
        line.unwrap_or_default().to_string()
    };
    assert!(depth_of(&run(&["calculate", "guide-tube-length"])).contains("9 in"));
    assert!(depth_of(&run(&["sheet"])).contains("9 in"));
    assert!(depth_of(&run(&["sheet", "channel_depth=12in"])).contains("12 in"));
}
