//! The codes of findings: an enum made from the table `codes.toml` by the build script, so
//! that a code without an entry doesn't compile.

use std::fmt;

include!(concat!(env!("OUT_DIR"), "/code.rs"));

impl fmt::Display for Code {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.pad(self.name())
    }
}
