//! `figure NAME`: a calculator's drawing for the given inputs, to scale.

use gaugeleaf_calc::calculator::Answer;
use gaugeleaf_calc::finding::Code;
use gaugeleaf_calc::finding::settings::{Binding, Placed, SettingField, SettingType};
use serde::Serialize;

use crate::blocks::calculator_fence::{CalculatorFence, calculator_fence};
use crate::handbook::kind::BlockShape;
use crate::markdown::ids::slug;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, Href};
use crate::page::route::Route;
use crate::page::working::{Doubt, lacking, used, work};
use crate::values::ledger::Use;
use crate::values::typed::typed_json;

const FIELDS: &[SettingField] = &[
    SettingField::new(
        "caption",
        SettingType::Text,
        "What stands under the figure.",
    ),
    SettingField::new(
        "given",
        SettingType::Quantities,
        "Values of inputs, where they aren't the job's.",
    ),
    SettingField::others("The same without `given`: an input, and its value."),
];

/// `figure NAME`: a drawing to scale.
pub struct FigureBlock;

impl BlockShape for FigureBlock {
    fn name(&self) -> &'static str {
        "figure"
    }

    fn help(&self) -> &'static str {
        "One calculator's figure, drawn to scale."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }

    fn address(&self, name: &str) -> Option<String> {
        (!name.is_empty()).then(|| slug(&format!("{} {name}", self.name())))
    }
}

impl BlockKind for FigureBlock {
    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let named = Composed::from(calculator_fence(self.name(), fence, context));
        named.then(|named| figure(&named, fence, context))
    }
}

/// What `blocks/figure.html` is given as `f`.
#[derive(Debug, Serialize)]
struct FigureView<'f> {
    name: &'f str,
    /// What the page fixes, for drawing it again with another job's values.
    inputs: String,
    title: &'f str,
    url: Href,
    svg: String,
    caption: String,
    alt: String,
    given: Vec<ValueView>,
    outputs: Vec<ValueView>,
}

/// A value with its label.
#[derive(Debug, Serialize)]
pub struct ValueView {
    pub name: String,
    pub label: String,
    pub text: String,
}

/// The drawing for a block on a page.
fn figure(named: &CalculatorFence, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
    let said = fence.settings(context, |settings| {
        let caption = settings.text("caption");
        let mut given = settings.other_quantities();
        given.extend(settings.quantities("given"));
        Some((caption, given))
    });
    said.then(|(caption, given)| {
        let answer = work(named.calculator, &given, Doubt::Tell, &named.span, context);
        answer.then(|answer| drawn(named, caption, &given, &answer, context))
    })
}

fn drawn(
    named: &CalculatorFence,
    caption: Option<Placed<String>>,
    given: &[Binding],
    answer: &Answer,
    context: &Context,
) -> Composed<Option<Block>> {
    let calculator = named.calculator;
    let Some(svg) = context.graph.catalog.draw(answer) else {
        let what = format!("what the figure of {} draws", calculator.name);
        let unknown = lacking(&what, answer, &named.span, context);
        if let Some(unknown) = unknown.filter(|_| calculator.figure.is_some()) {
            return Composed::fault(unknown);
        }
        let message = format!("the calculator `{}` has no figure", calculator.name);
        return Composed::fault(
            context
                .error(Code::NoFigure, named.span.clone(), message)
                .help("use a calculator or chart block, or draw a figure beside the calculator's file"),
        );
    };
    let uses: Vec<Use> = calculator
        .results()
        .filter_map(|output| {
            used(
                calculator,
                answer,
                &output.name,
                named.span.start,
                context.graph,
            )
        })
        .collect();
    let said = |name: &str, label: &str, text: &str| ValueView {
        name: name.to_string(),
        label: label.to_string(),
        text: text.to_string(),
    };
    let outputs: Vec<ValueView> = uses
        .iter()
        .map(|one| {
            let (_, output) = one.name.split_once('.').unwrap_or_default();
            said(output, &one.label, &one.text)
        })
        .collect();
    let words: Vec<String> = outputs
        .iter()
        .map(|one| format!("{} {}", one.label, one.text))
        .collect();
    let caption = caption.map_or_else(|| calculator.title.clone(), |caption| caption.value);
    let view = FigureView {
        name: &calculator.name,
        inputs: typed_json(given.iter().map(|one| (&one.name.value, &one.text.value))),
        title: &calculator.title,
        url: Route::calculator(&calculator.name).into(),
        svg,
        alt: format!("{caption} {}", words.join(", ")),
        caption,
        given: answer
            .inputs
            .iter()
            .map(|one| said(&one.name, &one.label, one.reading.text()))
            .collect(),
        outputs,
    };
    Composed {
        uses,
        ..Composed::of(Some(
            Block::new("blocks/figure.html", "f", &view).id(&named.id),
        ))
    }
}
