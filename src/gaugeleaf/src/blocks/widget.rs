//! `calculator NAME`: a live calculator, complete with its result for the given
//! inputs before any script runs.

use gaugeleaf_calc::calculator::{
    Answer, Calculator, Input, InputReading, InputSource, OutputReading,
};
use gaugeleaf_calc::finding::settings::SettingField;
use gaugeleaf_calc::ground::Ground;
use gaugeleaf_calc::message::Language;
use serde::Serialize;

use crate::blocks::calculator_fence::{CalculatorFence, calculator_fence};
use crate::blocks::field_view::FieldView;
use crate::handbook::answered::StopAnswers;
use crate::handbook::kind::BlockShape;
use crate::language::tell;
use crate::markdown::ids::slug;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, Href};
use crate::page::route::Route;
use crate::page::working::{Doubt, also, used, work};
use crate::values::graph::{Graph, Job};
use crate::values::judge::answer_to;

const FIELDS: &[SettingField] = &[SettingField::others(
    "An input of the calculator, and the value that stands in its field at first.",
)];

/// `calculator NAME`: a widget.
pub struct CalculatorBlock;

impl BlockShape for CalculatorBlock {
    fn name(&self) -> &'static str {
        "calculator"
    }

    fn help(&self) -> &'static str {
        "A live calculator: a field for each input, the results and the verdicts."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }

    fn address(&self, name: &str) -> Option<String> {
        (!name.is_empty()).then(|| slug(name))
    }
}

impl BlockKind for CalculatorBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["address", "fields", "working", "show", "widget"]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let named = Composed::from(calculator_fence(self.name(), fence, context));
        named.then(|named| on_page(&named, fence, context))
    }
}

/// What `blocks/widget.html` is given as `w`.
#[derive(Debug, Serialize)]
struct Widget<'w> {
    name: &'w str,
    title: &'w str,
    purpose: &'w str,
    url: Href,
    standalone: bool,
    inputs: Vec<FieldView<'w>>,
    outputs: Vec<WidgetOutput<'w>>,
    verdicts: Vec<WidgetVerdict<'w>>,
    working: Vec<WidgetLine<'w>>,
    figure: String,
    figure_alt: String,
    plot: String,
    hazard: Option<WidgetHazard<'w>>,
    not_counted: &'w str,
    /// Stands right beside the result.
    caution: &'w str,
}

#[derive(Debug, Serialize)]
struct WidgetOutput<'w> {
    name: &'w str,
    label: &'w str,
    text: String,
    also: String,
    rounded: String,
    span: String,
    /// Whose value it is, where it is an example.
    of: String,
    /// Why it isn't known.
    why: String,
}

#[derive(Debug, Serialize)]
struct WidgetVerdict<'w> {
    check: &'w str,
    is: &'static str,
    because: String,
    standing: bool,
    /// Who answers for it and why, where it is a stop.
    answer: String,
}

#[derive(Debug, Serialize)]
struct WidgetLine<'w> {
    name: &'w str,
    label: &'w str,
    formula: &'w str,
    numbers: &'w str,
    result: &'w str,
    mathml: &'w str,
}

#[derive(Debug, Serialize)]
struct WidgetHazard<'w> {
    word: &'w str,
    /// The first sentence, and the whole.
    head: &'w str,
    text: &'w str,
}

/// The widget for a block on a page.
fn on_page(named: &CalculatorFence, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
    let calculator = named.calculator;
    let given = fence.settings(context, |settings| Some(settings.other_quantities()));
    given.then(|given| {
        let answer = work(calculator, &given, Doubt::Refuse, &named.span, context);
        answer.then(|answer| {
            let start = named.span.start;
            let uses = calculator
                .results()
                .filter_map(|output| used(calculator, &answer, &output.name, start, context))
                .collect();
            let options = WidgetOptions {
                graph: context.graph,
                job: context.job_beneath(&calculator.name),
                standalone: false,
                caution: context.caution(),
                answers: context.answers(),
            };
            Composed {
                uses,
                ..Composed::of(Some(widget(calculator, &named.id, &answer, &options)))
            }
        })
    })
}

/// Where a widget stands.
pub struct WidgetOptions<'o> {
    pub graph: &'o Graph,
    /// The job whose values hold on the page.
    pub job: &'o Job,
    /// On the calculator's own page, which has the title and the purpose already.
    pub standalone: bool,
    /// The handbook's own: who comes first.
    pub caution: &'o str,
    pub answers: StopAnswers<'o>,
}

