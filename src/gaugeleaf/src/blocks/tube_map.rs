//! `tube-map`: the tube sheet of the page's job to scale, its tubes numbered in the order
//! of their strokes, to be marked on the phone or on paper.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};
use serde::Serialize;

use crate::handbook::addresses::calculator_url;
use crate::handbook::kind::Shape;
use crate::markdown::event::Piece;
use crate::markdown::excerpt::Excerpt;
use crate::markdown::place::fence_kind;
use crate::page::desk::Desk;
use crate::page::kind::{Fence, Kind};
use crate::page::working::{Doubt, used, work};
use crate::settings::{self, Field};
use crate::values::typed::typed_json;

const FIELDS: &[Field] = &[Field::others(
    "An input of the plan of strokes, and its value where it isn't the job's.",
)];

/// `tube-map`: a tube sheet to mark.
pub struct TubeMapBlock;

impl Shape for TubeMapBlock {
    fn name(&self) -> &'static str {
        "tube-map"
    }

    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl Kind for TubeMapBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["tube-map"]
    }

    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>> {
        let id = fence.alone(self.name(), desk);
        fence.html(map(&id, &fence.body, &fence.range, desk))
    }
}

/// The calculator that tells how long the strokes take that are left.
const TIME: &str = "cleaning-time";

/// What `blocks/tube-map.html` is given as `m`.
#[derive(Debug, Serialize)]
struct Map<'m> {
    id: &'m str,
    name: &'m str,
    title: &'m str,
    url: String,
    time: &'static str,
    /// What the page fixes, for drawing it again with another job's values.
    inputs: String,
    svg: String,
    /// The results of the plan in one line.
    says: String,
}

/// The map for a block on a page; its body may fix inputs of the plan.
pub fn map(id: &str, body: &Excerpt, range: &Range<usize>, desk: &mut Desk) -> Option<String> {
    let given = settings::read(desk.file, body, FIELDS, &mut desk.findings, |settings| {
        Some(settings.other_quantities())
    })?;
    let span = fence_kind(desk.text, range.clone());
    let catalog = &desk.graph.catalog;
    let Some(plan) = catalog.calculators.values().find(|one| one.map.is_some()) else {
        desk.findings.push(
            Finding::error(Code::NoMap, desk.file, span, "no calculator has a tube map")
                .help("add map = \"NAME.svg\" to the calculator that plans the strokes"),
        );
        return None;
    };
    let answer = work(plan, &given, Doubt::Tell, &span, desk)?;
    let Some(svg) = catalog.draw_map(&answer) else {
        desk.findings.push(
            Finding::error(
                Code::NoMap,
                desk.file,
                span,
                "this tube sheet can't be drawn",
            )
            .help("give it fewer tubes"),
        );
        return None;
    };
    let uses: Vec<_> = plan
        .results()
        .filter_map(|output| used(plan, &answer, &output.name, span.start))
        .collect();
    let says: Vec<String> = uses
        .iter()
        .map(|one| format!("{} {}", one.label, one.text))
        .collect();
    desk.uses.extend(uses);
    let map = Map {
        id,
        name: &plan.name,
        title: &plan.title,
        url: calculator_url(&plan.name),
        time: TIME,
        inputs: typed_json(given.iter().map(|one| (&one.name.value, &one.text.value))),
        svg,
        says: says.join(", "),
    };
    desk.part("blocks/tube-map.html", "m", &map)
}

#[cfg(test)]
mod tests {
    use crate::page::testing::blocks;
    use crate::page::testing::with_desk;

    #[test]
    fn a_map_holds_every_tube_before_any_script_runs() {
        let text = "```tube-map\nlayout = \"90\"\ntube_pitch = \"2 in\"\nbundle_diameter = \"7 in\"\n\
                    lane_width = \"0 in\"\nlances = \"2\"\nskip = \"1\"\n```\n";
        let (html, findings) = with_desk(text, blocks);
        assert_eq!(findings, []);
        assert_eq!(html.matches("data-tube=").count(), 9);
        assert!(html.contains("Strokes 6"), "{html}");
    }

    #[test]
    fn a_map_of_a_misspelt_input_is_a_finding_at_its_name() {
        let (_, findings) = with_desk("```tube-map\nlanes = \"2\"\n```\n", blocks);
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("unknown-input", 12..17)
        );
    }
}
