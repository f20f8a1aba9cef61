//! Reading and printing, each against the other and against a table of entries.

use proptest::prelude::*;

use super::*;
use crate::message::in_english;
use crate::unit::Unit;

fn want(unit: &str) -> Want {
    Want::of(Unit::parse(unit).unwrap())
}

fn inches(text: &str) -> f64 {
    tidy(
        Unit::parse("in")
            .unwrap()
            .from_si(read(text, &want("in")).unwrap().si),
    )
}

#[test]
fn lengths_are_read_in_every_form_that_crews_write() {
    for (text, expected) in [
        ("14", 14.0),
        ("14 in", 14.0),
        ("14in", 14.0),
        ("1 1/4", 1.25),
        ("1 1/4 in", 1.25),
        ("1-1/4\"", 1.25),
        ("1–1/4 in", 1.25),
        ("1¼", 1.25),
        ("1 ¼ in", 1.25),
        ("1 1⁄4", 1.25),
        ("9/16", 0.5625),
        ("½\"", 0.5),
        ("5/4 in", 1.25),
        ("5'6\"", 66.0),
        ("5' 6\"", 66.0),
        ("5' 6 1/2\"", 66.5),
        ("5'-6 1/2\"", 66.5),
        ("5′ 6″", 66.0),
        ("5’ 6”", 66.0),
        ("5 ft 6 in", 66.0),
        ("5ft6in", 66.0),
        ("5 ft", 60.0),
        (".5", 0.5),
        ("1.25 in", 1.25),
        ("31,75 mm", 1.25),
        ("0,125", 0.125),
        ("32mm", 32.0 / 25.4),
        ("355.6 mm", 14.0),
        ("12\u{202f}700 mm", 500.0),
        ("-2", -2.0),
        ("−1 1/2 in", -1.5),
        ("  14  in  ", 14.0),
    ] {
        assert!(
            (inches(text) - expected).abs() < 1e-10,
            "{text}: {}",
            inches(text)
        );
    }
}

#[test]
fn doubtful_entries_are_refused_and_never_repaired() {
    for text in [
        "",
        " ",
        "abc",
        "1,250",
        "1 - 1/4",
        "1 -1/4",
        "1- 1/4",
        "1e3",
        "1E-3",
        "14.",
        "1..2",
        "1,250.5,5",
        "12,50.5",
        "+-5",
        "0 250",
        "1 ft.2 in",
        "10'000",
        "20' 14",
        "20' 6 7",
        "14 in..",
        "5 in 6",
        "14 mil",
        "60 F",
        "\u{202e}14 in",
        "1.2.3",
        "1/0",
        "1 5/4",
        "1 4/4",
        "1.5 1/4",
        "1/2/3",
        "1/",
        "/4",
        "--2",
        "- 2",
        "5' 13\"",
        "5.5 ft 6 in",
        "6 in 5 ft",
        "5 in 6 in",
        "14 furlongs",
        "14 ton",
        "14 psi",
        "5 6",
        "1 1 1/4",
        "1¼½",
        "¼1",
        "1 1/4 1/4",
        "14 in mm",
        "٣",
        "1٬5",
        "∞",
        "NaN",
        "inf",
        "1_000",
        "0x10",
        "14;",
        "(14)",
        "1/2.5",
        "2 lb 3 in",
    ] {
        let result = read(text, &want("in"));
        assert!(result.is_err(), "{text} was read as {result:?}");
    }
}

#[test]
fn a_pressure_is_refused_where_a_length_is_wanted() {
    let fault = read("14psi", &want("in")).unwrap_err();
    assert_eq!(
        in_english(&fault.message()),
        "`14psi` is a pressure, and a length is wanted"
    );
    assert_eq!(
        in_english(&fault.help()),
        "write it in the unit wanted, such as 12 in"
    );
}

#[test]
fn gauge_and_absolute_pressures_are_told_apart() {
    assert!(read("100 psig", &want("psi")).is_ok());
    assert!(matches!(
        read("100 psia", &want("psi")),
        Err(QuantityFault::Kind { .. })
    ));
    assert!(matches!(
        read("100 psi", &want("psia")),
        Err(QuantityFault::Kind { .. })
    ));
    assert!(read("100 bara", &want("psia")).is_ok());
}

#[test]
fn temperatures_and_their_differences_are_read_by_what_is_wanted() {
    assert!((read("68 degF", &want("degC")).unwrap().si - 293.15).abs() < 1e-9);
    assert!((read("18 °F", &want("K")).unwrap().si - 10.0).abs() < 1e-12);
    assert!((read("-40 degC", &want("degC")).unwrap().si - 233.15).abs() < 1e-9);
}

#[test]
fn counts_are_whole_and_bare() {
    let count = Want::of(Unit::count());
    assert_eq!(read("12", &count).unwrap().si, 12.0);
    for text in ["1.5", "1/2", "12 in", "1,5"] {
        assert!(read(text, &count).is_err(), "{text}");
    }
}

