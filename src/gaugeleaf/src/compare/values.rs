//! Which values of a page changed: as the fingerprint counts them, each that is printed once, in no
//! order.

use std::collections::{BTreeSet, HashMap, VecDeque};

use crate::compare::read::ValueRead;

/// A value that one side prints and the other doesn't, or not so.
#[derive(Debug, Clone, Copy)]
pub struct ChangedValue<'l> {
    pub old: Option<&'l ValueRead>,
    pub new: Option<&'l ValueRead>,
}

impl<'l> ChangedValue<'l> {
    /// Whichever there is, the new one first.
    pub fn either(&self) -> Option<&'l ValueRead> {
        self.new.or(self.old)
    }

    /// The inputs that differ: name, from what, to what.
    pub fn inputs(&self) -> Vec<[&'l str; 3]> {
        let (Some(old), Some(new)) = (self.old, self.new) else {
            return Vec::new();
        };
        let names: BTreeSet<&String> = old.inputs.keys().chain(new.inputs.keys()).collect();
        let of =
            |value: &'l ValueRead, name: &String| value.inputs.get(name).map_or("", String::as_str);
        let both = names
            .into_iter()
            .map(|name| [name.as_str(), of(old, name), of(new, name)]);
        both.filter(|[_, from, to]| from != to).collect()
    }
}

/// What a value is worked out from, as far as both ledgers tell it.
fn given(value: &ValueRead, in_words: bool) -> String {
    match &value.given {
        Some(given) if in_words => given.clone(),
        _ => {
            let inputs = value.inputs.iter();
            let inputs = inputs.flat_map(|(name, text)| [name, "\u{1}", text, "\u{2}"]);
            inputs.collect()
        }
    }
}

/// The values of one page that differ, in the order of the new edition; what is gone comes last.
pub fn changed<'l>(old: &[&'l ValueRead], new: &[&'l ValueRead]) -> Vec<ChangedValue<'l>> {
    // inputs in words are what counts; an older ledger has them by name alone
    let in_words = old.iter().chain(new).all(|value| value.given.is_some());
    let told = |values: &[&'l ValueRead]| -> Vec<CountedValue<'l>> {
        let printed = values
            .iter()
            .map(|value| CountedValue::new(value, in_words));
        let mut seen = BTreeSet::new();
        printed
            .filter(|one| seen.insert((one.value.name.as_str(), one.given.clone(), one.text())))
            .collect()
    };
    let (old, new) = (told(old), told(new));
    let without =
        |these: Vec<CountedValue<'l>>, those: &[CountedValue<'l>]| -> Vec<CountedValue<'l>> {
            let there: BTreeSet<_> = those.iter().map(CountedValue::whole).collect();
            let mut these = these;
            these.retain(|one| !there.contains(&one.whole()));
            these
        };
    let gone = without(old.clone(), &new);
    let come = without(new, &old);
    let mut pairs = paired(&gone, &come);
    fold(&mut pairs);
    pairs
}

#[derive(Debug, Clone)]
struct CountedValue<'l> {
    value: &'l ValueRead,
    given: String,
}

impl<'l> CountedValue<'l> {
    fn new(value: &'l ValueRead, in_words: bool) -> CountedValue<'l> {
        let given = given(value, in_words);
        CountedValue { value, given }
    }

    fn text(&self) -> &'l str {
        &self.value.text
    }

    fn whole(&self) -> (&str, &str, &str) {
        (&self.value.name, &self.given, self.text())
    }

    /// What makes a pair of it: as much as there is at first, then less and less.
    fn key(&self, pass: usize) -> (&str, &str, &str) {
        let name = self.value.name.as_str();
        let unit = unit(self.text());
        match pass {
            0 => (name, &self.given, unit),
            1 => (name, &self.given, ""),
            2 => (name, "", unit),
            _ => (name, "", ""),
        }
    }
}

/// What stands behind the number.
fn unit(text: &str) -> &str {
    let end = text.rfind(|c: char| c.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(c));
    let rest = end.map_or("", |at| &text[at..]);
    let mut letters = rest.chars();
    letters.next();
    letters.as_str()
}

