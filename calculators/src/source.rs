//! The files of a catalog, as whoever reads the disk hands them over.

/// One file of a catalog: its path inside the handbook, and its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceFile {
    pub path: String,
    pub text: String,
}
