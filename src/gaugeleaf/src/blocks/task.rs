//! `task`: what somebody shows, line by line, while an assessor watches: each seen, prompted or
//! missed, on two days.

use std::ops::Range;

use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType};
use gaugeleaf_calc::finding::{Code, Finding};
use serde::Serialize;

use crate::blocks::question::say::ReadMore;
use crate::handbook::kind::BlockShape;
use crate::handbook::page::Page;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::fences::alone;
use crate::page::hashes::ContentHashes;
use crate::page::inline;
use crate::page::kind::{BlockKind, Fence};
use crate::page::links::named;
use crate::page::node::{Block, Line, words};
use crate::page::training::{Shown, Training};
use crate::values::hash::hash;

const FIELDS: &[SettingField] = &[
    SettingField::new(
        "pages",
        SettingType::Texts,
        "The pages whose steps it shows.",
    )
    .needed_and_told(),
    SettingField::new(
        "prepare",
        SettingType::Text,
        "What the assessor sets up before, unseen, and which cue comes when.",
    ),
    SettingField::new(
        "lines",
        SettingType::Tables(LINE),
        "What is to be seen or heard: 8 to 15 lines.",
    )
    .needed_and_told(),
    SettingField::new(
        "undo",
        SettingType::Text,
        "What the assessor puts right afterwards.",
    ),
];

const LINE: &[SettingField] = &[
    SettingField::new("see", SettingType::Text, "What is seen or heard.").needed_and_told(),
    SettingField::new(
        "critical",
        SettingType::Truth,
        "Whether missing it fails the task.",
    ),
];

/// With fewer lines a task shows too little, and with more nobody watches the hands any more.
const LINES: std::ops::RangeInclusive<usize> = 8..=15;

/// `task`: an observation sheet.
pub struct TaskBlock;

impl BlockShape for TaskBlock {
    fn name(&self) -> &'static str {
        "task"
    }

    fn help(&self) -> &'static str {
        "What a candidate shows, line by line, while an assessor watches, on two days."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }

    fn holds_prose(&self) -> bool {
        true
    }
}

impl BlockKind for TaskBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &[
            "names", "record", "people", "person", "stands", "evidence", "task",
        ]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        if let Err(finding) = alone(fence, self.name(), "each is signed for itself", context) {
            return Composed::fault(finding);
        }
        let block = read(fence, context).then(|wanted| {
            let mut block = task(&wanted, context);
            block.findings.extend(fitting(&wanted, fence, context));
            block.map(Some)
        });
        fence.standing(self.name(), context, block)
    }
}

/// What the block says.
struct TaskSettings {
    pages: Vec<Placed<String>>,
    prepare: Option<Placed<String>>,
    lines: Vec<SeenLine>,
    undo: Option<Placed<String>>,
}

struct SeenLine {
    see: Option<Placed<String>>,
    critical: bool,
    span: Range<usize>,
}

/// What `blocks/task.html` is given as `t`.
#[derive(Serialize)]
struct TaskView {
    pages: Vec<ReadMore>,
    prepare: Option<Line>,
    lines: Vec<LineView>,
    critical: usize,
    undo: Option<Line>,
}

#[derive(Serialize)]
struct LineView {
    /// What is marked on a line is for these words alone.
    key: String,
    critical: bool,
    see: Option<Line>,
}

fn read(fence: &Fence, context: &Context) -> Composed<Option<TaskSettings>> {
    fence.settings(context, |settings| {
        Some(TaskSettings {
            pages: settings.texts("pages"),
            prepare: settings.text("prepare"),
            lines: settings.tables("lines", |line, span| SeenLine {
                see: line.text("see"),
                critical: line.truth("critical"),
                span,
            }),
            undo: settings.text("undo"),
        })
    })
}

fn task(wanted: &TaskSettings, context: &Context) -> Composed<Block> {
    let mut all = Composed::of(());
    let mut texts = Vec::new();
    let mut keys = ContentHashes::default();
    let mut line = |text: &Option<Placed<String>>| -> Option<(Line, String)> {
        let nodes = all.take(inline::line(text.as_ref()?, context));
        let said = words(&nodes);
        Some((Line::of(&mut texts, nodes), said))
    };
    let prepare = line(&wanted.prepare).map(|(line, _)| line);
    let lines: Vec<LineView> = wanted
        .lines
        .iter()
        .map(|one| {
            let see = line(&one.see);
            LineView {
                key: keys.give(see.as_ref().map_or("", |(_, said)| said)),
                critical: one.critical,
                see: see.map(|(line, _)| line),
            }
        })
        .collect();
    let undo = line(&wanted.undo).map(|(line, _)| line);
    let pages: Vec<&Page> = wanted
        .pages
        .iter()
        .filter_map(|page| {
            all.take(Composed::from(named(
                &page.value,
                page.span.clone(),
                context,
            )))
        })
        .collect();
    let view = TaskView {
        pages: pages.iter().map(|page| ReadMore::page(page)).collect(),
        prepare,
        critical: lines.iter().filter(|line| line.critical).count(),
        lines,
        undo,
    };
    let said: Vec<String> = view
        .lines
        .iter()
        .map(|line| format!("{} {}\n", line.key, line.critical))
        .collect();
    let training = Training::Shown(Shown {
        set: hash(said.concat().as_bytes()),
        pages: pages.iter().map(|page| page.path.clone()).collect(),
    });
    all.with(Block {
        prose: true,
        training: Some(training),
        ..Block::new("blocks/task.html", "t", &view).lines(texts)
    })
}

