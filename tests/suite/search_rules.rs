//! Queries by rule, of what the demonstration handbook is called and says.

use std::collections::BTreeMap;

use crate::root;
use crate::search::Query;

/// Where people are led by what they say.
#[derive(Default)]
struct SaidPlaces(BTreeMap<String, Vec<String>>);

impl SaidPlaces {
    fn add(&mut self, said: &str, place: &str) {
        let places = self.0.entry(said.to_lowercase()).or_default();
        places.push(place.to_string());
    }

    /// A query for what is said: any place that it leads to may come first.
    fn query(&self, said: &str) -> Query {
        Query {
            ask: said.to_string(),
            want: self.0[&said.to_lowercase()].clone(),
            calculator: None,
            says: None,
            roughly: true,
        }
    }
}

/// The lists called `also` of the blocks that begin so.
fn said_in(text: &str, fence: &str) -> Vec<String> {
    let blocks = text.split(fence).skip(1);
    let blocks = blocks.filter_map(|rest| rest.split_once("\n```"));
    let lists = blocks.map(|(block, _)| -> toml::Table { block.parse().expect("settings") });
    let lists = lists.filter_map(|block| block.get("also")?.as_array().cloned());
    lists
        .flatten()
        .filter_map(|said| said.as_str().map(str::to_string))
        .collect()
}

/// Queries by rule: every page and calculator by its title, and by what people say for it; every
/// term by its name and by what people say. Of each kind one in a few.
pub fn by_rule() -> Vec<Query> {
    let files = gaugeleaf::handbook::files::read(root()).0;
    let mut places = SaidPlaces::default();
    let (mut titles, mut sayings, mut terms) = (Vec::new(), Vec::new(), Vec::new());
    let titled = |title: &str, url: &str| Query {
        ask: title.to_string(),
        want: vec![url.to_string()],
        calculator: None,
        says: None,
        roughly: false,
    };
    for (path, text) in files.texts_under("content/") {
        let Some(page) = path.strip_suffix(".md") else {
            continue;
        };
        let url = format!("{}.html", page.trim_start_matches("content/"));
        let said = said_in(text, "```page\n");
        let under_headings = said_in(text, "```found\n");
        for said in said.iter().chain(&under_headings) {
            places.add(said, &url);
        }
        if path.contains("trainer/") {
            continue;
        }
        let title = text.lines().find_map(|line| line.strip_prefix("# "));
        let title = title.filter(|title| !title.contains('`'));
        titles.extend(title.map(|title| titled(title, &url)));
        sayings.extend(said);
    }
    for calculator in crate::demonstration::catalog().calculators.values() {
        let url = format!("calculators/{}.html", calculator.name);
        titles.push(titled(&calculator.title, &url));
        for said in &calculator.also {
            places.add(said, &url);
        }
    }
    let words = std::fs::read_to_string(root().join("content/words.toml")).expect("the words");
    let words: toml::Table = words.parse().expect("TOML");
    for term in words["term"].as_array().into_iter().flatten() {
        let name = term["name"].as_str().expect("a name");
        let see = term
            .get("see")
            .and_then(|see| see.as_str())
            .unwrap_or_default();
        let see = see
            .split('#')
            .next()
            .unwrap_or_default()
            .replace(".md", ".html");
        let also = term.get("also").and_then(|also| also.as_array());
        let also = also.into_iter().flatten().filter_map(|also| also.as_str());
        for said in std::iter::once(name).chain(also) {
            places.add(said, "glossary.html");
            if !see.is_empty() {
                places.add(said, &see);
            }
            terms.push(said.to_string());
        }
    }
    let mut all = titles;
    all.extend(sayings.iter().step_by(4).map(|said| places.query(said)));
    all.extend(terms.iter().step_by(16).map(|said| places.query(said)));
    all
}
