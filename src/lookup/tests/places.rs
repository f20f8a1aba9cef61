//! Where a search leads that says no word of the place: what people say, terms, far readings.

use gaugeleaf_lookup::{Document, DocumentKind, Index, SearchResult, SearchWords, build};

fn document<'d>(kind: DocumentKind, title: &'d str, url: &'d str, text: &'d str) -> Document<'d> {
    Document {
        title: title.into(),
        url: url.into(),
        kind,
        text: text.into(),
        ..Document::default()
    }
}

fn documents() -> Vec<Document<'static>> {
    use DocumentKind::{Heading, Page, Term};
    let also = |document: Document<'static>, also: &[&str]| Document {
        also: also.iter().map(|said| said.to_string()).collect(),
        ..document
    };
    vec![
        also(
            document(Page, "The first minute", "minute.html", "Shout and let go."),
            &["ambulance", "hit by jet", "hole in hand", "whip check"],
        ),
        also(
            document(
                Page,
                "The first hour",
                "hour.html",
                "Keep warm, call the lead.",
            ),
            &["ambulance", "restraint"],
        ),
        document(
            Heading,
            "Whip checks",
            "whips.html",
            "Shut it, then sit down.",
        ),
        document(
            Heading,
            "Check the whip of the first jet",
            "check.html",
            "Hit it by hand: no hole.",
        ),
        also(
            document(Heading, "Set the stop", "stop.html#set", "Close the jaws."),
            &["hose stop"],
        ),
        Document {
            leads: Some("stop.html#set".into()),
            ..document(Term, "Hose stop", "terms.html#stop", "Jaws that hold.")
        },
        Document {
            leads: Some("nowhere.html".into()),
            ..document(Term, "Ferrule", "terms.html#ferrule", "A crimped ring.")
        },
        Document {
            aside: true,
            ..document(
                Page,
                "Ferrules of steel",
                "write.html",
                "Steel ferrules, write.",
            )
        },
        document(
            Heading,
            "Seen while it runs",
            "run.html#seen",
            "A ring of steel on each ferrule is looked at.",
        ),
    ]
}

/// What queries are read far, as two words or for a value in.
fn read_otherwise() -> Vec<Document<'static>> {
    use DocumentKind::{Calculator, Heading};
    vec![
        document(Heading, "Shut down", "down.html", "Drain it."),
        document(
            Heading,
            "Words",
            "shutdown.html",
            "After a shutdown all is dry.",
        ),
        document(Heading, "Small pipes", "pipes.html", "Pipe of steel."),
        document(Calculator, "Pipe thickness", "thickness.html", "How thick."),
        document(Heading, "Motor or brake", "motor.html", "Motors hum."),
        document(
            Heading,
            "Spoke of a wheel",
            "wheel.html",
            "A wheel has one spoke.",
        ),
        document(
            Heading,
            "Go away from it",
            "away.html",
            "Whoever sees smoke behind a wheel stands back, calls out, and waits for the lead.",
        ),
    ]
}

fn yard() -> Index {
    let mut documents = documents();
    documents.extend(read_otherwise());
    let words = SearchWords {
        small: "a the in by of how",
        asks: "how thick, mm",
        ..SearchWords::default()
    };
    let built = build(&documents, &words);
    let mut index = Index::open(built.index).expect("what was built opens");
    index.take_texts(&built.texts).expect("and its texts");
    index
}

fn found(query: &str) -> SearchResult {
    yard().search(query, 10)
}

fn urls(query: &str) -> Vec<String> {
    found(query).hits.into_iter().map(|hit| hit.url).collect()
}

#[test]
fn what_people_say_for_a_place_leads_there_though_no_page_says_it() {
    assert_eq!(urls("ambulance"), ["minute.html", "hour.html"]);
    for query in [
        "ambulence",
        "an ambulanc",
        "whip check",
        "restraint now please",
    ] {
        assert!(!urls(query).is_empty(), "{query}");
    }
    assert_eq!(urls("ambulence")[0], "minute.html");
    assert_eq!(urls("restraints")[0], "hour.html");
}

#[test]
fn a_place_stands_first_whose_saying_is_the_whole_query() {
    for query in ["whip check", "hit by the jet", "hole in hand", "hole hand"] {
        assert_eq!(urls(query)[0], "minute.html", "{query}");
    }
    // with more said, it is a title among others
    assert_eq!(urls("check the whip of the first jet")[0], "check.html");
}

#[test]
fn a_term_is_shown_where_it_is_told() {
    for query in ["hose stop", "jaws", "jaws that hold"] {
        let hits = found(query).hits;
        assert_eq!(hits[0].url, "stop.html#set", "{query}");
        assert!(hits.iter().all(|hit| hit.url != "terms.html#stop"));
        let means = hits[0].means.as_ref().expect("what it means");
        assert_eq!(
            (
                means.title.as_str(),
                means.url.as_str(),
                means.text.as_str()
            ),
            ("Hose stop", "terms.html#stop", "Jaws that hold.")
        );
    }
    // one that leads nowhere stands for itself
    let ferrule = found("ferrule").hits;
    assert_eq!(ferrule[0].url, "terms.html#ferrule");
    assert_eq!(ferrule[0].means, None);
}