/// What makes a sheet that can't sign anybody off.
fn fitting(wanted: &TaskSettings, fence: &Fence, context: &Context) -> Vec<Finding> {
    let word = &fence.kind;
    let mut findings = Vec::new();
    for line in &wanted.lines {
        let says = |see: &Placed<String>| !see.value.trim().is_empty();
        if !line.see.as_ref().is_some_and(says) {
            let message = "this line doesn't say what is to be seen";
            let finding = context.error(Code::MissingSetting, line.span.clone(), message);
            findings.push(finding.help("add see = \"…\": what somebody beside it can see or hear"));
        }
    }
    let count = wanted.lines.len();
    if !LINES.contains(&count) {
        let message = format!(
            "a task has {} to {} lines, and this one {count}",
            LINES.start(),
            LINES.end()
        );
        let finding = if count == 0 {
            context.error(Code::TaskSize, word.clone(), message)
        } else {
            context.warning(Code::TaskSize, word.clone(), message)
        };
        findings
            .push(finding.help("write each thing that can be seen or heard as { see = \"…\" }"));
    }
    if count > 0 && !wanted.lines.iter().any(|line| line.critical) {
        let message = "nothing on this sheet fails anybody";
        let finding = context.warning(Code::NothingCritical, word.clone(), message);
        findings
            .push(finding.help("add critical = true to the lines whose slip would hurt somebody"));
    }
    if wanted.pages.is_empty() {
        let message = "this task doesn't say which pages it shows";
        let finding = context.error(Code::MissingSetting, word.clone(), message);
        findings.push(finding.help("add pages = [\"../PHASE/PAGE.md\"]"));
    }
    findings
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    fn sheet(lines: usize, more: &str) -> String {
        let line = "{ see = \"Says *why*\" },".repeat(lines.saturating_sub(1));
        let critical = "{ see = \"Locks\", critical = true },";
        format!(
            "# T\n\n```task\npages = [\"../index.md\"]\nlines = [ {critical} {line} ]\n{more}\n```\n"
        )
    }

    fn told(text: &str) -> Vec<(&'static str, String)> {
        let found = printed(text).1;
        let at = |span: std::ops::Range<usize>| text.get(span).unwrap_or("").to_string();
        found
            .into_iter()
            .map(|one| (one.code.name(), at(one.span)))
            .collect()
    }

    #[test]
    fn a_sheet_shows_its_lines_with_a_key_each_and_marks_the_critical_ones() {
        let (html, findings) = printed(&sheet(8, "prepare = \"Set it *short*.\""));
        assert_eq!(findings, []);
        for part in [
            "Says <em>why</em>",
            "Set it <em>short</em>.",
            "data-critical",
        ] {
            assert!(html.contains(part), "{part} in {html}");
        }
        let keys: std::collections::BTreeSet<&str> = html
            .split("data-seen=\"")
            .skip(1)
            .filter_map(|rest| rest.split('"').next())
            .collect();
        assert_eq!(keys.len(), 8, "{html}");
    }

    #[test]
    fn a_sheet_that_can_sign_nobody_off_is_told_at_its_place() {
        let one = |code, at: &str| vec![(code, at.to_string())];
        assert_eq!(told(&sheet(7, "")), one("task-size", "task"));
        assert_eq!(told(&sheet(16, "")), one("task-size", "task"));
        let tame = sheet(8, "").replace(", critical = true", "");
        assert_eq!(told(&tame), one("nothing-critical", "task"));
        let empty = sheet(8, "").replace("see = \"Locks\"", "see = \" \"");
        assert_eq!(
            told(&empty),
            one("missing-setting", "{ see = \" \", critical = true }")
        );
        let alone = sheet(8, "").replace("pages = [\"../index.md\"]", "");
        assert_eq!(told(&alone), one("missing-setting", "task"));
        let lost = sheet(8, "").replace("../index.md", "../nowhere.md");
        assert_eq!(told(&lost), one("missing-page", "\"../nowhere.md\""));
        let twice = format!("{}\n{}", sheet(8, ""), &sheet(8, "")[5..]);
        assert_eq!(told(&twice), one("test-place", "task"));
    }
}
