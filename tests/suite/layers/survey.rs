//! The whole workspace: who knows whom, file by file and room by room.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use super::code::{Reference, To, references};
use super::manifest::manifests;
use super::tree::{Crate, SourceFile, read};

/// A crate's files, and what their code refers to.
pub struct Surveyed {
    pub name: String,
    /// From the workspace's root.
    pub folder: String,
    pub files: Vec<SourceFile>,
    /// The files that its module trees begin in.
    roots: Vec<usize>,
    pub references: Vec<Reference>,
}

/// Every crate of the workspace at a root, in its own order.
///
/// # Panics
/// When a file can't be read.
#[must_use]
pub fn survey(root: &Path) -> Vec<Surveyed> {
    manifests(root)
        .into_iter()
        .map(|manifest| Surveyed::new(read(root, manifest)))
        .collect()
}

impl Surveyed {
    #[must_use]
    pub fn new(read: Crate) -> Surveyed {
        let references = references(&read);
        let roots = read.modules.iter();
        let roots = roots.filter(|module| module.parent.is_none());
        Surveyed {
            roots: roots.map(|root| root.file).collect(),
            name: read.manifest.name,
            folder: read.manifest.folder,
            files: read.files,
            references,
        }
    }

    /// The crate's rooms, by name. A root that only lists its modules is none.
    #[must_use]
    pub fn rooms(&self) -> BTreeSet<&str> {
        let idle = |file: usize| {
            let of_file = |one: &Reference| one.from == file || one.to == To::File(file);
            self.roots.contains(&file) && !self.references.iter().any(of_file)
        };
        let files = self.files.iter().enumerate();
        let files = files.filter(|(at, _)| !idle(*at));
        files.map(|(_, file)| file.room.as_str()).collect()
    }

    /// The room that a reference stands in.
    #[must_use]
    pub fn room(&self, reference: &Reference) -> &str {
        &self.files[reference.from].room
    }

    /// The rooms and crates that each room refers to, with the references.
    #[must_use]
    pub fn knowledge(&self) -> BTreeMap<(&str, &str), Vec<&Reference>> {
        let mut known = BTreeMap::<_, Vec<&Reference>>::new();
        for reference in &self.references {
            let to = match &reference.to {
                To::File(to) => self.files[*to].room.as_str(),
                To::Crate(name) => name.as_str(),
            };
            let from = self.room(reference);
            if from != to {
                known.entry((from, to)).or_default().push(reference);
            }
        }
        known
    }
}
