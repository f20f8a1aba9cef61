//! Every kind of block: what a page is handed.

use crate::blocks::attachment::AttachmentBlock;
use crate::blocks::chart::ChartBlock;
use crate::blocks::checks::ChecksBlock;
use crate::blocks::emergency::EmergencyBlock;
use crate::blocks::figure::FigureBlock;
use crate::blocks::found::FoundBlock;
use crate::blocks::glossary::GlossaryBlock;
use crate::blocks::head::PageBlock;
use crate::blocks::job_form::JobFormBlock;
use crate::blocks::keys::KeysBlock;
use crate::blocks::question::QuestionBlock;
use crate::blocks::register::RegisterBlock;
use crate::blocks::role::RoleBlock;
use crate::blocks::setup_sheet::SetupSheetBlock;
use crate::blocks::task::TaskBlock;
use crate::blocks::test_page::TestBlock;
use crate::blocks::tube_map::TubeMapBlock;
use crate::blocks::walk::WalkBlock;
use crate::blocks::widget::CalculatorBlock;
use crate::handbook::kind::BlockShape;
use crate::page::kind::BlockKind;

/// In the order in which a finding lists them.
pub const KINDS: [&dyn BlockKind; 19] = [
    &PageBlock,
    &CalculatorBlock,
    &ChartBlock,
    &FigureBlock,
    &ChecksBlock,
    &QuestionBlock,
    &TestBlock,
    &TaskBlock,
    &RoleBlock,
    &RegisterBlock,
    &SetupSheetBlock,
    &JobFormBlock,
    &TubeMapBlock,
    &GlossaryBlock,
    &EmergencyBlock,
    &WalkBlock,
    &FoundBlock,
    &AttachmentBlock,
    &KeysBlock,
];

/// The same as an outline and the writing rules see them.
pub fn shapes() -> [&'static dyn BlockShape; KINDS.len()] {
    KINDS.map(|kind| kind as &dyn BlockShape)
}
