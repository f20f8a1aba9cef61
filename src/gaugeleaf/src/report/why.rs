//! What each finding's code means, with an example that has the fault and one that
//! hasn't: one table for all of them, `codes.toml`.

use std::sync::LazyLock;

use gaugeleaf_calc::finding::nearest;
use toml::de::{DeTable, DeValue};

/// The table, as it is written.
const TABLE: &str = include_str!("codes.toml");

/// What a code means.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Code {
    pub name: String,
    pub means: String,
    /// Where the examples stand, for trying them: `page`, or a file's path. Empty where
    /// they only show what is meant.
    pub place: String,
    /// How often the example has to stand there to have its fault.
    pub times: usize,
    pub bad: String,
    pub good: String,
}

static CODES: LazyLock<Vec<Code>> = LazyLock::new(|| read(TABLE));

/// Every code, in the order of the table.
pub fn codes() -> &'static [Code] {
    &CODES
}

fn read(table: &str) -> Vec<Code> {
    let table = DeTable::parse(table).map(toml::Spanned::into_inner);
    let table = table.unwrap_or_default();
    let codes = table
        .get("code")
        .and_then(|codes| codes.get_ref().as_array());
    let text = |code: &DeValue, key: &str| {
        let value = code.as_table().and_then(|code| code.get(key));
        value
            .and_then(|value| value.get_ref().as_str())
            .unwrap_or_default()
            .to_string()
    };
    let times = |code: &DeValue| {
        let value = code.as_table().and_then(|code| code.get("times"));
        let number = value.and_then(|value| value.get_ref().as_integer());
        number
            .and_then(|number| number.as_str().parse().ok())
            .unwrap_or(1)
    };
    let code = |code: &DeValue| Code {
        name: text(code, "name"),
        means: text(code, "means"),
        place: text(code, "in"),
        times: times(code),
        bad: text(code, "bad"),
        good: text(code, "good"),
    };
    codes.map_or_else(Vec::new, |codes| {
        codes.iter().map(|one| code(one.get_ref())).collect()
    })
}

/// A code explained for a person; the error is in words too.
pub fn explain(name: &str) -> Result<String, String> {
    let Some(code) = codes().iter().find(|code| code.name == name) else {
        let near = nearest(name, codes().iter().map(|code| code.name.as_str()));
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
    Ok(format!(
        "{}\n\n{}\n\n  not so:\n\n{}\n\n  but so:\n\n{}",
        code.name,
        folded(&code.means),
        indented(&code.bad),
        indented(&code.good)
    ))
}

/// Every code's name with the first sentence of what it means.
pub fn list() -> String {
    let line = |code: &Code| {
        let first = code
            .means
            .split_inclusive(". ")
            .next()
            .unwrap_or("")
            .trim_end();
        format!("  {:<20} {first}", code.name)
    };
    let lines: Vec<String> = codes().iter().map(line).collect();
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
    fn every_code_stands_once_in_the_table_and_says_everything() {
        let mut names: Vec<&str> = codes().iter().map(|code| code.name.as_str()).collect();
        assert!(names.len() > 80, "{}", names.len());
        for code in codes() {
            assert!(
                !code.means.is_empty() && !code.bad.is_empty() && !code.good.is_empty(),
                "{code:?}"
            );
            assert!(list().contains(&format!("  {} ", code.name)), "{code:?}");
        }
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), codes().len());
    }
}
