//! What people in need type, and what leads them to help.

use crate::search::first;
use crate::shown::shown;

/// Cries by three people who had read the pages, and not the phrases that lead to help.
#[test]
fn a_cry_in_any_words_brings_a_card_for_emergencies_first() {
    for cry in include_str!("../search/cries.txt").lines() {
        let url = first(cry);
        let helps = ["emergency.html", "other-emergencies.html"].contains(&url.as_str());
        assert!(helps, "{cry}: {url}");
    }
}

/// What somebody asks afterwards is no cry, though it has the words of one.
#[test]
fn who_asks_what_comes_after_help_is_told_that() {
    for query in [
        "what do we do once the ambulance has left",
        "when can we start again after somebody got hurt",
        "what do i tell the doctor",
    ] {
        let url = first(query);
        assert!(url.starts_with("after-an-emergency.html"), "{query}: {url}");
    }
}

fn all_lead_to(card: &str, words: &str, phrases: &[&str]) {
    for query in words.split_whitespace().chain(phrases.iter().copied()) {
        assert_eq!(first(query), card, "{query}");
    }
}

#[test]
fn what_a_frightened_person_types_leads_to_the_first_minute() {
    let words = "help 911 112 999 ambulance ambulence paramedic blood bleeding accident injury hurt hit \
                 injected injection skin wound hospital doctor rescue emergency mayday burn burned \
                 tourniquet stretcher";
    let phrases = [
        "first aid",
        "firstaid",
        "first aid kit",
        "somebody is hurt",
        "cut by water",
        "hit by jet",
        "he was hit by the jet",
        "hole in hand",
        "hole in the hand",
        "where is the stretcher",
    ];
    all_lead_to("emergency.html", words, &phrases);
    // another card says what comes first
    let words = "fire trapped crushed unconscious fainted evacuate muster collapsed explosion";
    let phrases = [
        "gas alarm",
        "passed out",
        "man down",
        "he is trapped",
        "arm caught in the rollers",
        "burst hose",
    ];
    all_lead_to("other-emergencies.html", words, &phrases);
    // help comes before any number that is said with it
    for query in [
        "hit at 10000 psi",
        "he got hit 10k psi",
        "bleeding 10000 psi",
        "injected with water at 10000 psi",
        "operator hit by the jet at 10000 psi",
        "emergency 10000 psi",
        "call 112 now",
        "3 people hurt",
        "scalded 60 C",
    ] {
        assert_eq!(shown(query)[0]["url"], "emergency.html", "{query}");
    }
    for query in [
        "2 men down",
        "911 two men down",
        "unconscious 2 min",
        "fire in tank 520 gal",
        "fell 20 ft",
    ] {
        let found = shown(query);
        let url = found[0]["url"].as_str().unwrap_or_default();
        assert!(
            url.ends_with("emergency.html") || url.ends_with("emergencies.html"),
            "{query}: {url}"
        );
    }
    // there is no button: the page says what there is instead, under what the word means
    for query in ["emergency stop", "e-stop"] {
        let found = shown(query);
        assert_eq!(found[0]["url"], "rules.html#what-stops-the-job", "{query}");
        assert_eq!(
            found[0]["means"]["url"], "glossary.html#term-emergency-stop",
            "{query}"
        );
        assert_ne!(found[0]["means"]["text"], "", "{query}");
    }
}
