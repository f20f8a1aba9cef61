//! What a handbook's own files define over the built-in catalog: each name once, and none that
//! only nearly replaces a built-in one.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding, nearest};
use gaugeleaf_calc::{Catalog, SourceFile, builtin, defined, is_built_in};

use crate::handbook::files::HandbookFiles;
use crate::handbook::places::EQUIPMENT;

/// A name that one of the handbook's own files defines.
struct OwnName<'f> {
    name: String,
    /// Measurements and ratings; calculators and tables have names of their own.
    named: bool,
    file: &'f str,
    span: Range<usize>,
}

/// Holds the names of the handbook's own files against each other and the built-in ones.
pub fn check(files: &HandbookFiles, catalog: &Catalog) -> Vec<Finding> {
    let own: Vec<OwnName> = ["calculators/", EQUIPMENT]
        .into_iter()
        .flat_map(|folder| files.texts_under(folder))
        .filter(|(path, _)| path.ends_with(".toml") && !is_built_in(path))
        .flat_map(|(path, text)| names(path, text))
        .collect();
    let mut findings = Vec::new();
    for (at, one) in own.iter().enumerate() {
        let same = |other: &&OwnName| (&other.name, other.named) == (&one.name, one.named);
        if let Some(other) = own[..at].iter().find(same) {
            let message = match other.file == one.file {
                true => format!("`{}` is defined twice in this file", one.name),
                false => format!("`{}` is defined in {} already", one.name, other.file),
            };
            findings.push(
                Finding::error(Code::SameName, one.file, one.span.clone(), message)
                    .help("keep one of the two: only the later would hold"),
            );
        }
    }
    if own.iter().any(|one| one.named) {
        findings.extend(near_names(&own, files, catalog));
    }
    findings
}

/// What a file defines, with the place of each name.
fn names<'f>(file: &'f str, text: &'f str) -> impl Iterator<Item = OwnName<'f>> {
    let whole = defined(text)
        .into_iter()
        .filter(|one| !one.name.contains('.'));
    whole.filter_map(move |one| {
        let section = text.get(one.section.clone())?;
        let quoted = format!("\"{}\"", one.name);
        let start = one.section.start + section.find(&quoted)? + 1;
        Some(OwnName {
            named: section.starts_with("[[measurement]]") || section.starts_with("[[rating]]"),
            span: start..start + one.name.len(),
            name: one.name,
            file,
        })
    })
}

/// Names that nothing takes, close to built-in ones: meant to replace them, and misspelt.
fn near_names(own: &[OwnName], files: &HandbookFiles, catalog: &Catalog) -> Vec<Finding> {
    let built_in: Vec<String> = builtin().iter().flat_map(built_in_names).collect();
    let stray = own.iter().filter(|one| {
        one.named && !built_in.contains(&one.name) && !taken(&one.name, files, catalog)
    });
    stray
        .filter_map(|one| {
            let near = nearest(&one.name, built_in.iter().map(String::as_str))?;
            let message = format!(
                "nothing takes `{}`, and the built-in {near} stays",
                one.name
            );
            Some(
                Finding::warning(Code::NearName, one.file, one.span.clone(), message).help(
                    format!("write {near} to replace that one, or print this one on a page"),
                ),
            )
        })
        .collect()
}

fn built_in_names(file: &SourceFile) -> Vec<String> {
    names(&file.path, &file.text)
        .filter(|one| one.named)
        .map(|one| one.name)
        .collect()
}

/// Whether an input takes a name, or a page or the words speak of it.
fn taken(name: &str, files: &HandbookFiles, catalog: &Catalog) -> bool {
    let mut inputs = catalog
        .calculators
        .values()
        .flat_map(|calculator| &calculator.inputs);
    let by_input = inputs.any(|input| input.from.as_ref().is_some_and(|from| from.value == name));
    let mut content = files
        .texts_under("content/")
        .filter(|(path, _)| !path.starts_with(EQUIPMENT));
    let letter = |c: char| c.is_alphanumeric() || c == '_';
    by_input
        || catalog.cross_checks(name)
        || content.any(|(_, text)| text.split(|c| !letter(c)).any(|word| word == name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::values::graph::Graph;

    fn found(texts: &[(&str, &str)]) -> Vec<(&'static str, String, String)> {
        let mut files = HandbookFiles::default();
        for (path, text) in texts {
            files.texts.insert((*path).to_string(), (*text).to_string());
        }
        let (graph, _) = Graph::load(&files);
        let found = check(&files, &graph.catalog);
        found
            .into_iter()
            .map(|one| {
                let text = &files.texts[&one.file];
                (
                    one.code.name(),
                    one.file.clone(),
                    text[one.span].to_string(),
                )
            })
            .collect()
    }

    const OWN: &str = "[[rating]]\nname = \"stock_guide_tubes\"\nlabel = \"S\"\nunit = \"in\"\n";

    #[test]
    fn a_name_that_two_files_define_is_told_at_the_second() {
        let page = ("content/a.md", "[](value:stock_guide_tubes)");
        let second = (
            "same-name",
            "calculators/b.toml".to_string(),
            "stock_guide_tubes".to_string(),
        );
        let twice = [
            ("calculators/a.toml", OWN),
            ("calculators/b.toml", OWN),
            page,
        ];
        assert_eq!(found(&twice), [second]);
        let once = [("calculators/a.toml", OWN), page];
        assert_eq!(found(&once), []);
    }

    #[test]
    fn a_misspelt_override_that_nothing_takes_is_told() {
        assert_eq!(
            found(&[("calculators/a.toml", OWN)]),
            [(
                "near-name",
                "calculators/a.toml".to_string(),
                "stock_guide_tubes".to_string()
            )]
        );
        let far = OWN.replace("stock_guide_tubes", "tape_roll");
        assert_eq!(found(&[("calculators/a.toml", &far)]), []);
        let right = OWN.replace("stock_guide_tubes", "stock_guide_tube");
        assert_eq!(found(&[("calculators/a.toml", &right)]), []);
    }
}
