//! `chart NAME`: one output over one input, or over two, as a table that a crew
//! can read without a screen that answers.

use std::sync::Arc;

use gaugeleaf_calc::calculator::{Answer, InputReading, OutputReading, Verdict};
use gaugeleaf_calc::field::Field;
use gaugeleaf_calc::finding::Code;
use gaugeleaf_calc::finding::settings::{Placed, SettingField as Setting};
use gaugeleaf_calc::formula::Value;
use gaugeleaf_calc::plot::{Plot, PlotLine};
use serde::Serialize;

use crate::blocks::calculator_fence::{CalculatorFence, calculator_fence};
use crate::blocks::figure::ValueView;
use crate::blocks::sweep::{self, ChartSettings, Sweep};
use crate::handbook::kind::BlockShape;
use crate::language::tell;
use crate::markdown::ids::slug;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, Href};
use crate::page::route::Route;
use crate::page::working::{Doubt, also, job_beneath, lacking, used, work};
use crate::values::ledger::Use;

/// `chart NAME`: a table of values, and a plot.
pub struct ChartBlock;

impl BlockShape for ChartBlock {
    fn name(&self) -> &'static str {
        "chart"
    }

    fn help(&self) -> &'static str {
        "One result worked out again and again, as a table and as a curve."
    }

    fn fields(&self) -> &'static [Setting] {
        sweep::FIELDS
    }

    fn address(&self, name: &str) -> Option<String> {
        (!name.is_empty()).then(|| slug(&format!("{} {name}", self.name())))
    }
}

impl BlockKind for ChartBlock {
    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let named = Composed::from(calculator_fence(self.name(), fence, context));
        named.then(|named| {
            let wanted = ChartSettings::read(fence, context);
            wanted.then(|wanted| chart(&named, &wanted, context))
        })
    }
}

/// What `blocks/chart.html` is given as `c`.
#[derive(Debug, Serialize)]
struct Chart<'c> {
    title: &'c str,
    url: Href,
    caption: String,
    over_label: &'c str,
    output_label: &'c str,
    across_label: &'c str,
    columns: Vec<String>,
    rows: Vec<ChartRow>,
    given: Vec<ValueView>,
    plot: String,
}

#[derive(Debug, Default, Serialize)]
struct ChartRow {
    over: String,
    over_also: String,
    cells: Vec<ChartCell>,
}

#[derive(Debug, Default, Serialize)]
struct ChartCell {
    text: String,
    also: String,
    /// What the numbers come to: swept values are nobody's, so it is no verdict.
    would: &'static str,
}

/// The chart for a block on a page.
fn chart(
    named: &CalculatorFence,
    wanted: &ChartSettings,
    context: &Context,
) -> Composed<Option<Block>> {
    Sweep::of(named, wanted, context).then(|sweep| {
        let worked = worked(&sweep, named, wanted, context);
        worked.then(|answers| shown(&sweep, named, wanted, &answers, context))
    })
}

/// The answers of every row, a column each.
type Answers = Vec<Vec<Arc<Answer>>>;

/// Works every cell. A fault in one is most often a fault in all: the first is enough.
fn worked(
    sweep: &Sweep,
    named: &CalculatorFence,
    wanted: &ChartSettings,
    context: &Context,
) -> Composed<Option<Answers>> {
    let mut rows = Vec::new();
    for value in &sweep.values {
        let mut row = Vec::new();
        for column in &sweep.columns {
            let given = sweep.given(wanted, value, column.as_ref());
            let cell = work(sweep.calculator, &given, Doubt::Tell, &named.span, context);
            match cell.value {
                Some(answer) => {
                    let open = answer.output(&sweep.output.name);
                    if open.is_some_and(OutputReading::is_open) {
                        let what = format!("what the chart of {} shows", sweep.calculator.name);
                        let unknown = lacking(&what, &answer, &named.span, context);
                        return unknown.map_or_else(Composed::default, Composed::fault);
                    }
                    row.push(answer);
                }
                None => return cell.with(None),
            }
        }
        rows.push(row);
    }
    Composed::of(Some(rows))
}

