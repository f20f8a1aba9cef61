//! What people say for the rows of a table.

use gaugeleaf_finding::Code;
use gaugeleaf_finding::settings::{SettingField, SettingType, Settings};
use std::ops::Range;

use super::{Cell, Table};

pub(super) const FIELDS: &[SettingField] = &[
    SettingField::new(
        "row",
        SettingType::Texts,
        "The row's entries in the key's columns, as written there.",
    )
    .needed("words lead to a row"),
    SettingField::new("also", SettingType::Texts, "What people say for it.")
        .needed("words lead to the row"),
];

/// A row by its key, and what people say for it.
pub(super) struct RowSayings {
    row: Vec<String>,
    also: Vec<String>,
    span: Range<usize>,
}

pub(super) fn read(head: &mut Settings) -> Vec<RowSayings> {
    head.tables("said", |said, span| RowSayings {
        row: said
            .texts("row")
            .into_iter()
            .map(|text| text.value)
            .collect(),
        also: said.sayings("also"),
        span,
    })
}

/// What people say for each row, in the rows' order.
pub(super) fn by_row(
    table: &Table,
    said: Vec<RowSayings>,
    head: &mut Settings,
) -> Vec<Vec<String>> {
    let mut all = vec![Vec::new(); table.rows.len()];
    let key: Vec<usize> = table
        .key
        .iter()
        .filter_map(|key| table.column(key).map(|(at, _)| at))
        .collect();
    let written = |row: &Vec<Cell>| {
        key.iter()
            .map(|at| row[*at].written().trim().to_string())
            .collect()
    };
    let keys: Vec<Vec<String>> = table.rows.iter().map(written).collect();
    for one in said {
        let wanted: Vec<&str> = one.row.iter().map(|text| text.trim()).collect();
        match keys.iter().position(|key| *key == wanted) {
            Some(at) => all[at].extend(one.also),
            None => {
                let message = format!("no row has the key {}", one.row.join(", "));
                head.error(Code::Row, &one.span, message).help = Some(
                    "write the row's entries in the columns of `key`, as they stand there".into(),
                );
            }
        }
    }
    all
}

impl Cell {
    /// As the file has it.
    fn written(&self) -> &str {
        match self {
            Cell::Number { at, .. } | Cell::Text(at) => &at.value,
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::table::{FIELDS, Table, load};
    use gaugeleaf_finding::{Excerpt, settings};

    const TABLE: &str = "[table]\nname = \"t\"\ntitle = \"T\"\nsource = \"S\"\nalso = [\"spanners\"]\n\
        columns = [\n  { name = \"bolt\", unit = \"in\", print = \"1/16\" },\n  { name = \"note\", text = true },\n]\n\
        key = [\"bolt\"]\nrows = [[\"1/4 in\", \"\"], [\"3/8 in\", \"\"]]\n";

    fn read(said: &str) -> (Option<Table>, Vec<(&'static str, String)>) {
        let text = format!("{TABLE}said = [{said}]\n");
        let body = Excerpt::whole(&text);
        let mut findings = Vec::new();
        let table = settings::read("t.toml", &body, FIELDS, &mut findings, load);
        let found = findings.into_iter();
        let found = found.map(|one| (one.code.name(), text[one.span].to_string()));
        (table, found.collect())
    }

    #[test]
    fn a_row_is_said_by_its_key() {
        let (table, findings) =
            read("{ row = [\"3/8 in\"], also = [\"three eighths\", \"smallest stud\"] }");
        assert_eq!(findings, []);
        let table = table.expect("a table");
        assert_eq!(table.also, ["spanners"]);
        let none: [&str; 0] = [];
        assert_eq!(table.said[0], none);
        assert_eq!(table.said[1], ["three eighths", "smallest stud"]);
    }

    #[test]
    fn words_for_no_row_and_words_that_say_nothing_are_findings() {
        let (_, findings) = read("{ row = [\"1/2 in\"], also = [\"half inch\"] }");
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].0, "row");
        let (_, findings) = read("{ row = [\"1/4 in\"], also = [\"a\", \"A\", \"-\"] }");
        let expected = [
            ("bad-phrase", "\"A\"".to_string()),
            ("bad-phrase", "\"-\"".to_string()),
        ];
        assert_eq!(findings, expected);
        let (_, findings) = read("{ row = [\"1/4 in\"] }");
        assert_eq!(findings[0].0, "missing-setting");
    }
}
