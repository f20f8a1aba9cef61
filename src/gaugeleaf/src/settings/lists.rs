//! Settings that hold more than one value: yes or no, lists of tables, tables of lists.

use std::ops::Range;

use crate::settings::shape::Shape;
use crate::settings::{Placed, Settings, scalar};

impl<'s> Settings<'s> {
    /// Whether a setting is true; missing is false.
    pub fn truth(&mut self, key: &'static str) -> bool {
        let Some((_, value)) = self.entry(key) else {
            return false;
        };
        value.get_ref().as_bool().unwrap_or_else(|| {
            self.wrong(key, value, Shape::Truth);
            false
        })
    }

    /// A list of tables, each read like a block of its own; missing is empty.
    pub fn tables<T>(
        &mut self,
        key: &'static str,
        mut read: impl FnMut(&mut Settings, Range<usize>) -> T,
    ) -> Vec<T> {
        let Some((_, value)) = self.entry(key) else {
            return Vec::new();
        };
        let Some(items) = value.get_ref().as_array() else {
            self.wrong(key, value, Shape::Tables);
            return Vec::new();
        };
        let mut tables = Vec::new();
        for item in items.iter() {
            let Some(table) = item.get_ref().as_table() else {
                self.wrong(key, item, Shape::Tables);
                continue;
            };
            let span = self.span(item.span());
            let mut inner = Settings {
                file: self.file,
                body: self.body,
                table,
                known: Vec::new(),
                findings: self.findings,
            };
            tables.push(read(&mut inner, span));
            inner.finish();
        }
        tables
    }

    /// A table of names, each with a list of quantities.
    pub fn ranges(&mut self, key: &'static str) -> Vec<(Placed<String>, Vec<Placed<String>>)> {
        let Some((_, value)) = self.entry(key) else {
            return Vec::new();
        };
        let Some(table) = value.get_ref().as_table() else {
            self.wrong(key, value, Shape::Lists);
            return Vec::new();
        };
        let mut ranges = Vec::new();
        for (name, value) in table.iter() {
            let texts: Option<Vec<Placed<String>>> = value.get_ref().as_array().and_then(|items| {
                let text = |item: &toml::Spanned<toml::de::DeValue>| {
                    let value = scalar(item.get_ref())?;
                    let span = self.span(item.span());
                    Some(Placed { value, span })
                };
                items.iter().map(text).collect()
            });
            let Some(texts) = texts else {
                self.wrong(name.get_ref(), value, Shape::Texts);
                continue;
            };
            let name = Placed {
                value: name.get_ref().to_string(),
                span: self.span(name.span()),
            };
            ranges.push((name, texts));
        }
        ranges.sort_by_key(|(name, _)| name.span.start);
        ranges
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::markdown::excerpt::Excerpt;
    use crate::settings::read;
    use gaugeleaf_calc::finding::Finding;

    fn with<T: Default>(text: &str, ask: impl FnOnce(&mut Settings) -> T) -> (T, Vec<Finding>) {
        let mut findings = Vec::new();
        let value = read("a.md", &Excerpt::whole(text), &mut findings, ask);
        (value, findings)
    }

    #[test]
    fn a_list_of_tables_is_read_table_by_table_with_its_own_slips() {
        let text = "items = [\n  { do = \"a\" },\n  { doo = \"b\" },\n]\n";
        let (texts, findings) = with(text, |settings| {
            settings.tables("items", |item, _| item.text("do"))
        });
        assert_eq!(texts.iter().flatten().count(), 1);
        assert_eq!(findings.len(), 1);
        assert_eq!(
            (findings[0].code.name(), findings[0].help.as_deref()),
            ("unknown-setting", Some("write do"))
        );
        assert_eq!(text.get(findings[0].span.clone()), Some("doo"));
    }

    #[test]
    fn ranges_keep_the_place_of_each_quantity_and_truths_are_no_texts() {
        let text = "draw = { a = [\"1 in\", 2] }\nsure = \"yes\"\n";
        let (ranges, findings) = with(text, |settings| {
            settings.truth("sure");
            settings.ranges("draw")
        });
        assert_eq!(text.get(ranges[0].1[1].span.clone()), Some("2"));
        assert_eq!(
            findings[0].message,
            "`sure` is text, where true or false is wanted"
        );
    }
}
