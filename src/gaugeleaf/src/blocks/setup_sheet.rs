//! `setup-sheet`: every measurement, rating, result and verdict of the page's job on
//! one sheet.

use gaugeleaf_calc::calculator::{Answer, Calculator, Leaf, Verdict};
use gaugeleaf_calc::catalog::{NamedReading, SetupSheet};
use gaugeleaf_calc::finding::settings::SettingField;
use gaugeleaf_calc::ground::Ground;
use gaugeleaf_calc::message::Language;
use gaugeleaf_calc::named::Role;
use serde::Serialize;

use crate::handbook::answered::StopAnswers;
use crate::handbook::kind::BlockShape;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, Href};
use crate::page::route::Route;
use crate::page::working::{also, example_of, si, used};
use crate::values::judge::answer_to;
use crate::values::ledger::{Use, UsedValue};

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
    measurements: Vec<NamedRow>,
    ratings: Vec<NamedRow>,
    /// What the open verdicts wait for: to measure, and to set.
    measure: Waiting,
    set: Waiting,
    unanswered: Vec<String>,
    /// What stops or cautions, the worst first.
    alarms: Vec<Alarm>,
    areas: Vec<AreaView>,
}

/// The first few by name, and how many more there are.
#[derive(Debug, Serialize)]
struct Waiting {
    named: Vec<String>,
    more: usize,
}

/// A verdict that is no go, with the calculator that says it.
#[derive(Debug, Serialize)]
struct Alarm {
    is: &'static str,
    calculator: String,
    title: String,
    because: String,
    answer: String,
}

/// A measurement or rating.
#[derive(Debug, Serialize)]
struct NamedRow {
    name: String,
    label: String,
    text: String,
    also: String,
    ground: &'static str,
    from: String,
    problem: String,
    doubt: String,
}

#[derive(Debug, Serialize)]
struct AreaView {
    title: String,
    calculators: Vec<SheetCalculatorView>,
}

#[derive(Debug, Serialize)]
struct SheetCalculatorView {
    name: String,
    title: String,
    url: Href,
    results: Vec<ResultRow>,
    verdicts: Vec<VerdictRow>,
    /// Why there is no answer, and what to do about it.
    problems: Vec<String>,
}

#[derive(Debug, Serialize)]
struct ResultRow {
    name: String,
    label: String,
    text: String,
    also: String,
    rounded: String,
    /// It hangs on a usual value that nobody took.
    assumed: bool,
    span: String,
}

#[derive(Debug, Serialize)]
struct VerdictRow {
    check: String,
    /// It holds on every job, and isn't counted.
    standing: bool,
    is: &'static str,
    because: String,
    /// Who answers for it and why, where it is a stop.
    answer: String,
}

/// How many things to measure a line names.
const MOST_NAMED: usize = 8;

/// The sheet for a block on a page.
fn setup_sheet(fence: &Fence, context: &Context) -> Composed<Block> {
    let mut all = Composed::of(());
    let own = all.take(fence.settings(context, |settings| settings.other_quantities()));
    let (scope, sheet) = context.sheet(&own, &mut all.findings);
    all.uses = uses(&sheet, context, fence.range.start);
    let view = view(&sheet, context);
    all.with(Block {
        scope: Some(scope),
        ..Block::new("blocks/setup-sheet.html", "s", &view)
    })
}

fn view(sheet: &SetupSheet, context: &Context) -> SetupSheetView {
    let catalog = &context.graph.catalog;
    let language = &catalog.language;
    let titled = |answer: &Answer| {
        let found = catalog.calculators.get(&answer.calculator);
        found.map_or_else(|| answer.calculator.clone(), |found| found.title.clone())
    };
    let printed = |readings: &[NamedReading]| {
        let used = readings.iter().filter(|one| one.used);
        used.map(|one| named_row(one, language)).collect()
    };
    SetupSheetView {
        job: context
            .page
            .outline
            .settings
            .job
            .as_ref()
            .map(|job| job.value.clone())
            .unwrap_or_default(),
        deferral: context.caution().to_string(),
        worst: sheet.worst().map_or("", Verdict::word),
        go: sheet.count(Verdict::Go),
        caution: sheet.count(Verdict::Caution),
        open: sheet.count(Verdict::Open),
        stop: sheet.count(Verdict::Stop),
        measurements: printed(&sheet.measurements),
        ratings: printed(&sheet.ratings),
        measure: waited_for(sheet, |leaf| leaf.role != Some(Role::Rating)),
        set: waited_for(sheet, |leaf| leaf.role == Some(Role::Rating)),
        unanswered: sheet.unanswered().map(titled).collect(),
        alarms: alarms(sheet, context),
        areas: sheet
            .by_area(catalog)
            .into_iter()
            .map(|(title, answers)| AreaView {
                title: language.say(&title),
                calculators: answers
                    .into_iter()
                    .map(|(calculator, answer)| {
                        calculator_view(calculator, answer, &context.answers(), language)
                    })
                    .collect(),
            })
            .collect(),
    }
}