#[test]
fn what_is_for_others_stands_below_all_else_unless_it_is_named() {
    assert_eq!(urls("steel ferrules")[0], "run.html#seen");
    assert_eq!(urls("ferrules of steel")[0], "write.html");
}

#[test]
fn what_holds_the_small_words_alone_is_no_find() {
    let found = found("the wrensh of a ");
    assert!(found.hits.is_empty(), "{:?}", found.hits);
    assert!(!urls("the ").is_empty());
}

#[test]
fn a_calculator_stands_first_where_a_value_is_asked_for_or_it_is_named() {
    assert_eq!(urls("pipe")[0], "pipes.html");
    assert_eq!(urls("how thick pipe")[0], "thickness.html");
    assert_eq!(urls("pipe 3 mm")[0], "thickness.html");
    assert_eq!(urls("pipe thickness")[0], "thickness.html");
}

#[test]
fn three_letters_need_themselves_and_what_is_near_is_named() {
    let slip = found("ppe ");
    assert_eq!((slip.hits, slip.near), (vec![], vec!["pipe".to_string()]));
    assert!(urls("mot ").is_empty());
    // it may go on
    assert_eq!(urls("mot")[0], "motor.html");
}

#[test]
fn a_far_reading_stands_below_near_ones_and_is_asked_back() {
    let near = found("smoke wheel ");
    assert_eq!(near.hits[0].url, "away.html");
    assert_eq!(near.hits[1].url, "wheel.html");
    assert!(near.near.is_empty());
    let guess = found("tickmess ");
    assert_eq!(guess.hits[0].url, "thickness.html");
    assert_eq!(guess.near, ["thickness"]);
}

#[test]
fn a_known_word_is_read_as_two_in_titles() {
    for query in ["shutdown", "shutdwon"] {
        let urls = urls(query);
        assert_eq!(urls.len(), 2, "{query}: {urls:?}");
        assert!(urls.contains(&"down.html".to_string()), "{query}");
    }
}

#[test]
fn nothing_stands_above_what_somebody_in_need_calls_for_whatever_number_is_said() {
    let mut documents = documents();
    documents[0].urgent = true;
    let text = "Hit at 10000 psi by a jet, hit at 10000 psi.";
    documents.push(document(DocumentKind::Row, "10000 psi", "row.html", text));
    let words = SearchWords {
        asks: "psi, how much",
        ..SearchWords::default()
    };
    let index = Index::open(build(&documents, &words).index).expect("it opens");
    for query in [
        "hit by jet 10000 psi",
        "hit by jet at 10000 psi",
        "hit by jet",
    ] {
        let found = index.search(query, 5);
        assert_eq!(found.hits[0].url, "minute.html", "{query}");
        assert!(found.urgent, "{query}");
    }
    // what is said in passing calls for nothing
    let found = index.search(
        "whip check of steel, set beside the crimped ring on each ferrule",
        5,
    );
    assert!(!found.urgent, "{found:?}");
}

#[test]
fn all_words_of_a_saying_lead_to_its_place_wherever_they_stand() {
    let mut documents = documents();
    documents[7].also = vec!["colours of the site".into()];
    documents.push(document(
        DocumentKind::Heading,
        "A site to change in",
        "site.html",
        "Change the site, change the shoes: a site has a place to change.",
    ));
    let words = SearchWords {
        small: "a the in by of how do i so it is",
        ..SearchWords::default()
    };
    let index = Index::open(build(&documents, &words).index).expect("it opens");
    // what stands aside comes first too where it is asked for
    let found = index.search("how do i set the colours on a page of this site", 5);
    assert_eq!(found.hits[0].url, "write.html", "{found:?}");
    let found = index.search("change the site", 5);
    assert_eq!(found.hits[0].url, "site.html", "{found:?}");
}

#[test]
fn a_word_that_is_none_is_read_as_the_one_that_sounds_so_and_is_a_title() {
    // two letters wrong of six: more than slips
    assert_eq!(urls("feruol ")[0], "terms.html#ferrule");
    assert_eq!(urls("shut doun ")[0], "down.html");
}

#[test]
fn what_lacks_a_code_stands_below() {
    let mut documents = read_otherwise();
    documents.push(document(
        DocumentKind::Row,
        "20 mm",
        "rows.html#20",
        "Thread M20, wrench 30 mm.",
    ));
    documents.push(document(
        DocumentKind::Page,
        "Wrench for every nut",
        "nuts.html",
        "A wrench for each nut.",
    ));
    let index = Index::open(build(&documents, &SearchWords::default()).index).expect("it opens");
    let found = index.search("m20 wrench", 5);
    assert_eq!(found.hits[0].url, "rows.html#20", "{found:?}");
}

#[test]
fn who_says_more_than_the_cry_asks_for_no_help() {
    let mut documents = documents();
    documents[0].urgent = true;
    documents[1].also.push("ambulance has left".into());
    let index = Index::open(build(&documents, &SearchWords::default()).index).expect("it opens");
    let cry = index.search("ambulance", 5);
    assert_eq!(
        (cry.hits[0].url.as_str(), cry.urgent),
        ("minute.html", true)
    );
    let after = index.search("ambulance has left", 5);
    assert_eq!(
        (after.hits[0].url.as_str(), after.urgent),
        ("hour.html", false)
    );
    assert_eq!(after.hits[1].url, "minute.html");
}
