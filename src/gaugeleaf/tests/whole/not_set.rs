//! A handbook in which nobody has set or measured anything is published, and says so.

use gaugeleaf::session::BuiltSite;
use gaugeleaf_calc::calculator::Verdict;
use gaugeleaf_calc::catalog::Whose;
use gaugeleaf_calc::field::{Field, FieldKind};
use gaugeleaf_calc::quantity::in_unit;
use gaugeleaf_calc::{Argument, Catalog, Job, Names, builtin};
use gaugeleaf_finding::Level;

use crate::support::*;

/// `handbook.toml` and `content/index.md`, and nothing else.
fn two_files() -> Folder {
    let folder = Folder(tempfile::tempdir().expect("a temporary folder"));
    folder.put("handbook.toml", HEAD);
    folder.put("content/index.md", "# Start\n\nRead this first.\n");
    folder
}

fn pages(built: &BuiltSite) -> impl Iterator<Item = (&String, String)> {
    let files = built
        .site
        .iter()
        .filter(|(path, _)| path.ends_with(".html"));
    files.map(|(path, bytes)| (path, String::from_utf8_lossy(bytes).into_owned()))
}

#[test]
fn two_files_are_a_handbook_with_one_warning() {
    let folder = two_files();
    let built = folder.build();
    let [one] = &built.findings[..] else {
        panic!("{:?}", built.findings);
    };
    assert_eq!(
        (one.code.name(), one.level),
        ("nothing-set", Level::Warning)
    );
    assert_eq!(one.file, "handbook.toml");
    let help = one.help.as_deref().unwrap_or_default();
    assert!(help.contains("content/equipment/NAME.toml"), "{help}");
    let output = folder.run(&["publish"]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let (catalog, _) = Catalog::load(&builtin());
    for calculator in catalog.calculators.values() {
        let path = format!("calculators/{}.html", calculator.name);
        let page = String::from_utf8_lossy(&built.site[&path]).into_owned();
        for part in ["data-widget", "id=\"examples\"", "class=\"source\""] {
            assert!(page.contains(part), "{part} in {path}");
        }
    }
}

#[test]
fn no_page_of_two_files_says_go() {
    for (path, html) in pages(&two_files().build()) {
        for (at, _) in html.match_indices("data-is=\"go\"") {
            // what a check may say is explained, case by case
            assert!(
                html[..at].ends_with("<li "),
                "{path}: {}",
                &html[at - 40..at + 80]
            );
        }
    }
}

#[test]
fn a_text_that_hangs_on_what_is_not_set_is_told_once_for_all_like_it() {
    let links = "Set [](value:jaw_max).\n\n".repeat(30);
    let folder = Folder::bare_with(&format!("{links}Cut [](value:guide-tube-length.length).\n"));
    let built = folder.build();
    let found: Vec<_> = built
        .findings
        .iter()
        .filter(|one| one.level == Level::Error)
        .map(|one| {
            (
                one.code.name(),
                one.message.as_str(),
                one.ties.followed_by.len(),
            )
        })
        .collect();
    let [(_, jaw, 29), (_, length, 0)] = found[..] else {
        panic!("{found:?}");
    };
    assert_eq!(
        found.iter().map(|one| one.0).collect::<Vec<_>>(),
        ["not-known"; 2]
    );
    assert!(jaw.contains("`jaw_max` is not set"), "{jaw}");
    assert!(
        length.contains("channel head depth") && length.contains("stock guide tube"),
        "{length}"
    );
}

#[test]
fn what_cannot_be_drawn_is_told_and_what_has_blanks_is_published() {
    let chart = "```chart guide-tube-length\noutput = \"length\"\nover = \"channel_depth\"\nfrom = \"2 in\"\nto = \"3 in\"\nstep = \"1/2 in\"\n```\n";
    let question = "```question\nask = \"How long behind a head of {channel_depth}?\"\ncalculator = \"guide-tube-length\"\noutput = \"length\"\ndraw = { channel_depth = [\"4 in\", \"13 in\", \"1/4 in\"] }\ntolerance = \"1/8 in\"\n```\n";
    for block in [
        "```figure guide-tube-length\n```\n",
        "```tube-map\n```\n",
        chart,
        question,
    ] {
        let (code, ..) = one_error_of(&Folder::bare_with(block), block);
        assert_eq!(code, "not-known", "{block}");
    }
    for block in [
        "```calculator guide-tube-length\n```\n",
        "```setup-sheet\n```\n",
    ] {
        let built = Folder::bare_with(block).build();
        assert_eq!(errors(&built), [], "{block}");
        let page = String::from_utf8_lossy(&built.site["fit/page.html"]).into_owned();
        assert!(
            page.contains("data-is=\"open\"") && !page.contains("data-is=\"go\""),
            "{page}"
        );
    }
}

#[test]
fn what_is_left_out_is_nowhere_in_the_site() {
    let folder = Folder::bare_with("```setup-sheet\n```\n");
    folder.put(
        "handbook.toml",
        format!("{HEAD}leave_out = [\"noise-exposure\"]\n"),
    );
    let built = folder.build();
    assert_eq!(errors(&built), []);
    assert!(!built.site.contains_key("calculators/noise-exposure.html"));
    for (path, html) in pages(&built) {
        assert!(!html.contains("noise-exposure"), "{path}");
    }
    let said = folder.run(&["sheet"]);
    assert!(!String::from_utf8_lossy(&said.stdout).contains("noise-exposure"));
    folder.put(
        "content/index.md",
        "# Start\n\n```calculator noise-exposure\n```\n",
    );
    let found = folder.build().findings;
    let left = found
        .iter()
        .find(|one| one.level == Level::Error)
        .expect("an error");
    assert!(
        left.message.contains("is left out of this handbook"),
        "{}",
        left.message
    );
}

/// Whole numbers, the same on every run.
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (self.0 >> 40) as f64 / (1_u64 << 24) as f64
    }

    /// A value that the field takes, as somebody might type it.
    fn of(&mut self, field: &Field) -> String {
        match &field.kind {
            FieldKind::Number {
                format,
                least,
                most,
                usual,
                ..
            } => {
                let (low, high) = usual.unwrap_or((least.unwrap_or(0.0), most.unwrap_or(1.0)));
                let si = low + (high - low) * self.next();
                in_unit(si, &format.main.unit, format.main.kind)
            }
            FieldKind::Choice(choices) => {
                let at = (self.next() * choices.len() as f64) as usize;
                choices[at.min(choices.len() - 1)].name.clone()
            }
        }
    }
}

