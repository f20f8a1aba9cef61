//! The annex: every rating in use, and every result and verdict of each calculator.

use gaugeleaf_calc::calculator::{Answer, Calculator};
use gaugeleaf_calc::catalog::SetupSheet;
use gaugeleaf_calc::ground::Ground;
use gaugeleaf_calc::message::Language;
use serde::Serialize;

use crate::handbook::answered::StopAnswers;
use crate::page::context::Context;
use crate::page::node::Href;
use crate::page::route::Route;
use crate::page::working::also;
use crate::values::judge::answer_to;

/// A rating in use.
#[derive(Debug, Serialize)]
pub struct RatingRow {
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
pub struct AreaView {
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

/// The ratings that some calculator takes.
pub fn ratings(sheet: &SetupSheet, context: &Context) -> Vec<RatingRow> {
    let language = &context.graph.catalog.language;
    let used = sheet.ratings.iter().filter(|one| one.used);
    used.map(|one| {
        let reading = one.reading.as_ref().ok().and_then(Option::as_ref);
        let problem = one.reading.as_ref().err();
        let doubt = one.doubt.as_ref();
        RatingRow {
            name: one.name.clone(),
            label: one.label.clone(),
            text: reading.map_or_else(String::new, |reading| reading.text().to_string()),
            also: reading.map_or_else(String::new, also),
            ground: one.ground.word(),
            from: language.say(&one.from),
            problem: problem.map_or_else(String::new, |problem| language.say(&problem.message)),
            doubt: doubt.map_or_else(String::new, |doubt| language.say(&doubt.message)),
        }
    })
    .collect()
}

/// The calculators by the part of the job, in the order of the work.
pub fn areas(sheet: &SetupSheet, context: &Context) -> Vec<AreaView> {
    let catalog = &context.graph.catalog;
    let answers = context.answers();
    sheet
        .by_area(catalog)
        .into_iter()
        .map(|(title, found)| AreaView {
            title: catalog.language.say(&title),
            calculators: found
                .into_iter()
                .map(|(calculator, answer)| {
                    calculator_view(calculator, answer, &answers, &catalog.language)
                })
                .collect(),
        })
        .collect()
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
