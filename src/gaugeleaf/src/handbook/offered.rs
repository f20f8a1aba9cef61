//! Files that a page may offer to its reader.

/// Their endings, and what people call such a file. None of them runs in a browser.
const KINDS: [(&str, &str); 9] = [
    ("csv", "CSV table"),
    ("docx", "DOCX document"),
    ("dxf", "DXF drawing"),
    ("ods", "ODS spreadsheet"),
    ("odt", "ODT document"),
    ("pdf", "PDF"),
    ("txt", "plain text"),
    ("xlsx", "XLSX spreadsheet"),
    ("zip", "ZIP archive"),
];

/// What people call a file that may be offered; none for any other.
pub fn called(path: &str) -> Option<&'static str> {
    let (_, ending) = path.rsplit_once('.')?;
    let ending = ending.to_ascii_lowercase();
    let kind = KINDS.iter().find(|(known, _)| *known == ending);
    kind.map(|(_, words)| *words)
}

/// The endings, for a finding.
pub fn endings() -> String {
    KINDS.map(|(ending, _)| format!(".{ending}")).join(", ")
}
