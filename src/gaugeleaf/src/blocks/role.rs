//! `role`: what somebody passes, shows and does under supervision before a sign-off, and the sheet of it.

use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType};
use gaugeleaf_calc::finding::{Code, Finding};
use serde::Serialize;

use crate::blocks::question::say::ReadMore;
use crate::handbook::kind::BlockShape;
use crate::handbook::page::Page;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::fences::alone;
use crate::page::kind::{BlockKind, Fence};
use crate::page::links::named;
use crate::page::node::Block;
use crate::page::training::{RoleTerms, Training};

const FIELDS: &[SettingField] = &[
    SettingField::new("name", SettingType::Text, "What the role is called.").needed_and_told(),
    SettingField::new(
        "first",
        SettingType::Texts,
        "The pages of the roles that are signed off before.",
    ),
    SettingField::new("tests", SettingType::Texts, "The pages of its tests.").needed_and_told(),
    SettingField::new("tasks", SettingType::Texts, "The pages of its tasks."),
    SettingField::new(
        "among_strokes",
        SettingType::Texts,
        "The pages of the tasks that are shown among the supervised strokes; all else comes before these.",
    ),
    SettingField::new(
        "strokes",
        SettingType::Whole,
        "Strokes under supervision before the sign-off.",
    ),
    SettingField::new(
        "beside",
        SettingType::Text,
        "The page of the role whose holder stands beside the supervised strokes; this one otherwise.",
    ),
    SettingField::new(
        "months",
        SettingType::Whole,
        "For how many months it counts; 12 otherwise.",
    ),
    SettingField::new(
        "away",
        SettingType::Whole,
        "After how many months without the work it ends; 6 otherwise.",
    ),
];

/// `role`: the way to a sign-off.
pub struct RoleBlock;

impl BlockShape for RoleBlock {
    fn name(&self) -> &'static str {
        "role"
    }

    fn help(&self) -> &'static str {
        "The tests, tasks and supervised strokes of one role, and its sign-off."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl BlockKind for RoleBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &[
            "names",
            "record",
            "people",
            "person",
            "stands",
            "evidence",
            "role",
            "role-sign",
        ]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        if let Err(finding) = alone(fence, self.name(), "each is signed for itself", context) {
            return Composed::fault(finding);
        }
        let wanted = fence.settings(context, |settings| {
            Some(RoleSettings {
                name: settings.text("name"),
                first: settings.texts("first"),
                tests: settings.texts("tests"),
                tasks: settings.texts("tasks"),
                among: settings.texts("among_strokes"),
                strokes: settings.whole("strokes"),
                beside: settings.text("beside"),
                months: settings.whole("months"),
                away: settings.whole("away"),
            })
        });
        let block = wanted.then(|wanted| role(&wanted, fence, context));
        fence.standing(self.name(), context, block)
    }
}

/// What the block says.
struct RoleSettings {
    name: Option<Placed<String>>,
    first: Vec<Placed<String>>,
    tests: Vec<Placed<String>>,
    tasks: Vec<Placed<String>>,
    among: Vec<Placed<String>>,
    strokes: Option<Placed<i64>>,
    beside: Option<Placed<String>>,
    months: Option<Placed<i64>>,
    away: Option<Placed<i64>>,
}

/// What `blocks/role.html` is given as `r`.
#[derive(Serialize)]
struct RoleView<'r> {
    name: &'r str,
    first: Vec<ReadMore>,
    tests: Vec<ReadMore>,
    tasks: Vec<ReadMore>,
    among: Vec<ReadMore>,
    strokes: i64,
    months: i64,
    away: i64,
}

fn role(wanted: &RoleSettings, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
    let mut all = Composed::of(());
    let missing = |key: &str, message: &str| {
        let finding = context.error(Code::MissingSetting, fence.kind.clone(), message);
        Composed::fault(finding.help(format!("add {key}")))
    };
    let says = |name: &&Placed<String>| !name.value.trim().is_empty();
    let Some(name) = wanted.name.as_ref().filter(says) else {
        return missing("name = \"…\"", "this role has no name");
    };
    if wanted.tests.is_empty() {
        return missing("tests = [\"…\"]", "this role passes no test");
    }
    let mut listed = |pages: &[Placed<String>], block: &str| -> Vec<&Page> {
        let pages = pages
            .iter()
            .filter_map(|page| all.take(Composed::from(holding(page, block, context))));
        pages.collect()
    };
    let [first, tests, tasks, among] = [
        listed(&wanted.first, RoleBlock.name()),
        listed(&wanted.tests, "test"),
        listed(&wanted.tasks, "task"),
        listed(&wanted.among, "task"),
    ];
    let beside = listed(wanted.beside.as_slice(), RoleBlock.name());
    let paths = |pages: &[&Page]| pages.iter().map(|page| page.path.clone()).collect();
    let whole = |count: &Option<Placed<i64>>, least: i64, otherwise: i64| {
        count.as_ref().map_or(otherwise, |one| one.value.max(least))
    };
    let terms = RoleTerms {
        name: name.value.clone(),
        first: paths(&first),
        tests: paths(&tests),
        tasks: paths(&tasks),
        among: paths(&among),
        strokes: whole(&wanted.strokes, 0, 0),
        beside: beside
            .first()
            .map_or_else(String::new, |page| page.path.clone()),
        months: whole(&wanted.months, 1, 12),
    };
    let links = |pages: &[&Page]| pages.iter().map(|page| ReadMore::page(page)).collect();
    let view = RoleView {
        name: &name.value,
        first: links(&first),
        tests: links(&tests),
        tasks: links(&tasks),
        among: links(&among),
        strokes: terms.strokes,
        months: terms.months,
        away: whole(&wanted.away, 1, 6),
    };
    all.with(Some(Block {
        training: Some(Training::Role(terms)),
        ..Block::new("blocks/role.html", "r", &view)
    }))
}

/// A page that holds a block of this kind.
fn holding<'c>(
    page: &Placed<String>,
    block: &str,
    context: &Context<'c>,
) -> Result<&'c Page, Finding> {
    let found = named(&page.value, page.span.clone(), context)?;
    if found.outline.has_block(block) {
        return Ok(found);
    }
    let message = format!("{} holds no {block}", found.path);
    let finding = context.error(Code::WrongPage, page.span.clone(), message);
    Err(finding.help(format!("name a page with a {block} block")))
}

#[cfg(test)]
mod tests {
    use crate::page::testing::findings;

    #[test]
    fn a_role_has_a_name_and_tests_and_names_pages_that_hold_what_it_says() {
        let told = |body: &str| {
            let found = findings(&format!("# T\n\n```role\n{body}\n```\n"));
            found.iter().map(|one| one.code.name()).collect::<Vec<_>>()
        };
        assert_eq!(told("tests = [\"../index.md\"]"), ["missing-setting"]);
        assert_eq!(told("name = \"Helper\""), ["missing-setting"]);
        assert_eq!(
            told("name = \"Helper\"\ntests = [\"../index.md\"]"),
            ["wrong-page"]
        );
        assert_eq!(
            told("name = \"Helper\"\ntests = [\"../no.md\"]\nbeside = \"../no.md\""),
            ["missing-page", "missing-page"]
        );
        assert_eq!(
            told("name = \"Helper\"\ntests = [\"../no.md\"]"),
            ["missing-page"]
        );
    }
}
