//! `test`: the questions of a phase's pages, or of named pages, on one page, with the rule for passing.
//! Each try asks some of them: nobody passes by remembering.

use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType};
use gaugeleaf_calc::finding::{Code, Finding, nearest};
use serde::Serialize;

use crate::blocks::question::{self, QuestionBlock};
use crate::handbook::kind::BlockShape;
use crate::handbook::page::Page;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::fences::{alone, fence, of_kind};
use crate::page::kind::{BlockKind, Fence};
use crate::page::links::named;
use crate::page::node::{Block, BlockId, Line, Node, words};
use crate::page::sign_off::SignOff;
use crate::page::training::{Shown, Training};
use crate::values::hash::hash;

const FIELDS: &[SettingField] = &[
    SettingField::new(
        "pages",
        SettingType::Texts,
        "The pages whose questions it asks, where they aren't one phase's.",
    ),
    SettingField::new("title", SettingType::Text, "What such a test is about."),
    SettingField::new(
        "ask",
        SettingType::Whole,
        "How many it asks each time; half of all otherwise.",
    ),
    SettingField::new(
        "every",
        SettingType::Truth,
        "Whether every answer has to be right for a pass.",
    ),
];

/// `test PHASE`: a phase's questions on one page.
pub struct TestBlock;

impl BlockShape for TestBlock {
    fn name(&self) -> &'static str {
        "test"
    }

    fn help(&self) -> &'static str {
        "The questions of a phase or of some pages, some each time, with the rule for passing and a sheet to sign."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl BlockKind for TestBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["questions", "names", "record", "people", "person", "test"]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let id = fence.address(self.name(), context);
        let settings = fence.settings(context, |settings| {
            Some(TestSettings {
                pages: settings.texts("pages"),
                title: settings.text("title"),
                ask: settings.whole("ask"),
                every: settings.truth("every"),
            })
        });
        settings.then(|wanted| {
            let about = Composed::from(about(&wanted, fence, context));
            about.then(|about| {
                let test = test(&about, &wanted, fence, context);
                test.map(|test| test.map(|test| test.id(&id)))
            })
        })
    }
}

/// What `blocks/test.html` is given as `t`.
#[derive(Serialize)]
struct Test<'t> {
    title: &'t str,
    /// How many there are, how many each try asks, and how many of those must be right.
    total: usize,
    asked: usize,
    needed: usize,
    /// How many of the critical ones each try asks.
    critical: usize,
    every: bool,
    set: &'t str,
    questions: Vec<Line>,
}

/// What the block says.
#[derive(Default)]
struct TestSettings {
    pages: Vec<Placed<String>>,
    title: Option<Placed<String>>,
    ask: Option<Placed<i64>>,
    every: bool,
}

/// What a test is about.
struct About<'c> {
    title: String,
    pages: Vec<&'c Page>,
}

/// The test; its page gets a sheet to sign too.
fn test(
    about: &About,
    wanted: &TestSettings,
    fence: &Fence,
    context: &Context,
) -> Composed<Option<Block>> {
    let mut all = Composed::of(());
    let mut pool = Vec::new();
    for page in &about.pages {
        pool.extend(all.take(of_page(page, context)));
    }
    for one in &mut all.uses {
        // on this page, the values stand where the block does
        one.start = fence.range.start;
    }
    if pool.is_empty() {
        let message = format!("there are no questions on {}", about.title);
        return Composed::fault(
            context
                .error(Code::NoQuestions, fence.place(), message)
                .help("write question blocks on the pages that it names"),
        );
    }
    all.findings.extend(small(pool.len(), wanted, context));
    let total = pool.len();
    let half = (total / 2).max(1);
    let wished = wanted
        .ask
        .as_ref()
        .map_or(half, |ask| ask.value.max(1) as usize);
    let asked = wished.min(total);
    // four fifths, and never less
    let needed = if wanted.every {
        asked
    } else {
        (asked * 4).div_ceil(5)
    };
    let decisive = pool.iter().filter(|one| is_critical(one)).count();
    // as many of each try as there are of all, and none left out for lack of room
    let critical = (asked * decisive).div_ceil(total);
    let set: Vec<String> = pool.iter().map(said).collect();
    let set = hash(set.concat().as_bytes())[..8].to_uppercase();
    let mut lines = Vec::new();
    let view = Test {
        title: &about.title,
        total,
        asked,
        needed,
        critical,
        every: wanted.every,
        set: &set,
        questions: pool
            .into_iter()
            .map(|one| Line::of(&mut lines, vec![Node::Block(Box::new(one))]))
            .collect(),
    };
    let block = Block::new("blocks/test.html", "t", &view).lines(lines);
    let training = Training::Shown(Shown {
        set: set.clone(),
        pages: about.pages.iter().map(|page| page.path.clone()).collect(),
    });
    let sign_off = SignOff {
        asked,
        needed,
        critical,
        set,
    };
    all.with(Some(Block {
        sign_off: Some(sign_off),
        training: Some(training),
        ..block
    }))
}

