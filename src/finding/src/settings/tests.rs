//! The reader's tests: small tables of fields, and texts with slips in them.

use super::{Binding, SettingField, SettingType, Settings, read};
use crate::code::Code;
use crate::excerpt::Excerpt;

const ITEM: &[SettingField] = &[
    SettingField::new("do", SettingType::Text, "What to do.")
        .needed_unless("note", "an item says what to do"),
    SettingField::new("note", SettingType::Text, "What to know."),
];

const FIELDS: &[SettingField] = &[
    SettingField::new("title", SettingType::Text, "The title.").needed("it is listed by its title"),
    SettingField::new("order", SettingType::Whole, "The order."),
    SettingField::new("people", SettingType::Texts, "Who."),
    SettingField::new("review", SettingType::Date, "When."),
    SettingField::new("sure", SettingType::Truth, "Whether."),
    SettingField::new("round", SettingType::Text, "How.").only(
        Code::Round,
        "a way to round",
        &["up", "down"],
    ),
    SettingField::new("name", SettingType::Name, "The name."),
    SettingField::new("given", SettingType::Quantities, "Values."),
    SettingField::new("draw", SettingType::Lists, "Ranges."),
    SettingField::new("rows", SettingType::Rows, "Rows."),
    SettingField::new("items", SettingType::Tables(ITEM), "Items."),
    SettingField::new("head", SettingType::Table(ITEM), "A head."),
    SettingField::new("parts", SettingType::TablesByName(ITEM), "Parts."),
];

const VALUES: &[SettingField] = &[
    SettingField::new("caption", SettingType::Text, "The caption."),
    SettingField::others("A value."),
];

/// What is found, as code, place in words and help.
fn found(text: &str) -> Vec<(&'static str, String, String)> {
    let mut findings = Vec::new();
    read("a.md", &Excerpt::whole(text), FIELDS, &mut findings, |_| ());
    findings
        .into_iter()
        .map(|one| {
            (
                one.code.name(),
                text.get(one.span).unwrap_or_default().to_string(),
                one.help.unwrap_or_default(),
            )
        })
        .collect()
}

fn with<T: Default>(
    text: &str,
    fields: &'static [SettingField],
    ask: impl FnOnce(&mut Settings) -> T,
) -> T {
    let mut findings = Vec::new();
    let value = read("a.md", &Excerpt::whole(text), fields, &mut findings, ask);
    assert_eq!(findings, []);
    value
}

fn faults(text: &str) -> Vec<(&'static str, String)> {
    let pairs = found(text).into_iter().map(|(code, at, _)| (code, at));
    pairs.collect()
}

#[test]
fn every_fault_of_a_file_is_told_at_once_and_at_its_place() {
    let text = "titel = \"T\"\norder = \"ten\"\nround = \"sideways\"\nname = \"A b\"\npeople = [\"lead\", []]\n\
                items = [ { do = \"a\" }, { doo = \"b\" }, {}, 4 ]\nhead = { note = 1 }\ngiven = { a = [] }\n";
    let at = |code, at: &str| (code, at.to_string());
    assert_eq!(
        faults(text),
        [
            // the needed key that it is meant for isn't told besides
            at("unknown-setting", "titel"),
            at("wrong-kind", "\"ten\""),
            at("round", "\"sideways\""),
            at("name", "\"A b\""),
            at("wrong-kind", "[]"),
            at("unknown-setting", "doo"),
            at("missing-setting", "{}"),
            at("wrong-kind", "4"),
            at("wrong-kind", "1"),
            at("wrong-kind", "[]"),
        ]
    );
}

#[test]
fn a_misspelt_key_offers_the_nearest_and_a_strange_one_lists_them_all() {
    let found =
        found("title = \"T\"\nreveiw = 2027-01-02\nitems = [ { zzzzzz = 1, do = \"a\" } ]\n");
    let helps: Vec<&str> = found.iter().map(|(_, _, help)| help.as_str()).collect();
    assert_eq!(helps, ["write review", "the settings are do, note"]);
}

#[test]
fn a_wrong_kind_says_what_it_is_and_what_is_wanted() {
    let text = "title = \"T\"\norder = \"ten\"\nsure = \"yes\"\n";
    let mut findings = Vec::new();
    read("a.md", &Excerpt::whole(text), FIELDS, &mut findings, |_| ());
    let messages: Vec<&str> = findings.iter().map(|one| one.message.as_str()).collect();
    assert_eq!(
        messages,
        [
            "`order` is text, where a whole number is wanted",
            "`sure` is text, where true or false is wanted"
        ]
    );
}

#[test]
fn what_is_no_toml_is_told_everywhere_and_the_rest_is_still_held_to_its_fields() {
    let text = "titel = \"T\"\norder = \npeople = maybe\nround = \"sideways\"\n";
    let codes: Vec<&str> = faults(text).into_iter().map(|(code, _)| code).collect();
    assert_eq!(
        codes,
        ["bad-settings", "bad-settings", "unknown-setting", "round"]
    );
}

