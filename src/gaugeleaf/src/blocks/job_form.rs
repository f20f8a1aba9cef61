//! `job-form`: one form over everything that a crew measures, each with a picture of
//! what to measure. Without scripts it is a survey sheet to fill in by hand.

use std::collections::BTreeMap;
use std::ops::Range;

use gaugeleaf_calc::figure::Figure;
use gaugeleaf_calc::finding::{Code, Finding};
use gaugeleaf_calc::named::{Named, Role};
use serde::Serialize;

use crate::blocks::field_view::FieldView;
use crate::handbook::kind::Shape;
use crate::markdown::event::Piece;
use crate::markdown::place::fence_kind;
use crate::page::desk::Desk;
use crate::page::kind::{Fence, Kind};
use crate::values::graph::Job;

/// `job-form`: where a crew types what it measures.
pub struct JobFormBlock;

impl Shape for JobFormBlock {
    fn name(&self) -> &'static str {
        "job-form"
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl Kind for JobFormBlock {
    fn scripts(&self) -> &'static [&'static str] {
        &["fields", "keypad", "show", "jobs", "job-form"]
    }

    fn compose(&self, fence: &Fence, desk: &mut Desk) -> Vec<Piece<'static>> {
        let id = fence.alone(self.name(), desk);
        fence.html(form(&id, &fence.range, desk))
    }
}

/// What `blocks/job-form.html` is given as `f`.
#[derive(Debug, Serialize)]
struct Form<'f> {
    id: &'f str,
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
}

#[derive(Debug, Serialize)]
struct Measurement<'f> {
    input: FieldView<'f>,
    /// Its value where the job has none.
    own: String,
    picture: String,
    about: &'f str,
}

/// The form for a block on a page.
pub fn form(id: &str, range: &Range<usize>, desk: &mut Desk) -> Option<String> {
    let graph = desk.graph;
    let mut files: BTreeMap<&str, Vec<&Named>> = BTreeMap::new();
    for named in graph.catalog.named.values() {
        if named.role == Role::Measurement {
            files.entry(&named.field.file).or_default().push(named);
        }
    }
    if files.is_empty() {
        let span = fence_kind(desk.text, range.clone());
        desk.findings.push(
            Finding::error(
                Code::NoMeasurement,
                desk.file,
                span,
                "there is nothing to measure",
            )
            .help("add a [[measurement]] to the catalog"),
        );
        return None;
    }
    let own = desk.own.job();
    let mut groups: Vec<Group> = files
        .into_iter()
        .map(|(file, mut measurements)| {
            measurements.sort_by_key(|named| named.field.span.start);
            Group {
                title: title(file),
                measurements: measurements
                    .into_iter()
                    .map(|named| measurement(named, own, desk))
                    .collect(),
            }
        })
        .collect();
    // the exchanger comes first: a job begins with it
    groups.sort_by_key(|group| group.title != EXCHANGER);
    let form = Form {
        id,
        own: &desk.book.job,
        fields: groups.iter().map(|group| group.measurements.len()).sum(),
        groups,
    };
    desk.part("blocks/job-form.html", "f", &form)
}

const EXCHANGER: &str = "Exchanger";

/// A file's name as a heading: `water-measurements.toml` is "Water".
fn title(file: &str) -> String {
    let stem = file.rsplit('/').next().unwrap_or(file);
    let stem = stem.strip_suffix(".toml").unwrap_or(stem);
    let words = stem.replace("measurements", "").replace('-', " ");
    let mut letters = words.trim().chars();
    letters.next().map_or_else(
        || EXCHANGER.to_string(),
        |first| first.to_uppercase().chain(letters).collect(),
    )
}

fn measurement<'f>(named: &'f Named, own: &Job, desk: &mut Desk) -> Measurement<'f> {
    let field = &named.field;
    let reading = desk.graph.quantity(&field.name, own).and_then(Result::ok);
    Measurement {
        input: FieldView::of(field),
        own: reading
            .map(|one| one.text().to_string())
            .unwrap_or_default(),
        picture: picture(&field.name, desk).unwrap_or_default(),
        about: &field.help,
    }
}

/// The theme's picture of a measurement; none where it has none that can be drawn.
fn picture(name: &str, desk: &mut Desk) -> Option<String> {
    let (path, text) = desk.views.picture(name)?;
    match Figure::parse(&path, text) {
        Ok(figure) => figure.draw(&Default::default(), &Default::default()).ok(),
        Err(findings) => {
            desk.findings.extend(findings);
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::blocks;
    use crate::page::testing::with_desk;
    use crate::page::views::Views;
    use crate::render::theme::Theme;
    use crate::values::graph::Graph;
    use gaugeleaf_calc::named::Role;

    #[test]
    fn the_form_asks_for_every_measurement_with_nothing_filled_in() {
        let (html, findings) = with_desk("```job-form\n```\n", blocks);
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
    fn every_measurement_has_a_picture_that_can_be_drawn() {
        let (graph, theme) = (Graph::built_in(), Theme::default());
        let missing: Vec<&str> = graph
            .catalog
            .named
            .values()
            .filter(|named| named.role == Role::Measurement)
            .map(|named| named.field.name.as_str())
            .filter(|name| theme.picture(name).is_none())
            .collect();
        assert_eq!(missing, [""; 0], "draw themes/pictures/NAME.svg");
        let (html, _) = with_desk("```job-form\n```\n", blocks);
        assert_eq!(
            html.matches("class=\"measure-picture\"").count(),
            html.matches("</svg></div>").count()
        );
    }
}