/// Fewer questions than two tries need.
fn small(total: usize, wanted: &TestSettings, context: &Context) -> Option<Finding> {
    let ask = wanted.ask.as_ref()?;
    let asked = usize::try_from(ask.value).unwrap_or(0);
    if (1..=total / 2).contains(&asked) {
        return None;
    }
    let message = format!("this test asks {} of {total} questions", ask.value);
    let finding = context.warning(Code::SmallPool, ask.span.clone(), message);
    Some(finding.help("ask half of them at most, so that each try differs"))
}

/// Whether a question decides a test by itself.
fn is_critical(question: &Block) -> bool {
    question.view["critical"] == true
}

/// All that a question says, as one text.
fn said(question: &Block) -> String {
    let lines: Vec<String> = question.lines.iter().map(|line| words(line)).collect();
    format!("{}\n{}\n", question.view, lines.join("\n"))
}

/// What the block names: one phase, or some pages.
fn about<'c>(
    wanted: &TestSettings,
    fence: &Fence,
    context: &Context<'c>,
) -> Result<About<'c>, Finding> {
    let kind = TestBlock.name();
    let about = match (fence.names.as_slice(), wanted.pages.as_slice()) {
        ([], [_, ..]) => named_pages(wanted, fence, context)?,
        ([name], []) => phase(name, context)?,
        _ => {
            let message = "a test block names one phase, or its pages";
            return Err(context
                .error(Code::UnnamedBlock, fence.kind.clone(), message)
                .help("write ```test PHASE, with the phase's folder, or pages = [\"…\"]"));
        }
    };
    if context.page.phase.is_none() {
        let message = "a test stands on a page of a phase";
        return Err(context
            .error(Code::TestPlace, fence.place(), message)
            .help("move this page into a folder with a phase.toml, such as content/training"));
    }
    alone(fence, kind, "each has a sheet to sign", context)?;
    Ok(about)
}

fn named_pages<'c>(
    wanted: &TestSettings,
    fence: &Fence,
    context: &Context<'c>,
) -> Result<About<'c>, Finding> {
    let Some(title) = &wanted.title else {
        let finding = context.error(
            Code::MissingSetting,
            fence.kind.clone(),
            "this test doesn't say what it is about",
        );
        return Err(finding.help("add title = \"…\", in a word or two"));
    };
    let pages = wanted.pages.iter();
    let pages = pages.map(|page| named(&page.value, page.span.clone(), context));
    Ok(About {
        title: title.value.clone(),
        pages: pages.collect::<Result<_, _>>()?,
    })
}

fn phase<'c>(name: &Placed<String>, context: &Context<'c>) -> Result<About<'c>, Finding> {
    let phases = context.phases();
    let slugs = || phases.iter().map(|phase| phase.slug.as_str());
    let Some(index) = slugs().position(|slug| slug == name.value) else {
        let help = nearest(&name.value, slugs()).map_or_else(
            || format!("the phases are {}", slugs().collect::<Vec<_>>().join(", ")),
            |near| format!("write {near}"),
        );
        let message = format!("there is no phase `{}`", name.value);
        let finding = context.error(Code::UnknownPhase, name.span.clone(), message);
        return Err(finding.help(help));
    };
    Ok(About {
        title: phases[index].title.clone(),
        pages: context.pages_of(index).collect(),
    })
}

/// A page's questions, as its own page would show them. What is wrong with one is told there.
fn of_page(page: &Page, context: &Context) -> Composed<Vec<Block>> {
    let scope = context.scope_of(page);
    let there = context.on(page, &scope);
    let asked = of_kind(&page.tree.nodes, QuestionBlock.name());
    let shown = Composed::all(asked, |node| {
        let question = question::asked(&fence(&QuestionBlock, node, there.text), &there);
        Composed {
            findings: Vec::new(),
            ..question
        }
    });
    shown.map(|questions| {
        let like = |question: Block| Block {
            id: BlockId::Like(QuestionBlock.name().to_string()),
            ..question
        };
        questions.into_iter().flatten().map(like).collect()
    })
}
