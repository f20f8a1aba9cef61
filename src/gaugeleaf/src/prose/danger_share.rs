//! DANGER is kept for what will kill: where every tenth hazard bears the word, it
//! stops meaning anything.

use gaugeleaf_calc::finding::{Code, Finding};

use crate::prose::manuscript::Kind;
use crate::prose::sheet::Sheet;

/// Fewer hazards than this say nothing about shares.
const ENOUGH: usize = 10;

/// Finds a handbook that says DANGER too often, at the first one.
pub fn danger_share(sheets: &[Sheet], findings: &mut Vec<Finding>) {
    let hazards: Vec<_> = sheets
        .iter()
        .flat_map(|sheet| sheet.parts.iter().map(move |part| (sheet, part)))
        .filter(|(_, part)| matches!(part.kind, Kind::Hazard(_)))
        .collect();
    let dangers: Vec<_> = hazards
        .iter()
        .filter(|(_, part)| part.kind == Kind::Hazard("DANGER"))
        .collect();
    if hazards.len() < ENOUGH || dangers.len() * 10 <= hazards.len() {
        return;
    }
    let Some((sheet, part)) = dangers.first() else {
        return;
    };
    let message = format!(
        "{} of the handbook's {} hazards are a DANGER, more than one in ten",
        dangers.len(),
        hazards.len()
    );
    findings.push(
        Finding::warning(Code::DangerShare, sheet.file, part.range.clone(), message)
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
            |sheet, findings| danger_share(std::slice::from_ref(sheet), findings),
            &text,
        )
        .len()
    }

    #[test]
    fn more_than_a_tenth_of_dangers_is_one_finding() {
        assert_eq!((shares(2, 18), shares(3, 18), shares(3, 2)), (0, 1, 0));
    }
}
