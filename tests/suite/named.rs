//! Every input of every calculator asked for by its own name: whatever is answered is the
//! calculator's own result at that value, or is asked back.

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::calculator::{Calculator, Input};
use gaugeleaf_calc::field::FieldKind;
use gaugeleaf_calc::quantity::in_unit;
use gaugeleaf_calc::unit::Unit;
use serde_json::{Value, json};

use crate::shown::{call, shown};

/// A value inside an input's usual band: in its own unit, in that of the other system, and bare.
struct TypedValue {
    own: String,
    other: Option<String>,
    bare: String,
}

fn value_of(input: &Input) -> Option<TypedValue> {
    let FieldKind::Number {
        format,
        usual,
        least,
        most,
        ..
    } = &input.field.kind
    else {
        return None;
    };
    let (low, high) = (*usual).or_else(|| (*least).zip(*most))?;
    let own = format.main.print(low + 0.37 * (high - low)).text;
    let plain = |text: &str| text.replace('\u{202f}', "").replace('\u{a0}', " ");
    let own = plain(&own);
    let symbol = &format.main.unit.shown;
    let bare = own.trim_end_matches(symbol.as_str()).trim().to_string();
    // the same quantity to the last digit, so that the result must be the same
    let si = input
        .field
        .take(&own, None, true)
        .ok()
        .and_then(|entry| match entry {
            gaugeleaf_calc::field::Entry::Number(typed) => Some(typed.si),
            gaugeleaf_calc::field::Entry::Choice(_) => None,
        })?;
    let other = format.also.as_ref().and_then(|also| {
        let unit = Unit::parse(&also.unit.symbol).ok()?;
        Some(plain(&in_unit(si, &unit, also.kind)))
    });
    let other = other.filter(|other| input.field.take(other, None, false).is_ok());
    input
        .field
        .take(&own, None, false)
        .is_ok()
        .then_some(TypedValue { own, other, bare })
}

/// The results of a calculator at a value, as printed.
fn results(calculator: &str, given: &Value) -> Vec<(String, String)> {
    let answer = call(&json!({ "do": "calculate", "name": calculator, "inputs": given }));
    let outputs = answer["outputs"].as_object().into_iter().flatten();
    outputs.map(|(_, one)| told(one)).collect()
}

fn told(output: &Value) -> (String, String) {
    let text = |key: &str| output[key].as_str().unwrap_or_default().to_string();
    (text("label"), text("text"))
}

enum Came {
    Right,
    AskedBack,
    Nothing,
    Wrong(String),
}

/// What comes of a question that gives one input's value.
fn came(
    catalog: &Catalog,
    query: &str,
    calculator: &Calculator,
    input: &Input,
    text: &str,
) -> Came {
    let shown = shown(query);
    let Some(card) = shown.iter().find(|one| one["given"].is_array()) else {
        let asked = shown
            .iter()
            .any(|one| one["which"].is_array() || one["told"].is_object());
        return if asked {
            Came::AskedBack
        } else {
            Came::Nothing
        };
    };
    if !card["doubts"].as_array().is_none_or(Vec::is_empty)
        || !card["problems"].as_array().is_none_or(Vec::is_empty)
    {
        return Came::AskedBack;
    }
    let name = card["calculator"].as_str().unwrap_or_default();
    let mut given = serde_json::Map::new();
    for one in card["given"].as_array().into_iter().flatten() {
        given.insert(
            one["name"].as_str().unwrap_or_default().to_string(),
            json!({ "text": one["text"], "confirmed": true }),
        );
    }
    let wrong = |why: &str| Came::Wrong(format!("{query:?}: {why}: {name} {}", json!(given)));
    // another calculator may answer where it takes the same quantity
    let meant = catalog.calculators.get(name).and_then(|other| {
        let mut inputs = other.inputs.iter();
        inputs.find(|one| {
            let same = one.field.label == input.field.label
                || (one.from.is_some()
                    && one.from.as_ref().map(|from| &from.value)
                        == input.from.as_ref().map(|from| &from.value));
            let own = name != calculator.name || one.field.name == input.field.name;
            same && own
        })
    });
    let Some(meant) = meant else {
        return wrong("another quantity");
    };
    if !given.contains_key(&meant.field.name) {
        return wrong("another input");
    }
    let mut expected = given.clone();
    expected.insert(
        meant.field.name.clone(),
        json!({ "text": text, "confirmed": true }),
    );
    let own = results(name, &Value::Object(expected));
    let mut printed = card["outputs"].as_array().into_iter().flatten();
    let differs = printed.any(|one| !own.contains(&told(one)));
    if differs {
        wrong("another result")
    } else {
        Came::Right
    }
}

#[test]
fn an_input_asked_for_by_its_name_is_answered_as_its_calculator_answers() {
    let catalog = crate::demonstration::catalog();
    let (mut named, mut answered) = (0, 0);
    let (mut wrong, mut silent) = (Vec::new(), Vec::new());
    for calculator in catalog.calculators.values() {
        let option = calculator
            .inputs
            .iter()
            .find_map(|input| match &input.field.kind {
                FieldKind::Choice(choices) => choices.first().map(|choice| choice.label.clone()),
                FieldKind::Number { .. } => None,
            });
        for input in &calculator.inputs {
            let Some(TypedValue { own, other, bare }) = value_of(input) else {
                continue;
            };
            let (title, label) = (&calculator.title, &input.field.label);
            let mut queries = vec![
                (format!("{title} {label} {own}"), true),
                (format!("{label} {own} {title}"), true),
                (format!("{label} {own}"), false),
                (format!("{title} {label} {bare}"), false),
                (format!("step 6 {title} {label} {own}"), false),
            ];
            if let Some(other) = &other {
                queries.push((format!("{title} {label} {other}"), true));
            }
            if let Some(option) = &option {
                queries.push((format!("{title} {label} {own} {option}"), false));
            }
            for (query, counts) in queries {
                // the other unit's text is rounded, and a result may lie on a step's edge
                let text = other
                    .as_ref()
                    .filter(|other| query.ends_with(other.as_str()));
                let text = text.unwrap_or(&own);
                let came = came(&catalog, &query, calculator, input, text);
                named += usize::from(counts);
                match came {
                    Came::Right => answered += usize::from(counts),
                    Came::Wrong(why) => wrong.push(why),
                    Came::AskedBack | Came::Nothing if counts => silent.push(query),
                    Came::AskedBack | Came::Nothing => {}
                }
            }
        }
    }
    println!(
        "{answered} of {named} answered; not:\n{}",
        silent.join("\n")
    );
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(named > 400, "only {named} asked");
    assert!(
        answered * 100 >= named * 95,
        "{answered} of {named}:\n{}",
        silent.join("\n")
    );
}
