//! Values by name, in the order of their names.
//!
//! A sorted list, not a tree: a handbook has some hundreds of names, and the
//! browser's engine carries a tenth of the code for it.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::ops::Index;

#[derive(Debug, Clone, PartialEq)]
pub struct Names<T>(Vec<Entry<T>>);

#[derive(Debug, Clone, PartialEq)]
pub struct Entry<T> {
    /// Tells most names apart without a look at the heap.
    head: u64,
    name: String,
    value: T,
}

/// The first bytes, in the order of the names.
fn head(name: &str) -> u64 {
    let mut head = [0; 8];
    let bytes = name.as_bytes();
    let count = bytes.len().min(8);
    head[..count].copy_from_slice(&bytes[..count]);
    u64::from_be_bytes(head)
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
        let head = head(name);
        self.0.binary_search_by(|known| {
            let heads = known.head.cmp(&head);
            heads.then_with(|| known.name.as_str().cmp(name))
        })
    }

    /// Replaces what the name stood for.
    pub fn insert(&mut self, name: String, value: T) {
        match self.place(&name) {
            Ok(at) => self.0[at].value = value,
            Err(at) => {
                let head = head(&name);
                self.0.insert(at, Entry { head, name, value });
            }
        }
    }

    pub fn remove(&mut self, name: &str) -> Option<T> {
        self.place(name).ok().map(|at| self.0.remove(at).value)
    }

    pub fn get(&self, name: &str) -> Option<&T> {
        self.place(name).ok().map(|at| &self.0[at].value)
    }

    /// Where a name stands in the order.
    pub fn position(&self, name: &str) -> Option<usize> {
        self.place(name).ok()
    }

    pub fn at(&self, position: usize) -> Option<&T> {
        self.0.get(position).map(|entry| &entry.value)
    }

    pub fn contains_key(&self, name: &str) -> bool {
        self.place(name).is_ok()
    }

    pub fn keys(&self) -> impl DoubleEndedIterator<Item = &String> + Clone {
        self.0.iter().map(|entry| &entry.name)
    }

    pub fn values(&self) -> impl DoubleEndedIterator<Item = &T> {
        self.0.iter().map(|entry| &entry.value)
    }

    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (&String, &T)> {
        self.0.iter().map(|entry| (&entry.name, &entry.value))
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
    type IntoIter = std::iter::Map<std::vec::IntoIter<Entry<T>>, fn(Entry<T>) -> (String, T)>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter().map(|entry| (entry.name, entry.value))
    }
}

impl<T: Serialize> Serialize for Names<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.iter())
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Names<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Names<T>, D::Error> {
        Vec::<(String, T)>::deserialize(deserializer).map(Names::from_iter)
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
