//! Values by name, in the order of their names.
//!
//! A sorted list, not a tree: a handbook has some hundreds of names, and the
//! browser's engine carries a tenth of the code for it.

use serde::{Deserialize, Serialize};
use std::ops::Index;

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Names<T>(Vec<Slot<T>>);

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Slot<T>(Name, T);

/// A name with its head beside it: most others are told apart without looking at their text.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(from = "String", into = "String")]
pub struct Name {
    head: u64,
    text: String,
}

impl From<String> for Name {
    fn from(text: String) -> Name {
        let head = head(&text);
        Name { head, text }
    }
}

impl From<Name> for String {
    fn from(name: Name) -> String {
        name.text
    }
}

/// The first bytes, in the order of the names: they tell most names apart.
fn head(name: &str) -> u64 {
    let bytes = name.as_bytes();
    match bytes.first_chunk() {
        Some(first) => u64::from_be_bytes(*first),
        None => (0..8).fold(0, |head, at| {
            head << 8 | bytes.get(at).map_or(0, |byte| u64::from(*byte))
        }),
    }
}

impl<T> Default for Names<T> {
    fn default() -> Names<T> {
        Names(Vec::new())
    }
}

impl<T> Names<T> {
    pub fn new() -> Names<T> {
        Names::default()
    }

    fn place(&self, name: &str) -> Result<usize, usize> {
        let start = head(name);
        self.0.binary_search_by(|Slot(known, _)| {
            let heads = known.head.cmp(&start);
            heads.then_with(|| known.text.as_str().cmp(name))
        })
    }

    /// Replaces what the name stood for.
    pub fn insert(&mut self, name: String, value: T) {
        // where it stands is of use to few
        let _ = self.put(name, value);
    }

    /// The same, and where it stands now: among those that were known, or as a new one.
    pub fn put(&mut self, name: String, value: T) -> Result<usize, usize> {
        let place = self.place(&name);
        match place {
            Ok(at) => self.0[at].1 = value,
            Err(at) => self.0.insert(at, Slot(name.into(), value)),
        }
        place
    }

    pub fn remove(&mut self, name: &str) -> Option<T> {
        self.place(name).ok().map(|at| self.0.remove(at).1)
    }

    pub fn get(&self, name: &str) -> Option<&T> {
        self.place(name).ok().map(|at| &self.0[at].1)
    }

    /// Where a name stands in the order.
    pub fn position(&self, name: &str) -> Option<usize> {
        self.place(name).ok()
    }

    pub fn at(&self, position: usize) -> Option<&T> {
        self.0.get(position).map(|Slot(_, value)| value)
    }

    pub fn contains_key(&self, name: &str) -> bool {
        self.place(name).is_ok()
    }

    pub fn keys(&self) -> impl DoubleEndedIterator<Item = &String> + Clone {
        self.0.iter().map(|Slot(name, _)| &name.text)
    }

    pub fn values(&self) -> impl DoubleEndedIterator<Item = &T> {
        self.0.iter().map(|Slot(_, value)| value)
    }

    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (&String, &T)> {
        self.0.iter().map(|Slot(name, value)| (&name.text, value))
    }

    pub fn len(&self) -> usize {
        self.0.len()
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl<T> IntoIterator for Names<T> {
    type Item = (String, T);
    type IntoIter = std::iter::Map<std::vec::IntoIter<Slot<T>>, fn(Slot<T>) -> (String, T)>;

    fn into_iter(self) -> Self::IntoIter {
        self.0
            .into_iter()
            .map(|Slot(name, value)| (name.text, value))
    }
}

impl<T> Extend<(String, T)> for Names<T> {
    fn extend<I: IntoIterator<Item = (String, T)>>(&mut self, pairs: I) {
        for (name, value) in pairs {
            self.insert(name, value);
        }
    }
}

impl<T> FromIterator<(String, T)> for Names<T> {
    fn from_iter<I: IntoIterator<Item = (String, T)>>(pairs: I) -> Names<T> {
        let mut names = Names::new();
        names.extend(pairs);
        names
    }
}

impl<T, const N: usize> From<[(String, T); N]> for Names<T> {
    fn from(pairs: [(String, T); N]) -> Names<T> {
        pairs.into_iter().collect()
    }
}

/// Panics on an unknown name, like any index: for names that are known to exist.
impl<T> Index<&str> for Names<T> {
    type Output = T;

    fn index(&self, name: &str) -> &T {
        match self.get(name) {
            Some(value) => value,
            None => panic!("no entry {name}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_come_in_order_and_the_last_value_stands() {
        let names: Names<u8> = [("b", 1), ("a", 2), ("b", 3)]
            .map(|(name, value)| (name.to_string(), value))
            .into();
        assert_eq!(
            names.iter().collect::<Vec<_>>(),
            [(&"a".to_string(), &2), (&"b".to_string(), &3)]
        );
        assert_eq!((names.get("c"), names.len()), (None, 2));
    }
}
