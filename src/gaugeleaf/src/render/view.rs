//! A block's view as its template is given it: addresses and lines stand in their places.

use serde::Deserialize;
use serde_json::{Map, Value};

use crate::page::node::{BlockId, LINE, ROUTE};
use crate::page::route::Route;
use crate::render::print::Printer;

impl Printer<'_> {
    /// A whole view with the block's address.
    pub fn view(&self, view: &Value, id: &BlockId, lines: &[String]) -> tera::Value {
        match (view, id) {
            (Value::Object(entries), BlockId::Given(id)) => {
                let mut filled = self.entries(entries, lines);
                filled.insert("id".into(), id.as_str().into());
                filled.into()
            }
            (view, _) => self.filled(view, lines),
        }
    }

    fn entries(&self, entries: &Map<String, Value>, lines: &[String]) -> tera::Map {
        let entries = entries.iter();
        entries
            .map(|(key, value)| (key.clone().into(), self.filled(value, lines)))
            .collect()
    }

    fn filled(&self, view: &Value, lines: &[String]) -> tera::Value {
        match view {
            Value::Object(entries) => {
                if let Some(route) = entries.get(ROUTE) {
                    let route = Route::deserialize(route).expect("a view holds whole routes");
                    self.edition.href(&route, self.from).into()
                } else if let Some(line) = entries.get(LINE) {
                    let line = line.as_u64().and_then(|line| lines.get(line as usize));
                    line.expect("a view names its own lines").as_str().into()
                } else {
                    self.entries(entries, lines).into()
                }
            }
            Value::Array(items) => {
                let items = items.iter().map(|item| self.filled(item, lines));
                items.collect::<Vec<_>>().into()
            }
            Value::String(text) => text.as_str().into(),
            plain => tera::Value::from_serializable(plain),
        }
    }
}
