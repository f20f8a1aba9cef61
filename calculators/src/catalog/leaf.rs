//! What there is to say of a value that a result hangs on: what it is called, what it stands on,
//! and where it comes from.

use super::{Catalog, Job};
use crate::calculator::Leaf;
use crate::field::FieldKind;
use crate::ground::Ground;
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
                Ground::Assumed => "assumed".to_string(),
                Ground::None => "not given".to_string(),
                _ => "shown as an example".to_string(),
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
        Ground::Measured if said.is_empty() => "measured".to_string(),
        Ground::Measured if said.starts_with(|c: char| c.is_ascii_digit()) => {
            format!("measured {said}")
        }
        Ground::Measured if said.starts_with("on ") => format!("measured {said}"),
        Ground::Measured => format!("measured, {said}"),
        Ground::Rated | Ground::Public | Ground::Doubted => said.to_string(),
        Ground::Assumed => format!("assumed{}", band_words(named)),
        Ground::Example if said.is_empty() => "shown as an example".to_string(),
        Ground::Example => format!("{said}'s, not this job's"),
        Ground::None if named.role == Role::Measurement => "not measured".to_string(),
        Ground::None => "not set".to_string(),
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

/// `, 5 degC to 25 degC`
fn band_words(named: &NamedQuantity) -> String {
    match &named.field.kind {
        FieldKind::Number {
            format,
            usual: Some((low, high)),
            ..
        } => {
            let shown = |si: f64| in_unit(si, &format.main.unit, format.main.kind);
            format!(", {} to {}", shown(*low), shown(*high))
        }
        _ => String::new(),
    }
}
