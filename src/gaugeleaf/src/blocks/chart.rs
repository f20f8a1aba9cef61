//! `chart NAME`: one output over one input, or over two, as a table that a crew
//! can read without a screen that answers.

use gaugeleaf_calc::calculator::{Answer, Reading};
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::formula::Value;
use gaugeleaf_calc::plot::{Line, Plot};
use serde::Serialize;

use crate::blocks::figure::Said;
use crate::blocks::named::{Block, named};
use crate::blocks::sweep::{FIELDS, MOST, Wanted, input, output, values};
use crate::handbook::addresses::calculator_url;
use crate::handbook::kind::Shape;
use crate::markdown::event::Piece;
use crate::markdown::ids::slug;
use crate::page::desk::Desk;
use crate::page::kind::{Fence, Kind};
use crate::page::working::{Doubt, used, work};
use crate::settings::{Assigned, Field, Placed};

/// `chart NAME`: a table of values, and a plot.
pub struct ChartBlock;

impl Shape for ChartBlock {
    fn name(&self) -> &'static str {
        "chart"
    }

    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn address(&self, name: &str) -> Option<String> {
        (!name.is_empty()).then(|| slug(&format!("{} {name}", self.name())))
    }
}

impl Kind for ChartBlock {
    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>> {
        let block = named(self.name(), fence, desk);
        fence.html(block.and_then(|block| chart(&block, desk)))
    }
}

/// What `blocks/chart.html` is given as `c`.
#[derive(Debug, Default, Serialize)]
struct Chart {
    id: String,
    title: String,
    url: String,
    caption: String,
    over_label: String,
    output_label: String,
    across_label: String,
    columns: Vec<String>,
    rows: Vec<Row>,
    given: Vec<Said>,
    plot: String,
}

#[derive(Debug, Default, Serialize)]
struct Row {
    over: String,
    over_also: String,
    cells: Vec<Cell>,
}

#[derive(Debug, Default, Serialize)]
struct Cell {
    text: String,
    also: String,
    is: String,
    because: String,
}

/// The chart for a block on a page.
pub fn chart(block: &Block, desk: &mut Desk) -> Option<String> {
    let wanted = Wanted::read(block, desk)?;
    let chart = filled(block, &wanted, desk)?;
    desk.part("blocks/chart.html", "c", &chart)
}

