//! The demonstration's drawn figures: one kit of colour and type, and no word that the page which
//! shows the figure doesn't say.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

use crate::root;

/// Ink, grounds and the one colour that points.
const KIT: [&str; 9] = [
    "none", "#ffffff", "#1c2b33", "#52636d", "#c3ced4", "#e6ecef", "#8a2b06", "#f3d9a4", "#f6d5c8",
];

/// The colours of the air lines' own tags, which the page tells in words beside the letters.
const TAGS: [&str; 4] = ["#1f5fa8", "#e0b100", "#b3261e", "#2e7d32"];

/// Words that hold others together; a number counts places, and needs no word.
const LINKING: &str = "a an the of and in on at to by is so it its all no if do not each both too";

struct DrawnFigure {
    file: String,
    labels: Vec<String>,
    svg: String,
}

/// Each drawn figure, and each page of the crew's that shows it, by the words that it says.
fn shown() -> Vec<(DrawnFigure, String, BTreeSet<String>)> {
    let mut shown = Vec::new();
    for entry in walkdir::WalkDir::new(root().join("content")) {
        let path = entry.expect("content is readable").into_path();
        let teaches = path.components().any(|part| part.as_os_str() == "trainer");
        if teaches || path.extension().is_none_or(|ending| ending != "md") {
            continue;
        }
        let text = std::fs::read_to_string(&path).expect("a page");
        let (words, pictures) = read(&text);
        for picture in pictures.iter().filter(|picture| picture.ends_with(".svg")) {
            let figure = figure(&path.with_file_name("").join(picture));
            shown.push((figure, path.display().to_string(), words.clone()));
        }
    }
    assert!(shown.len() >= 15, "{} figures", shown.len());
    shown
}

fn figure(path: &Path) -> DrawnFigure {
    let svg = std::fs::read_to_string(path).expect("a figure");
    let tree = roxmltree::Document::parse(&svg).expect("well-formed");
    let texts = tree.descendants().filter(|node| node.has_tag_name("text"));
    let labels = texts.map(|node| {
        let inside = node.descendants().filter(|inside| inside.is_text());
        inside.filter_map(|inside| inside.text()).collect()
    });
    DrawnFigure {
        file: path.display().to_string(),
        labels: labels.collect(),
        svg: svg.clone(),
    }
}

/// What a page says, and the pictures that it shows. What stands for a picture is not said.
fn read(text: &str) -> (BTreeSet<String>, Vec<String>) {
    let (mut said, mut pictures, mut within) = (BTreeSet::new(), Vec::new(), false);
    for event in Parser::new_ext(text, Options::ENABLE_TABLES) {
        match event {
            Event::Start(Tag::Image { dest_url, .. }) => {
                pictures.push(dest_url.to_string());
                within = true;
            }
            Event::End(TagEnd::Image) => within = false,
            Event::Text(words) | Event::Code(words) if !within => {
                said.extend(words_of(&words).iter().map(|word| bare(word)));
            }
            _ => {}
        }
    }
    (said, pictures)
}

fn words_of(text: &str) -> Vec<String> {
    let words = text.split(|c: char| !c.is_alphanumeric() && c != '\'');
    let words = words.filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect()
}

/// A word without the ending of a plural, an owner or a form of a verb.
fn bare(word: &str) -> String {
    let endings = ["'s", "ed", "es", "s", "e"];
    let stem = endings.iter().find_map(|ending| word.strip_suffix(ending));
    let stem = stem.filter(|stem| stem.len() > 2);
    stem.unwrap_or(word).to_string()
}

#[test]
fn a_figure_says_nothing_but_words_of_the_page_that_shows_it() {
    let mut unsaid = Vec::new();
    for (figure, page, said) in shown() {
        // a letter that stands for a person or a place, and again in the figure's own key
        let mut letters: BTreeMap<&str, usize> = BTreeMap::new();
        for label in &figure.labels {
            *letters.entry(label.trim()).or_default() += 1;
        }
        for label in &figure.labels {
            if label.trim().len() == 1 && letters[label.trim()] > 1 {
                continue;
            }
            for word in words_of(label) {
                let number = word.chars().all(|c| c.is_ascii_digit());
                let linking = number || LINKING.split(' ').any(|linking| linking == word);
                if !linking && !said.contains(&bare(&word)) {
                    unsaid.push(format!(
                        "{page} lacks `{word}` of `{label}` in {}",
                        figure.file
                    ));
                }
            }
        }
    }
    assert!(unsaid.is_empty(), "{}", unsaid.join("\n"));
}

#[test]
fn every_figure_is_drawn_in_one_kit_of_colour_and_type() {
    for (figure, ..) in shown() {
        let tree = roxmltree::Document::parse(&figure.svg).expect("well-formed");
        assert!(!figure.labels.is_empty(), "{} has no label", figure.file);
        for node in tree.descendants().filter(roxmltree::Node::is_element) {
            for key in ["fill", "stroke"] {
                let colour = node.attribute(key).unwrap_or("none");
                let tags = figure.file.ends_with("air-ports.svg") && TAGS.contains(&colour);
                assert!(KIT.contains(&colour) || tags, "{colour} in {}", figure.file);
            }
            if let Some(size) = node.attribute("font-size") {
                let size: f64 = size.parse().expect("a number");
                // of a drawing some 380 wide, so that a phone of that width shows it as it is
                assert!(size >= 13.0, "{size} in {}", figure.file);
            }
            let family = node.attribute("font-family").unwrap_or("sans-serif");
            assert_eq!(family, "sans-serif", "{}", figure.file);
        }
    }
}

#[test]
fn a_word_is_found_in_its_other_forms_and_not_in_what_stands_for_a_picture() {
    let (said, pictures) = read("Engage the gears.\n\n![the rack](a.svg)\n\n| `pull` |\n|---|\n");
    assert!(
        ["engaged", "gear", "pull"]
            .iter()
            .all(|word| said.contains(&bare(word)))
    );
    assert!(!said.contains("rack"));
    assert_eq!(pictures, ["a.svg"]);
}
