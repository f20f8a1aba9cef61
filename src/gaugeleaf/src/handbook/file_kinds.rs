//! The kinds of TOML file that a handbook holds, each with its table of fields.

use gaugeleaf_calc::finding::settings::{SettingField, SettingType};
use gaugeleaf_calc::{calculator, kit, named, table};

use crate::handbook::answered::ANSWERED;
use crate::handbook::emergency::EMERGENCY;
use crate::handbook::places::{RULES_FILE, WORDS_FILE};

/// A kind of file.
#[derive(Debug, Clone, Copy)]
pub struct FileKind {
    /// As a schema and the reference of keys call it.
    pub name: &'static str,
    /// Where such files lie, with `NAME` for what the trainer names.
    pub place: &'static str,
    /// What it is for, in one sentence.
    pub help: &'static str,
    pub fields: &'static [SettingField],
}

/// Every kind, in the order in which a trainer meets them.
pub const FILE_KINDS: [FileKind; 8] = [
    FileKind {
        name: "handbook",
        place: "handbook.toml",
        help: "What every page of the handbook says of the whole.",
        fields: HANDBOOK,
    },
    FileKind {
        name: "phase",
        place: "content/NAME/phase.toml",
        help: "Makes a folder of pages a phase of the work.",
        fields: PHASE,
    },
    FileKind {
        name: "words",
        place: WORDS_FILE,
        help: "The terms of the trade, and what people say for them.",
        fields: WORDS,
    },
    FileKind {
        name: "rules",
        place: RULES_FILE,
        help: "Words that the writing rules go by, beside those that they know.",
        fields: RULES,
    },
    FileKind {
        name: "calculator-file",
        place: "calculators/NAME.toml",
        help: "A calculator: what goes in, the formulas, what comes out, and worked examples.",
        fields: calculator::FIELDS,
    },
    FileKind {
        name: "table-file",
        place: "calculators/NAME.toml",
        help: "A table of values with its source; one of the equipment's lies in content/equipment.",
        fields: table::FIELDS,
    },
    FileKind {
        name: "kit-file",
        place: "content/equipment/NAME.toml",
        help: "A kit: one set of equipment, with the values that it fixes and where each was read.",
        fields: kit::FIELDS,
    },
    FileKind {
        name: "values-file",
        place: "calculators/NAME.toml",
        help: "Names of measurements that the crew takes, and of ratings that the equipment fixes.",
        fields: named::FIELDS,
    },
];

pub const HANDBOOK: &[SettingField] = &[
    SettingField::new(
        "title",
        SettingType::Text,
        "The handbook's name, at the top of every page.",
    )
    .needed("every page names its handbook"),
    SettingField::new(
        "short",
        SettingType::Text,
        "Its name under its sign on a phone's home screen, where a long title is cut.",
    ),
    SettingField::new(
        "subtitle",
        SettingType::Text,
        "What it covers, under the title.",
    ),
    SettingField::new(
        "revision",
        SettingType::Text,
        "Which revision this is, printed on every card.",
    )
    .needed("a printed card must say how old it is"),
    SettingField::new(
        "caution",
        SettingType::Text,
        "The usual caution, at the foot of every page.",
    )
    .needed("every page carries the usual caution"),
    SettingField::new(
        "language",
        SettingType::Text,
        "The language of the pages as a code; `en` otherwise.",
    ),
    SettingField::new(
        "owner",
        SettingType::Text,
        "Who keeps the pages right, by name or post; printed on every card.",
    ),
    SettingField::new(
        "approver",
        SettingType::Text,
        "Who approves what is issued, by name or post; printed on every card that was issued.",
    ),
    SettingField::new(
        "address",
        SettingType::Text,
        "Where the published site is reached, starting with https; each card's code leads there.",
    ),
    SettingField::new(
        "job",
        SettingType::Text,
        "What the job is called whose values the handbook prints.",
    ),
    SettingField::new(
        "given",
        SettingType::Quantities,
        "Values of that job, by the names of measurements.",
    ),
    SettingField::new(
        "kit",
        SettingType::Text,
        "The kit that serves where no job names one.",
    ),
    SettingField::new(
        "demonstration",
        SettingType::Truth,
        "Whether the equipment is invented: every verdict then says that it is for training.",
    ),
    SettingField::new(
        "leave_out",
        SettingType::Texts,
        "Calculators that the yard doesn't use, by name.",
    ),
    EMERGENCY,
    ANSWERED,
];

