//! What a crate's code refers to.

use std::collections::{HashMap, HashSet};

use syn::visit::{self, Visit};
use syn::{Arm, Block, Expr, Item, ItemUse, Local, Macro, PatIdent, Path, Stmt, Visibility};

use super::names::{Target, is_within, offers, resolve};
use super::tokens;
use super::tree::{Crate, plain};

/// A path or an import that leads out of its file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Reference {
    /// The file that it stands in, as an index into the crate's files.
    pub from: usize,
    pub line: usize,
    pub to: To,
    /// The path as it is written.
    pub name: String,
}

#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum To {
    File(usize),
    /// Another crate, as the manifest spells it.
    Crate(String),
}

/// Every reference of a crate's files to other files and crates.
#[must_use]
pub fn references(within: &Crate) -> Vec<Reference> {
    let mut found = Vec::new();
    for (at, module) in within.modules.iter().enumerate() {
        let mut code = Code {
            within,
            module: at,
            scopes: vec![HashMap::new()],
            heads: HashSet::new(),
            found: Vec::new(),
        };
        for item in &module.items {
            code.visit_item(item);
        }
        found.append(&mut code.found);
        found.extend(imported(within, at, &code.heads));
    }
    found.retain(|reference| reference.to != To::File(reference.from));
    found.sort();
    found.dedup();
    found
}

/// What a module's `use` lines refer to. `heads` are the first names of the paths in its code.
fn imported(within: &Crate, at: usize, heads: &HashSet<String>) -> Vec<Reference> {
    let module = &within.modules[at];
    let imports = module.imports.iter().filter_map(|import| {
        let target = resolve(within, at, &import.path)?;
        let handed_on = |to: usize| import.public && is_within(&within.modules, to, at);
        let to = match target {
            Target::Crate(name) => To::Crate(name),
            Target::In(to) | Target::Module(to) if handed_on(to) => return None,
            Target::In(to) => To::File(within.modules[to].file),
            Target::Module(to) => {
                // what is reached through it has been charged already
                let reached = if import.name == "*" {
                    heads.iter().any(|head| offers(within, to, head))
                } else {
                    heads.contains(&import.name)
                };
                if reached && !import.public {
                    return None;
                }
                To::File(within.modules[to].file)
            }
        };
        Some(Reference {
            from: module.file,
            line: import.line,
            to,
            name: shown(&import.path) + if import.name == "*" { "::*" } else { "" },
        })
    });
    imports.collect()
}

fn shown(path: &[String]) -> String {
    path.join("::")
}

/// What a name is that a block or a pattern brings.
#[derive(Clone, Copy, PartialEq)]
enum Brought {
    Variable,
    /// A function or a type within a function: hides a name at the head of a path too.
    Item,
}

struct Code<'a> {
    within: &'a Crate,
    module: usize,
    /// Names that functions, blocks and patterns bring, the innermost last.
    scopes: Vec<HashMap<String, Brought>>,
    /// The first name of every path so far.
    heads: HashSet<String>,
    found: Vec<Reference>,
}

impl Code<'_> {
    fn path(&mut self, path: Vec<String>, line: usize) {
        let hidden = self.scopes.iter().rev().find_map(|names| {
            let brought = names.get(&path[0])?;
            Some(*brought == Brought::Item || path.len() == 1)
        });
        if hidden == Some(true) {
            return;
        }
        let target = resolve(self.within, self.module, &path);
        let name = shown(&path);
        self.heads.extend(path.into_iter().next());
        let to = match target {
            Some(Target::In(module)) => To::File(self.within.modules[module].file),
            Some(Target::Crate(name)) => To::Crate(name),
            // a module alone, as in `pub(in crate::x)`, says nothing
            Some(Target::Module(_)) | None => return,
        };
        self.found.push(Reference {
            from: self.within.modules[self.module].file,
            line,
            to,
            name,
        });
    }

    fn scoped(&mut self, visit: impl FnOnce(&mut Self)) {
        self.scopes.push(HashMap::new());
        visit(self);
        self.scopes.pop();
    }

    fn bring(&mut self, name: String, brought: Brought) {
        if let Some(names) = self.scopes.last_mut() {
            names.insert(name, brought);
        }
    }
}

impl<'ast> Visit<'ast> for Code<'_> {
    fn visit_path(&mut self, path: &'ast Path) {
        let mut names: Vec<String> = path.segments.iter().map(|one| plain(&one.ident)).collect();
        let line = path.segments[0].ident.span().start().line;
        if path.leading_colon.is_some() {
            names.insert(0, String::new());
        }
        self.path(names, line);
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, call: &'ast Macro) {
        visit::visit_macro(self, call);
        for written in tokens::paths(call.tokens.clone()) {
            self.path(written.path, written.line);
        }
    }

    /// A name in a pattern is a constant or a variable.
    fn visit_pat_ident(&mut self, name: &'ast PatIdent) {
        let text = plain(&name.ident);
        if text.starts_with(char::is_uppercase) {
            self.path(vec![text], name.ident.span().start().line);
        } else {
            self.bring(text, Brought::Variable);
        }
        visit::visit_pat_ident(self, name);
    }

    fn visit_local(&mut self, local: &'ast Local) {
        // `let words = words(text)` calls the function
        if let Some(init) = &local.init {
            self.visit_local_init(init);
        }
        self.visit_pat(&local.pat);
    }

    fn visit_block(&mut self, block: &'ast Block) {
        self.scoped(|code| {
            for statement in &block.stmts {
                let name = match statement {
                    Stmt::Item(Item::Fn(item)) => &item.sig.ident,
                    Stmt::Item(Item::Struct(item)) => &item.ident,
                    Stmt::Item(Item::Enum(item)) => &item.ident,
                    Stmt::Item(Item::Const(item)) => &item.ident,
                    _ => continue,
                };
                code.bring(plain(name), Brought::Item);
            }
            visit::visit_block(code, block);
        });
    }

    fn visit_arm(&mut self, arm: &'ast Arm) {
        self.scoped(|code| visit::visit_arm(code, arm));
    }

    fn visit_expr(&mut self, expression: &'ast Expr) {
        match expression {
            Expr::Closure(_) | Expr::If(_) | Expr::While(_) => {
                self.scoped(|code| visit::visit_expr(code, expression));
            }
            // what is gone through is named before the variable is
            Expr::ForLoop(each) => self.scoped(|code| {
                code.visit_expr(&each.expr);
                code.visit_pat(&each.pat);
                code.visit_block(&each.body);
            }),
            _ => visit::visit_expr(self, expression),
        }
    }

    fn visit_item(&mut self, item: &'ast Item) {
        self.scoped(|code| visit::visit_item(code, item));
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.scoped(|code| visit::visit_impl_item_fn(code, item));
    }

    fn visit_trait_item_fn(&mut self, item: &'ast syn::TraitItemFn) {
        self.scoped(|code| visit::visit_trait_item_fn(code, item));
    }

    fn visit_item_use(&mut self, _: &'ast ItemUse) {}

    fn visit_visibility(&mut self, _: &'ast Visibility) {}

    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}
}
