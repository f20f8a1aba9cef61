//! The variants of a numeric question: which inputs are drawn, from where, and how they are worked.

use std::ops::Range;

use gaugeleaf_calc::calculator::{Answer, Argument, Calculator, OutputReading};
use gaugeleaf_calc::field::{FieldKind, NumberFormat};
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::message::in_english;
use gaugeleaf_calc::quantity::read;
use serde_json::{Map, Value};

use crate::blocks::question::seed::Draw;
use crate::blocks::sweep::stepped;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::working::lacking;

/// With fewer variants, somebody knows the answers after a shift.
const LEAST: usize = 20;
/// A page holds no more: it has to stay light.
const HELD: usize = LEAST;
/// No range is stepped through further than this.
const LONGEST: usize = 1000;

/// What the question is about, once its names are known.
pub struct Asks<'a> {
    pub calculator: &'a Calculator,
    pub output: &'a str,
    pub format: &'a NumberFormat,
    pub tolerance: &'a Placed<String>,
}

/// An input that is drawn, and the texts to draw from.
pub struct Drawn<'w> {
    pub name: &'w Placed<String>,
    values: Vec<String>,
}

/// One text for each drawn input.
pub type Variant = Vec<String>;

/// Reads the ranges to draw from.
pub fn drawn<'w>(
    calculator: &Calculator,
    ranges: &'w [(Placed<String>, Vec<Placed<String>>)],
    word: &Range<usize>,
    context: &Context,
) -> Composed<Option<Vec<Drawn<'w>>>> {
    if ranges.is_empty() {
        let message = "this question draws no input";
        return Composed::fault(
            context
                .error(Code::MissingSetting, word.clone(), message)
                .help("add draw = { INPUT = [\"from\", \"to\", \"step\"] }"),
        );
    }
    let drawn = Composed::all(ranges, |(name, texts)| {
        let values = values(calculator, name, texts, context.file);
        Composed::from(values.map(|values| Drawn { name, values }))
    });
    drawn.map(|drawn| drawn.into_iter().collect())
}

fn values(
    calculator: &Calculator,
    name: &Placed<String>,
    texts: &[Placed<String>],
    file: &str,
) -> Result<Vec<String>, Finding> {
    let bad = |span: &Range<usize>, message: String, help: &str| {
        Finding::error(Code::BadDraw, file, span.clone(), message).help(help)
    };
    let input = calculator.input(&name.value).map(|input| &input.field.kind);
    let Some(FieldKind::Number { format, want, .. }) = input else {
        let message = format!("`{}` is chosen, not measured", name.value);
        return Err(bad(
            &name.span,
            message,
            "give it under `given`, and draw a quantity",
        ));
    };
    let [from, to, step] = texts else {
        let message = format!(
            "`{}` is drawn from, to and by a step: three quantities",
            name.value
        );
        let help = format!(
            "write {} = [\"4 in\", \"13 in\", \"1/4 in\"], in its own unit",
            name.value
        );
        return Err(bad(&name.span, message, &help));
    };
    let typed = |text: &Placed<String>| {
        read(&text.value, want).map_err(|fault| {
            let message = in_english(&fault.message());
            let finding = Finding::error(Code::BadInput, file, text.span.clone(), message);
            Finding {
                help: Some(in_english(&fault.help())),
                ..finding
            }
        })
    };
    let (first, last, stride) = (typed(from)?, typed(to)?, typed(step)?);
    if first.si > last.si {
        let message = format!("`{}` is more than `{}`", from.value, to.value);
        return Err(bad(&from.span, message, "write the lower end first"));
    }
    stepped(&first, &last, &stride, format.main.kind, LONGEST).ok_or_else(|| {
        let message = format!(
            "steps of `{}` don't lead from `{}` to `{}`",
            step.value, from.value, to.value
        );
        bad(
            &step.span,
            message,
            &format!("write a step that makes up to {LONGEST} values"),
        )
    })
}

