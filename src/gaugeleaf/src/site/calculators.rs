//! `calculators/NAME.html`: every calculator with its widget, its method, its limits,
//! its worked examples and where the handbook uses it.

use std::collections::{BTreeSet, HashMap};

use gaugeleaf_calc::calculator::{
    Answer, Calculator, Case, CrossCheck, LONGEST_MATHML, MEASURED, OutputKind, Verdict,
};
use gaugeleaf_calc::field::FieldKind;
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::formula::Notation;
use gaugeleaf_calc::message::in_english;
use rayon::prelude::*;
use serde::Serialize;

use crate::blocks::widget::{CalculatorBlock, WidgetOptions, widget};
use crate::handbook::addresses::calculator_url;
use crate::handbook::answered::StopAnswers;
use crate::language::tell;
use crate::page::kind::BlockKind;
use crate::render::context::{IssueOf, NavLink, PageContext};
use crate::render::print::Printer;
use crate::render::renderer::{MoreView, Renderer};
use crate::site::calculator_list;
use crate::site::heading::worded;
use crate::site::input::SiteInput;
use crate::site::limits::{LimitView, limits};
use crate::site::lookup_table::{LookupView, lookup_table};
use crate::site::made::made_pages;
use crate::site::navigation::home;
use crate::site::symbols::CalculatorSymbols;
use crate::values::act::MadePage;
use crate::values::hash::short_hash;

/// What `calculator.html` is given as `calculator`.
#[derive(Serialize)]
struct CalculatorView<'c> {
    name: &'c str,
    title: &'c str,
    purpose: &'c str,
    not_counted: &'c str,
    widget: String,
    lookup: Option<LookupView>,
    method: Vec<MethodLine<'c>>,
    symbols: Vec<SymbolView<'c>>,
    limits: Vec<LimitView<'c>>,
    /// It gives verdicts, and so its inputs have limits beside their bands.
    judged: bool,
    checks: Vec<CheckView>,
    examples: Vec<ExampleView<'c>>,
    sources: &'c [String],
    used_on: Vec<NavLink>,
}

#[derive(Serialize)]
struct MethodLine<'c> {
    label: &'c str,
    mathml: String,
    formula: String,
    note: &'c str,
}

#[derive(Serialize)]
struct SymbolView<'c> {
    symbol: String,
    label: &'c str,
    unit: String,
}

#[derive(Serialize)]
pub struct CheckView {
    label: String,
    pub cases: Vec<CaseView>,
}

#[derive(Serialize)]
pub struct CaseView {
    pub is: &'static str,
    pub when: String,
    pub because: String,
}

#[derive(Serialize)]
struct ExampleView<'c> {
    source: &'c str,
    given: Vec<ExampleValue<'c>>,
    results: Vec<ExampleValue<'c>>,
    verdict: &'c str,
}

#[derive(Serialize)]
struct ExampleValue<'c> {
    label: &'c str,
    text: &'c str,
}

/// What tells the calculators' pages from those of another edition: the catalog with its values.
pub fn mark(input: &SiteInput) -> String {
    short_hash(input.packed_catalog())
}

/// Prints every calculator and the list of them.
pub fn pages(renderer: &mut Renderer, input: &SiteInput) {
    let SiteInput {
        handbook, graph, ..
    } = *input;
    let list = NavLink {
        title: tell::calculators(),
        url: "calculators/index.html".to_string(),
    };
    let crumbs = vec![home(handbook), list.clone()];
    let used_on = used_on(input);
    let mark = mark(input);
    let calculators: Vec<&Calculator> = graph.catalog.calculators.values().collect();
    let print = |(calculator, made): (&&Calculator, &MadePage)| {
        let page = PageContext {
            description: calculator.purpose.clone(),
            fingerprint: made.fingerprint.clone(),
            issue: IssueOf::page(&handbook.history, &made.url, &made.fingerprint),
            mark: mark.clone(),
            scripts: CalculatorBlock.scripts().to_vec(),
            ..PageContext::made(
                "calculator",
                &calculator.title,
                &calculator_url(&calculator.name),
                crumbs.clone(),
            )
        };
        let view = view(calculator, input, &used_on, &renderer.printer(&page.url))?;
        renderer.print(
            "calculator.html",
            &page,
            Some(MoreView::new("calculator", &view)),
        )
    };
    let printed: Vec<_> = calculators
        .par_iter()
        .zip(made_pages(input))
        .map(print)
        .collect();
    for (calculator, printed) in calculators.into_iter().zip(printed) {
        renderer.add(&calculator_url(&calculator.name), printed);
    }
    calculator_list::page(renderer, graph, &list, vec![home(handbook)]);
}