/// The widget for an answer.
pub fn widget(
    calculator: &Calculator,
    id: &str,
    answer: &Answer,
    options: &WidgetOptions,
) -> Block {
    let catalog = &options.graph.catalog;
    let alone = catalog.calculate(&calculator.name, &[], options.job);
    let outputs: Vec<WidgetOutput> = {
        let outputs = answer.outputs.iter();
        outputs
            .map(|one| output(one, answer, &catalog.language))
            .collect()
    };
    let said: Vec<String> = outputs
        .iter()
        .filter(|output| !output.text.is_empty())
        .map(|output| format!("{} {}", output.label, output.text))
        .collect();
    let view = Widget {
        name: &calculator.name,
        title: &calculator.title,
        purpose: &calculator.purpose,
        url: Route::calculator(&calculator.name).into(),
        standalone: options.standalone,
        inputs: calculator
            .inputs
            .iter()
            .map(|one| {
                let mut view = input(one, answer, alone.as_ref(), &catalog.language);
                view.checked = !calculator.checks.is_empty();
                view
            })
            .collect(),
        figure: catalog.draw(answer).unwrap_or_default(),
        figure_alt: tell::drawing(&calculator.title, &said.join(", ")),
        plot: catalog.plot(answer).unwrap_or_default(),
        outputs,
        verdicts: answer
            .checks
            .iter()
            .map(|verdict| WidgetVerdict {
                check: &verdict.check,
                is: verdict.is.word(),
                because: catalog.language.say(&verdict.because),
                standing: verdict.standing,
                answer: answer_to(verdict, &calculator.name, &options.answers),
            })
            .collect(),
        working: answer
            .working
            .iter()
            .map(|line| WidgetLine {
                name: &line.name,
                label: &line.label,
                formula: &line.formula,
                numbers: &line.numbers,
                result: &line.result,
                mathml: &line.mathml,
            })
            .collect(),
        hazard: calculator.hazard.as_ref().map(|hazard| WidgetHazard {
            word: &hazard.word,
            head: hazard.head(),
            text: &hazard.text,
        }),
        not_counted: &calculator.not_counted,
        caution: options.caution,
    };
    Block::new("blocks/widget.html", "w", &view).id(id)
}

fn input<'w>(
    input: &'w Input,
    answer: &Answer,
    alone: Option<&Answer>,
    language: &Language,
) -> FieldView<'w> {
    let of = |answer: &Answer| -> Option<InputReading> {
        let found = answer
            .inputs
            .iter()
            .find(|one| one.name == input.field.name);
        found.cloned()
    };
    let mut view = FieldView::of(&input.field, language);
    if let Some(read) = of(answer) {
        view.read(&read, language);
        view.example = read.source == InputSource::Typed;
        if let Some(from) = &input.from {
            view.from.clone_from(&from.value);
            // A page that writes out the job's own value doesn't mean another one.
            let from_graph = alone.and_then(of).map(|alone| alone.reading);
            view.supplied = from_graph.is_some_and(|alone| alone.text() == read.reading.text());
            view.example &= !view.supplied;
        }
    }
    if let Some(unset) = answer.unset.iter().find(|one| one.name == input.field.name) {
        view.ground = Ground::None.word();
        view.source = language.say(&unset.from);
    }
    view
}

fn output<'w>(output: &'w OutputReading, answer: &Answer, language: &Language) -> WidgetOutput<'w> {
    let open = output.is_open();
    WidgetOutput {
        name: &output.name,
        label: &output.label,
        text: match &output.reading {
            Some(reading) => reading.text().to_string(),
            None if open => language.say(&output.told()),
            None => String::new(),
        },
        why: if open {
            language.say(&answer.why_open(output))
        } else {
            String::new()
        },
        also: output.reading.as_ref().map(also).unwrap_or_default(),
        rounded: language.say(&output.rounded),
        of: language.say(&output.of),
        span: match &output.span {
            Some(span) => language.say(&span.text),
            None => String::new(),
        },
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    #[test]
    fn a_widget_holds_its_result_before_any_script_runs() {
        let (html, findings) =
            printed("```calculator guide-tube-length\nchannel_depth = \"9 in\"\n```\n");
        assert_eq!(findings, []);
        assert!(
            html.contains("data-calculator=\"guide-tube-length\""),
            "{html}"
        );
        assert!(html.contains("value=\"9 in\""), "{html}");
    }

    #[test]
    fn a_pressure_for_a_length_is_refused_where_it_was_typed() {
        let (_, findings) =
            printed("```calculator guide-tube-length\nchannel_depth = \"9 psi\"\n```\n");
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("bad-input", 48..55)
        );
        assert!(
            findings[0].message.contains("pressure"),
            "{}",
            findings[0].message
        );
    }

    #[test]
    fn a_misspelt_input_is_found_at_its_name() {
        let (_, findings) =
            printed("```calculator guide-tube-length\nchannel_dept = \"9 in\"\n```\n");
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("unknown-input", 32..44)
        );
    }
}
