//! What the terms of the trade mean, for a page that is asked without leaving it.

use serde_json::{Map, Value};

use crate::page::node::{LINE, Node, shows_a_value, words};
use crate::site::input::SiteInput;

/// By the term's address: a script that a page brings with the first term that is tapped. A meaning with a
/// value in it is told on the glossary alone, where it is the job's.
pub fn script(input: &SiteInput) -> String {
    let mut meanings = Map::new();
    for composed in input.composed {
        for node in &composed.value.nodes {
            if let Node::Block(block) = node
                && block.name == "terms"
            {
                for term in block.view.as_array().into_iter().flatten() {
                    let id = term.get("id").and_then(Value::as_str);
                    let line = term.get("means").and_then(|means| means.get(LINE));
                    let line = line.and_then(Value::as_u64);
                    let line = line.and_then(|line| block.lines.get(usize::try_from(line).ok()?));
                    if let Some((id, line)) = id.zip(line)
                        && !shows_a_value(line)
                    {
                        meanings.insert(id.to_string(), Value::String(words(line)));
                    }
                }
            }
        }
    }
    format!(
        "globalThis.gaugeleafMeanings = {};\n",
        Value::Object(meanings)
    )
}