/// The calculators that come to nothing with the handbook's own values.
pub fn faults(input: &SiteInput) -> Vec<Finding> {
    let calculators = input.graph.catalog.calculators.values();
    let faults = calculators.filter_map(|calculator| own_answer(calculator, input).err());
    faults.collect()
}

/// What a calculator comes to with the handbook's own values.
pub fn own_answer(calculator: &Calculator, input: &SiteInput) -> Result<Answer, Finding> {
    let SiteInput { graph, own, .. } = *input;
    let fault = |message: String| {
        Finding::error(
            Code::NoResult,
            &calculator.file,
            calculator.span.clone(),
            message,
        )
        .help("mend the values that its inputs start from")
    };
    let answer = graph
        .catalog
        .calculate(&calculator.name, &[], own.job())
        .ok_or_else(|| fault(format!("there is no calculator `{}`", calculator.name)))?;
    let Some(problem) = answer.problems.first() else {
        return Ok(answer);
    };
    let input = match problem.input.as_str() {
        "" => String::new(),
        input => format!("{input}: "),
    };
    let message = format!(
        "{} can't be worked out for its own values: {input}{}",
        calculator.name,
        in_english(&problem.message)
    );
    let causes = graph.causes(calculator, problem);
    let fault = fault(message).breaks([calculator.name.clone()]);
    Err(fault.follows(causes))
}

fn view<'c>(
    calculator: &'c Calculator,
    input: &SiteInput<'c>,
    used_on: &HashMap<&str, Vec<NavLink>>,
    printer: &Printer,
) -> Result<CalculatorView<'c>, Finding> {
    let answer = own_answer(calculator, input)?;
    let SiteInput { graph, own, .. } = *input;
    let job = own.job();
    let used_on = used_on.get(calculator.name.as_str());
    let used_on = used_on.cloned().unwrap_or_default();
    let options = WidgetOptions {
        graph,
        job,
        standalone: true,
        caution: &input.handbook.caution,
        answers: StopAnswers {
            job: &[],
            all: &input.handbook.answered,
        },
    };
    let widget = widget(calculator, &calculator.name, &answer, &options);
    Ok(CalculatorView {
        name: &calculator.name,
        title: &calculator.title,
        purpose: &calculator.purpose,
        not_counted: &calculator.not_counted,
        widget: printer.block(&widget)?,
        lookup: lookup_table(&graph.catalog, &answer),
        method: method(calculator),
        symbols: symbol_list(calculator),
        limits: limits(calculator, graph, (!used_on.is_empty()).then_some(job)),
        judged: !calculator.checks.is_empty(),
        checks: checks(calculator),
        examples: examples(calculator),
        sources: &calculator.sources,
        used_on,
    })
}

/// The pages that print a result, by calculator, in reading order.
fn used_on<'m>(input: &SiteInput<'m>) -> HashMap<&'m str, Vec<NavLink>> {
    let mut used_on: HashMap<&str, Vec<NavLink>> = HashMap::new();
    for (page, composed) in input.handbook.pages.iter().zip(input.composed) {
        let names = composed
            .uses
            .iter()
            .filter_map(|one| one.name.split_once('.'));
        let once: BTreeSet<&str> = names.map(|(calculator, _)| calculator).collect();
        for calculator in once {
            used_on.entry(calculator).or_default().push(NavLink {
                title: page.outline.title.clone(),
                url: page.url.clone(),
            });
        }
    }
    used_on
}