fn shown(
    sweep: &Sweep,
    named: &CalculatorFence,
    wanted: &ChartSettings,
    answers: &Answers,
    context: &Context,
) -> Composed<Option<Block>> {
    let mut composed = Composed::of(());
    let rows = answers
        .iter()
        .map(|row| ChartRow {
            over: text(row.first().map(AsRef::as_ref), sweep.over),
            over_also: row
                .first()
                .and_then(|answer| input(answer, sweep.over))
                .map(|read| also(&read.reading))
                .unwrap_or_default(),
            cells: row
                .iter()
                .map(|answer| {
                    let used = used(
                        sweep.calculator,
                        answer,
                        &sweep.output.name,
                        named.span.start,
                        context,
                    );
                    let cell = cell(answer, &sweep.output.name, used.as_ref());
                    composed.uses.extend(used);
                    cell
                })
                .collect(),
        })
        .collect();
    let first = answers.first().map_or(&[][..], Vec::as_slice);
    let columns: Vec<String> = first
        .iter()
        .map(|answer| match sweep.across {
            Some(across) => text(Some(answer), across),
            None => sweep.output.label.clone(),
        })
        .collect();
    let plot = if wanted.plot {
        let plot = plot(sweep, answers, &columns, context);
        if plot.is_none() {
            composed.findings.push(
                context
                    .error(
                        Code::NoPlot,
                        named.span.clone(),
                        "this chart can't be plotted",
                    )
                    .help("plot a number over a range of numbers, or leave plot out"),
            );
        }
        plot.unwrap_or_default()
    } else {
        String::new()
    };
    let view = Chart {
        title: &sweep.calculator.title,
        url: Route::calculator(&sweep.calculator.name).into(),
        caption: caption(sweep, wanted.caption.as_ref()),
        over_label: &sweep.over.label,
        output_label: &sweep.output.label,
        across_label: sweep.across.map_or("", |across| &across.label),
        columns,
        rows,
        given: given(sweep, first.first().map(AsRef::as_ref), context),
        plot,
    };
    let block = Block::new("blocks/chart.html", "c", &view).id(&named.id);
    composed.with(Some(block))
}

fn caption(sweep: &Sweep, caption: Option<&Placed<String>>) -> String {
    if let Some(caption) = caption {
        return caption.value.clone();
    }
    let (label, over) = (&sweep.output.label, sweep.over.label.to_lowercase());
    match sweep.across {
        Some(across) => format!("{label} over {over} and {}", across.label.to_lowercase()),
        None => format!("{label} over {over}"),
    }
}

/// What every cell is worked with alike.
fn given(sweep: &Sweep, answer: Option<&Answer>, context: &Context) -> Vec<ValueView> {
    let swept = |name: &str| {
        name == sweep.over.name || sweep.across.is_some_and(|across| name == across.name)
    };
    let inputs = answer.map_or(&[][..], |answer| &answer.inputs);
    let alike = inputs.iter().filter(|one| !swept(&one.name));
    alike
        .map(|one| ValueView {
            name: one.name.clone(),
            label: one.label.clone(),
            text: one.reading.text().to_string(),
            of: job_beneath(&one.footing, context),
        })
        .collect()
}

fn input<'a>(answer: &'a Answer, field: &Field) -> Option<&'a InputReading> {
    answer.inputs.iter().find(|one| one.name == field.name)
}

fn text(answer: Option<&Answer>, field: &Field) -> String {
    let read = answer.and_then(|answer| input(answer, field));
    read.map(|read| read.reading.text().to_string())
        .unwrap_or_default()
}

fn cell(answer: &Answer, output: &str, used: Option<&Use>) -> ChartCell {
    let own = answer.checks.iter().filter(|verdict| !verdict.standing);
    let would = own.filter_map(|verdict| verdict.would).max();
    let open = answer.output(output).is_some_and(OutputReading::is_open);
    let none = || {
        if open {
            tell::not_known()
        } else {
            tell::no_result()
        }
    };
    ChartCell {
        text: used.map_or_else(none, |one| one.text.clone()),
        also: used.map(|one| one.also.clone()).unwrap_or_default(),
        would: would.map_or("", Verdict::word),
    }
}