#[test]
fn what_says_nothing_is_as_good_as_missing() {
    const NEEDY: &[SettingField] = &[
        SettingField::new("title", SettingType::Text, "").needed("w"),
        SettingField::new("people", SettingType::Texts, "").needed("w"),
        SettingField::new("given", SettingType::Quantities, "").needed("w"),
    ];
    for title in [" ", "…", "..."] {
        let text = format!("title = \"{title}\"\npeople = []\ngiven = {{}}\n");
        let mut findings = Vec::new();
        read("a.md", &Excerpt::whole(&text), NEEDY, &mut findings, |_| ());
        let messages: Vec<&str> = findings.iter().map(|one| one.message.as_str()).collect();
        assert_eq!(
            messages,
            [
                "`title` is empty: w",
                "`people` is empty: w",
                "`given` is empty: w"
            ]
        );
    }
}

#[test]
fn what_another_key_stands_for_is_not_missing() {
    assert_eq!(faults("title = \"T\"\nhead = { note = \"n\" }\n"), []);
    let missing = found("title = \"T\"\nhead = { }\n");
    assert_eq!(
        (missing[0].0, missing[0].2.as_str()),
        ("missing-setting", "add do = \"…\"")
    );
}

#[test]
fn quantities_keep_the_text_as_it_was_written_and_the_order_of_the_file() {
    let texts = |given: &[Binding]| {
        let pairs = given
            .iter()
            .map(|one| format!("{}={}", one.name.value, one.text.value));
        pairs.collect::<Vec<_>>()
    };
    let text = "b = \"9 in\"\ncaption = \"c\"\na = 4.50\n";
    let given = with(text, VALUES, |settings| settings.other_quantities());
    assert_eq!(texts(&given), ["b=9 in", "a=4.50"]);
    let text = "title = \"T\"\ngiven = { z = 1, a = \"2 in\" }\n";
    let given = with(text, FIELDS, |settings| settings.quantities("given"));
    assert_eq!(texts(&given), ["z=1", "a=2 in"]);
}

#[test]
fn lists_rows_and_tables_keep_the_place_of_each_value() {
    let text = "title = \"T\"\ndraw = { a = [\"1 in\", 2] }\nrows = [ [\"4 mm\", \"\"] ]\nitems = [ { do = \"x\" } ]\n";
    with(text, FIELDS, |settings| {
        let ranges = settings.ranges("draw");
        assert_eq!(text.get(ranges[0].1[1].span.clone()), Some("2"));
        let rows = settings.rows("rows");
        assert_eq!(text.get(rows[0].span.clone()), Some("[\"4 mm\", \"\"]"));
        assert_eq!(rows[0].value.len(), 2);
        let items = settings.tables("items", |item, span| (item.plain("do"), span));
        assert_eq!(items[0].0, "x");
        assert_eq!(text.get(items[0].1.clone()), Some("{ do = \"x\" }"));
    });
}

#[test]
#[should_panic(expected = "in no table of fields")]
fn a_key_that_is_in_no_table_of_fields_can_not_be_asked_for() {
    with("title = \"T\"\n", FIELDS, |settings| {
        settings.truth("titel")
    });
}

#[test]
fn tables_by_free_names_are_each_held_to_their_fields_and_keep_the_files_order() {
    let text = "title = \"T\"\n[parts]\nzed = { do = \"x\" }\nay = { note = \"n\" }\n";
    with(text, FIELDS, |settings| {
        let parts = settings.tables_by_name("parts", |part, name| {
            assert_eq!(text.get(name.span.clone()), Some(name.value.as_str()));
            (name.value, part.plain("do"))
        });
        let names: Vec<(&str, &str)> = parts.iter().map(|(a, b)| (&**a, &**b)).collect();
        assert_eq!(names, [("zed", "x"), ("ay", "")]);
    });
    let text = "title = \"T\"\nparts = { a = 3, b = { du = \"x\" } }\n";
    let at = |code, at: &str| (code, at.to_string());
    assert_eq!(
        faults(text),
        [at("wrong-kind", "3"), at("unknown-setting", "du")]
    );
}

#[test]
fn a_date_may_stand_between_quotes() {
    let dated = |date: &str| {
        let text = format!("title = \"T\"\nreview = {date}\n");
        with(&text, FIELDS, |settings| settings.date("review"))
    };
    for date in ["2026-11-20", "\"2026-11-20\""] {
        assert_eq!(dated(date).as_deref(), Some("2026-11-20"));
    }
    for date in ["\"soon\"", "\"2026-02-31\"", "\"07:30:00\"", "20261120"] {
        let text = format!("title = \"T\"\nreview = {date}\n");
        assert_eq!(faults(&text)[0].0, "wrong-kind", "{date}");
    }
}