fn alarms(sheet: &SetupSheet, context: &Context) -> Vec<Alarm> {
    let of = |is| {
        let answers = sheet.answers.iter();
        answers.flat_map(move |answer| {
            let calculator = context.graph.catalog.calculators.get(&answer.calculator);
            let verdicts = answer.checks.iter();
            let verdicts = verdicts.filter(move |verdict| verdict.is == is && verdict.counts());
            verdicts.filter_map(move |verdict| {
                let calculator = calculator?;
                Some(Alarm {
                    is: is.word(),
                    calculator: answer.calculator.clone(),
                    title: calculator.title.clone(),
                    because: context.graph.catalog.language.say(&verdict.because),
                    answer: answer_to(verdict, &calculator.name, &context.answers()),
                })
            })
        })
    };
    of(Verdict::Stop).chain(of(Verdict::Caution)).collect()
}

fn waited_for(sheet: &SetupSheet, is: fn(&Leaf) -> bool) -> Waiting {
    let needs = sheet.needs().into_iter();
    let mut named: Vec<String> = needs
        .filter(|leaf| is(leaf))
        .map(|leaf| leaf.label.to_lowercase())
        .collect();
    let more = named.len().saturating_sub(MOST_NAMED);
    named.truncate(MOST_NAMED);
    Waiting { named, more }
}

fn named_row(one: &NamedReading, language: &Language) -> NamedRow {
    let reading = one.reading.as_ref().ok().and_then(Option::as_ref);
    let problem = one.reading.as_ref().err();
    NamedRow {
        name: one.name.clone(),
        label: one.label.clone(),
        text: reading.map_or_else(String::new, |reading| reading.text().to_string()),
        also: reading.map_or_else(String::new, also),
        ground: one.ground.word(),
        from: language.say(&one.from),
        problem: problem.map_or_else(String::new, |problem| language.say(&problem.message)),
        doubt: one
            .doubt
            .as_ref()
            .map_or_else(String::new, |doubt| language.say(&doubt.message)),
    }
}

fn calculator_view(
    calculator: &Calculator,
    answer: &Answer,
    answers: &StopAnswers,
    language: &Language,
) -> SheetCalculatorView {
    SheetCalculatorView {
        name: calculator.name.clone(),
        title: calculator.title.clone(),
        url: Route::calculator(&calculator.name).into(),
        results: answer
            .outputs
            .iter()
            .filter_map(|output| Some((output, output.reading.as_ref()?)))
            .map(|(output, reading)| ResultRow {
                name: output.name.clone(),
                label: output.label.clone(),
                text: reading.text().to_string(),
                also: also(reading),
                rounded: language.say(&output.rounded),
                assumed: output.footing.ground == Ground::Assumed,
                span: output
                    .span
                    .as_ref()
                    .map(|span| language.say(&span.text))
                    .unwrap_or_default(),
            })
            .collect(),
        verdicts: answer
            .checks
            .iter()
            .map(|verdict| VerdictRow {
                check: verdict.check.clone(),
                standing: verdict.standing,
                is: verdict.is.word(),
                because: language.say(&verdict.because),
                answer: answer_to(verdict, &calculator.name, answers),
            })
            .collect(),
        problems: answer
            .problems
            .iter()
            .map(|problem| language.say(&problem.message))
            .collect(),
    }
}

/// Every value of the sheet, for the ledger.
fn uses(sheet: &SetupSheet, context: &Context, start: usize) -> Vec<Use> {
    let named = sheet.measurements.iter().chain(&sheet.ratings);
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
        Some(Use::at(start, value))
    });
    let results = sheet.answers.iter().flat_map(|answer| {
        let calculator = context.graph.catalog.calculators.get(&answer.calculator);
        let outputs = answer.outputs.iter();
        outputs.filter_map(move |output| used(calculator?, answer, &output.name, start, context))
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
