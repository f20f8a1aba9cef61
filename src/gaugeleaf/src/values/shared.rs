//! Values that many places print, each held once.

use std::hash::BuildHasher;
use std::sync::{Arc, Mutex, PoisonError};

use rustc_hash::{FxBuildHasher, FxHashMap};

use crate::values::ledger::{Use, UsedValue};

/// The values that were printed so far, by a hash of what mostly tells them apart.
#[derive(Default)]
pub struct SharedValues {
    known: Mutex<FxHashMap<u64, Vec<Arc<UsedValue>>>>,
}

impl SharedValues {
    /// Has each of these share its value with what printed the same before.
    pub fn share(&self, uses: &mut [Use]) {
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        for one in uses {
            let key = (&one.name, &one.text, &one.given);
            let alike = known.entry(FxBuildHasher.hash_one(key)).or_default();
            match alike.iter().find(|other| **other == one.value) {
                Some(same) => one.value = Arc::clone(same),
                None => alike.push(Arc::clone(&one.value)),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_the_same_is_held_once_and_what_differs_in_anything_is_not() {
        let value = |source: &str| UsedValue {
            source: source.to_string(),
            ..UsedValue::default()
        };
        let mut uses = ["a", "b", "a"].map(|source| Use::at(0, value(source)));
        let before = uses.clone();
        SharedValues::default().share(&mut uses);
        assert_eq!(uses, before);
        assert!(Arc::ptr_eq(&uses[0].value, &uses[2].value));
        assert!(!Arc::ptr_eq(&uses[0].value, &uses[1].value));
    }
}
