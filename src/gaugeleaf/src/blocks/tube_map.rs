//! `tube-map`: the tube sheet of the page's job to scale, its tubes numbered in the order
//! of their strokes, to be marked on the phone or on paper.

use gaugeleaf_calc::calculator::{Answer, Calculator};
use gaugeleaf_calc::finding::Code;
use gaugeleaf_calc::finding::settings::{Binding, SettingField};
use serde::Serialize;

use crate::handbook::kind::BlockShape;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, Href};
use crate::page::route::Route;
use crate::page::working::{Doubt, lacking, used, work};
use crate::values::ledger::Use;
use crate::values::typed::typed_json;

const FIELDS: &[SettingField] = &[SettingField::others(
    "An input of the plan of strokes, and its value where it isn't the job's.",
)];

/// `tube-map`: a tube sheet to mark.
pub struct TubeMapBlock;

impl BlockShape for TubeMapBlock {
    fn name(&self) -> &'static str {
        "tube-map"
    }

    fn help(&self) -> &'static str {
        "The tube sheet to scale, in the order of its strokes, to be marked."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl BlockKind for TubeMapBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &[
            "tube-marks",
            "tube-ask",
            "tube-view",
            "tube-board",
            "tube-guard",
            "tube-map",
        ]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        fence.standing(self.name(), context, map(fence, context))
    }
}

/// The calculator that tells how long the strokes take that are left.
const TIME: &str = "cleaning-time";
/// And the one that tells it by the pace of a run.
const PACE: &str = "pace";

/// What `blocks/tube-map.html` is given as `m`.
#[derive(Debug, Serialize)]
struct Map<'m> {
    name: &'m str,
    title: &'m str,
    url: Href,
    time: &'static str,
    /// Empty where the handbook leaves it out.
    pace: &'static str,
    /// What the page fixes, for drawing it again with another job's values.
    inputs: String,
    svg: String,
    /// The results of the plan in one line.
    says: String,
    /// The job whose values they are, where it is another's.
    of: String,
}

/// The map for a block on a page; its body may fix inputs of the plan.
fn map(fence: &Fence, context: &Context) -> Composed<Option<Block>> {
    let given = fence.settings(context, |settings| Some(settings.other_quantities()));
    given.then(|given| {
        let calculators = &context.graph.catalog.calculators;
        let plan = calculators.values().find(|one| one.map.is_some());
        let plan = plan.ok_or_else(|| {
            context
                .error(
                    Code::NoMap,
                    fence.kind.clone(),
                    "no calculator has a tube map",
                )
                .help("add map = \"NAME.svg\" to the calculator that plans the strokes")
        });
        Composed::from(plan).then(|plan| {
            let answer = work(plan, &given, Doubt::Tell, &fence.kind, context);
            answer.then(|answer| drawn(plan, &given, &answer, fence, context))
        })
    })
}

fn drawn(
    plan: &Calculator,
    given: &[Binding],
    answer: &Answer,
    fence: &Fence,
    context: &Context,
) -> Composed<Option<Block>> {
    let span = &fence.kind;
    let Some(svg) = context.graph.catalog.draw_map(answer) else {
        if let Some(unknown) = lacking("what the tube map draws", answer, span, context) {
            return Composed::fault(unknown);
        }
        let message = "this tube sheet can't be drawn";
        let finding = context.error(Code::NoMap, span.clone(), message);
        return Composed::fault(finding.help("give it fewer tubes"));
    };
    let uses: Vec<Use> = plan
        .results()
        .filter_map(|output| used(plan, answer, &output.name, span.start, context))
        .collect();
    let says: Vec<String> = uses
        .iter()
        .map(|one| format!("{} {}", one.label, one.text))
        .collect();
    let view = Map {
        name: &plan.name,
        title: &plan.title,
        url: Route::calculator(&plan.name).into(),
        time: TIME,
        pace: if context.graph.catalog.calculators.contains_key(PACE) {
            PACE
        } else {
            ""
        },
        inputs: typed_json(given.iter().map(|one| (&one.name.value, &one.text.value))),
        svg,
        says: says.join(", "),
        of: uses.first().map(|one| one.of.clone()).unwrap_or_default(),
    };
    Composed {
        uses,
        ..Composed::of(Some(Block::new("blocks/tube-map.html", "m", &view)))
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    #[test]
    fn a_map_holds_every_tube_before_any_script_runs() {
        let text = "```tube-map\nlayout = \"90\"\ntube_pitch = \"2 in\"\nbundle_diameter = \"7 in\"\n\
                    lane_width = \"0 in\"\nlances = \"2\"\nskip = \"1\"\n```\n";
        let (html, findings) = printed(text);
        assert_eq!(findings, []);
        assert_eq!(html.matches("data-tube=").count(), 9);
        assert!(html.contains("Strokes 6"), "{html}");
    }

    #[test]
    fn a_map_of_a_misspelt_input_is_a_finding_at_its_name() {
        let (_, findings) = printed("```tube-map\nlanes = \"2\"\n```\n");
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("unknown-input", 12..17)
        );
    }
}