pub fn checks(calculator: &Calculator) -> Vec<CheckView> {
    let symbols = CalculatorSymbols(calculator);
    let case = |case: &Case| CaseView {
        is: case.is.word(),
        when: case
            .when
            .as_ref()
            .map(|(formula, _)| formula.plain(&symbols))
            .unwrap_or_default(),
        because: case.because.fill(|name| symbols.name(name)),
    };
    let checks = calculator.checks.iter();
    checks
        .map(|check| CheckView {
            label: worded(&check.name),
            cases: check.cases.iter().map(case).collect(),
        })
        .chain(
            calculator
                .cross_checks
                .iter()
                .map(|cross| cross_check(cross, &symbols)),
        )
        .collect()
}

/// A cross-check as a check of one case.
fn cross_check(cross: &CrossCheck, symbols: &CalculatorSymbols) -> CheckView {
    let (value, within) = (
        symbols.name(&cross.value.value),
        cross.within.plain(symbols),
    );
    let when = match cross.larger {
        true => format!("{value} ≤ {MEASURED} + {within}"),
        false => tell::beyond_both(&format!("|{value} − {MEASURED}| > {within}")),
    };
    let because = cross.because.fill(|name| match name {
        MEASURED => MEASURED.to_string(),
        name => symbols.name(name),
    });
    CheckView {
        label: worded(&cross.name),
        cases: vec![CaseView {
            is: Verdict::Caution.word(),
            when,
            because,
        }],
    }
}

fn method(calculator: &Calculator) -> Vec<MethodLine<'_>> {
    let symbols = CalculatorSymbols(calculator);
    calculator
        .outputs
        .iter()
        .map(|output| {
            let formula = format!(
                "{} = {}",
                symbols.name(&output.name),
                output.formula.plain(&symbols)
            );
            let mathml = format!(
                "<math display=\"block\"><mrow>{}<mo>=</mo>{}</mrow></math>",
                symbols.mathml(&output.name),
                output.formula.mathml(&symbols)
            );
            MethodLine {
                label: &output.label,
                mathml: if formula.chars().count() > LONGEST_MATHML {
                    String::new()
                } else {
                    mathml
                },
                formula,
                note: &output.help,
            }
        })
        .collect()
}

fn symbol_list(calculator: &Calculator) -> Vec<SymbolView<'_>> {
    let symbols = CalculatorSymbols(calculator);
    let math = |name: &str| format!("<math><mrow>{}</mrow></math>", symbols.mathml(name));
    let inputs = calculator.inputs.iter().map(|input| SymbolView {
        symbol: math(&input.field.name),
        label: &input.field.label,
        unit: match &input.field.kind {
            FieldKind::Number { format, .. } => format.main.unit.shown.clone(),
            FieldKind::Choice(_) => String::new(),
        },
    });
    let outputs = calculator.outputs.iter().map(|output| SymbolView {
        symbol: math(&output.name),
        label: &output.label,
        unit: match &output.kind {
            OutputKind::Number(format) => format.main.unit.shown.clone(),
            OutputKind::Choice(_) => String::new(),
        },
    });
    inputs.chain(outputs).collect()
}

fn examples(calculator: &Calculator) -> Vec<ExampleView<'_>> {
    let input = |name: &str| {
        calculator
            .input(name)
            .map(|input| input.field.label.as_str())
    };
    let output = |name: &str| calculator.output(name).map(|output| output.label.as_str());
    calculator
        .examples
        .iter()
        .map(|example| ExampleView {
            source: &example.source,
            given: example
                .given
                .iter()
                .map(|one| ExampleValue {
                    label: input(&one.name.value).unwrap_or(&one.name.value),
                    text: &one.text.value,
                })
                .collect(),
            results: example
                .expect
                .iter()
                .map(|one| ExampleValue {
                    label: output(&one.name.value).unwrap_or(&one.name.value),
                    text: &one.text.value,
                })
                .collect(),
            verdict: example
                .verdict
                .as_ref()
                .map_or("", |verdict| verdict.value.as_str()),
        })
        .collect()
}
