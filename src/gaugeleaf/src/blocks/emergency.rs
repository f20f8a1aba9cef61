//! `emergency`: whom to call, as large links, or as lines to fill in where a demonstration names nobody.

use serde::Serialize;

use crate::handbook::emergency::dialled;
use crate::handbook::kind::BlockShape;
use crate::language::tell;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::Block;
use crate::page::sections::{Section, SectionKind};

/// `emergency`: the handbook's emergency numbers.
pub struct EmergencyBlock;

impl BlockShape for EmergencyBlock {
    fn name(&self) -> &'static str {
        "emergency"
    }

    fn help(&self) -> &'static str {
        "Whom to call in an emergency, from handbook.toml, each number ready to dial."
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl BlockKind for EmergencyBlock {
    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let mut all = Composed::of(());
        let id = all.take(fence.alone(self.name(), context));
        all.take(fence.settings(context, |_| ()));
        all.with(Some(numbers(&id, context)))
    }
}

/// What `blocks/emergency.html` is given as `emergency`.
#[derive(Serialize)]
struct EmergencyView<'n> {
    numbers: Vec<EmergencyNumberView<'n>>,
}

#[derive(Serialize)]
struct EmergencyNumberView<'n> {
    label: &'n str,
    number: &'n str,
    note: &'n str,
    dial: String,
}

fn numbers(id: &str, context: &Context) -> Block {
    let known = context.emergency_numbers();
    let views: Vec<EmergencyNumberView> = known
        .iter()
        .map(|one| EmergencyNumberView {
            label: &one.label,
            number: &one.number,
            note: &one.note,
            dial: dialled(&one.number).unwrap_or_default(),
        })
        .collect();
    let said: Vec<String> = known
        .iter()
        .map(|one| format!("{}: {}", one.label, one.number))
        .collect();
    let section = Section {
        kind: SectionKind::Heading,
        id: id.to_string(),
        title: tell::whom_to_call(),
        text: said.join(". "),
        ..Section::default()
    };
    let view = EmergencyView { numbers: views };
    Block {
        found: vec![section],
        ..Block::new("blocks/emergency.html", "emergency", &view).id(id)
    }
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    #[test]
    fn without_numbers_there_are_lines_to_write_them_on() {
        let (html, findings) = printed("```emergency\n```\n");
        assert_eq!(findings, []);
        assert_eq!(html.matches(":</li>").count(), 3, "{html}");
        assert!(!html.contains("tel:"), "{html}");
    }

    #[test]
    fn a_setting_in_it_is_told() {
        let (_, findings) = printed("```emergency\nnumber = \"112\"\n```\n");
        let codes: Vec<&str> = findings.iter().map(|one| one.code.name()).collect();
        assert!(codes.contains(&"unknown-setting"), "{codes:?}");
    }
}
