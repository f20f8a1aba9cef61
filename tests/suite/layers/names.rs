//! Where a path leads.

use super::tree::{Crate, Import, Module, Named};

/// What a path leads to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    Module(usize),
    /// Something that is defined in this module.
    In(usize),
    /// Another crate, as the manifest spells it.
    Crate(String),
}

/// Follows a path from a module. `None` for what the crate doesn't define: the standard library,
/// type parameters, what a macro makes.
pub fn resolve(within: &Crate, from: usize, path: &[String]) -> Option<Target> {
    Search {
        within,
        asked: Vec::new(),
    }
    .path(from, path, true)
}

/// Whether a name in one module comes to it from another one by an import of everything.
pub fn offers(within: &Crate, module: usize, name: &str) -> bool {
    let mut search = Search {
        within,
        asked: Vec::new(),
    };
    search.name(module, name, true).is_some() || search.name(module, name, false).is_some()
}

/// Whether a module is another one, or within it.
pub fn is_within(modules: &[Module], module: usize, outer: usize) -> bool {
    let mut at = Some(module);
    while let Some(module) = at {
        if module == outer {
            return true;
        }
        at = modules[module].parent;
    }
    false
}

struct Search<'a> {
    within: &'a Crate,
    /// Names being looked for, so that two modules that import each other come to an end.
    asked: Vec<(usize, String, bool)>,
}

impl Search<'_> {
    /// `last`: nothing follows the path, so that an item is meant sooner than a module.
    fn path(&mut self, from: usize, path: &[String], last: bool) -> Option<Target> {
        let (head, mut rest) = path.split_first()?;
        let mut at = match head.as_str() {
            "crate" => Target::Module(self.root(from)),
            "self" => Target::Module(from),
            "super" => Target::Module(self.within.modules[from].parent?),
            "Self" => return None,
            "" => {
                // `::name` is a crate
                let (head, after) = rest.split_first()?;
                rest = after;
                self.outside(from, head)?
            }
            name => self
                .name(from, name, last && rest.is_empty())
                .or_else(|| self.outside(from, name))?,
        };
        while let (Target::Module(module), Some((name, after))) = (&at, rest.split_first()) {
            at = if name == "super" {
                Target::Module(self.within.modules[*module].parent?)
            } else {
                // a name that nobody wrote down, such as one that a macro makes, is its module's
                self.name(*module, name, last && after.is_empty())
                    .unwrap_or(Target::In(*module))
            };
            rest = after;
        }
        Some(at)
    }

    fn root(&self, from: usize) -> usize {
        let mut at = from;
        while let Some(parent) = self.within.modules[at].parent {
            at = parent;
        }
        at
    }

    /// Another crate, or the crate's own library seen from its program.
    fn outside(&self, from: usize, name: &str) -> Option<Target> {
        let manifest = &self.within.manifest;
        if self.root(from) != 0 && manifest.name.replace('-', "_") == name {
            return Some(Target::Module(0));
        }
        let dependency = manifest
            .dependencies
            .iter()
            .find(|dependency| dependency.replace('-', "_") == name)?;
        Some(Target::Crate(dependency.clone()))
    }

    /// A name in a module, which can be an item's and a module's at once.
    fn name(&mut self, module: usize, name: &str, last: bool) -> Option<Target> {
        let key = (module, name.to_owned(), last);
        if self.asked.contains(&key) {
            return None;
        }
        self.asked.push(key);
        let found = self.known(module, name, last);
        self.asked.pop();
        found
    }

    fn known(&mut self, module: usize, name: &str, last: bool) -> Option<Target> {
        let here = &self.within.modules[module];
        let known = here.names.get(name).map_or(&[][..], Vec::as_slice);
        let item = known
            .iter()
            .any(|named| matches!(named, Named::Item))
            .then_some(Target::In(module));
        let child = known.iter().find_map(|named| match named {
            Named::Module(child) => Some(Target::Module(*child)),
            _ => None,
        });
        let direct = if last { &item } else { &child };
        if direct.is_some() {
            return direct.clone();
        }
        let imported = known.iter().find_map(|named| match named {
            Named::Import(import) => self.path(module, &here.imports[*import].path, last),
            _ => None,
        });
        imported
            .or(item)
            .or(child)
            .or_else(|| self.by_globs(module, &here.imports, name, last))
    }

    fn by_globs(
        &mut self,
        module: usize,
        imports: &[Import],
        name: &str,
        last: bool,
    ) -> Option<Target> {
        let globs = imports.iter().filter(|import| import.name == "*");
        globs
            .filter_map(|glob| match self.path(module, &glob.path, false)? {
                Target::Module(other) => self.name(other, name, last),
                _ => None,
            })
            .next()
    }
}
