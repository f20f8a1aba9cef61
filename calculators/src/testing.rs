//! What the crate's tests share: the demonstration's values.

use std::sync::LazyLock;

use gaugeleaf_finding::Excerpt;
use gaugeleaf_finding::settings::{self, SettingField, SettingType};

use crate::builtin;
use crate::catalog::{Catalog, Job};
use crate::ground::Ground;
use crate::kit;
use crate::source::SourceFile;

const HOSES: &str = include_str!("../../content/equipment/hose-sizes.toml");
const KIT: &str = include_str!("../../content/equipment/yard-drive.toml");
const JOB: &str = include_str!("../../content/jobs/t1.md");

const FIELDS: &[SettingField] = &[SettingField::new(
    "given",
    SettingType::Quantities,
    "Values.",
)];

static DEMONSTRATION: LazyLock<Job> = LazyLock::new(|| {
    let mut job = Job::new();
    job.shows_defaults = true;
    let given = JOB.lines().find(|line| line.starts_with("given = "));
    let given = Excerpt::whole(given.expect("the job's values"));
    let mut findings = Vec::new();
    let given = settings::read("t1.md", &given, FIELDS, &mut findings, |settings| {
        settings.quantities("given")
    });
    for one in given {
        job.set(&one.name.value, &one.text.value, Ground::Measured, "");
    }
    // the kit's hose is a row of the yard's own table
    let mut files = builtin();
    files.push(SourceFile {
        path: "content/equipment/hose-sizes.toml".to_string(),
        text: HOSES.to_string(),
    });
    let (catalog, found) = Catalog::load(&files);
    findings.extend(found);
    let (kit, found) = kit::load("yard-drive.toml", KIT, &catalog);
    findings.extend(found);
    assert_eq!(findings, []);
    for (name, rating) in kit.expect("a kit").ratings {
        job.set(&name, &rating.text.value, Ground::Rated, "");
    }
    job
});

/// The first demonstration job on the demonstration's equipment.
pub fn demonstration(_: &Catalog) -> Job {
    DEMONSTRATION.clone()
}
