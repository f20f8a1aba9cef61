//! What the crate's tests share: the demonstration's catalog.

use gaugeleaf_calc::catalog::{Own, Rated};
use gaugeleaf_calc::{Catalog, builtin};

const HOSES: &str = include_str!("../../../content/equipment/hose-sizes.toml");
const KIT: &str = include_str!("../../../content/equipment/yard-drive.toml");
const T1: &str = include_str!("../../../content/jobs/t1.md");

/// The built-in catalog with the demonstration's kit, and its first job as the handbook's.
pub fn demonstration() -> Catalog {
    let mut files = builtin();
    files.push(gaugeleaf_calc::SourceFile {
        path: "content/equipment/hose-sizes.toml".into(),
        text: HOSES.into(),
    });
    let (mut catalog, findings) = Catalog::load(&files);
    assert_eq!(findings, []);
    let (kit, findings) = gaugeleaf_calc::kit::load("yard-drive.toml", KIT, &catalog);
    assert_eq!(findings, []);
    let ratings = kit
        .expect("a kit")
        .ratings
        .into_iter()
        .map(|(name, rating)| {
            let rated = Rated {
                text: rating.text.value,
                from: rating.source,
            };
            (name, rated)
        });
    let given = T1.lines().find(|line| line.starts_with("given = "));
    let given: Vec<&str> = given.expect("the job's values").split('"').collect();
    catalog.own = Own {
        kits: [("yard".to_string(), ratings.collect())].into(),
        kit: "yard".into(),
        job: "T1".into(),
        given: given
            .chunks_exact(2)
            .map(|pair| {
                let name = pair[0]
                    .trim_start_matches("given = {")
                    .trim_matches([' ', ',', '=']);
                (name.to_string(), pair[1].to_string())
            })
            .collect(),
        ..Own::default()
    };
    catalog
}