fn filled(block: &Block, wanted: &Wanted, desk: &mut Desk) -> Option<Chart> {
    let calculator = block.calculator;
    let output = output(calculator, wanted, block, desk)?;
    let over = input(calculator, wanted.over.as_ref(), "over", block, desk)?;
    let values = values(over, wanted, block, desk)?;
    let across = match &wanted.across {
        Some(across) => Some(input(calculator, Some(across), "across", block, desk)?),
        None => None,
    };
    let columns: Vec<Option<Placed<String>>> = if across.is_some() {
        wanted.across_values.iter().cloned().map(Some).collect()
    } else {
        vec![None]
    };
    if columns.is_empty() || columns.len() > MOST {
        let message = format!("`across_values` takes 1 to {MOST} values");
        desk.findings.push(
            Finding::error(Code::ChartSize, desk.file, block.span.clone(), message)
                .help("write across_values = [\"…\", \"…\"]"),
        );
        return None;
    }
    let label = &calculator.output(&output)?.label;
    let mut chart = Chart {
        id: block.id.clone(),
        title: calculator.title.clone(),
        url: calculator_url(&calculator.name),
        over_label: over.label.clone(),
        output_label: label.clone(),
        across_label: across
            .map(|across| across.label.clone())
            .unwrap_or_default(),
        ..Chart::default()
    };
    let usual = match across {
        Some(across) => format!(
            "{label} over {} and {}",
            over.label.to_lowercase(),
            across.label.to_lowercase()
        ),
        None => format!("{label} over {}", over.label.to_lowercase()),
    };
    chart.caption = wanted
        .caption
        .as_ref()
        .map_or(usual, |caption| caption.value.clone());
    // each column's first answer, and where the swept input begins and ends
    let mut firsts: Vec<(String, Answer)> = Vec::new();
    let mut ends: Option<(f64, f64)> = None;
    for value in &values {
        let mut row = Row::default();
        for column in &columns {
            let assigned = |name: &str, text: &Placed<String>| Assigned {
                name: Placed {
                    value: name.to_string(),
                    span: text.span.clone(),
                },
                text: text.clone(),
            };
            let mut given = wanted.given.clone();
            given.push(assigned(&over.name, value));
            given.extend(
                across
                    .zip(column.as_ref())
                    .map(|(across, column)| assigned(&across.name, column)),
            );
            // a fault in one cell is most often a fault in all: the first is enough
            let doubts = desk.findings.len();
            let answer = work(calculator, &given, Doubt::Tell, &block.span, desk)?;
            desk.findings.truncate(doubts);
            let text_of = |name: &str| answer.inputs.iter().find(|one| one.name == name);
            if let Some(read) = text_of(&over.name) {
                row.over = read.reading.text().to_string();
                row.over_also = also(&read.reading);
            }
            if chart.rows.is_empty() {
                let head = across.and_then(|across| text_of(&across.name));
                chart.columns.push(
                    head.map_or_else(|| label.clone(), |read| read.reading.text().to_string()),
                );
            }
            if chart.given.is_empty() {
                let swept = |name: &str| {
                    name == over.name || across.is_some_and(|across| name == across.name)
                };
                chart.given = answer
                    .inputs
                    .iter()
                    .filter(|one| !swept(&one.name))
                    .map(|one| Said {
                        name: one.name.clone(),
                        label: one.label.clone(),
                        text: one.reading.text().to_string(),
                    })
                    .collect();
            }
            let worst = answer.verdicts.iter().max_by_key(|verdict| verdict.is);
            let used = used(calculator, &answer, &output, block.span.start);
            row.cells.push(Cell {
                text: used
                    .as_ref()
                    .map_or_else(|| "none".to_string(), |one| one.text.clone()),
                also: used
                    .as_ref()
                    .map(|one| one.also.clone())
                    .unwrap_or_default(),
                is: worst
                    .map(|verdict| verdict.is.word().to_string())
                    .unwrap_or_default(),
                because: worst
                    .map(|verdict| verdict.because.clone())
                    .unwrap_or_default(),
            });
            desk.uses.extend(used);
            if let Some(Value::Number(here)) = answer.values.get(&over.name) {
                let (from, to) = ends.unwrap_or((*here, *here));
                ends = Some((from.min(*here), to.max(*here)));
            }
            if chart.rows.is_empty() && wanted.plot {
                let name = across.and_then(|across| text_of(&across.name));
                let name = name.map_or("", |read| read.reading.text());
                firsts.push((name.to_string(), answer));
            }
        }
        chart.rows.push(row);
    }
    if wanted.plot {
        let plot = ends.and_then(|(from, to)| {
            let plot = Plot {
                output,
                over: over.name.clone(),
                from,
                to,
            };
            let lines: Vec<Line> = firsts
                .iter()
                .map(|(name, answer)| Line { name, answer })
                .collect();
            desk.graph.catalog.plot_of(calculator, &plot, &lines, false)
        });
        match plot {
            Some(plot) => chart.plot = plot,
            None => desk.findings.push(
                Finding::error(
                    Code::NoPlot,
                    desk.file,
                    block.span.clone(),
                    "this chart can't be plotted",
                )
                .help("plot a number over a range of numbers, or leave plot out"),
            ),
        }
    }
    Some(chart)
}

fn also(reading: &Reading) -> String {
    match reading {
        Reading::Number(printed) => printed.also.clone().unwrap_or_default(),
        Reading::Choice { .. } => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::blocks;
    use crate::page::testing::with_desk;

    fn chart(body: &str) -> (String, Vec<(&'static str, usize)>) {
        let (html, findings) =
            with_desk(&format!("```chart guide-tube-length\n{body}```\n"), blocks);
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
        for row in ["2 in", "2 1/2 in", "3 in"] {
            assert!(
                html.contains(&format!("class=\"num\">{row}")),
                "{row} in {html}"
            );
        }
    }

    #[test]
    fn a_chart_of_an_unknown_output_or_without_end_is_found_in_its_place() {
        let (_, findings) = chart("output = \"lenght\"\nover = \"channel_depth\"\n");
        assert_eq!(findings, [("unknown-output", 36)]);
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
