//! What a search must find, forgive and refuse, over a small yard's handbook.

use gaugeleaf_lookup::{
    Document, DocumentKind, Index, IndexFiles, OpenError, SearchResult, SearchWords, build,
};

fn document<'d>(
    kind: DocumentKind,
    title: &'d str,
    place: &'d str,
    url: &'d str,
    text: &'d str,
) -> Document<'d> {
    Document {
        title: title.into(),
        place: place.into(),
        url: url.into(),
        kind,
        text: text.into(),
        ..Document::default()
    }
}

const SMALL: &str = "a and how I in is it of on the to whats";
const ASKS: &str = "how long, in";

fn built() -> IndexFiles {
    use DocumentKind::{Calculator, Heading, Page, Row, Step};
    let documents = [
        document(
            Page,
            "Measure the exchanger",
            "Survey",
            "survey/measure.html",
            "Take the sizes that every later choice rests on. Write each on the card.",
        ),
        document(
            Heading,
            "Measure the channel head",
            "Survey › Measure the exchanger",
            "survey/measure.html#channel",
            "Hold the tape against the tube sheet. Read the depth to the nearest 1/16 in.",
        ),
        document(
            Calculator,
            "Guide tube length",
            "Calculators",
            "calculators/guide-tube-length.html",
            "How long the guide tube must be behind a channel head. Channel head depth.",
        ),
        document(
            Step,
            "Cut the guide tube",
            "Fit › Guide tubes",
            "fit/tubes.html#step-2",
            "Cut the guide tube to the printed length and file off the burr.",
        ),
        document(
            Heading,
            "Set the hose stop",
            "Check › Stops",
            "check/stops.html#set",
            "Close the stop until it drags on the hose, then open it to the next pin.",
        ),
        document(
            Row,
            "3/8 in bolt: 9/16 in wrench",
            "Tables › Wrenches",
            "tables/wrenches.html#row-3",
            "Hex bolt 3/8 in, across flats 9/16 in, 0.5625 in, M12 will not fit.",
        ),
        document(
            Row,
            "1 1/4 in pipe",
            "Tables › Pipes",
            "tables/pipes.html#row-5",
            "Outside diameter 1.660 in for the 1 1/4 in pipe of the rail.",
        ),
        document(
            Heading,
            "Stow the hoses",
            "Stow › Yard",
            "stow/yard.html#hoses",
            "Drain each hose. Keep 9/16 in wrenches in the Kübel beside the rail clamps.",
        ),
    ];
    let synonyms = [
        (
            "back-out preventer".to_string(),
            vec!["hose stop".to_string()],
        ),
        ("spanner".to_string(), vec!["wrench".to_string()]),
    ];
    build(
        &documents,
        &SearchWords {
            synonyms: &synonyms,
            small: SMALL,
            asks: ASKS,
            ..SearchWords::default()
        },
    )
}

fn yard() -> Index {
    let built = built();
    let mut index = Index::open(built.index).expect("what was built opens");
    index.take_texts(&built.texts).expect("and its texts");
    index
}

fn search(query: &str) -> SearchResult {
    yard().search(query, 10)
}

fn first(query: &str) -> String {
    let found = search(query);
    found.hits.first().map_or_else(
        || format!("nothing, near {:?}", found.near),
        |hit| hit.url.clone(),
    )
}

const STOP: &str = "check/stops.html#set";
const CHANNEL: &str = "survey/measure.html#channel";
const LENGTH: &str = "calculators/guide-tube-length.html";
const WRENCH: &str = "tables/wrenches.html#row-3";
const PIPE: &str = "tables/pipes.html#row-5";

#[test]
fn a_title_comes_first_in_any_word_order() {
    assert_eq!(first("set the hose stop"), STOP);
    assert_eq!(first("stop hose set"), STOP);
}

#[test]
fn an_unfinished_last_word_is_enough() {
    assert_eq!(first("chan"), CHANNEL);
    assert_eq!(first("measure the ch"), CHANNEL);
}

#[test]
fn plurals_verb_forms_and_accents_fold() {
    assert_eq!(first("measuring channels"), CHANNEL);
    assert_eq!(first("KUBEL"), "stow/yard.html#hoses");
}

#[test]
fn words_that_say_little_find_little() {
    assert_eq!(first("What\u{2019}s a burr"), "fit/tubes.html#step-2");
    // with no such words in its language, each of them counts
    let documents = [
        document(
            DocumentKind::Heading,
            "How it is",
            "",
            "how.html",
            "Told here.",
        ),
        document(DocumentKind::Heading, "Burr", "", "burr.html", "Filed off."),
    ];
    let first = |small: &str| {
        let index = Index::open(
            build(
                &documents,
                &SearchWords {
                    small,
                    ..SearchWords::default()
                },
            )
            .index,
        )
        .expect("it opens");
        index.search("how is it with the burr ", 1).hits[0]
            .url
            .clone()
    };
    assert_eq!(first(""), "how.html");
    assert_eq!(first("with THE how is it"), "burr.html");
}

