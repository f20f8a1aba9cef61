//! What the terms of the trade mean, as a page is told that asks for one without being left.

use serde_json::Value;

use crate::page::node::{Block, LINE, shows_a_value, words};

/// By the term's address, of the glossary among these blocks. A meaning with a value in it is told on
/// the glossary alone, where the value is the job's.
pub fn meanings(blocks: &[&Block]) -> Vec<(String, String)> {
    let terms = blocks
        .iter()
        .filter(|block| block.template == "blocks/glossary.html")
        .flat_map(|block| {
            let terms = block.view.as_array().into_iter().flatten();
            terms.map(|term| (*block, term))
        });
    let meaning = |(block, term): (&Block, &Value)| {
        let id = term.get("id")?.as_str()?;
        let line = term.get("means")?.get(LINE)?.as_u64()?;
        let line = block.lines.get(usize::try_from(line).ok()?)?;
        (!shows_a_value(line)).then(|| (id.to_string(), words(line)))
    };
    terms.filter_map(meaning).collect()
}
