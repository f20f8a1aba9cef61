//! Words what a question came to as JSON.

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::ask::{Asked, Reading};
use gaugeleaf_calc::calculator::{InputReading, InputSource};
use serde_json::{Map, Value, json};

use crate::answer::{output_json, problem_json, verdicts_json};

/// Outputs beyond these are seen in the widget.
const MOST_OUTPUTS: usize = 3;

pub(crate) fn asked_json(asked: &Asked, catalog: &Catalog) -> Value {
    let readings: Vec<Value> = asked
        .readings
        .iter()
        .map(|reading| reading_json(reading, catalog))
        .collect();
    let conversion = asked.conversion.as_ref().map(|found| {
        let rounded = if found.exact {
            "exact"
        } else {
            "rounded to six figures"
        };
        json!({ "from": found.from, "to": found.to, "rounded": rounded })
    });
    let told: Vec<Value> = asked
        .told
        .iter()
        .map(|told| json!({ "text": told.text, "message": told.message, "help": told.help }))
        .collect();
    json!({ "readings": readings, "conversion": conversion, "told": told, "spellings": asked.spellings })
}

fn reading_json(reading: &Reading, catalog: &Catalog) -> Value {
    let answer = &reading.answer;
    let given: Map<String, Value> = reading
        .given
        .iter()
        .map(|given| (given.name.clone(), json!(given.text)))
        .collect();
    let (understood, assumed): (Vec<&InputReading>, Vec<&InputReading>) = answer
        .inputs
        .iter()
        .partition(|input| input.source == InputSource::Typed);
    let understood = understood
        .iter()
        .map(|input| json!({ "label": input.label, "text": input.understood }));
    let assumed = assumed.iter().map(|input| {
        json!({ "label": input.label, "text": input.reading.text(), "from": source(&input.source, catalog) })
    });
    let outputs = answer
        .outputs
        .iter()
        .filter(|output| output.reading.is_some());
    json!({
        "calculator": answer.calculator,
        "title": reading.title,
        "given": given,
        "understood": understood.collect::<Vec<_>>(),
        "assumed": assumed.collect::<Vec<_>>(),
        "outputs": outputs.take(MOST_OUTPUTS).map(output_json).collect::<Vec<_>>(),
        "verdicts": verdicts_json(answer),
        "problems": answer.problems.iter().map(problem_json).collect::<Vec<_>>(),
        "doubts": answer.doubts.iter().map(problem_json).collect::<Vec<_>>(),
    })
}

/// Where a value that nobody typed comes from, in a word or two.
fn source(source: &InputSource, catalog: &Catalog) -> String {
    match source {
        InputSource::Typed => String::new(),
        InputSource::Default => "default".into(),
        InputSource::Named(name) => {
            let named = catalog.named.get(name);
            named.map_or("", |named| named.role.word()).into()
        }
        InputSource::Output(from) => {
            let name = from.split('.').next().unwrap_or("");
            let found = catalog.calculators.get(name);
            found.map_or(name, |found| found.title.as_str()).into()
        }
    }
}
