//! What must hold for any handbook, any bytes, any query.

use gaugeleaf_lookup::{Document, DocumentKind, Index, IndexFiles, SearchWords, build};
use proptest::prelude::*;

fn kinds() -> impl Strategy<Value = DocumentKind> {
    prop::sample::select(vec![
        DocumentKind::Page,
        DocumentKind::Heading,
        DocumentKind::Step,
        DocumentKind::Calculator,
        DocumentKind::Input,
        DocumentKind::Row,
        DocumentKind::Value,
    ])
}

const WORDS: &str = "hose|stop|guide|tube|1 1/4|1/4|in|measure|set|clamp|[a-d]{1,5}";

fn documents() -> impl Strategy<Value = Vec<Document<'static>>> {
    documents_of(&format!("{WORDS}|\\PC{{1,6}}"))
}

fn documents_of(words: &str) -> impl Strategy<Value = Vec<Document<'static>>> + use<> {
    let title = matching(&format!("({words})( ({words})){{0,4}}"));
    let text = matching(&format!("(({words}) ){{0,60}}"));
    let said = prop::collection::vec("(ambulance|hose|in|1/4|\\PC{0,3})( stop| of)?", 0..3);
    let more = (said, any::<bool>(), prop::option::of("hose.html|stop.html"));
    let document = (title, text, "[ab]{0,2}", kinds(), more).prop_map(
        |(title, text, place, kind, (also, aside, leads))| {
            let url = format!("{title}.html");
            let unseen = also.join(" ");
            let leads_on = leads.is_some();
            Document {
                title: title.into(),
                place: place.into(),
                url: url.into(),
                kind,
                text: text.into(),
                unseen,
                also,
                leads,
                aside,
                urgent: leads_on,
            }
        },
    );
    prop::collection::vec(document, 0..12)
}

fn matching(pattern: &str) -> impl Strategy<Value = String> + use<> {
    prop::string::string_regex(pattern).expect("the pattern is written right")
}

fn synonyms() -> impl Strategy<Value = Vec<(String, Vec<String>)>> {
    let said = "(back|out|stinger|\\PC{0,4})( back| 1/4)?";
    prop::collection::vec(
        (said, prop::collection::vec("hose|hose stop|x", 0..3)),
        0..4,
    )
}

fn said(synonyms: &[(String, Vec<String>)]) -> SearchWords<'_> {
    SearchWords {
        synonyms,
        alike: "tube pipe, stick stuck",
        small: "the of in",
        asks: "how many, mm",
    }
}

fn open(built: IndexFiles) -> Index {
    let mut index = Index::open(built.index).expect("what was built opens");
    index.take_texts(&built.texts).expect("and its texts");
    index
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn random_bytes_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..300), query in "\\PC{0,40}") {
        let marked = [b"GLX\x04".as_slice(), &bytes].concat();
        for bytes in [bytes, marked] {
            if let Ok(index) = Index::open(bytes) {
                index.search(&query, 10);
            }
        }
    }

    #[test]
    fn a_damaged_index_never_panics(
        documents in documents(),
        synonyms in synonyms(),
        damage in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..4),
        query in "(hose|stop|guidetube|1/4|back out| ){0,6}",
    ) {
        let mut built = build(&documents, &said(&synonyms));
        let mut whole = open(built.clone());
        for (place, byte) in damage {
            for bytes in [&mut built.index, &mut built.texts] {
                let place = place.index(bytes.len());
                bytes[place] = byte;
            }
        }
        if let Ok(index) = Index::open(built.index) {
            index.search(&query, 10);
        }
        if whole.take_texts(&built.texts).is_ok() {
            whole.search(&query, 10);
        }
    }

    #[test]
    fn any_query_is_answered(documents in documents(), synonyms in synonyms(), query in "\\PC{0,60}") {
        let index = open(build(&documents, &said(&synonyms)));
        let found = index.search(&query, 5);
        prop_assert!(found.hits.len() <= 5);
        for pair in found.hits.windows(2) {
            prop_assert!(pair[0].score.is_finite() && pair[1].score.is_finite());
        }
    }

    #[test]
    fn the_same_documents_give_the_same_bytes(documents in documents(), synonyms in synonyms()) {
        prop_assert_eq!(build(&documents, &said(&synonyms)), build(&documents, &said(&synonyms)));
    }

    #[test]
    fn a_title_queried_exactly_comes_first(mut documents in documents_of(WORDS)) {
        for document in &mut documents {
            document.also.clear();
            document.leads = None;
        }
        let index = open(build(&documents, &said(&[])));
        for document in &documents {
            let found = index.search(&document.title, 3);
            let first = found.hits.first().map(|hit| hit.title.as_str());
            prop_assert_eq!(first, Some(document.title.as_ref()));
        }
    }

    #[test]
    fn an_excerpt_is_a_piece_of_the_text(documents in documents(), query in "(hose|stop|1/4|in| ){1,5}") {
        let index = open(build(&documents, &said(&[])));
        for hit in index.search(&query, 20).hits {
            let shown: String = hit.excerpt.iter().map(|(text, _)| text.as_str()).collect();
            let inner = shown.trim_start_matches("… ").trim_end_matches(" …");
            prop_assert!(documents.iter().any(|document| document.text.contains(inner)));
        }
    }
}