#[test]
fn one_slip_of_each_sort_is_forgiven_from_four_letters() {
    for query in [
        "chanel head",
        "channnel head",
        "chamnel head",
        "chnanel head",
    ] {
        assert_eq!(first(query), CHANNEL, "{query}");
    }
    assert_eq!(first("hsoe stop"), STOP);
}

#[test]
fn two_slips_are_forgiven_from_eight_letters() {
    assert_eq!(first("exchnager mesure"), "survey/measure.html");
    assert_eq!(first("ecxhanegr"), "survey/measure.html");
}

#[test]
fn hits_come_without_excerpts_as_long_as_the_texts_are_not_there() {
    let index = Index::open(built().index).expect("what was built opens");
    let early = index.search("chanel head", 10).hits;
    let late = search("chanel head").hits;
    assert_eq!(early[0].url, late[0].url);
    assert!(early.iter().all(|hit| hit.excerpt.is_empty()));
    assert!(late.iter().any(|hit| !hit.excerpt.is_empty()));
}

#[test]
fn texts_of_another_index_are_refused() {
    let mut index = yard();
    let other = build(&[], &SearchWords::default());
    assert_eq!(index.take_texts(&other.texts), Err(OpenError));
    assert_eq!(index.take_texts(&built().index), Err(OpenError));
}

#[test]
fn joined_and_split_words_meet() {
    assert_eq!(first("hosestop"), STOP);
    assert_eq!(first("guidetube length"), LENGTH);
    assert_eq!(first("guide tube len gth"), LENGTH);
    assert_eq!(first("guidetbue length"), LENGTH);
}

#[test]
fn synonyms_of_the_handbook_lead_to_its_own_terms() {
    for query in [
        "back-out preventer",
        "backout preventer",
        "back out prevnter",
    ] {
        assert_eq!(first(query), STOP, "{query}");
    }
    assert_eq!(first("9/16 spanner"), WRENCH);
}

#[test]
fn a_fraction_never_matches_a_mixed_number() {
    assert!(search("1/4").hits.is_empty());
    for query in ["1 1/4", "1-1/4\"", "1¼ in", "pipe 1\u{a0}1/4 in"] {
        assert_eq!(first(query), PIPE, "{query}");
    }
}

#[test]
fn numbers_get_no_forgiveness() {
    assert!(search("0.5626").hits.is_empty());
    assert!(search("m1").hits.is_empty());
    assert_eq!(first("0.5625"), WRENCH);
    assert_eq!(first("m12"), WRENCH);
}

#[test]
fn a_table_row_stands_above_prose_when_the_query_holds_a_number() {
    assert_eq!(first("9/16 in wrench"), WRENCH);
    assert_eq!(first("wrench 9/16"), WRENCH);
}

#[test]
fn a_calculator_stands_above_prose_only_where_a_value_is_asked_for() {
    assert_eq!(first("guide tube"), "fit/tubes.html#step-2");
    assert_eq!(first("guide tube 14 in"), LENGTH);
    assert_eq!(first("how long guide tube"), LENGTH);
    assert_eq!(first("guide tube length"), LENGTH);
}

#[test]
fn the_excerpt_marks_what_was_matched() {
    let found = search("drags");
    let marked: Vec<&str> = found.hits[0]
        .excerpt
        .iter()
        .filter(|(_, matched)| *matched)
        .map(|(text, _)| text.as_str())
        .collect();
    assert_eq!(marked, ["drags"]);
    assert_eq!(found.hits[0].place, "Check › Stops");
}

#[test]
fn without_hits_the_nearest_terms_are_named() {
    let found = search("chamnal");
    assert!(found.hits.is_empty());
    assert_eq!(found.near, ["channel"]);
    assert!(search("xylophone").near.is_empty());
}

#[test]
fn an_empty_query_finds_nothing() {
    assert_eq!(search(" … "), SearchResult::default());
}

#[test]
fn no_more_hits_come_than_were_asked_for() {
    assert_eq!(yard().search("in", 2).hits.len(), 2);
    assert!(yard().search("in", 0).hits.is_empty());
}

#[test]
fn a_part_stands_above_its_steps_which_bear_its_title() {
    let title = "Hang the drive";
    let step = |number: usize| {
        let url = format!("mount/drive.html#step-{number}");
        Document {
            url: url.into(),
            ..document(DocumentKind::Step, title, "Mount", "", "Hang the drive on.")
        }
    };
    let mut documents: Vec<Document> = (0..30).map(step).collect();
    documents.push(document(
        DocumentKind::Page,
        title,
        "Mount",
        "mount/drive.html",
        "Two hands lift it onto the rail of the frame, and a third one sets the pin.",
    ));
    let built = build(&documents, &SearchWords::default());
    let mut index = Index::open(built.index).expect("what was built opens");
    for texts in [false, true] {
        if texts {
            index.take_texts(&built.texts).expect("and its texts");
        }
        assert_eq!(index.search(title, 12).hits[0].url, "mount/drive.html");
    }
}
