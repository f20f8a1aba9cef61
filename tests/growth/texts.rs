//! Texts that a reader may stumble over, by what is repeated in them.

/// What reads a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A page: parsed, read by the writing rules, composed and printed.
    Page,
    /// The settings at the head of a page.
    Settings,
    Formula,
    /// A document of the search index.
    Index,
    /// What somebody searches for.
    Query,
}

#[derive(Debug, Clone, Copy)]
pub struct Text {
    pub kind: Kind,
    /// `@` becomes a number, another one each time.
    pub repeated: &'static str,
}

const fn of(kind: Kind, repeated: &'static str) -> Text {
    Text { kind, repeated }
}

pub const TEXTS: &[Text] = &[
    of(Kind::Page, "- "),
    of(Kind::Page, "> "),
    of(Kind::Page, "a!"),
    of(Kind::Page, "."),
    of(Kind::Page, "a. B\"'"),
    of(Kind::Page, "\\*"),
    of(Kind::Page, "*a **b "),
    of(Kind::Page, "_a __b "),
    of(Kind::Page, "["),
    of(Kind::Page, "[a]("),
    of(Kind::Page, "![a]("),
    of(Kind::Page, "[a@]: /b\n\n[a@] "),
    of(Kind::Page, "[^@] "),
    of(Kind::Page, "[^@]: b\n\n"),
    of(Kind::Page, "``"),
    of(Kind::Page, "`a "),
    of(Kind::Page, "<a "),
    of(Kind::Page, "<!-- "),
    of(Kind::Page, "&a"),
    of(Kind::Page, "|a"),
    of(Kind::Page, "|a|b|\n|-|-|\n|c|d|\n\n"),
    of(Kind::Page, "1. Set it, then go.\n"),
    of(Kind::Page, "## Set it\n\n"),
    of(Kind::Page, "Set it. Go on.\n\n"),
    of(Kind::Page, "> **WARNING** Hot. It burns. Stop.\n\n"),
    of(Kind::Page, "```\na\n```\n\n"),
    of(Kind::Page, "```chart\n```\n\n"),
    of(Kind::Page, "5 mm "),
    of(Kind::Page, "5\" "),
    of(Kind::Page, "3/a/"),
    of(Kind::Page, "4-in-"),
    of(Kind::Page, "3.5,"),
    of(Kind::Page, "if a, "),
    of(Kind::Page, "ABC "),
    of(Kind::Page, "word@ "),
    of(Kind::Page, "[](value:pitch) "),
    of(Kind::Page, "[](step:1) "),
    of(Kind::Page, "[a](b.md) "),
    of(Kind::Page, "![a](b.png) "),
    of(Kind::Page, "a\r\n"),
    of(Kind::Page, "é\u{A0}"),
    of(
        Kind::Page,
        "```checks\nitems = [{ do = \"Set it\", want = \"ok\" }]\n```\n\n",
    ),
    of(Kind::Settings, "key@ = 1\n"),
    of(Kind::Settings, "time = \"a\"\n"),
    of(Kind::Settings, "[[a]]\n"),
    of(Kind::Settings, "[a@]\n"),
    of(Kind::Settings, "a."),
    of(Kind::Settings, "a = ["),
    of(Kind::Settings, "given = { a@ = 1 }\n"),
    of(Kind::Settings, "\"\\u00"),
    of(Kind::Formula, "1+"),
    of(Kind::Formula, "("),
    of(Kind::Formula, "-"),
    of(Kind::Formula, "a@*"),
    of(Kind::Formula, "1<"),
    of(Kind::Formula, "sqrt("),
    of(Kind::Formula, "5 mm "),
    of(Kind::Formula, "a ? b : "),
    of(Kind::Index, "a "),
    of(Kind::Index, "word@ "),
    of(Kind::Index, "a"),
    of(Kind::Index, "1 1/2 in "),
    of(Kind::Index, "a-"),
    of(Kind::Index, "É."),
    of(Kind::Query, "a "),
    of(Kind::Query, "hose "),
    of(Kind::Query, "a"),
    of(Kind::Query, "1/2 "),
    of(Kind::Query, "word@ "),
];
