//! What the crate's tests share: the built-in catalog, and the demonstration's values.

use crate::catalog::{Catalog, Job};
use crate::ground::Ground;
use crate::named::Role;

/// The first demonstration job on the demonstration's equipment.
pub fn demonstration(catalog: &Catalog) -> Job {
    let mut job = Job::new();
    for named in catalog.named.values() {
        let ground = match named.role {
            Role::Measurement => Ground::Measured,
            Role::Rating => Ground::Rated,
        };
        job.set(&named.field.name, &named.old, ground, "");
    }
    job.shows_defaults = true;
    job
}
