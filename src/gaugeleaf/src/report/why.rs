//! What each finding's code means, with an example that has the fault and one that
//! hasn't, in words.

use gaugeleaf_finding::{CodeEntry, entries, nearest};

/// A code explained for a person; the error is in words too.
pub fn explain(name: &str) -> Result<String, String> {
    let Some(entry) = entries().iter().find(|entry| entry.code.name() == name) else {
        let near = nearest(name, entries().iter().map(|entry| entry.code.name()));
        let near = near.map_or_else(
            || "`gaugeleaf why` lists them all".to_string(),
            |near| format!("the nearest is {near}"),
        );
        return Err(format!("there is no code `{name}`; {near}"));
    };
    let indented = |text: &str| {
        let lines: Vec<String> = text
            .trim_end()
            .lines()
            .map(|line| format!("    {line}"))
            .collect();
        lines
            .iter()
            .map(|line| line.trim_end())
            .collect::<Vec<_>>()
            .join("\n")
    };
    let mut said = format!("{}\n\n{}", entry.code, folded(entry.means));
    for example in entry.examples {
        let (bad, good) = (indented(example.bad), indented(example.good));
        said.push_str(&format!("\n\n  not so:\n\n{bad}\n\n  but so:\n\n{good}"));
    }
    Ok(said)
}

/// Every code's name with the first sentence of what it means.
pub fn list() -> String {
    let line = |entry: &CodeEntry| {
        let first = entry
            .means
            .split_inclusive(". ")
            .next()
            .unwrap_or("")
            .trim_end();
        format!("  {:<20} {first}", entry.code)
    };
    let lines: Vec<String> = entries().iter().map(line).collect();
    format!(
        "What findings can be called; `gaugeleaf why CODE` says more.\n\n{}",
        lines.join("\n")
    )
}

/// Text in lines that fit a narrow terminal.
fn folded(text: &str) -> String {
    const WIDTH: usize = 78;
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let line = lines.len() - 1;
        if !lines[line].is_empty() && lines[line].chars().count() + 1 + word.chars().count() > WIDTH
        {
            lines.push(word.to_string());
        } else {
            if !lines[line].is_empty() {
                lines[line].push(' ');
            }
            lines[line].push_str(word);
        }
    }
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_explained_with_both_examples_and_an_unknown_one_offers_the_nearest() {
        let said = explain("step-verb").unwrap_or_default();
        for part in [
            "step-verb\n\n",
            "not so:\n\n    1. The valve",
            "but so:\n\n    1. Shut",
        ] {
            assert!(said.contains(part), "{part} in {said}");
        }
        let wrong = explain("step-verbs").err().unwrap_or_default();
        assert!(wrong.contains("the nearest is step-verb"), "{wrong}");
    }

    #[test]
    fn the_list_has_a_line_for_every_code() {
        for entry in entries() {
            assert!(
                list().contains(&format!("  {} ", entry.code)),
                "{}",
                entry.code
            );
        }
    }
}
