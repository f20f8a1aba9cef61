//! The first side: the verdicts that are no go, and what was measured, round by round.

use gaugeleaf_calc::calculator::{Answer, Calculator, CheckResult, Leaf, Verdict};
use gaugeleaf_calc::catalog::{NamedReading, SetupSheet};
use gaugeleaf_calc::field::FieldKind;
use gaugeleaf_calc::ground::Ground;
use gaugeleaf_calc::named::{NamedQuantity, Role};
use serde::Serialize;

use crate::blocks::rounds::{Round, rounds};
use crate::page::context::Context;
use crate::values::judge::answer_to;
use crate::values::scope::JobScope;

/// What `s.side` holds.
#[derive(Debug, Serialize)]
pub struct SideView {
    /// The title of the kit that the job uses.
    kit: String,
    /// The equipment is invented.
    training: bool,
    stops: Vec<Alarm>,
    cautions: Vec<Alarm>,
    /// Open, and waiting for nothing that could be measured or set.
    opens: Vec<Alarm>,
    /// What the open verdicts wait for, by label: to measure, and to set.
    measure: Vec<String>,
    set: Vec<String>,
    /// The calculators whose verdicts wait for that.
    waiting: Vec<WaitingCalculator>,
    /// Those that could not be worked out.
    unanswered: Vec<String>,
    drawings: Vec<DrawingView>,
    rounds: Vec<RoundView>,
}

#[derive(Debug, Serialize)]
struct DrawingView {
    name: String,
    svg: String,
}

/// A verdict that is no go, with the calculator that says it.
#[derive(Debug, Serialize)]
struct Alarm {
    is: &'static str,
    calculator: String,
    title: String,
    because: String,
    /// Who answers for it and why, where it is a stop.
    answer: String,
}

#[derive(Debug, Serialize)]
struct WaitingCalculator {
    title: String,
    /// How many of its verdicts wait.
    open: usize,
}

#[derive(Debug, Serialize)]
struct RoundView {
    title: String,
    taken: usize,
    of: usize,
    /// Where all that was measured comes from, if that is one place and day.
    from: String,
    rows: Vec<MeasuredRow>,
}

#[derive(Debug, Serialize)]
struct MeasuredRow {
    name: String,
    label: String,
    text: String,
    /// What a blank is filled with.
    unit: String,
    ground: &'static str,
    from: String,
    problem: String,
    doubt: String,
}

/// The first side of a job's sheet.
pub fn side(sheet: &SetupSheet, scope: &JobScope, context: &Context) -> SideView {
    let catalog = &context.graph.catalog;
    let kit = scope.kit().filter(|kit| !kit.is_empty());
    let kit = context.graph.kits.get(kit.unwrap_or(&catalog.own.kit));
    let titled = |answer: &Answer| {
        let found = catalog.calculators.get(&answer.calculator);
        found.map_or_else(|| answer.calculator.clone(), |found| found.title.clone())
    };
    let by_itself = |verdict: &CheckResult| verdict.needs.is_empty();
    SideView {
        kit: kit.map(|kit| kit.title.clone()).unwrap_or_default(),
        training: catalog.own.demonstration,
        stops: alarms(sheet, Verdict::Stop, |_| true, context),
        cautions: alarms(sheet, Verdict::Caution, |_| true, context),
        opens: alarms(sheet, Verdict::Open, by_itself, context),
        measure: waited_for(sheet, |leaf| leaf.role != Some(Role::Rating)),
        set: waited_for(sheet, |leaf| leaf.role == Some(Role::Rating)),
        waiting: waiting(sheet, titled),
        unanswered: sheet.unanswered().map(titled).collect(),
        drawings: catalog
            .draw_sheet(scope.job())
            .into_iter()
            .map(|(name, svg)| DrawingView {
                name: name.to_string(),
                svg,
            })
            .collect(),
        rounds: rounds(catalog)
            .into_iter()
            .map(|round| round_view(round, sheet, scope, context))
            .filter(|round| !round.rows.is_empty())
            .collect(),
    }
}

