//! What is converted, over the built-in catalog.

use super::*;
use crate::testing::{CATALOG, demonstration};

fn converted(text: &str) -> Option<String> {
    let question = Question {
        text: text.to_string(),
        ..Question::default()
    };
    let asked = ask(&CATALOG, &demonstration(), &question);
    asked.conversion.map(|found| {
        format!(
            "{} = {}{}",
            found.from,
            found.to,
            if found.exact { "" } else { " rounded" }
        )
    })
}

#[test]
fn conversions_are_answered_with_their_rounding() {
    for (text, expected) in [
        ("1000 bar in psi", "1000 bar = 14\u{202f}503.8 psi rounded"),
        ("1000 bar to psi?", "1000 bar = 14\u{202f}503.8 psi rounded"),
        ("1000bar = psi", "1000 bar = 14\u{202f}503.8 psi rounded"),
        ("what is 14 in as mm", "14 in = 355.6 mm"),
        ("3/8 in mm", "3/8 in = 9.525 mm"),
        ("5 ft 6 in to mm", "5.5 ft = 1676.4 mm"),
        ("5'6\" in m", "5.5 ft = 1.6764 m"),
        ("50 degC in degF", "50 °C = 122 °F"),
        ("20 °C in K", "20 °C = 293.15 K"),
        ("12 gpm in L/min", "12 gal/min = 45.4249 L/min rounded"),
        ("9/16 in", "9/16 in = 14.2875 mm"),
        (
            "convert 1000 bar psi",
            "1000 bar = 14\u{202f}503.8 psi rounded",
        ),
        ("psi in 1000 bar", "1000 bar = 14\u{202f}503.8 psi rounded"),
        (
            "20 litres per minute gpm",
            "20 L/min = 5.28344 gal/min rounded",
        ),
        (
            "20 l a minute in gallons per minute",
            "20 L/min = 5.28344 gal/min rounded",
        ),
        ("100 f in c", "100 °F = 37.7778 °C rounded"),
        ("212 deg f to c", "212 °F = 100 °C"),
        ("100F", "100 °F = 37.7778 °C rounded"),
        ("15k psi", "15 ksi = 1034.21 bar rounded"),
        ("15kpsi bar", "15 ksi = 1034.21 bar rounded"),
        ("20ksi", "20 ksi = 1378.95 bar rounded"),
        ("22 gpm in litres", "22 gal/min = 83.2791 L/min rounded"),
        ("psi in bar", "1 psi = 0.0689476 bar rounded"),
        ("us gallons to litres", "1 gal = 3.78541 L rounded"),
        (
            "how many litres are in a gallon",
            "1 gal = 3.78541 L rounded",
        ),
    ] {
        assert_eq!(converted(text).as_deref(), Some(expected), "{text}");
    }
    for text in [
        "1000 bar in mm",
        "14 in channel",
        "celsius to fahrenheit",
        "psi in mm",
        "psi in psi",
        "nozzle flow in litres per minute or gpm",
        "50 psia in psi",
        "1000 in psi",
        "9/16 mm wrench",
        "hose 9/16 in",
    ] {
        assert_eq!(converted(text), None, "{text}");
    }
}

#[test]
fn a_size_in_parts_is_one_quantity() {
    assert!(converted("5 ft 6 1/2 in").is_some_and(|one| one.starts_with("5.54")));
}
