//! Messages and their words.

use super::*;
use proptest::prelude::*;

fn language() -> Language {
    let texts = [
        "nothing",
        "`\u{1}` and \u{2}",
        "\u{2} before \u{1}, then \u{2}",
    ];
    Language {
        texts: texts.map(str::to_string).to_vec(),
    }
}

#[test]
fn a_message_is_worded_with_its_places_in_the_languages_order() {
    let message = Message::of(2, &[&"1 in", &"2 in"]);
    assert_eq!(language().say(&message), "2 in before 1 in, then 2 in");
}

#[test]
fn a_message_stands_in_another() {
    let inner = Message::of(1, &[&"a", &Message::of(0, &[])]);
    let mut outer = Message::of(1, &[&inner, &"b"]);
    outer.push(&" or ");
    outer.push(&Message::of(0, &[]));
    assert_eq!(language().say(&outer), "``a` and nothing` and b or nothing");
    let both = Message::joined(&[inner, Message::data("c")], "; ");
    assert_eq!(language().say(&both), "`a` and nothing; c");
}

#[test]
fn a_text_that_the_language_lacks_has_no_words() {
    assert_eq!(language().say(&Message::of(9, &[&"a"])), "");
    assert_eq!(Language::default().say(&Message::of(0, &[])), "");
}

proptest! {
    #[test]
    fn data_comes_out_as_it_went_in_but_for_marks(text in "(?s).*") {
        let plain: String = text.chars().filter(|c| *c > CLOSE).collect();
        prop_assert_eq!(language().say(&Message::data(&text)), plain.clone());
        let told = Message::of(1, &[&text, &text]);
        prop_assert_eq!(language().say(&told), format!("`{plain}` and {plain}"));
    }
}
