//! The kinds of TOML file that a handbook holds, each with its table of fields.

use gaugeleaf_calc::finding::settings::{Field, Takes};
use gaugeleaf_calc::{calculator, named, table};

use crate::handbook::places::{RULES_FILE, WORDS_FILE};

/// A kind of file.
#[derive(Debug, Clone, Copy)]
pub struct Form {
    /// As a schema and the reference of keys call it.
    pub name: &'static str,
    /// Where such files lie, with `NAME` for what the trainer names.
    pub place: &'static str,
    /// What it is for, in one sentence.
    pub help: &'static str,
    pub fields: &'static [Field],
}

/// Every kind, in the order in which a trainer meets them.
pub const FORMS: [Form; 7] = [
    Form {
        name: "handbook",
        place: "handbook.toml",
        help: "What every page of the handbook says of the whole.",
        fields: HANDBOOK,
    },
    Form {
        name: "phase",
        place: "content/NAME/phase.toml",
        help: "Makes a folder of pages a phase of the work.",
        fields: PHASE,
    },
    Form {
        name: "words",
        place: WORDS_FILE,
        help: "The terms of the trade, and what people say for them.",
        fields: WORDS,
    },
    Form {
        name: "rules",
        place: RULES_FILE,
        help: "Words that the writing rules go by, beside those that they know.",
        fields: RULES,
    },
    Form {
        name: "calculator-file",
        place: "calculators/NAME.toml",
        help: "A calculator: what goes in, the formulas, what comes out, and worked examples.",
        fields: calculator::FIELDS,
    },
    Form {
        name: "table-file",
        place: "calculators/NAME.toml",
        help: "A table of values with its source.",
        fields: table::FIELDS,
    },
    Form {
        name: "values-file",
        place: "calculators/NAME.toml",
        help: "Measurements that the crew takes, and ratings that the equipment fixes.",
        fields: named::FIELDS,
    },
];

pub const HANDBOOK: &[Field] = &[
    Field::new(
        "title",
        Takes::Text,
        "The handbook's name, at the top of every page.",
    )
    .needed("every page names its handbook"),
    Field::new("subtitle", Takes::Text, "What it covers, under the title."),
    Field::new(
        "revision",
        Takes::Text,
        "Which revision this is, printed on every card.",
    )
    .needed("a printed card must say how old it is"),
    Field::new(
        "caution",
        Takes::Text,
        "The usual caution, at the foot of every page.",
    )
    .needed("every page carries the usual caution"),
    Field::new(
        "language",
        Takes::Text,
        "The language of the pages as a code; `en` otherwise.",
    ),
    Field::new(
        "job",
        Takes::Text,
        "What the job is called whose values the handbook prints.",
    ),
    Field::new(
        "given",
        Takes::Quantities,
        "Values of that job, by the names of measurements.",
    ),
];

pub const PHASE: &[Field] = &[
    Field::new("title", Takes::Text, "The phase's name in every list.")
        .needed("a phase is listed by its title"),
    Field::new(
        "order",
        Takes::Whole,
        "Its place in the work; leave gaps for phases to come.",
    )
    .needed("phases are worked in order"),
    Field::new(
        "purpose",
        Takes::Text,
        "What is done when the phase is over, in one line.",
    )
    .needed("a phase says what is done when it is over"),
];

/// What the `page` block at the top of a page holds.
pub const PAGE: &[Field] = &[
    Field::new(
        "order",
        Takes::Whole,
        "The page's place within its phase; leave gaps.",
    ),
    Field::new(
        "time",
        Takes::Text,
        "How long the work takes, printed at the top.",
    ),
    Field::new(
        "people",
        Takes::Texts,
        "Who has to be there, printed at the top.",
    ),
    Field::new(
        "tools",
        Takes::Texts,
        "What has to be at hand, printed at the top.",
    ),
    Field::new(
        "review",
        Takes::Date,
        "The day by which somebody looks the page over.",
    ),
    Field::new(
        "given",
        Takes::Quantities,
        "Values of the job that hold on this page alone.",
    ),
    Field::new(
        "job",
        Takes::Text,
        "Makes the page a prepared job of this name, with the values under `given`.",
    ),
];

pub const WORDS: &[Field] = &[Field::new(
    "term",
    Takes::Tables(TERM),
    "A term of the trade.",
)];

const TERM: &[Field] = &[
    Field::new("name", Takes::Text, "The word that the pages use.").needed("a term is a word"),
    Field::new(
        "means",
        Takes::Text,
        "What it means; value links work in it.",
    )
    .needed("the glossary says what a term means"),
    Field::new(
        "also",
        Takes::Texts,
        "What people say for it; each word stands for one term alone.",
    ),
    Field::new(
        "see",
        Takes::Text,
        "The page that tells more, and `#heading` for a place on it.",
    ),
];

pub const RULES: &[Field] = &[
    Field::new("verbs", Takes::Texts, "Verbs that a step may begin with."),
    Field::new(
        "pressure",
        Takes::Texts,
        "Acts that put pressure on, such as `open fill|water valve`.",
    ),
    Field::new("air", Takes::Texts, "Acts that let air in."),
    Field::new("lifting", Takes::Texts, "Acts that move a load."),
    Field::new(
        "abbreviations",
        Takes::Texts,
        "Words in capitals that need no more explaining.",
    ),
];
