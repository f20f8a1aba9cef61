//! `test PHASE`: every question of a phase's pages on one page, with the rule for passing.

use gaugeleaf_calc::finding::{Code, Finding, nearest};
use serde::Serialize;

use crate::blocks::question::QuestionBlock;
use crate::handbook::kind::BlockShape;
use crate::handbook::page::Page;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::fences::{fence, of_kind};
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, BlockId, Line, Node, words};
use crate::page::sign_off::SignOff;
use crate::values::hash::hash;

/// `test PHASE`: a phase's questions on one page.
pub struct TestBlock;

impl BlockShape for TestBlock {
    fn name(&self) -> &'static str {
        "test"
    }

    fn help(&self) -> &'static str {
        "All questions of one phase, with the rule for passing and a sheet to sign."
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl BlockKind for TestBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["show", "questions", "test"]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let id = fence.address(self.name(), context);
        let phase = Composed::from(phase(self.name(), fence, context));
        phase.then(|index| test(index, fence, context).map(|test| test.map(|test| test.id(&id))))
    }
}

/// What `blocks/test.html` is given as `t`.
#[derive(Serialize)]
struct Test<'t> {
    phase: &'t str,
    title: &'t str,
    total: usize,
    needed: usize,
    critical: usize,
    questions: Vec<Line>,
}

/// The test; its page gets a sheet to sign too.
fn test(index: usize, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
    let phase = &context.phases()[index];
    let mut all = Composed::of(());
    let mut asked = Vec::new();
    for page in context.pages_of(index) {
        asked.extend(all.take(of_page(page, context)));
    }
    for one in &mut all.uses {
        // on this page, the values stand where the block does
        one.start = fence.range.start;
    }
    if asked.is_empty() {
        let span = fence.names.first().map_or(&fence.kind, |name| &name.span);
        let message = format!("the phase `{}` has no questions", phase.slug);
        return Composed::fault(
            context
                .error(Code::NoQuestions, span.clone(), message)
                .help("write question blocks on the pages of the phase"),
        );
    }
    let total = asked.len();
    // four fifths, and never less
    let needed = (total * 4).div_ceil(5);
    let critical = asked.iter().filter(|one| is_critical(one)).count();
    let set: Vec<String> = asked.iter().map(said).collect();
    let mut lines = Vec::new();
    let view = Test {
        phase: &phase.slug,
        title: &phase.title,
        total,
        needed,
        critical,
        questions: asked
            .into_iter()
            .map(|one| Line::of(&mut lines, vec![Node::Block(Box::new(one))]))
            .collect(),
    };
    let sign_off = SignOff {
        phase: phase.title.clone(),
        total,
        needed,
        critical,
        set: hash(set.concat().as_bytes())[..8].to_uppercase(),
    };
    all.with(Some(Block {
        sign_off: Some(sign_off),
        ..Block::new("blocks/test.html", "t", &view).lines(lines)
    }))
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

/// The phase that the block names, by its number.
fn phase(kind: &str, fence: &Fence, context: &Context) -> Result<usize, Finding> {
    let [name] = fence.names.as_slice() else {
        return Err(context
            .error(
                Code::UnnamedBlock,
                fence.kind.clone(),
                "a test block names one phase",
            )
            .help("write ```test PHASE, with the phase's folder"));
    };
    let slugs = || context.phases().iter().map(|phase| phase.slug.as_str());
    let Some(index) = slugs().position(|slug| slug == name.value) else {
        let help = nearest(&name.value, slugs()).map_or_else(
            || format!("the phases are {}", slugs().collect::<Vec<_>>().join(", ")),
            |near| format!("write {near}"),
        );
        let message = format!("there is no phase `{}`", name.value);
        let finding = context.error(Code::UnknownPhase, name.span.clone(), message);
        return Err(finding.help(help));
    };
    let misplaced = |message: &str, help: &str| {
        Err(context
            .error(Code::TestPlace, name.span.clone(), message)
            .help(help))
    };
    if context.page.phase.is_none() {
        return misplaced(
            "a test stands on a page of a phase",
            "move this page into a folder with a phase.toml, such as content/training",
        );
    }
    let first = of_kind(&context.page.tree.nodes, kind).into_iter().next();
    if first.is_some_and(|first| first.range.start < fence.range.start) {
        return misplaced(
            "this page has a test already",
            "write one test a page: each has a sheet to sign",
        );
    }
    Ok(index)
}

/// A page's questions, as its own page would show them. What is wrong with one is told there.
fn of_page(page: &Page, context: &Context) -> Composed<Vec<Block>> {
    let scope = context.scope_of(page);
    let there = context.on(page, &scope);
    let asked = of_kind(&page.tree.nodes, QuestionBlock.name());
    let shown = Composed::all(asked, |node| {
        let question = QuestionBlock.compose(&fence(&QuestionBlock, node, there.text), &there);
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