#[test]
fn fractions_print_in_lowest_terms_and_round_as_stated() {
    let print = |value: f64, rounding| {
        let form = UnitFormat::parse("in", "1/8", rounding).unwrap();
        form.print(value * 0.0254).text
    };
    assert_eq!(print(25.5, Rounding::Down), "25 1/2 in");
    assert_eq!(print(25.624, Rounding::Down), "25 1/2 in");
    assert_eq!(print(25.501, Rounding::Up), "25 5/8 in");
    assert_eq!(print(0.25, Rounding::Nearest), "1/4 in");
    assert_eq!(print(-1.5, Rounding::Nearest), "−1 1/2 in");
    assert_eq!(print(-0.01, Rounding::Nearest), "0 in");
    assert_eq!(print(12.0, Rounding::Down), "12 in");
}

#[test]
fn conversion_noise_never_costs_a_step() {
    let down = UnitFormat::parse("in", "1/8", Rounding::Down).unwrap();
    let up = UnitFormat::parse("in", "1/8", Rounding::Up).unwrap();
    for eighths in 1..4000 {
        let si = f64::from(eighths) / 8.0 * 0.0254;
        assert_eq!(down.print(si).value, f64::from(eighths) / 8.0);
        assert_eq!(up.print(si).value, f64::from(eighths) / 8.0);
    }
}

#[test]
fn thousands_are_set_apart_from_five_digits_on() {
    let psi = UnitFormat::parse("psi", "1", Rounding::Nearest).unwrap();
    let one = Unit::parse("psi").unwrap().to_si(1.0);
    assert_eq!(psi.print(9500.0 * one).text, "9500 psi");
    assert_eq!(psi.print(14500.0 * one).text, "14\u{202f}500 psi");
    let hundreds = UnitFormat::parse("psi", "100", Rounding::Down).unwrap();
    assert_eq!(hundreds.print(14567.0 * one).text, "14\u{202f}500 psi");
}

#[test]
fn the_echo_shows_both_unit_systems() {
    let inch = Unit::parse("in").unwrap();
    let mm = Unit::parse("mm").unwrap();
    let echo = |text: &str| {
        let typed = read(text, &want("in")).unwrap();
        understood(
            typed.si,
            &typed.unit,
            &inch,
            Some(&mm),
            crate::unit::ScaleKind::Plain,
        )
    };
    assert_eq!(echo("1 1/4"), "1 1/4 in = 1.25 in = 31.75 mm");
    assert_eq!(echo("14"), "14 in = 355.6 mm");
    assert_eq!(echo("355.6 mm"), "355.6 mm = 14 in");
    assert_eq!(echo("5' 6\""), "5.5 ft = 66 in = 1676.4 mm");
}

#[test]
fn rounding_words_name_direction_and_step() {
    for (unit, step, rounding, words) in [
        ("in", "1/8", Rounding::Down, "rounded down to 1/8 in"),
        ("mm", "1", Rounding::Nearest, "rounded to the nearest 1 mm"),
        ("count", "1", Rounding::Up, "rounded up to a whole number"),
    ] {
        let format = UnitFormat::parse(unit, step, rounding).unwrap();
        assert_eq!(in_english(&format.rounding_words()), words);
    }
}

proptest! {
    #[test]
    fn what_is_printed_reads_back_as_the_same_value(
        steps in -400_000i32..400_000,
        unit in prop::sample::select(vec!["in", "mm", "ft", "psi", "gal/min", "degC", "deg", "lbf"]),
        step in prop::sample::select(vec!["1/8", "1/64", "0.1", "0.001", "1", "100"]),
    ) {
        let form = UnitFormat::parse(unit, step, Rounding::Nearest).unwrap();
        let si = form.unit.to_si_as(f64::from(steps) / 37.0, form.kind);
        let shown = form.print(si);
        let back = read(&shown.text, &Want::of(form.unit.clone())).unwrap();
        prop_assert!((back.value - shown.value).abs() <= 1e-9 * shown.value.abs().max(1.0));
    }

    #[test]
    fn rounding_never_passes_the_exact_value_on_the_unsafe_side(
        value in -1e5f64..1e5,
        step in prop::sample::select(vec!["1/8", "1/64", "0.1", "0.01", "1", "100"]),
    ) {
        let si = value * 0.0254;
        let down = UnitFormat::parse("in", step, Rounding::Down).unwrap().print(si).value;
        let up = UnitFormat::parse("in", step, Rounding::Up).unwrap().print(si).value;
        let noise = 1e-8 * value.abs().max(1.0);
        prop_assert!(down <= value + noise, "{down} > {value}");
        prop_assert!(up >= value - noise, "{up} < {value}");
    }

    #[test]
    fn any_text_is_read_or_refused_without_a_panic(text in "\\PC{0,30}") {
        let _ = read(&text, &want("in"));
        let _ = read(&text, &Want::of(Unit::count()));
    }

    /// A repaired reading would be the value of the text with something left out.
    #[test]
    fn a_reading_always_accounts_for_every_digit(text in "[0-9.,/ '\"e-]{1,10}") {
        if let Ok(typed) = read(&text, &want("in")) {
            let digits = text.chars().filter(char::is_ascii_digit).count();
            let simple: Option<f64> = text.trim().parse().ok();
            if let Some(simple) = simple {
                prop_assert!((typed.value - simple).abs() < 1e-9);
            } else {
                prop_assert!(digits > 0 && text.trim().contains(['/', '\'', '"', ',', '.', ' ']));
            }
        }
    }
}
