//! What somebody searches for, and an index of any bytes.

use gaugeleaf_lookup::{Document, Index, SearchResult, SearchWords, build};

use super::text;
use crate::demonstration::{carried, root};

thread_local! {
    static INDEX: Index = {
        let mut index = Index::open(carried("search-index").to_vec()).expect("the index");
        index.take_texts(carried("search-texts")).expect("its texts");
        index
    };
}

/// Something searched for in the demonstration: no more hits than wanted, each with a title and an
/// address, and the same ones when it is asked again.
pub fn query(bytes: &[u8]) {
    let Some(text) = text(bytes) else {
        return;
    };
    INDEX.with(|index| {
        let found = index.search(text, 12);
        assert!(found.hits.len() <= 12);
        for hit in &found.hits {
            assert!(
                !hit.title.is_empty() && hit.url.contains(".html"),
                "{hit:?}"
            );
            assert!(hit.score.is_finite(), "{hit:?}");
        }
        // of some alone: it takes as long again
        if text.len() % 4 == 0 {
            assert_eq!(found, index.search(text, 12), "asked again");
        }
    });
}

pub fn queries() -> Vec<Vec<u8>> {
    let told = std::fs::read_to_string(root().join("tests/search/queries.toml")).expect("queries");
    let quoted = told.lines().filter_map(|line| line.split('"').nth(1));
    let mut seeds: Vec<Vec<u8>> = quoted.map(|query| query.as_bytes().to_vec()).collect();
    seeds.truncate(800);
    seeds
}

/// Any bytes as an index, and what comes after a mark as its texts: refused, or asked without a trap.
pub fn index(bytes: &[u8]) {
    let cut = bytes
        .windows(4)
        .position(|part| part == b"GLT\x01")
        .unwrap_or(bytes.len());
    let Ok(mut index) = Index::open(bytes[..cut].to_vec()) else {
        return;
    };
    let ask = |index: &Index| {
        for query in [
            "hose stop",
            "1/2 in",
            "hoes",
            "what is a clamp",
            "",
            "a b c d e",
        ] {
            let SearchResult { hits, further, .. } = index.search_spelt(query, &[], 5, 8);
            assert!(hits.len() <= 5 && further.len() <= 8, "{query}");
        }
    };
    ask(&index);
    if index.take_texts(&bytes[cut..]).is_ok() {
        ask(&index);
    }
}

pub fn indexes() -> Vec<Vec<u8>> {
    let document = |number: usize| Document {
        title: format!("Set the hose stop {number}").into(),
        place: "Check › Stops".into(),
        url: format!("check/stops.html#{number}").into(),
        text: "Close the stop until it drags on the hose, a half turn or 1/2 in.".into(),
        also: vec!["back-out preventer".into()],
        leads: (number == 1).then(|| "check/stops.html#0".into()),
        urgent: number == 2,
        ..Document::default()
    };
    let synonyms = [("hoes".to_string(), vec!["hose".to_string()])];
    let words = SearchWords {
        synonyms: &synonyms,
        small: "a the of",
        asks: "how much,psi",
        alike: "stop stops",
    };
    [0, 1, 3, 40]
        .map(|count| {
            let documents: Vec<Document> = (0..count).map(document).collect();
            let built = build(&documents, &words);
            [built.index, built.texts].concat()
        })
        .into()
}
