//! What may stand in a calculator's file.

use super::answer::Verdict;
use super::definition::Area;
use crate::field::fields::{
    ALSO, ALSO_PRINT, CALLED, CHOICES, HELP, LABEL, LEAST, MOST, NAME, PRINT, ROUND, SYMBOL,
    UNIT_UNLESS_CHOICES, USUAL, WHY,
};
use gaugeleaf_finding::Code;
use gaugeleaf_finding::settings::{SettingField, SettingType};

/// The signal words of ANSI Z535.6, the gravest first.
pub const SIGNAL_WORDS: [&str; 4] = ["DANGER", "WARNING", "CAUTION", "NOTICE"];

pub const FIELDS: &[SettingField] = &[
    SettingField::new(
        "calculator",
        SettingType::Table(HEAD),
        "The calculator itself.",
    )
    .needed("it names the calculator"),
    SettingField::new("input", SettingType::Tables(INPUT), "What goes in."),
    SettingField::new(
        "term",
        SettingType::Tables(OUTPUT),
        "A step on the way, written like an output and shown in the working alone.",
    ),
    SettingField::new("output", SettingType::Tables(OUTPUT), "What comes out.").needed_and_told(),
    SettingField::new(
        "check",
        SettingType::Tables(CHECK),
        "What makes a result wrong for the job.",
    ),
    SettingField::new(
        "cross_check",
        SettingType::Tables(CROSS_CHECK),
        "A value held against a measurement of the same thing.",
    ),
    SettingField::new(
        "example",
        SettingType::Tables(EXAMPLE),
        "A worked example, run at every publish; two at least.",
    )
    .needed_and_told(),
];

const HEAD: &[SettingField] = &[
    SettingField::new("name", SettingType::Text, "The file's own name.")
        .needed("pages call a calculator by its name"),
    SettingField::new("title", SettingType::Text, "What people call it.")
        .needed("it is listed by its title"),
    SettingField::new(
        "area",
        SettingType::Text,
        "The part of the job that it belongs to.",
    )
    .only(Code::Area, "a part of the job", &Area::WORDS),
    SettingField::new("purpose", SettingType::Text, "What it is for, in one line.")
        .needed("a reader has to know what it is for"),
    SettingField::new("not_counted", SettingType::Text, "What it leaves out.")
        .needed("a reader has to know what it leaves out"),
    SettingField::new("also", SettingType::Texts, "What people say for it."),
    SettingField::new(
        "changes_nothing",
        SettingType::Texts,
        "Units of what people say with it, and what makes no difference to its results.",
    ),
    SettingField::new("method", SettingType::Text, "How it works, in words."),
    SettingField::new(
        "sources",
        SettingType::Texts,
        "Where the method comes from.",
    ),
    SettingField::new(
        "figure",
        SettingType::Text,
        "Its figure, an `.svg` file beside this one.",
    ),
    SettingField::new("plot", SettingType::Table(PLOT), "A curve of one output."),
    SettingField::new(
        "map",
        SettingType::Text,
        "Its tube map, an `.svg` file beside this one.",
    ),
    SettingField::new(
        "hazard",
        SettingType::Table(HAZARD),
        "The hazard that goes with its use.",
    ),
];

const PLOT: &[SettingField] = &[
    SettingField::new("output", SettingType::Text, "The output that is drawn.")
        .needed("a plot shows one output"),
    SettingField::new(
        "over",
        SettingType::Text,
        "The input that it is drawn over.",
    )
    .needed("a plot goes over one input"),
    SettingField::new("from", SettingType::Quantity, "Where the plot begins.")
        .needed("a plot begins somewhere"),
    SettingField::new("to", SettingType::Quantity, "Where the plot ends.")
        .needed("a plot ends somewhere"),
];

const HAZARD: &[SettingField] = &[
    SettingField::new("word", SettingType::Text, "By the worst likely outcome.")
        .needed("a hazard opens with its signal word")
        .only(Code::SignalWord, "a signal word", &SIGNAL_WORDS),
    SettingField::new(
        "text",
        SettingType::Text,
        "What can happen, what it does, and how to stay clear.",
    )
    .needed("a hazard says what can happen"),
];

