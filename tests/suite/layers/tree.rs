//! A crate's modules: what each defines, imports and holds.

use std::collections::HashMap;
use std::fs;
use std::path::Path;

use syn::visit::Visit;
use syn::{Item, ItemMod, ItemUse, UseTree, Visibility};

use super::apart::without_tests;
use super::manifest::Manifest;

/// A crate, read.
pub struct Crate {
    pub manifest: Manifest,
    pub files: Vec<SourceFile>,
    pub modules: Vec<Module>,
}

/// A file of the crate.
pub struct SourceFile {
    /// From the workspace's root, with forward slashes.
    pub path: String,
    /// The top-level module that it belongs to; `lib` or `main` for a root.
    pub room: String,
}

/// A module, inline ones among them.
pub struct Module {
    pub parent: Option<usize>,
    /// The file that it stands in.
    pub file: usize,
    pub names: HashMap<String, Vec<Named>>,
    pub imports: Vec<Import>,
    /// What stands in it, but modules.
    pub items: Vec<Item>,
}

/// What a name in a module is; it can be several things.
#[derive(Debug, Clone, Copy)]
pub enum Named {
    Item,
    Module(usize),
    /// An index into the module's imports.
    Import(usize),
}

/// A leaf of a `use` line.
#[derive(Debug)]
pub struct Import {
    pub path: Vec<String>,
    /// What it is called here; `*` for everything in it.
    pub name: String,
    /// Whether another module may reach it here.
    pub public: bool,
    pub line: usize,
}

/// Reads a crate of the workspace at a root.
///
/// # Panics
/// When a file is missing or isn't Rust.
#[must_use]
pub fn read(root: &Path, manifest: Manifest) -> Crate {
    let folder = manifest.folder.clone();
    let load = move |path: &str| fs::read_to_string(root.join(&folder).join(path)).ok();
    read_with(manifest, &load)
}

/// Reads a crate whose texts are given by their paths in its folder.
pub fn read_with(manifest: Manifest, load: &dyn Fn(&str) -> Option<String>) -> Crate {
    let roots = manifest.roots.clone();
    let mut reader = Reader {
        load,
        read: Crate {
            manifest,
            files: Vec::new(),
            modules: Vec::new(),
        },
    };
    for root in &roots {
        let (folder, name) = root.rsplit_once('/').unwrap_or(("", root));
        let room = name.trim_end_matches(".rs");
        reader.file(root, folder, room, None);
    }
    reader.read
}

struct Reader<'a> {
    load: &'a dyn Fn(&str) -> Option<String>,
    read: Crate,
}

impl Reader<'_> {
    /// Reads a file as a module; its children's files are looked for in `folder`.
    fn file(&mut self, path: &str, folder: &str, room: &str, parent: Option<usize>) -> usize {
        let full = format!("{}/{path}", self.read.manifest.folder);
        let text = (self.load)(path).unwrap_or_else(|| panic!("{full} is not there"));
        let parsed = syn::parse_file(&text)
            .unwrap_or_else(|fault| panic!("{full}:{}: {fault}", fault.span().start().line));
        self.read.files.push(SourceFile {
            path: full,
            room: room.to_owned(),
        });
        let file = self.read.files.len() - 1;
        self.module(without_tests(parsed).items, file, folder, room, parent)
    }

    fn module(
        &mut self,
        items: Vec<Item>,
        file: usize,
        folder: &str,
        room: &str,
        parent: Option<usize>,
    ) -> usize {
        let at = self.read.modules.len();
        self.read.modules.push(Module {
            parent,
            file,
            names: HashMap::new(),
            imports: Vec::new(),
            items: Vec::new(),
        });
        for item in items {
            if let Item::Mod(child) = item {
                let name = plain(&child.ident);
                let child = self.child(child, &name, file, folder, room, at);
                self.name(at, name, Named::Module(child));
                continue;
            }
            let mut uses = Uses(Vec::new());
            uses.visit_item(&item);
            for import in uses.0 {
                let index = self.read.modules[at].imports.len();
                self.name(at, import.name.clone(), Named::Import(index));
                self.read.modules[at].imports.push(import);
            }
            if let Some(name) = defined(&item) {
                self.name(at, name, Named::Item);
            }
            self.read.modules[at].items.push(item);
        }
        at
    }

    fn child(
        &mut self,
        child: ItemMod,
        name: &str,
        file: usize,
        folder: &str,
        room: &str,
        parent: usize,
    ) -> usize {
        // an inline module of a root counts to the root
        let below = format!("{folder}/{name}");
        if let Some((_, items)) = child.content {
            return self.module(items, file, &below, room, Some(parent));
        }
        let is_top = self.read.modules[parent].parent.is_none();
        let room = if is_top { name } else { room };
        let beside = format!("{below}.rs");
        let path = if (self.load)(&beside).is_some() {
            beside
        } else {
            format!("{below}/mod.rs")
        };
        self.file(&path, &below, room, Some(parent))
    }

    fn name(&mut self, module: usize, name: String, named: Named) {
        let names = &mut self.read.modules[module].names;
        names.entry(name).or_default().push(named);
    }
}

/// An identifier without `r#`.
pub fn plain(name: &syn::Ident) -> String {
    let text = name.to_string();
    text.strip_prefix("r#").unwrap_or(&text).to_owned()
}

/// The name that an item defines.
fn defined(item: &Item) -> Option<String> {
    let name = match item {
        Item::Const(item) => &item.ident,
        Item::Enum(item) => &item.ident,
        Item::Fn(item) => &item.sig.ident,
        Item::Macro(item) => item.ident.as_ref()?,
        Item::Static(item) => &item.ident,
        Item::Struct(item) => &item.ident,
        Item::Trait(item) => &item.ident,
        Item::TraitAlias(item) => &item.ident,
        Item::Type(item) => &item.ident,
        Item::Union(item) => &item.ident,
        _ => return None,
    };
    Some(plain(name))
}

/// The `use` lines of an item, those within its functions too: they rarely hide a name.
struct Uses(Vec<Import>);

impl<'ast> Visit<'ast> for Uses {
    fn visit_item_use(&mut self, line: &'ast ItemUse) {
        let public = !matches!(line.vis, Visibility::Inherited);
        // `::name` is a crate
        let before = line.leading_colon.as_ref().map(|_| String::new());
        self.branch(&line.tree, before.as_slice(), public);
    }
}

impl Uses {
    fn branch(&mut self, tree: &UseTree, before: &[String], public: bool) {
        match tree {
            UseTree::Path(path) => {
                let before = [before, &[plain(&path.ident)]].concat();
                self.branch(&path.tree, &before, public);
            }
            UseTree::Group(group) => {
                for tree in &group.items {
                    self.branch(tree, before, public);
                }
            }
            UseTree::Name(leaf) => self.leaf(before, &leaf.ident, &leaf.ident, public),
            UseTree::Rename(leaf) => self.leaf(before, &leaf.ident, &leaf.rename, public),
            UseTree::Glob(star) => self.0.push(Import {
                path: before.to_vec(),
                name: "*".to_owned(),
                public,
                line: star.star_token.spans[0].start().line,
            }),
        }
    }

    fn leaf(&mut self, before: &[String], name: &syn::Ident, called: &syn::Ident, public: bool) {
        let line = name.span().start().line;
        let (name, called) = (plain(name), plain(called));
        let mut path = before.to_vec();
        if name != "self" || path.is_empty() {
            path.push(name);
        }
        let called = if called == "self" {
            path.last().cloned().unwrap_or_default()
        } else {
            called
        };
        self.0.push(Import {
            path,
            name: called,
            public,
            line,
        });
    }
}
