//! Where a site goes, and whether what is there may be replaced.

use std::fs;
use std::path::{Component, Path, PathBuf};

use rayon::prelude::*;

use super::manifest::{MANIFEST, SiteManifest};
use super::refused::Refused;
use crate::values::hash::is_as_marked;

/// What a handbook is read from, and no site is written into.
const READ_FROM: [&str; 3] = ["content", "calculators", "themes"];

/// Where a target really lies.
///
/// # Errors
/// No site may be written there, whatever it holds.
pub fn find(target: &Path, handbook: &Path) -> Result<PathBuf, Refused> {
    if !target.exists()
        && let Ok(to) = fs::read_link(target)
    {
        return Err(Refused::LinkToNothing(target.to_path_buf(), to));
    }
    let real = real(target)?;
    if real.parent().is_none() || real.file_name().is_none() {
        return Err(Refused::NotOurs(real));
    }
    for folder in READ_FROM {
        let folder = handbook.join(folder);
        if real.starts_with(self::real(&folder)?) {
            return Err(Refused::Inside(target.to_path_buf(), folder));
        }
    }
    Ok(real)
}

/// A path without links, as far as it exists.
pub fn real(path: &Path) -> Result<PathBuf, Refused> {
    let find = |error| Refused::disk("find", path, error);
    let whole = std::path::absolute(path).map_err(find)?;
    let there = whole.ancestors().find_map(|part| {
        let real = part.canonicalize().ok()?;
        Some((real, whole.strip_prefix(part).ok()?))
    });
    let Some((mut real, rest)) = there else {
        return Ok(whole);
    };
    for part in rest.components() {
        match part {
            // what isn't there has no links either
            Component::ParentDir => {
                real.pop();
            }
            part => real.push(part),
        }
    }
    Ok(real)
}

/// Refuses a target with anything in it that our manifest doesn't list, and hands the manifest out.
pub fn ours(target: &Path) -> Result<Option<SiteManifest>, Refused> {
    if !target.exists() {
        return Ok(None);
    }
    if !target.is_dir() {
        return Err(Refused::NotOurs(target.to_path_buf()));
    }
    let manifest = SiteManifest::of(target);
    for entry in walkdir::WalkDir::new(target)
        .min_depth(1)
        .sort_by_file_name()
    {
        let entry = entry.map_err(|error| Refused::disk("read", target, error.into()))?;
        let inside = entry.path().strip_prefix(target).unwrap_or(entry.path());
        let name = inside.to_string_lossy().replace('\\', "/");
        let known = manifest
            .as_ref()
            .is_some_and(|held| name == MANIFEST || held.marks.contains_key(&name));
        let only_holds = manifest.is_some() && entry.file_type().is_dir();
        if !(known || only_holds) {
            return Err(Refused::NotOurs(entry.into_path()));
        }
    }
    Ok(manifest)
}

/// Refuses a site of a handbook that is called otherwise, where that tells whose it is.
pub fn of_handbook(target: &Path, manifest: &SiteManifest, title: &str) -> Result<(), Refused> {
    match manifest.handbook.as_ref().filter(|other| *other != title) {
        Some(other) => Err(Refused::OfAnother(target.to_path_buf(), other.clone())),
        None => Ok(()),
    }
}

/// Refuses a site that isn't as it was published. A file that is gone is no loss.
pub fn as_published(target: &Path, manifest: &SiteManifest) -> Result<(), Refused> {
    let edited = manifest.marks.par_iter().find_map_first(|(path, known)| {
        let at = target.join(path);
        let changed = fs::read(&at).is_ok_and(|bytes| !is_as_marked(&bytes, known));
        changed.then_some(at)
    });
    edited.map_or(Ok(()), |at| Err(Refused::Edited(at)))
}