const INPUT: &[SettingField] = &[
    NAME,
    LABEL,
    CALLED,
    HELP,
    SYMBOL,
    UNIT_UNLESS_CHOICES,
    PRINT,
    ROUND,
    ALSO,
    ALSO_PRINT,
    CHOICES,
    SettingField::new(
        "from",
        SettingType::Text,
        "What supplies it: a measurement, a rating, or `calculator.output`.",
    ),
    SettingField::new(
        "default",
        SettingType::Quantity,
        "What its page starts with until somebody gives a value: an example, and no ground for a verdict.",
    )
    .needed_unless("from", "without `from` nothing supplies the input"),
    SettingField::new(
        "beside",
        SettingType::Text,
        "Of two quantities of its kind in a question it is the one nearest to that of this input: `20 gpm at 10000 psi`.",
    ),
    SettingField::new(
        "by_name",
        SettingType::Truth,
        "`true` where nobody asks with it: a question gives it by its whole name alone.",
    ),
    LEAST,
    MOST,
    USUAL,
    WHY,
];

const OUTPUT: &[SettingField] = &[
    NAME,
    LABEL,
    SettingField::new(
        "called",
        SettingType::Texts,
        "What people call it besides: who says so asks for it.",
    ),
    HELP,
    SYMBOL,
    SettingField::new("formula", SettingType::Text, "How it is worked out.")
        .needed("a result is worked out by its formula"),
    SettingField::new(
        "only_if",
        SettingType::Text,
        "A condition; without it there is no such result.",
    ),
    UNIT_UNLESS_CHOICES,
    PRINT,
    ROUND,
    ALSO,
    ALSO_PRINT,
    CHOICES,
    SettingField::new(
        "asked",
        SettingType::Truth,
        "`true` for the result that a question means where it says none; else the first.",
    ),
];

const CHECK: &[SettingField] = &[
    SettingField::new("name", SettingType::Text, "What is checked.")
        .needed("a check is listed by its name"),
    SettingField::new(
        "case",
        SettingType::Tables(CASE),
        "The cases, tried from the top; the first that holds gives the verdict.",
    )
    .needed_and_told(),
    SettingField::new(
        "standing",
        SettingType::Truth,
        "`true` for a rule that always holds, such as hearing protection: it is told, and is no verdict on the job.",
    ),
];

const CASE: &[SettingField] = &[
    SettingField::new(
        "when",
        SettingType::Text,
        "The condition; the last case, and only the last, has none.",
    ),
    SettingField::new("is", SettingType::Text, "The verdict.")
        .needed("a case gives a verdict")
        .only(Code::Verdict, "a verdict", &Verdict::WORDS),
    SettingField::new(
        "because",
        SettingType::Text,
        "What to do, with `{name}` for a value.",
    )
    .needed("a verdict says what to do"),
];

const CROSS_CHECK: &[SettingField] = &[
    SettingField::new("name", SettingType::Text, "What is compared.")
        .needed("a check is listed by its name"),
    SettingField::new(
        "value",
        SettingType::Text,
        "A result or an input of this calculator.",
    )
    .needed("two values are compared"),
    SettingField::new(
        "measured",
        SettingType::Text,
        "The measurement that it is held against, once both are known.",
    )
    .needed("two values are compared"),
    SettingField::new(
        "larger",
        SettingType::Truth,
        "`true` where the value has to be the larger of the two, and not the same.",
    ),
    SettingField::new(
        "within",
        SettingType::Text,
        "A formula: how far apart readings of one thing may lie, their tolerances aside.",
    )
    .needed("two readings of one thing are never quite the same"),
    SettingField::new(
        "because",
        SettingType::Text,
        "What the caution says, with `{measured}` for the measurement and `{name}` for a value.",
    )
    .needed("a verdict says what to do"),
];

const EXAMPLE: &[SettingField] = &[
    SettingField::new(
        "source",
        SettingType::Text,
        "Where its numbers come from, or how they were worked by hand.",
    )
    .needed("an example is worth what its source is"),
    SettingField::new(
        "given",
        SettingType::Quantities,
        "The inputs, by their names.",
    ),
    SettingField::new(
        "expect",
        SettingType::Quantities,
        "The outputs, as they are printed.",
    )
    .needed("an example that expects nothing tries nothing"),
    SettingField::new("verdict", SettingType::Text, "The worst of the checks."),
];
