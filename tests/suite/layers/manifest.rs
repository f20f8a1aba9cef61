//! The workspace's crates, from their manifests.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use serde::Deserialize;
use serde::de::{DeserializeOwned, IgnoredAny};

/// A crate as its manifest has it.
#[derive(Debug, Clone)]
pub struct Manifest {
    pub name: String,
    /// From the workspace's root, with forward slashes.
    pub folder: String,
    /// The roots of its module trees, from the crate's folder: its library first.
    pub roots: Vec<String>,
    /// What its code may name, tests apart, as the manifest spells it.
    pub dependencies: Vec<String>,
}

#[derive(Deserialize)]
struct WorkspaceFile {
    workspace: Workspace,
}

#[derive(Deserialize)]
struct Workspace {
    members: Vec<String>,
}

#[derive(Deserialize)]
struct CrateFile {
    package: Package,
    lib: Option<Library>,
    #[serde(flatten)]
    everywhere: Dependencies,
    #[serde(default)]
    target: BTreeMap<String, Dependencies>,
}

/// On every system, or on some.
#[derive(Deserialize)]
struct Dependencies {
    #[serde(default)]
    dependencies: BTreeMap<String, IgnoredAny>,
}

#[derive(Deserialize)]
struct Package {
    name: String,
}

#[derive(Deserialize)]
struct Library {
    path: Option<String>,
}

/// The crates of the workspace at a root, in its own order.
///
/// # Panics
/// When a manifest can't be read.
#[must_use]
pub fn manifests(root: &Path) -> Vec<Manifest> {
    let members = parse::<WorkspaceFile>(&root.join("Cargo.toml"))
        .workspace
        .members;
    members
        .into_iter()
        .map(|folder| {
            let file: CrateFile = parse(&root.join(&folder).join("Cargo.toml"));
            let library = file.lib.and_then(|library| library.path);
            let roots = [library.as_deref().unwrap_or("src/lib.rs"), "src/main.rs"];
            let roots = roots
                .into_iter()
                .filter(|path| root.join(&folder).join(path).exists());
            let on_some = file.target.into_values();
            let dependencies = std::iter::once(file.everywhere).chain(on_some);
            Manifest {
                name: file.package.name,
                roots: roots.map(str::to_owned).collect(),
                dependencies: dependencies
                    .flat_map(|some| some.dependencies.into_keys())
                    .collect(),
                folder,
            }
        })
        .collect()
}

fn parse<T: DeserializeOwned>(path: &Path) -> T {
    let text =
        fs::read_to_string(path).unwrap_or_else(|fault| panic!("{}: {fault}", path.display()));
    toml::from_str(&text).unwrap_or_else(|fault| panic!("{}: {fault}", path.display()))
}