pub const PHASE: &[SettingField] = &[
    SettingField::new(
        "title",
        SettingType::Text,
        "The phase's name in every list.",
    )
    .needed("a phase is listed by its title"),
    SettingField::new(
        "order",
        SettingType::Whole,
        "Its place in the work; leave gaps for phases to come.",
    )
    .needed("phases are worked in order"),
    SettingField::new(
        "purpose",
        SettingType::Text,
        "What is done when the phase is over, in one line.",
    )
    .needed("a phase says what is done when it is over"),
];

/// What the `page` block at the top of a page holds.
pub const PAGE: &[SettingField] = &[
    SettingField::new(
        "order",
        SettingType::Whole,
        "The page's place within its phase; leave gaps.",
    ),
    SettingField::new(
        "time",
        SettingType::Text,
        "How long the work takes, printed at the top.",
    ),
    SettingField::new(
        "people",
        SettingType::Texts,
        "Who has to be there, printed at the top.",
    ),
    SettingField::new(
        "tools",
        SettingType::Texts,
        "What has to be at hand, printed at the top.",
    ),
    SettingField::new(
        "review",
        SettingType::Date,
        "The day by which somebody looks the page over.",
    ),
    SettingField::new(
        "owner",
        SettingType::Text,
        "Who keeps the page right, where that isn't the handbook's owner.",
    ),
    SettingField::new(
        "approver",
        SettingType::Text,
        "Who approves what is issued of the page, where that isn't the handbook's approver.",
    ),
    SettingField::new(
        "given",
        SettingType::Quantities,
        "Values of the job that hold on this page alone, by the names of measurements.",
    ),
    SettingField::new(
        "job",
        SettingType::Text,
        "Makes the page a prepared job of this name, with the values under `given`.",
    ),
    SettingField::new(
        "kit",
        SettingType::Text,
        "The kit that this job uses, beside `job`; the handbook's otherwise.",
    ),
    SettingField::new(
        "also",
        SettingType::Texts,
        "What people say for the page: a search for it leads here.",
    ),
    SettingField::new(
        "aside",
        SettingType::Truth,
        "Whether the page is for others than the crew: a search shows it below all else.",
    ),
    SettingField::new(
        "urgent",
        SettingType::Truth,
        "Whether it is for somebody in need: a search shows it above all for whoever says one of `also`.",
    ),
    ANSWERED,
];

pub const WORDS: &[SettingField] = &[SettingField::new(
    "term",
    SettingType::Tables(TERM),
    "A term of the trade.",
)];

const TERM: &[SettingField] = &[
    SettingField::new("name", SettingType::Text, "The word that the pages use.")
        .needed("a term is a word"),
    SettingField::new(
        "means",
        SettingType::Text,
        "What it means; value links work in it.",
    )
    .needed("the glossary says what a term means"),
    SettingField::new(
        "also",
        SettingType::Texts,
        "What people say for it; each word stands for one term alone.",
    ),
    SettingField::new(
        "see",
        SettingType::Text,
        "The page that tells more, and `#heading` for a place on it.",
    ),
];

pub const RULES: &[SettingField] = &[
    SettingField::new(
        "verbs",
        SettingType::Texts,
        "Verbs that a step may begin with.",
    ),
    SettingField::new(
        "pressure",
        SettingType::Texts,
        "Acts that put pressure on, such as `open fill|water valve`.",
    ),
    SettingField::new(
        "pressure_names",
        SettingType::Texts,
        "Words by which a hazard names pressure, such as `hose end`.",
    ),
    SettingField::new("air", SettingType::Texts, "Acts that let air in."),
    SettingField::new(
        "air_names",
        SettingType::Texts,
        "Words by which a hazard names air and what it moves.",
    ),
    SettingField::new("lifting", SettingType::Texts, "Acts that move a load."),
    SettingField::new(
        "lifting_names",
        SettingType::Texts,
        "Words by which a hazard names a weight.",
    ),
    SettingField::new(
        "entering",
        SettingType::Texts,
        "Acts that bring somebody in reach.",
    ),
    SettingField::new(
        "entering_names",
        SettingType::Texts,
        "Words by which a hazard names what waits there.",
    ),
    SettingField::new(
        "release",
        SettingType::Texts,
        "Acts that let out what is trapped.",
    ),
    SettingField::new(
        "release_names",
        SettingType::Texts,
        "Words by which a hazard names what is trapped.",
    ),
    SettingField::new(
        "abbreviations",
        SettingType::Texts,
        "Words in capitals that need no more explaining.",
    ),
];
