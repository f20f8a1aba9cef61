//! What there is to say of a value that a result hangs on: what it is called, what it stands on,
//! and where it comes from.

use super::own::ON_JOB;
use super::{Catalog, Held, Job};
use crate::calculator::Leaf;
use crate::day;
use crate::field::FieldKind;
use crate::ground::Ground;
use crate::message::Message;
use crate::message::tell::{field, from as tell};
use crate::named::{NamedQuantity, Role, may_be_assumed};
use crate::quantity::in_unit;

impl Catalog {
    /// By the name of a measurement, a rating or a table, or by `calculator.input`.
    pub fn leaf(&self, name: &str, job: &Job) -> Leaf {
        if let Some(named) = self.named.get(name) {
            return named_leaf(named, job);
        }
        let input = name
            .split_once('.')
            .and_then(|(calculator, input)| self.calculators.get(calculator)?.input(input));
        let label = input.map_or(name, |input| &input.field.label).to_string();
        let ground = match input {
            Some(input) if may_be_assumed(&input.field.name) => Ground::Assumed,
            Some(_) if !job.shows_defaults => Ground::None,
            _ => Ground::Example,
        };
        Leaf {
            name: name.to_string(),
            label,
            role: None,
            ground,
            from: match ground {
                Ground::Assumed => tell::assumed(),
                Ground::None => tell::not_given(),
                _ => tell::example(),
            },
            job: String::new(),
        }
    }
}

fn named_leaf(named: &NamedQuantity, job: &Job) -> Leaf {
    let held = job.get(&named.field.name);
    let ground = match (held, &named.assumed) {
        (Some(held), _) => held.ground,
        (None, Some(_)) => Ground::Assumed,
        (None, None) => Ground::None,
    };
    let said = held.map_or("", |held| &held.from);
    let from = match ground {
        Ground::Measured => measured(said),
        Ground::Rated | Ground::Public => Message::data(said),
        Ground::Doubted if held.is_some_and(Held::is_bare) => tell::not_taken_alone(&said),
        Ground::Doubted => tell::not_taken(&held.map_or("", |held| &held.text), &said),
        Ground::Assumed => assumed(named),
        Ground::Example if said.is_empty() => tell::example(),
        Ground::Example => tell::of_job(&said),
        Ground::None if named.role == Role::Measurement => tell::not_measured(),
        Ground::None => tell::not_set(),
    };
    Leaf {
        name: named.field.name.clone(),
        label: named.field.label.clone(),
        role: Some(named.role),
        ground,
        from,
        job: if ground == Ground::Example {
            said.to_string()
        } else {
            String::new()
        },
    }
}

/// On a day, on another job, or in somebody's own words.
fn measured(said: &str) -> Message {
    match said.strip_prefix(ON_JOB) {
        Some(job) => tell::measured_on(&job),
        None if said.is_empty() => tell::measured(),
        None if said.starts_with(|c: char| c.is_ascii_digit()) => {
            tell::measured_when(&day::words(said))
        }
        None => tell::measured_how(&said),
    }
}

/// `assumed, 5 degC to 25 degC`
fn assumed(named: &NamedQuantity) -> Message {
    match &named.field.kind {
        FieldKind::Number {
            format,
            usual: Some((low, high)),
            ..
        } => {
            let shown = |si: f64| in_unit(si, &format.main.unit, format.main.kind);
            tell::assumed_band(&field::range(&shown(*high), &shown(*low)))
        }
        _ => tell::assumed(),
    }
}