/// Draws the variants; too few are a finding.
pub fn variants(
    drawn: &[Drawn],
    draw: &mut Draw,
    word: &Range<usize>,
    context: &Context,
) -> Result<Vec<Variant>, Finding> {
    let count = drawn
        .iter()
        .fold(1_usize, |count, one| count.saturating_mul(one.values.len()));
    if count < LEAST {
        let span = drawn.first().map_or(word, |one| &one.name.span);
        let message = format!("this question has {count} variants, and {LEAST} are wanted");
        let finding = context.error(Code::FewVariants, span.clone(), message);
        return Err(finding.help(
            "move `from` and `to` further apart, make the step smaller, or draw another input too",
        ));
    }
    let chosen = draw.distinct(HELD, count).into_iter().map(|mut at| {
        let one = |drawn: &Drawn| {
            let text = drawn.values[at % drawn.values.len()].clone();
            at /= drawn.values.len();
            text
        };
        drawn.iter().map(one).collect()
    });
    Ok(chosen.collect())
}

/// Works a variant. An unusual value is refused: a trainee must not learn it.
pub fn worked(
    calculator: &Calculator,
    given: &[&Binding],
    drawn: &[Drawn],
    variant: &Variant,
    context: &Context,
) -> Result<Answer, Finding> {
    let fixed = given
        .iter()
        .map(|one| Argument::new(&one.name.value, &one.text.value));
    let varied = drawn
        .iter()
        .zip(variant)
        .map(|(one, text)| Argument::new(&one.name.value, text));
    let inputs: Vec<Argument> = fixed.chain(varied).collect();
    let span = place(given, drawn);
    let answer = context.calculate(&calculator.name, &inputs);
    let answer = answer.ok_or_else(|| {
        let message = "this can't be worked out".to_string();
        bad(span.clone(), message, None, context)
    })?;
    if let Some(problem) = answer.problems.first() {
        let at = given.iter().find(|one| one.name.value == problem.input);
        let at = at.map(|one| &one.text.span);
        let own = drawn
            .iter()
            .find(|one| one.name.value == problem.input)
            .map(|one| &one.name.span);
        let typed = at.or(own).cloned();
        // what the question doesn't give comes from elsewhere, and so may its fault
        let causes = match typed {
            Some(_) => Vec::new(),
            None => context.graph.causes(calculator, problem),
        };
        let message = format!("{}{}", with(drawn, variant), in_english(&problem.message));
        let finding = bad(
            typed.unwrap_or(span),
            message,
            problem.help.as_ref().map(in_english),
            context,
        );
        return Err(finding.follows(causes));
    }
    Ok(answer)
}

/// Whether a variant has the result that is asked for.
pub fn asked(
    asks: &Asks,
    answer: &Answer,
    drawn: &[Drawn],
    variant: &Variant,
    context: &Context,
) -> Result<(), Finding> {
    let span = place(&[], drawn);
    let output = answer.output(asks.output);
    if output.is_some_and(OutputReading::is_open) {
        let what = format!("what this question asks of {}", asks.calculator.name);
        if let Some(unknown) = lacking(&what, answer, &span, context) {
            return Err(unknown);
        }
    }
    if output.is_none_or(|output| output.reading.is_none()) {
        let message = format!("{}there is no `{}`", with(drawn, variant), asks.output);
        return Err(bad(span, message, None, context));
    }
    Ok(())
}

/// A variant that can't be asked.
fn bad(span: Range<usize>, message: String, help: Option<String>, context: &Context) -> Finding {
    let usual = "draw from a range that can be worked out everywhere".to_string();
    context
        .error(Code::BadVariant, span, message)
        .help(help.unwrap_or(usual))
}

/// Where a fault of a variant is told that has no place of its own.
fn place(given: &[&Binding], drawn: &[Drawn]) -> Range<usize> {
    let first = drawn.first().map(|one| &one.name.span);
    let first = first.or_else(|| given.first().map(|one| &one.name.span));
    first.cloned().unwrap_or(0..0)
}

/// Which variant a message is about.
fn with(drawn: &[Drawn], variant: &Variant) -> String {
    let said = drawn.iter().zip(variant);
    let said: Vec<String> = said
        .map(|(one, text)| format!("{} {text}", one.name.value))
        .collect();
    match said.as_slice() {
        [] => String::new(),
        said => format!("with {}: ", said.join(" and ")),
    }
}

/// What a variant's drawn inputs say, by their names.
pub fn said(drawn: &[Drawn], variant: &Variant) -> Map<String, Value> {
    let said = drawn.iter().zip(variant);
    said.map(|(one, text)| (one.name.value.clone(), text.as_str().into()))
        .collect()
}
