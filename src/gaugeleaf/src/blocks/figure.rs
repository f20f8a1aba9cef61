//! `figure NAME`: a calculator's drawing for the given inputs, to scale.

use gaugeleaf_calc::finding::{Code, Finding};
use serde::Serialize;

use crate::blocks::named::{Block, named};
use crate::handbook::addresses::calculator_url;
use crate::handbook::kind::Shape;
use crate::markdown::event::Piece;
use crate::markdown::ids::slug;
use crate::page::desk::Desk;
use crate::page::kind::{Fence, Kind};
use crate::page::working::{Doubt, used, work};
use crate::settings::{self, Field, Takes};
use crate::values::typed::typed_json;

const FIELDS: &[Field] = &[
    Field::new("caption", Takes::Text, "What stands under the figure."),
    Field::new(
        "given",
        Takes::Quantities,
        "Values of inputs, where they aren't the job's.",
    ),
    Field::others("The same without `given`: an input, and its value."),
];

/// `figure NAME`: a drawing to scale.
pub struct FigureBlock;

impl Shape for FigureBlock {
    fn name(&self) -> &'static str {
        "figure"
    }

    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn address(&self, name: &str) -> Option<String> {
        (!name.is_empty()).then(|| slug(&format!("{} {name}", self.name())))
    }
}

impl Kind for FigureBlock {
    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>> {
        let block = named(self.name(), fence, desk);
        fence.html(block.and_then(|block| figure(&block, desk)))
    }
}

/// What `blocks/figure.html` is given as `f`.
#[derive(Debug, Serialize)]
struct Figure<'f> {
    id: &'f str,
    name: &'f str,
    /// What the page fixes, for drawing it again with another job's values.
    inputs: String,
    title: &'f str,
    url: String,
    svg: String,
    caption: String,
    alt: String,
    given: Vec<Said>,
    outputs: Vec<Said>,
}

/// A value with its label.
#[derive(Debug, Serialize)]
pub struct Said {
    pub name: String,
    pub label: String,
    pub text: String,
}

/// The drawing for a block on a page.
pub fn figure(block: &Block, desk: &mut Desk) -> Option<String> {
    let (caption, given) = settings::read(
        desk.file,
        &block.body,
        FIELDS,
        &mut desk.findings,
        |settings| {
            let caption = settings.text("caption");
            let mut given = settings.other_quantities();
            given.extend(settings.quantities("given"));
            Some((caption, given))
        },
    )?;
    let calculator = block.calculator;
    let answer = work(calculator, &given, Doubt::Tell, &block.span, desk)?;
    let Some(svg) = desk.graph.catalog.draw(&answer) else {
        let message = format!("the calculator `{}` has no figure", calculator.name);
        desk.findings.push(
            Finding::error(Code::NoFigure, desk.file, block.span.clone(), message).help(
                "use a calculator or chart block, or draw a figure beside the calculator's file",
            ),
        );
        return None;
    };
    let uses: Vec<_> = calculator
        .results()
        .filter_map(|output| used(calculator, &answer, &output.name, block.span.start))
        .collect();
    let said = |name: &str, label: &str, text: &str| Said {
        name: name.to_string(),
        label: label.to_string(),
        text: text.to_string(),
    };
    let outputs: Vec<Said> = uses
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
    let figure = Figure {
        id: &block.id,
        name: &calculator.name,
        inputs: typed_json(given.iter().map(|one| (&one.name.value, &one.text.value))),
        title: &calculator.title,
        url: calculator_url(&calculator.name),
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
    desk.uses.extend(uses);
    desk.part("blocks/figure.html", "f", &figure)
}
