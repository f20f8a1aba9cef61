//! What every form of findings can do.

use gaugeleaf_finding::Finding;

use crate::report::Sources;

/// Whoever turns findings into text.
pub trait Emitter {
    /// Every finding, in the order given.
    fn emit(&self, findings: &[Finding], sources: &Sources) -> String;
}
