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

/// What every figure carries, so that it follows the dark look of the page that shows it.
const DARK: &str = include_str!("figures.css");

/// What is written or drawn in the first colour, on each of the others as its ground.
const WRITTEN: [(&str, &[&str]); 3] = [
    (
        "#1c2b33",
        &["#ffffff", "#c3ced4", "#e6ecef", "#f3d9a4", "#f6d5c8"],
    ),
    (
        "#8a2b06",
        &["#ffffff", "#c3ced4", "#e6ecef", "#f3d9a4", "#f6d5c8"],
    ),
    ("#ffffff", &["#8a2b06", "#52636d"]),
];
const DRAWN: [(&str, &[&str]); 1] = [("#52636d", &["#ffffff", "#c3ced4", "#e6ecef"])];

/// The colours of the air lines' own tags, which the page tells in words beside the letters. They
/// are true in every look, and so is what is written on them: `white` and `black` by name.
const TAGS: [&str; 6] = ["#1f5fa8", "#e0b100", "#b3261e", "#2e7d32", "white", "black"];

/// The figures that show the air lines.
const AIR_LINES: [&str; 1] = ["air-ports.svg"];

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
    assert!(shown.len() >= 30, "{} figures", shown.len());
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
                let shows = AIR_LINES.iter().any(|name| figure.file.ends_with(name));
                let tags = shows && TAGS.contains(&colour);
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

/// What a colour of the kit becomes in the dark look, by the style's rules for grounds and lines.
fn dark(colour: &str) -> [&str; 2] {
    ["fill", "stroke"].map(|key| {
        let rule = format!("[{key}=\"{colour}\"]{{{key}:");
        let (_, rest) = DARK
            .split_once(&rule)
            .unwrap_or_else(|| panic!("no {rule}"));
        rest.split_once('}').expect("a rule's end").0
    })
}

fn contrast(one: &str, other: &str) -> f64 {
    let light = |colour: &str| {
        let part = |at: usize| {
            let part = u8::from_str_radix(&colour[at..at + 2], 16).expect("two digits");
            let part = f64::from(part) / 255.0;
            if part <= 0.04045 {
                part / 12.92
            } else {
                ((part + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5) + 0.05
    };
    let ratio = light(one) / light(other);
    ratio.max(1.0 / ratio)
}

#[test]
fn every_figure_follows_the_dark_look_by_one_style() {
    for (figure, ..) in shown() {
        let tree = roxmltree::Document::parse(&figure.svg).expect("well-formed");
        let styles = tree.descendants().filter(|node| node.has_tag_name("style"));
        let styles: Vec<_> = styles.filter_map(|node| node.text()).collect();
        assert_eq!(styles, [DARK.trim_end()], "{}", figure.file);
    }
}

#[test]
fn what_is_written_or_drawn_in_the_kit_can_be_read_in_both_looks() {
    for colour in KIT.iter().filter(|colour| colour.starts_with('#')) {
        let [fill, stroke] = dark(colour);
        assert_eq!(fill, stroke, "{colour}");
    }
    for (pairs, least) in [(&WRITTEN[..], 4.5), (&DRAWN[..], 3.0)] {
        for (colour, grounds) in pairs {
            for ground in *grounds {
                let [light, dark] = [
                    contrast(colour, ground),
                    contrast(dark(colour)[0], dark(ground)[0]),
                ];
                assert!(
                    light >= least && dark >= least,
                    "{colour} on {ground}: {light:.1} in the light, {dark:.1} in the dark"
                );
            }
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
