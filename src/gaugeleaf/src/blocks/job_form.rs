//! `job-form`: one form over everything that a crew measures, each with a picture of
//! what to measure. Without scripts it is a survey sheet to fill in by hand.

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::figure::Figure;
use gaugeleaf_calc::finding::Code;
use gaugeleaf_calc::named::NamedQuantity;
use serde::Serialize;

use crate::blocks::field_view::FieldView;
use crate::blocks::rounds::rounds;
use crate::handbook::kind::BlockShape;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::Block;

/// `job-form`: where a crew types what it measures.
pub struct JobFormBlock;

impl BlockShape for JobFormBlock {
    fn name(&self) -> &'static str {
        "job-form"
    }

    fn help(&self) -> &'static str {
        "One form over all that a crew measures."
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl BlockKind for JobFormBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["fields", "show", "jobs", "job-head", "job-form", "job-list"]
    }

    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        fence.standing(self.name(), context, form(fence, context))
    }
}

/// What `blocks/job-form.html` is given as `f`.
#[derive(Debug, Serialize)]
struct JobFormView<'f> {
    /// What the job is called whose values the handbook prints.
    own: &'f str,
    fields: usize,
    groups: Vec<Group<'f>>,
}

/// The measurements of one file of the catalog.
#[derive(Debug, Serialize)]
struct Group<'f> {
    title: String,
    measurements: Vec<Measurement<'f>>,
    /// Some of them only check others.
    checks: bool,
}

#[derive(Debug, Serialize)]
struct Measurement<'f> {
    input: FieldView<'f>,
    /// Its value where the job has none.
    own: String,
    picture: String,
    about: &'f str,
    /// It only checks another measurement: what it tells follows from that one.
    only_checks: bool,
}

/// The form for a block on a page.
fn form(fence: &Fence, context: &Context) -> Composed<Option<Block>> {
    let rounds = rounds(&context.graph.catalog);
    if rounds.is_empty() {
        let message = "there is nothing to measure";
        return Composed::fault(
            context
                .error(Code::NoMeasurement, fence.kind.clone(), message)
                .help("add a [[measurement]] to the catalog"),
        );
    }
    let groups = Composed::all(rounds, |round| {
        let measurements = Composed::all(round.measurements, |named| measurement(named, context));
        measurements.map(|measurements| Group {
            title: round.title,
            checks: measurements.iter().any(|one| one.only_checks),
            measurements,
        })
    });
    groups.map(|groups| {
        let view = JobFormView {
            own: context.own_job(),
            fields: groups.iter().map(|group| group.measurements.len()).sum(),
            groups,
        };
        Some(Block::new("blocks/job-form.html", "f", &view))
    })
}

fn measurement<'f>(named: &'f NamedQuantity, context: &Context) -> Composed<Measurement<'f>> {
    let field = &named.field;
    let reading = context.own_quantity(&field.name).and_then(Result::ok);
    picture(&field.name, context).map(|picture| Measurement {
        input: FieldView::of(field, &context.graph.catalog.language),
        own: reading
            .map(|one| one.text().to_string())
            .unwrap_or_default(),
        picture,
        about: &field.help,
        only_checks: only_checks(&field.name, context),
    })
}

/// Whether all that is worked out from this measurement is held against another one: span and
/// count of a row give its pitch, which is measured itself.
fn only_checks(name: &str, context: &Context) -> bool {
    let takes = |one: &Calculator| {
        let mut sources = one.inputs.iter().filter_map(|input| input.from.as_ref());
        sources.any(|from| from.value == name)
    };
    let checks = |one: &Calculator| {
        let main = one.outputs.iter().find(|output| !output.is_term);
        let mut crosses = one.cross_checks.iter().filter(|cross| !cross.larger);
        main.is_some_and(|main| crosses.any(|cross| cross.value.value == main.name))
    };
    let users = context.graph.catalog.calculators.values();
    let mut users = users.filter(|one| takes(one)).peekable();
    users.peek().is_some() && users.all(checks)
}

/// The theme's picture of a measurement; empty where it has none that can be drawn.
fn picture(name: &str, context: &Context) -> Composed<String> {
    let Some((path, text)) = context.drawing(name) else {
        return Composed::default();
    };
    match Figure::parse(&path, text) {
        Ok(figure) => {
            let drawn = figure.draw(&Default::default(), &Default::default());
            Composed::of(drawn.unwrap_or_default())
        }
        Err(findings) => Composed {
            findings,
            ..Composed::default()
        },
    }
}

#[cfg(test)]
mod tests {
    use crate::page::context::Drawings;
    use crate::page::testing::printed;
    use crate::render::theme::Theme;
    use crate::values::graph::Graph;
    use gaugeleaf_calc::named::Role;

    #[test]
    fn the_form_asks_for_every_measurement_with_nothing_filled_in() {
        let (html, findings) = printed("```job-form\n```\n");
        assert_eq!(findings, []);
        let graph = Graph::built_in();
        let named = graph.catalog.named.values();
        let measured = named.filter(|named| named.role == Role::Measurement);
        for named in measured {
            let asked = format!("data-input=\"{}\"", named.field.name);
            assert_eq!(html.matches(&asked).count(), 1, "{asked}");
        }
        assert!(html.contains("value=\"\"") && !html.contains(" checked"));
        assert!(html.find("<legend>Exchanger") < html.find("<legend>Fitting"));
    }

    #[test]
    fn what_only_checks_another_measurement_is_folded_under_its_group() {
        let (html, _) = printed("```job-form\n```\n");
        let folded: Vec<&str> = html.split("class=\"measure-checks\"").skip(1).collect();
        let inside = |name: &str| {
            folded.iter().any(|one| {
                let one = one.split("</fieldset>\n<fieldset").next().unwrap_or(one);
                one.contains(&format!("data-input=\"{name}\""))
            })
        };
        for name in ["outside_span", "tubes_spanned"] {
            assert!(inside(name), "{name}");
        }
        for name in ["tube_pitch", "tube_od", "lane_width", "bolt_count"] {
            assert!(!inside(name), "{name}");
        }
    }

    #[test]
    fn every_measurement_has_a_picture_that_can_be_drawn() {
        let (graph, theme) = (Graph::built_in(), Theme::default());
        let missing: Vec<&str> = graph
            .catalog
            .named
            .values()
            .filter(|named| named.role == Role::Measurement)
            .map(|named| named.field.name.as_str())
            .filter(|name| theme.drawing(name).is_none())
            .collect();
        assert_eq!(missing, [""; 0], "draw themes/pictures/NAME.svg");
        let (html, _) = printed("```job-form\n```\n");
        assert_eq!(
            html.matches("class=\"measure-picture\"").count(),
            html.matches("</svg></div>").count()
        );
    }
}
