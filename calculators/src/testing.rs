//! What the crate's tests share: the catalog with the demonstration's equipment, and the values of
//! its first job.

use std::sync::LazyLock;

use crate::catalog::{Catalog, Job};
use crate::ground::Ground;
use crate::source::SourceFile;
use crate::{builtin, kit};

const HOSES: &str = include_str!("../../content/equipment/hose-sizes.toml");
const KIT: &str = include_str!("../../content/equipment/yard-drive.toml");

/// The built-in catalog with the demonstration's table of hoses.
pub static CATALOG: LazyLock<Catalog> = LazyLock::new(|| with_hoses(HOSES));

/// The built-in catalog with a yard's own table of hoses.
pub fn with_hoses(table: &str) -> Catalog {
    let mut files = builtin();
    files.push(SourceFile {
        path: "content/equipment/hose-sizes.toml".into(),
        text: table.into(),
    });
    let (catalog, findings) = Catalog::load(&files);
    assert_eq!(findings, []);
    catalog
}

/// The first demonstration job on the demonstration's equipment.
pub fn demonstration() -> Job {
    DEMONSTRATION.clone()
}

static DEMONSTRATION: LazyLock<Job> = LazyLock::new(|| {
    let mut job = prepared(include_str!("../../content/jobs/t1.md"));
    let (kit, findings) = kit::load("content/equipment/yard-drive.toml", KIT, &CATALOG);
    assert_eq!(findings, []);
    for (name, rating) in kit.expect("the demonstration has a kit").ratings.iter() {
        job.set(name, &rating.text.value, Ground::Rated, &rating.source);
    }
    job.shows_defaults = true;
    job
});

/// The measurements of a job as a page of the demonstration gives them: `name = "value"`, between
/// commas.
pub fn prepared(page: &str) -> Job {
    let given = page
        .lines()
        .find_map(|line| line.strip_prefix("given = {"))
        .expect("the job's page gives its values");
    let parts: Vec<&str> = given.split('"').collect();
    let pairs = parts.chunks_exact(2);
    pairs
        .map(|pair| {
            let name = pair[0].trim_matches([' ', ',', '=']);
            (name.to_string(), pair[1].to_string())
        })
        .collect()
}
