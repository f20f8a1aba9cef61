//! What may stand in a calculator's file.

use super::answer::Verdict;
use super::definition::Area;
use crate::field::fields::{
    ALSO, ALSO_PRINT, CHOICES, HELP, LABEL, LEAST, MOST, NAME, PRINT, ROUND, SYMBOL,
    UNIT_UNLESS_CHOICES, USUAL, WHY,
};
use gaugeleaf_finding::Code;
use gaugeleaf_finding::settings::{Field, Takes};

/// The signal words of ANSI Z535.6, the gravest first.
pub const SIGNAL_WORDS: [&str; 4] = ["DANGER", "WARNING", "CAUTION", "NOTICE"];

pub const FIELDS: &[Field] = &[
    Field::new("calculator", Takes::Table(HEAD), "The calculator itself.")
        .needed("it names the calculator"),
    Field::new("input", Takes::Tables(INPUT), "What goes in."),
    Field::new(
        "term",
        Takes::Tables(OUTPUT),
        "A step on the way, written like an output and shown in the working alone.",
    ),
    Field::new("output", Takes::Tables(OUTPUT), "What comes out.").needed_and_told(),
    Field::new(
        "check",
        Takes::Tables(CHECK),
        "What makes a result wrong for the job.",
    ),
    Field::new(
        "example",
        Takes::Tables(EXAMPLE),
        "A worked example, run at every publish; two at least.",
    )
    .needed_and_told(),
];

const HEAD: &[Field] = &[
    Field::new("name", Takes::Text, "The file's own name.")
        .needed("pages call a calculator by its name"),
    Field::new("title", Takes::Text, "What people call it.").needed("it is listed by its title"),
    Field::new(
        "area",
        Takes::Text,
        "The part of the job that it belongs to.",
    )
    .only(Code::Area, "a part of the job", &Area::WORDS),
    Field::new("purpose", Takes::Text, "What it is for, in one line.")
        .needed("a reader has to know what it is for"),
    Field::new("not_counted", Takes::Text, "What it leaves out.")
        .needed("a reader has to know what it leaves out"),
    Field::new("method", Takes::Text, "How it works, in words."),
    Field::new("sources", Takes::Texts, "Where the method comes from."),
    Field::new(
        "figure",
        Takes::Text,
        "Its figure, an `.svg` file beside this one.",
    ),
    Field::new("plot", Takes::Table(PLOT), "A curve of one output."),
    Field::new(
        "map",
        Takes::Text,
        "Its tube map, an `.svg` file beside this one.",
    ),
    Field::new(
        "hazard",
        Takes::Table(HAZARD),
        "The hazard that goes with its use.",
    ),
];

const PLOT: &[Field] = &[
    Field::new("output", Takes::Text, "The output that is drawn.")
        .needed("a plot shows one output"),
    Field::new("over", Takes::Text, "The input that it is drawn over.")
        .needed("a plot goes over one input"),
    Field::new("from", Takes::Quantity, "Where the plot begins.").needed("a plot begins somewhere"),
    Field::new("to", Takes::Quantity, "Where the plot ends.").needed("a plot ends somewhere"),
];

const HAZARD: &[Field] = &[
    Field::new("word", Takes::Text, "By the worst likely outcome.")
        .needed("a hazard opens with its signal word")
        .only(Code::SignalWord, "a signal word", &SIGNAL_WORDS),
    Field::new(
        "text",
        Takes::Text,
        "What can happen, what it does, and how to stay clear.",
    )
    .needed("a hazard says what can happen"),
];

const INPUT: &[Field] = &[
    NAME,
    LABEL,
    HELP,
    SYMBOL,
    UNIT_UNLESS_CHOICES,
    PRINT,
    ROUND,
    ALSO,
    ALSO_PRINT,
    CHOICES,
    Field::new(
        "from",
        Takes::Text,
        "What supplies it: a measurement, a rating, or `calculator.output`.",
    ),
    Field::new(
        "default",
        Takes::Quantity,
        "Its value where nothing supplies it.",
    )
    .needed_unless("from", "without `from` nothing supplies the input"),
    LEAST,
    MOST,
    USUAL,
    WHY,
];

const OUTPUT: &[Field] = &[
    NAME,
    LABEL,
    HELP,
    SYMBOL,
    Field::new("formula", Takes::Text, "How it is worked out.")
        .needed("a result is worked out by its formula"),
    Field::new(
        "only_if",
        Takes::Text,
        "A condition; without it there is no such result.",
    ),
    UNIT_UNLESS_CHOICES,
    PRINT,
    ROUND,
    ALSO,
    ALSO_PRINT,
    CHOICES,
];

const CHECK: &[Field] = &[
    Field::new("name", Takes::Text, "What is checked.").needed("a check is listed by its name"),
    Field::new(
        "case",
        Takes::Tables(CASE),
        "The cases, tried from the top; the first that holds gives the verdict.",
    )
    .needed_and_told(),
];

const CASE: &[Field] = &[
    Field::new(
        "when",
        Takes::Text,
        "The condition; the last case, and only the last, has none.",
    ),
    Field::new("is", Takes::Text, "The verdict.")
        .needed("a case gives a verdict")
        .only(Code::Verdict, "a verdict", &Verdict::WORDS),
    Field::new(
        "because",
        Takes::Text,
        "What to do, with `{name}` for a value.",
    )
    .needed("a verdict says what to do"),
];

const EXAMPLE: &[Field] = &[
    Field::new(
        "source",
        Takes::Text,
        "Where its numbers come from, or how they were worked by hand.",
    )
    .needed("an example is worth what its source is"),
    Field::new("given", Takes::Quantities, "The inputs, by their names."),
    Field::new(
        "expect",
        Takes::Quantities,
        "The outputs, as they are printed.",
    )
    .needed("an example that expects nothing tries nothing"),
    Field::new("verdict", Takes::Text, "The worst of the checks."),
];