/// Where nothing else is set, one value alone makes no go, but of a check that reads it alone.
#[test]
fn one_value_alone_makes_no_go_for_any_calculator() {
    let (catalog, _) = Catalog::load(&builtin());
    let mut numbers = Numbers(7);
    let given = Names::new();
    let page = catalog.job_of(&Whose::Page { given });
    for calculator in catalog.calculators.values() {
        for input in &calculator.inputs {
            for _ in 0..8 {
                let text = numbers.of(&input.field);
                let typed = [Argument::new(&input.field.name, &text)];
                for job in [&Job::new(), &page] {
                    let answer = catalog.calculate(&calculator.name, &typed, job);
                    let answer = answer.expect("a calculator");
                    for check in answer.checks.iter().filter(|one| one.is == Verdict::Go) {
                        let alone = check.check.as_str();
                        assert!(
                            answer.unset.is_empty() || check.standing,
                            "{}.{alone} with {} = {text}",
                            calculator.name,
                            input.field.name
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn one_measurement_alone_makes_no_go_on_any_sheet() {
    let (catalog, _) = Catalog::load(&builtin());
    let mut numbers = Numbers(11);
    for named in catalog.named.values() {
        let text = numbers.of(&named.field);
        let job = Job::from([(named.field.name.clone(), text.clone())]);
        let sheet = catalog.setup_sheet(&job);
        assert_eq!(sheet.count(Verdict::Go), 0, "{} = {text}", named.field.name);
    }
}
