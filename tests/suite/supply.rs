//! What the workspace is built of: licences, packages in two versions, those that nobody keeps, and
//! a reason for each that we ask for.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::process::Command;

use serde::Deserialize;
use serde_json::Value;

use crate::root;

/// `tests/supply.toml`.
#[derive(Deserialize)]
struct Supply {
    allowed: BTreeSet<String>,
    licence: Vec<Licence>,
    double: Vec<Named>,
    unkept: Vec<Named>,
}

#[derive(Deserialize)]
struct Licence {
    is: String,
    of: Vec<String>,
}

#[derive(Deserialize)]
struct Named {
    name: String,
    because: String,
}

#[derive(Deserialize)]
struct Lock {
    package: Vec<Package>,
}

#[derive(Deserialize)]
struct Package {
    name: String,
    /// None where it is ours.
    source: Option<String>,
}

fn read(path: &str) -> String {
    fs::read_to_string(root().join(path)).expect("a file of the repository")
}

fn supply() -> Supply {
    toml::from_str(&read("tests/supply.toml")).expect("the table of what we are built of")
}

/// Packages from elsewhere, and in how many versions, on whatever system.
fn locked() -> BTreeMap<String, usize> {
    let lock: Lock = toml::from_str(&read("Cargo.lock")).expect("a lock file");
    let mut locked = BTreeMap::new();
    for package in lock.package.into_iter().filter(|one| one.source.is_some()) {
        *locked.entry(package.name).or_default() += 1;
    }
    locked
}

/// The licence of each package that this system takes, as its own manifest states it.
fn stated() -> BTreeMap<String, String> {
    let host = Command::new("rustc").arg("-vV").output().expect("rustc");
    let host = String::from_utf8(host.stdout).expect("UTF-8");
    let host = host.lines().find_map(|line| line.strip_prefix("host: "));
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let output = Command::new(cargo)
        .args(["metadata", "--locked", "--offline", "--format-version=1"])
        .args(["--filter-platform", host.expect("this system's name")])
        .current_dir(root())
        .output()
        .expect("cargo");
    let said = String::from_utf8_lossy(&output.stderr);
    let metadata: Value =
        serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{said}"));
    let packages = metadata["packages"].as_array().expect("packages").iter();
    let others = packages.filter(|package| !package["source"].is_null());
    let text = |value: &Value| value.as_str().unwrap_or("none").to_string();
    others
        .map(|package| (text(&package["name"]), text(&package["license"])))
        .collect()
}

/// Whether a licence leaves a choice that is allowed: `(MIT OR Apache-2.0) AND NCSA`.
fn leaves_a_choice(licence: &str, allowed: &BTreeSet<String>) -> bool {
    let spelt = licence.replace(" / ", " OR ").replace('/', " OR ");
    let mixed = spelt.contains(" AND ") && !spelt.contains('(');
    !mixed
        && spelt.split(" AND ").all(|part| {
            let mut choices = part.trim_matches(['(', ')']).split(" OR ");
            choices.any(|choice| allowed.contains(choice))
        })
}

#[test]
fn every_package_has_a_licence_that_is_allowed_and_known_here() {
    let supply = supply();
    let mut known = BTreeMap::new();
    for Licence { is, of } in &supply.licence {
        assert!(
            leaves_a_choice(is, &supply.allowed),
            "{is} of {of:?} is not allowed"
        );
        for name in of {
            assert!(
                known.insert(name.clone(), is.clone()).is_none(),
                "{name} stands there twice"
            );
        }
    }
    let known_names: Vec<&String> = known.keys().collect();
    let locked = locked();
    assert_eq!(
        known_names,
        Vec::from_iter(locked.keys()),
        "tests/supply.toml and Cargo.lock"
    );
    let stated = stated();
    assert!(stated.len() > 100, "{}", stated.len());
    for (name, licence) in stated {
        assert_eq!(known.get(&name), Some(&licence), "{name}");
    }
}

#[test]
fn a_licence_that_forces_another_on_us_is_no_choice() {
    let allowed = supply().allowed;
    for licence in [
        "GPL-3.0",
        "MIT AND GPL-3.0",
        "(MIT OR Zlib) AND MPL-2.0",
        "none",
        "",
    ] {
        assert!(!leaves_a_choice(licence, &allowed), "{licence}");
    }
    for licence in [
        "MIT OR LGPL-2.1-or-later",
        "Unlicense/MIT",
        "(GPL-2.0 OR MIT) AND ISC",
    ] {
        assert!(leaves_a_choice(licence, &allowed), "{licence}");
    }
}

#[test]
fn a_package_is_there_in_two_versions_only_with_a_reason() {
    let locked = locked().into_iter().filter(|(_, versions)| *versions > 1);
    let doubles: Vec<String> = locked.map(|(name, _)| name).collect();
    let told = supply().double;
    assert!(told.iter().all(|one| !one.because.is_empty()));
    let told: Vec<String> = told.into_iter().map(|one| one.name).collect();
    assert_eq!(told, doubles, "tests/supply.toml and Cargo.lock");
}

#[test]
fn a_package_that_nobody_keeps_is_answered_for_as_long_as_it_is_there() {
    let (supply, locked) = (supply(), locked());
    for Named { name, because } in &supply.unkept {
        assert!(
            locked.contains_key(name),
            "{name} is gone: so may its answer be"
        );
        assert!(because.len() > 80, "{name}: {because}");
    }
}

#[test]
fn every_library_has_a_reason_above_it_and_somebody_who_uses_it() {
    let manifest = read("Cargo.toml");
    let table = manifest
        .split_once("[workspace.dependencies]\n")
        .expect("its libraries")
        .1;
    let lines: Vec<&str> = table
        .lines()
        .take_while(|line| !line.starts_with('['))
        .collect();
    let members = [
        "src/finding",
        "calculators",
        "src/lookup",
        "src/engine",
        "src/gaugeleaf",
        "tests",
        "tests/fuzz",
    ];
    let members = members.map(|member| read(&format!("{member}/Cargo.toml")));
    let mut libraries = 0;
    for (at, line) in lines.iter().enumerate() {
        let Some((name, told)) = line.split_once(" = ") else {
            continue;
        };
        let of_ours = told.contains("path = ");
        let above = at.checked_sub(1).map_or("", |above| lines[above]);
        assert!(of_ours || above.starts_with("# "), "no reason above {name}");
        let asked = |member: &String| {
            let mut lines = member.lines();
            lines.any(|line| {
                line.starts_with(&format!("{name}.workspace"))
                    || line.starts_with(&format!("{name} = {{ workspace"))
            })
        };
        assert!(members.iter().any(asked), "nobody uses {name}");
        libraries += usize::from(!of_ours);
    }
    assert!(libraries > 30, "{libraries}");
    let listed = manifest
        .lines()
        .find(|line| line.starts_with("members = "))
        .expect("members");
    assert_eq!(
        listed.matches('"').count(),
        2 * members.len(),
        "a member is not looked at"
    );
}
