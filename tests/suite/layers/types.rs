//! A type's name is defined once in the workspace: who looks for it finds one thing.

use std::collections::BTreeMap;

use syn::Item;

use super::tree::{Crate, plain};

/// The names that more than one type has, each with the files that define it.
#[must_use]
pub fn defined_twice(crates: &[Crate]) -> Vec<String> {
    let mut defined = BTreeMap::<String, Vec<&str>>::new();
    for within in crates {
        for module in &within.modules {
            let file = within.files[module.file].path.as_str();
            for name in module.items.iter().filter_map(type_name) {
                defined.entry(name).or_default().push(file);
            }
        }
    }
    defined
        .into_iter()
        .filter(|(_, files)| files.len() > 1)
        .map(|(name, files)| format!("{name} is defined in {}", files.join(" and in ")))
        .collect()
}

/// The name of a type or a trait. One within a function is that function's own business.
fn type_name(item: &Item) -> Option<String> {
    let name = match item {
        Item::Enum(item) => &item.ident,
        Item::Struct(item) => &item.ident,
        Item::Trait(item) => &item.ident,
        Item::TraitAlias(item) => &item.ident,
        Item::Type(item) => &item.ident,
        Item::Union(item) => &item.ident,
        _ => return None,
    };
    Some(plain(name))
}