fn alarms(
    sheet: &SetupSheet,
    is: Verdict,
    wanted: fn(&CheckResult) -> bool,
    context: &Context,
) -> Vec<Alarm> {
    let catalog = &context.graph.catalog;
    let told = |calculator: &Calculator, verdict: &CheckResult| Alarm {
        is: is.word(),
        calculator: calculator.name.clone(),
        title: calculator.title.clone(),
        because: catalog.language.say(&verdict.because),
        answer: answer_to(verdict, &calculator.name, &context.answers()),
    };
    let answers = sheet.answers.iter();
    answers
        .flat_map(|answer| answer.checks.iter().map(move |verdict| (answer, verdict)))
        .filter(|(_, verdict)| verdict.is == is && verdict.counts() && wanted(verdict))
        .filter_map(|(answer, verdict)| {
            let calculator = catalog.calculators.get(&answer.calculator)?;
            Some(told(calculator, verdict))
        })
        .collect()
}

fn waited_for(sheet: &SetupSheet, is: fn(&Leaf) -> bool) -> Vec<String> {
    let needs = sheet.needs().into_iter().filter(|leaf| is(leaf));
    needs.map(|leaf| leaf.label.to_lowercase()).collect()
}

fn waiting(sheet: &SetupSheet, titled: impl Fn(&Answer) -> String) -> Vec<WaitingCalculator> {
    let counted = sheet.answers.iter().map(|answer| {
        let open = answer.checks.iter().filter(|verdict| {
            verdict.is == Verdict::Open && verdict.counts() && !verdict.needs.is_empty()
        });
        WaitingCalculator {
            title: titled(answer),
            open: open.count(),
        }
    });
    counted.filter(|one| one.open > 0).collect()
}

fn round_view(
    round: Round<'_>,
    sheet: &SetupSheet,
    scope: &JobScope,
    context: &Context,
) -> RoundView {
    let readings = round.measurements.into_iter().filter_map(|named| {
        let found = sheet.measurements.iter();
        let reading = found
            .filter(|one| one.used)
            .find(|one| one.name == named.field.name);
        Some((named, reading?))
    });
    let rows: Vec<MeasuredRow> = readings
        .map(|(named, reading)| measured_row(named, reading, scope, context))
        .collect();
    let measured = || {
        rows.iter()
            .filter(|row| row.ground == Ground::Measured.word())
    };
    let first = measured().next().map(|row| row.from.as_str());
    let from = first.filter(|from| measured().all(|row| row.from == *from));
    RoundView {
        title: round.title,
        taken: measured().count(),
        of: rows.len(),
        from: from.unwrap_or_default().to_string(),
        rows,
    }
}

/// Whether a value stands on the first side: taken on this job, or given by the page itself.
pub fn stands(one: &NamedReading, scope: &JobScope) -> bool {
    one.ground == Ground::Measured || scope.given().contains_key(&one.name)
}

fn measured_row(
    named: &NamedQuantity,
    one: &NamedReading,
    scope: &JobScope,
    context: &Context,
) -> MeasuredRow {
    let language = &context.graph.catalog.language;
    let reading = one.reading.as_ref().ok().and_then(Option::as_ref);
    let (problem, doubt) = (one.reading.as_ref().err(), one.doubt.as_ref());
    MeasuredRow {
        name: one.name.clone(),
        label: one.label.clone(),
        // what nobody took on this job is blank
        text: reading
            .filter(|_| stands(one, scope))
            .map_or_else(String::new, |reading| reading.text().to_string()),
        unit: match &named.field.kind {
            FieldKind::Number { format, .. } => format.main.unit.shown.clone(),
            FieldKind::Choice(_) => String::new(),
        },
        ground: one.ground.word(),
        from: language.say(&one.from),
        problem: problem.map_or_else(String::new, |problem| language.say(&problem.message)),
        doubt: doubt.map_or_else(String::new, |doubt| language.say(&doubt.message)),
    }
}
