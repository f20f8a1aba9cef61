//! DANGER is kept for what will kill: where every tenth hazard bears the word, it
//! stops meaning anything.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::page_text::PageText;
use crate::prose::parts::PartKind;

/// Fewer hazards than this say nothing about shares.
const ENOUGH: usize = 10;

/// Finds a handbook that says DANGER too often, at the first one.
pub fn danger_share(page_texts: &[PageText], findings: &mut Vec<Finding>) {
    let hazards: Vec<_> = page_texts
        .iter()
        .flat_map(|page_text| page_text.parts.iter().map(move |part| (page_text, part)))
        .filter(|(_, part)| matches!(part.kind, PartKind::Hazard(_)))
        .collect();
    let dangers: Vec<_> = hazards
        .iter()
        .filter(|(_, part)| part.kind == PartKind::Hazard("DANGER"))
        .collect();
    if hazards.len() < ENOUGH || dangers.len() * 10 <= hazards.len() {
        return;
    }
    let Some((page_text, part)) = dangers.first() else {
        return;
    };
    let message = format!(
        "{} of the handbook's {} hazards are a DANGER, more than one in ten",
        dangers.len(),
        hazards.len()
    );
    findings.push(
        Finding::warning(
            Code::DangerShare,
            page_text.file,
            part.range.clone(),
            message,
        )
        .help("keep DANGER for what will kill, and write WARNING for what can"),
    );
}

#[cfg(test)]
mod tests {
    use crate::prose::danger_share::danger_share;
    use crate::prose::testing::found;

    fn shares(dangers: usize, warnings: usize) -> usize {
        let text = "> **DANGER** x\n\n".repeat(dangers) + &"> **WARNING** x\n\n".repeat(warnings);
        found(
            |page_text, findings| danger_share(std::slice::from_ref(page_text), findings),
            &text,
        )
        .len()
    }

    #[test]
    fn more_than_a_tenth_of_dangers_is_one_finding() {
        assert_eq!((shares(2, 18), shares(3, 18), shares(3, 2)), (0, 1, 0));
    }
}
