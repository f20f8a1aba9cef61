//! DANGER is kept for what will kill: where every tenth hazard bears the word, it
//! stops meaning anything.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;
use crate::prose::parts::PartKind;

/// Fewer hazards than this say nothing about shares.
const ENOUGH: usize = 10;

/// A page's hazards.
pub struct HazardCount {
    hazards: usize,
    dangers: usize,
    /// Where the first DANGER stands, by file and range.
    first: Option<(String, Range<usize>)>,
}

pub fn counted(page_text: &PageText) -> HazardCount {
    let hazards = page_text.parts.iter().filter_map(|part| match part.kind {
        PartKind::Hazard(word) => Some((word == "DANGER", part)),
        _ => None,
    });
    let mut count = HazardCount {
        hazards: 0,
        dangers: 0,
        first: None,
    };
    for (danger, part) in hazards {
        count.hazards += 1;
        if danger {
            count.dangers += 1;
            let first = || (page_text.file.to_string(), part.range.clone());
            count.first.get_or_insert_with(first);
        }
    }
    count
}

/// Finds a handbook that says DANGER too often, at the first one.
pub fn danger_share<'p>(pages: impl Iterator<Item = &'p HazardCount> + Clone) -> Option<Finding> {
    let hazards: usize = pages.clone().map(|page| page.hazards).sum();
    let dangers: usize = pages.clone().map(|page| page.dangers).sum();
    if hazards < ENOUGH || dangers * 10 <= hazards {
        return None;
    }
    let mut pages = pages;
    let (file, range) = pages.find_map(|page| page.first.clone())?;
    let message =
        format!("{dangers} of the handbook's {hazards} hazards are a DANGER, more than one in ten");
    let finding = Finding::warning(Code::DangerShare, &file, range, message);
    Some(finding.help("keep DANGER for what will kill, and write WARNING for what can"))
}

#[cfg(test)]
mod tests {
    use crate::prose::danger_share::{counted, danger_share};
    use crate::prose::testing::found;

    fn shares(dangers: usize, warnings: usize) -> usize {
        let text = "> **DANGER** x\n\n".repeat(dangers) + &"> **WARNING** x\n\n".repeat(warnings);
        found(
            |page_text, findings| {
                findings.extend(danger_share(std::iter::once(&counted(page_text))))
            },
            &text,
        )
        .len()
    }

    #[test]
    fn more_than_a_tenth_of_dangers_is_one_finding() {
        assert_eq!((shares(2, 18), shares(3, 18), shares(3, 2)), (0, 1, 0));
    }
}