/// Finds for each value that is gone the one that came in its place.
fn paired<'l>(gone: &[CountedValue<'l>], come: &[CountedValue<'l>]) -> Vec<ChangedValue<'l>> {
    let mut of: Vec<Option<usize>> = vec![None; come.len()];
    let mut left: Vec<usize> = (0..gone.len()).collect();
    for pass in 0..4 {
        let mut free: HashMap<_, VecDeque<usize>> = HashMap::new();
        for (at, one) in come.iter().enumerate() {
            if of[at].is_none() {
                free.entry(one.key(pass)).or_default().push_back(at);
            }
        }
        left.retain(|from| {
            let to = free.get_mut(&gone[*from].key(pass));
            match to.and_then(VecDeque::pop_front) {
                Some(to) => {
                    of[to] = Some(*from);
                    false
                }
                None => true,
            }
        });
    }
    let come = come.iter().zip(of).map(|(new, from)| ChangedValue {
        old: from.map(|from| gone[from].value),
        new: Some(new.value),
    });
    let gone = left.into_iter().map(|from| ChangedValue {
        old: Some(gone[from].value),
        new: None,
    });
    come.chain(gone).collect()
}

/// A value that is printed in both unit systems is told once.
fn fold(changes: &mut Vec<ChangedValue>) {
    let mut told = BTreeSet::new();
    changes.retain(|one| {
        let (Some(old), Some(new)) = (one.old, one.new) else {
            return true;
        };
        let other = (&new.name, &old.also, &old.text, &new.also, &new.text);
        if told.contains(&other) {
            return false;
        }
        told.insert((&new.name, &old.text, &old.also, &new.text, &new.also));
        true
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(name: &str, depth: &str, text: &str, also: &str) -> ValueRead {
        ValueRead {
            name: name.to_string(),
            inputs: [("depth".to_string(), depth.to_string())].into(),
            given: Some(format!("Depth {depth}")),
            text: text.to_string(),
            also: also.to_string(),
            ..ValueRead::default()
        }
    }

    fn told(old: &[ValueRead], new: &[ValueRead]) -> Vec<(String, String)> {
        let old: Vec<&ValueRead> = old.iter().collect();
        let new: Vec<&ValueRead> = new.iter().collect();
        let text = |value: Option<&ValueRead>| value.map_or("-".to_string(), |v| v.text.clone());
        let changes = changed(&old, &new).into_iter();
        changes.map(|one| (text(one.old), text(one.new))).collect()
    }

    fn pair(from: &str, to: &str) -> (String, String) {
        (from.to_string(), to.to_string())
    }

    #[test]
    fn order_and_repetition_are_no_change() {
        let (a, b) = (
            value("a", "1 in", "2 in", ""),
            value("b", "1 in", "3 in", ""),
        );
        let old = [a.clone(), b.clone(), a.clone()];
        assert_eq!(told(&old, &[b, a]), []);
    }

    #[test]
    fn a_value_keeps_its_unit_and_both_units_are_told_once() {
        let old = [
            value("a", "1 in", "3/4 in", "19.1 mm"),
            value("a", "1 in", "19.1 mm", "3/4 in"),
        ];
        let new = [
            value("a", "2 in", "22.2 mm", "7/8 in"),
            value("a", "2 in", "7/8 in", "22.2 mm"),
        ];
        assert_eq!(told(&old, &new), [pair("19.1 mm", "22.2 mm")]);
    }

    #[test]
    fn values_of_one_name_are_told_by_their_inputs() {
        let old = [
            value("a", "1 in", "10 in", ""),
            value("a", "2 in", "20 in", ""),
        ];
        let new = [
            value("a", "2 in", "21 in", ""),
            value("a", "3 in", "30 in", ""),
        ];
        assert_eq!(
            told(&old, &new),
            [pair("20 in", "21 in"), pair("10 in", "30 in")]
        );
    }

    #[test]
    fn inputs_in_words_count_where_both_have_them() {
        let old = value("a", "1 in", "2 in", "");
        let new = ValueRead {
            given: Some("Depth of the head 1 in".to_string()),
            ..old.clone()
        };
        let new = [new];
        let older = ValueRead {
            given: None,
            ..old.clone()
        };
        assert_eq!(told(&[old], &new).len(), 1);
        assert_eq!(told(&[older], &new).len(), 0);
    }
}
