//! Plots of the built-in catalog.

use crate::testing::{CATALOG, demonstration};
use crate::{Argument, Catalog};

fn catalog() -> Catalog {
    CATALOG.clone()
}

fn plot(catalog: &Catalog, name: &str, given: &[(&str, &str)]) -> String {
    let given: Vec<Argument> = given
        .iter()
        .map(|(name, text)| Argument::new(name, text))
        .collect();
    let answer = catalog.calculate(name, &given, &demonstration()).unwrap();
    catalog.plot(&answer).unwrap()
}

/// The numbers of an attribute, wherever it stands.
fn texts(svg: &str) -> Vec<&str> {
    svg.split("<text")
        .skip(1)
        .filter_map(|text| Some(text.split_once('>')?.1.split_once('<')?.0))
        .collect()
}

#[test]
fn every_plot_of_the_catalog_stays_inside_its_frame() {
    let catalog = catalog();
    let mut plots = 0;
    for calculator in catalog
        .calculators
        .values()
        .filter(|one| one.plot.is_some())
    {
        let svg = plot(&catalog, &calculator.name, &[]);
        plots += 1;
        for path in svg.split(" d=\"").skip(1) {
            let path = path.split('"').next().unwrap();
            for point in path.split(['M', 'L']).skip(1) {
                let (x, y) = point.split_once(' ').unwrap();
                let (x, y): (f64, f64) = (x.parse().unwrap(), y.parse().unwrap());
                assert!((64.0..=348.0).contains(&x), "{path}");
                // what it would be is parted above the frame too
                assert!((34.0..=244.0).contains(&y), "{path}");
            }
        }
    }
    assert!(plots >= 3);
}

#[test]
fn ticks_are_round_values_in_the_faces_own_unit() {
    let catalog = catalog();
    let svg = plot(&catalog, "noise-exposure", &[("duration", "4 h")]);
    let texts = texts(&svg);
    for tick in ["85", "90", "95", "100"] {
        assert!(texts.contains(&tick), "{tick} in {texts:?}");
    }
    assert!(texts.iter().any(|text| text.ends_with(", dB")));
}

#[test]
fn the_mark_moves_with_the_input_and_the_words_with_it() {
    let catalog = catalog();
    let low = plot(
        &catalog,
        "noise-exposure",
        &[("level", "90 dB"), ("duration", "4 h")],
    );
    let high = plot(
        &catalog,
        "noise-exposure",
        &[("level", "95 dB"), ("duration", "4 h")],
    );
    let mark = |svg: &str| svg.split("cx=\"").nth(1).map(str::to_string);
    assert_ne!(mark(&low), mark(&high));
    // 29 CFR 1910.95, table G-16: 8 h at 90 dB, 4 h at 95 dB
    assert!(low.contains("8.00\u{A0}h at 90\u{A0}dB"), "{low}");
    assert!(high.contains("4.00\u{A0}h at 95\u{A0}dB"), "{high}");
}

#[test]
fn the_words_change_where_the_verdict_would_and_no_sign_of_it_stands_there() {
    let catalog = catalog();
    let given = [("duration", "4 h"), ("protector", "none")];
    let svg = plot(&catalog, "noise-exposure", &given);
    // 4 h are the whole day's dose at 88 dB by NIOSH, and at 95 dB by OSHA
    assert!(svg.contains("go up to 88"), "{svg}");
    assert!(texts(&svg).contains(&"would be") && texts(&svg).contains(&"stop"));
    for sign in ["fig-go", "fig-caution", "fig-stop"] {
        assert!(!svg.contains(sign), "{svg}");
    }
}

#[test]
fn a_value_outside_the_range_widens_it() {
    let catalog = catalog();
    let svg = plot(
        &catalog,
        "noise-exposure",
        &[("level", "72 dB"), ("duration", "1 h")],
    );
    assert!(texts(&svg).contains(&"80"), "{svg}");
}

#[test]
fn a_plot_of_what_is_not_there_is_found_in_its_place() {
    let text = include_str!("../../catalog/noise-exposure.toml");
    let fault = |from: &str, to: &str| {
        let broken = text.replacen(from, to, 1);
        assert_ne!(broken, text, "{from}");
        let file = crate::SourceFile {
            path: "noise-exposure.toml".into(),
            text: broken.clone(),
        };
        let (_, findings) = Catalog::load(&[file]);
        let at = findings
            .iter()
            .find(|one| ["plot", "value"].contains(&one.code.name()));
        broken[at.unwrap().span.clone()].to_string()
    };
    assert_eq!(fault("over = \"level\"", "over = \"lever\""), "\"lever\"");
    assert_eq!(
        fault("output = \"permitted_osha\"", "output = \"permitted\""),
        "\"permitted\""
    );
    assert_eq!(fault("from = \"85 dB\"", "from = \"85 psi\""), "\"85 psi\"");
}