/// The plot, a line for each column.
fn plot(sweep: &Sweep, answers: &Answers, columns: &[String], context: &Context) -> Option<String> {
    let over = &sweep.over.name;
    let number = |answer: &Arc<Answer>| match answer.values.get(over) {
        Some(Value::Number(number)) => Some(*number),
        _ => None,
    };
    let swept = || answers.iter().flatten().filter_map(number);
    let plot = Plot {
        output: sweep.output.name.clone(),
        over: over.clone(),
        from: swept().reduce(f64::min)?,
        to: swept().reduce(f64::max)?,
    };
    let name = |column: &'_ String| {
        if sweep.across.is_some() {
            column.clone()
        } else {
            String::new()
        }
    };
    let names: Vec<String> = columns.iter().map(name).collect();
    let lines: Vec<PlotLine> = names
        .iter()
        .zip(answers.first()?)
        .map(|(name, answer)| PlotLine { name, answer })
        .collect();
    context
        .graph
        .catalog
        .plot_of(sweep.calculator, &plot, &lines, false)
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    fn chart(body: &str) -> (String, Vec<(&'static str, usize)>) {
        let (html, findings) = printed(&format!("```chart guide-tube-length\n{body}```\n"));
        (
            html,
            findings
                .into_iter()
                .map(|finding| (finding.code.name(), finding.span.start))
                .collect(),
        )
    }

    #[test]
    fn a_chart_has_a_row_for_each_step() {
        let (html, findings) = chart(
            "output = \"length\"\nover = \"channel_depth\"\nfrom = \"2 in\"\nto = \"3 in\"\nstep = \"1/2 in\"\n",
        );
        assert_eq!(findings, []);
        for row in ["2\u{A0}in", "2\u{A0}1/2\u{A0}in", "3\u{A0}in"] {
            assert!(
                html.contains(&format!("class=\"num\">{row}")),
                "{row} in {html}"
            );
        }
    }

    #[test]
    fn an_input_that_is_swept_is_not_given_by_another_setting_too() {
        let over = "output = \"length\"\nover = \"channel_depth\"\nfrom = \"1 in\"\nto = \"3 in\"\nstep = \"1 in\"\n";
        for twice in [
            "across = \"channel_depth\"\nacross_values = [\"8 in\"]\n",
            "given = { channel_depth = \"8 in\" }\n",
        ] {
            let (html, findings) = chart(&format!("{over}{twice}"));
            assert_eq!(findings.len(), 1, "{findings:?}");
            assert_eq!(findings[0].0, "same-input");
            assert!(!html.contains("<table"), "{html}");
        }
    }

    #[test]
    fn a_chart_of_an_unknown_output_or_without_end_is_found_in_its_place() {
        let (_, findings) = chart("output = \"lenght\"\nover = \"channel_depth\"\nto = \"3 in\"\n");
        let ends = ("missing-setting", 9);
        assert_eq!(findings, [("unknown-output", 36), ends, ends]);
        let (_, findings) = chart(
            "output = \"length\"\nover = \"channel_depth\"\nfrom = \"2 in\"\nto = \"3 in\"\nstep = \"0 in\"\n",
        );
        assert_eq!(findings[0].0, "chart-size");
    }

    #[test]
    fn a_chart_with_a_plot_has_both_and_one_that_cannot_be_plotted_says_so() {
        let body = "output = \"length\"\nover = \"channel_depth\"\nfrom = \"2 in\"\nto = \"3 in\"\nstep = \"1/2 in\"\nplot = true\n";
        let (html, findings) = chart(body);
        assert_eq!(findings, []);
        assert!(html.contains("<svg") && html.contains("<table>"), "{html}");
        let (_, findings) = chart(&body.replace("3 in", "2 in"));
        assert_eq!(findings[0].0, "no-plot");
        let (_, findings) = chart(&body.replace("true", "\"yes\""));
        assert_eq!(findings[0].0, "wrong-kind");
    }
}
