//! `setup-sheet`: every measurement, rating, result and verdict of the page's job. Its first side
//! is one of paper: what stops, what is open, what is dialled in and measured. All else is its annex.

mod annex;
mod side;

use gaugeleaf_calc::calculator::Verdict;
use gaugeleaf_calc::catalog::SetupSheet;
use gaugeleaf_calc::finding::settings::SettingField;
use serde::Serialize;

use crate::handbook::kind::BlockShape;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::Block;
use crate::page::working::{also, example_of, si, used};
use crate::values::ledger::{Use, UsedValue};
use crate::values::scope::JobScope;
use annex::{AreaView, RatingRow, areas, ratings};
use side::{SideView, side, stands};

const FIELDS: &[SettingField] = &[SettingField::others(
    "A measurement or rating, and its value where the sheet isn't the page's job's.",
)];

/// `setup-sheet`: everything that is known of a job.
pub struct SetupSheetBlock;

impl BlockShape for SetupSheetBlock {
    fn name(&self) -> &'static str {
        "setup-sheet"
    }

    fn help(&self) -> &'static str {
        "Every measurement, rating, result and verdict of the job."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl BlockKind for SetupSheetBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["side"]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let sheet = setup_sheet(fence, context).map(Some);
        fence.standing(self.name(), context, sheet)
    }
}

/// What `blocks/setup-sheet.html` is given as `s`.
#[derive(Debug, Serialize)]
struct SetupSheetView {
    job: String,
    /// What the handbook leaves to those on site.
    deferral: String,
    /// The worst verdict, and how many of each.
    worst: &'static str,
    go: usize,
    caution: usize,
    open: usize,
    stop: usize,
    side: SideView,
    ratings: Vec<RatingRow>,
    areas: Vec<AreaView>,
}

/// The sheet for a block on a page.
fn setup_sheet(fence: &Fence, context: &Context) -> Composed<Block> {
    let mut all = Composed::of(());
    let own = all.take(fence.settings(context, |settings| settings.other_quantities()));
    let (scope, sheet) = context.sheet(&own, &mut all.findings);
    all.uses = uses(&sheet, &scope, context, fence.range.start);
    let view = view(&sheet, &scope, context);
    all.with(Block {
        scope: Some(scope),
        ..Block::new("blocks/setup-sheet.html", "s", &view)
    })
}

fn view(sheet: &SetupSheet, scope: &JobScope, context: &Context) -> SetupSheetView {
    let job = context.page.outline.settings.job.as_ref();
    SetupSheetView {
        job: job.map(|job| job.value.clone()).unwrap_or_default(),
        deferral: context.caution().to_string(),
        worst: sheet.worst().map_or("", Verdict::word),
        go: sheet.count(Verdict::Go),
        caution: sheet.count(Verdict::Caution),
        open: sheet.count(Verdict::Open),
        stop: sheet.count(Verdict::Stop),
        side: side(sheet, scope, context),
        ratings: ratings(sheet, context),
        areas: areas(sheet, context),
    }
}

/// Every value of the sheet, for the ledger.
fn uses(sheet: &SetupSheet, scope: &JobScope, context: &Context, start: usize) -> Vec<Use> {
    // what nobody took on this job is blank on the first side
    let taken = sheet.measurements.iter();
    let taken = taken.filter(|one| stands(one, scope));
    let named = taken.chain(&sheet.ratings);
    let named = named.filter(|one| one.used).filter_map(|one| {
        let reading = one.reading.as_ref().ok()?.as_ref()?;
        let value = UsedValue {
            text: reading.text().to_string(),
            also: also(reading),
            label: one.label.clone(),
            name: one.name.clone(),
            si: si(reading),
            source: context.graph.catalog.language.say(&one.from),
            ground: one.ground.word(),
            of: example_of(one.ground, context.graph),
            ..UsedValue::default()
        };
        Some(Use {
            apart: true,
            ..Use::at(start, value)
        })
    });
    let results = sheet.answers.iter().flat_map(|answer| {
        let calculator = context.graph.catalog.calculators.get(&answer.calculator);
        let outputs = answer.outputs.iter();
        outputs.filter_map(move |output| {
            let one = used(calculator?, answer, &output.name, start, context)?;
            Some(Use { apart: true, ..one })
        })
    });
    named.chain(results).collect()
}

#[cfg(test)]
mod tests {
    use crate::page::testing::{Sample, printed};
    use crate::values::graph::Graph;

    #[test]
    fn a_sheet_shows_every_calculator_of_the_catalog_in_the_order_of_the_work() {
        let (html, findings) = printed("```setup-sheet\n```\n");
        assert_eq!(findings, []);
        for calculator in Graph::built_in().catalog.calculators.values() {
            let mark = format!("data-calculator=\"{}\"", calculator.name);
            assert!(html.contains(&mark), "{mark}");
        }
        let place = |title: &str| html.find(title);
        assert!(place("Survey and frame") < place("Fitting the drive"));
        assert!(place("Air") < place("Planning and running"));
    }

    #[test]
    fn the_sheets_own_values_stand_in_it_and_count_as_given() {
        let text = "```setup-sheet\nchannel_depth = \"9 in +- 1/8 in\"\n```\n";
        let (html, findings) = printed(text);
        assert_eq!(findings, []);
        let row = html
            .split("<tr")
            .find(|row| row.contains("data-named=\"channel_depth\""));
        let row = row.expect("a row for the depth");
        assert!(
            row.contains("9\u{A0}in") && !row.contains("not measured"),
            "{row}"
        );
        assert!(
            html.contains("21\u{A0}5/8\u{A0}in to 21\u{A0}7/8\u{A0}in"),
            "{html}"
        );
    }

    #[test]
    fn a_pressure_for_a_length_is_found_where_it_stands() {
        let (_, findings) = printed("```setup-sheet\nchannel_depth = \"9 psi\"\n```\n");
        assert_eq!(
            (findings[0].code.name(), findings[0].span.start),
            ("bad-input", 31)
        );
    }

    #[test]
    fn every_value_that_is_shown_is_in_the_ledger() {
        let sample = Sample::new("```setup-sheet\n```\n");
        let shown = sample.printed().0.matches("class=\"value\"").count();
        assert!(shown > 100, "{shown}");
        assert_eq!(sample.composed().uses.len(), shown);
    }
}
