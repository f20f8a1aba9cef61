//! What people write, and what becomes of it: read where it has one reading, else asked back with
//! help that is right.

use super::*;
use crate::message::in_english;
use crate::unit::Unit;

fn want(unit: &str) -> Want {
    if unit == "count" {
        return Want::of(Unit::count());
    }
    Want::of(Unit::parse(unit).unwrap())
}

/// What a text comes to in the unit wanted.
fn value(text: &str, unit: &str) -> Result<f64, QuantityFault> {
    let want = want(unit);
    read(text, &want).map(|typed| want.unit.from_si_as(typed.si, want.kind))
}

#[test]
fn what_has_one_reading_is_read() {
    for (text, unit, expected) in [
        // what a phone's calculator gives
        ("13579.246813579246psi", "psi", 13_579.246_813_579_246),
        ("14.16666666666666 in", "in", 14.166_666_666_666_66),
        ("0.000050000000000 mm", "mm", 0.000_05),
        ("0.1000000000000000055511151231257827 in", "in", 0.1),
        (
            "123456789012345678901234567890",
            "in",
            1.234_567_890_123_456_8e29,
        ),
        // points after units
        ("14.25 in.", "in", 14.25),
        ("5 mm.", "mm", 5.0),
        ("1 ft. 2 in.", "in", 14.0),
        // feet and inches
        ("20' 6", "in", 246.0),
        ("20'6", "in", 246.0),
        ("1' 2", "in", 14.0),
        ("20 ft 6", "in", 246.0),
        ("20 ft 6 1/2", "in", 246.5),
        ("20', 6\"", "in", 246.0),
        ("27ft-5 1/2\"", "in", 329.5),
        ("27 ft - 5 1/2 in", "in", 329.5),
        ("5' - 6\"", "in", 66.0),
        ("5ft2\"", "in", 62.0),
        ("5 ft2 in", "in", 62.0),
        ("14’’", "in", 14.0),
        ("14 “", "in", 14.0),
        ("5‘ 6“", "in", 66.0),
        ("1 h 30", "min", 90.0),
        // angles
        ("35deg30'", "deg", 35.5),
        ("35° 30′", "deg", 35.5),
        ("35 deg 30 min", "deg", 35.5),
        ("35°3'36\"", "deg", 35.06),
        // digits in groups
        ("10 000 psi", "psi", 10_000.0),
        ("1 000 000", "psi", 1_000_000.0),
        ("10 000 1/2 in", "in", 10_000.5),
        ("1,250.5", "in", 1250.5),
        ("1.250,5", "in", 1250.5),
        ("1,234,567 psi", "psi", 1_234_567.0),
        ("12.250", "in", 12.25),
        // temperatures
        ("60 F", "degF", 60.0),
        ("60F", "degF", 60.0),
        ("15C", "degC", 15.0),
        ("15 c.", "degC", 15.0),
        ("60 deg F", "degF", 60.0),
        ("60 degrees F", "degF", 60.0),
        ("60 ° F", "degF", 60.0),
        // units in words
        ("38 LPM", "L/min", 38.0),
        ("38 lpm", "L/min", 38.0),
        ("60 fpm", "ft/min", 60.0),
        ("100 scfm", "ft3/min", 100.0),
        ("600 gph", "gal/min", 10.0),
        ("10 ksi", "psi", 10_000.0),
        ("10 kpsi", "psi", 10_000.0),
        ("10k psi", "psi", 10_000.0),
        ("20 mbar", "bar", 0.02),
        ("5000 um", "mm", 5.0),
        ("5000 µm", "mm", 5.0),
        ("125 thou", "in", 0.125),
        ("10 gallons per minute", "gal/min", 10.0),
        ("10 gal per min", "gal/min", 10.0),
        ("10 gal / min", "gal/min", 10.0),
        ("50 US gal", "gal", 50.0),
        ("3 ft3 per min", "ft3/min", 3.0),
        // another keyboard, and pastes
        ("１４．２５ ｉｎ", "in", 14.25),
        ("+14 in", "in", 14.0),
        ("\u{200b}14\u{feff} in\u{200e}", "in", 14.0),
        ("\u{202d}14 in\u{202c}", "in", 14.0),
        ("11.0", "count", 11.0),
        ("11,0", "count", 11.0),
        ("12 000", "count", 12_000.0),
    ] {
        match value(text, unit) {
            Ok(value) => assert!(
                (value - expected).abs() <= 1e-12 * expected.abs().max(1e-3),
                "{text}: {value}"
            ),
            Err(fault) => panic!("{text}: {fault:?}"),
        }
    }
}

#[test]
fn every_digit_of_a_long_number_counts_as_in_any_other_program() {
    for text in [
        "13579.246813579246",
        "0.000050000000000",
        "9007199254740993",
        "3.14159265358979323846264338327950288419716939937510582097",
    ] {
        assert_eq!(value(text, "1"), Ok(text.parse().unwrap()), "{text}");
    }
}

#[test]
fn what_is_asked_back_comes_with_help_that_is_right() {
    for (text, unit, help) in [
        // never a unit a thousand times off, nor one of another kind
        ("3 kgal", "gal", "write the unit as gal or L"),
        ("1 day", "min", "write the unit as s, min or h"),
        ("0.1 MW", "kW", "write the unit as hp or kW"),
        (
            "38 LPN",
            "L/min",
            "write the unit as gal/min, L/min or ft3/min",
        ),
        (
            "10 hPa",
            "psi",
            "write the unit as psi, ksi, bar, kPa or MPa",
        ),
        (
            "10 Mpsi",
            "psi",
            "write the unit as psi, ksi, bar, kPa or MPa",
        ),
        ("1 km", "m", "write the unit as in, ft, mm, cm or m"),
        ("60 F", "in", "write the unit as in, ft, mm, cm or m"),
        ("2 ton", "in", "write the unit as in, ft, mm, cm or m"),
        ("10 xsia", "psia", "write the unit as psia, bara or kPaa"),
        ("5 x", "1", "write the number without a unit, or with %"),
        // one letter off, and of the kind wanted
        ("10 pis", "psi", "did you mean psi?"),
        ("10 pis", "in", "write the unit as in, ft, mm, cm or m"),
        ("5 gal/miin", "gal/min", "did you mean gal/min?"),
        // never what was typed
        ("5. in", "in", "write 5 in, or the digits that are missing"),
        ("14.", "in", "write 14, or the digits that are missing"),
        ("14..25 in", "in", "write 14.25 in"),
        ("14.. in", "in", "write 14 in"),
        ("1,250 mm", "mm", "write 1250 mm or 1.25 mm"),
        ("-1,125", "mm", "write -1125 or -1.1250"),
        ("10,000 psi", "psi", "write 10000 psi or 10 psi"),
        (
            "14 mil",
            "in",
            "to some a mil is a thousandth of an inch, to others a millimetre: write thou or mm",
        ),
    ] {
        let fault = value(text, unit).expect_err(text);
        assert_eq!(in_english(&fault.help()), help, "{text}");
    }
}

/// Following the help never leads to another question.
#[test]
fn what_a_doubt_offers_to_write_is_read() {
    let lengths = want("mm");
    for text in ["1,250 mm", "1.125 mm", "12,000", "999.999 mm", "10,100 in"] {
        let Ok(TypedReadings::Two(doubt)) = readings(text, &lengths) else {
            panic!("{text} is not doubted");
        };
        let QuantityFault::AmbiguousMark {
            plain: one,
            decimal: other,
            ..
        } = &doubt.fault
        else {
            panic!("{text}: {:?}", doubt.fault);
        };
        for (text, meant) in [(one, &doubt.plain), (other, &doubt.decimal)] {
            match readings(text, &lengths) {
                Ok(TypedReadings::One(read)) => assert_eq!(&read, meant, "{text}"),
                other => panic!("{text}: {other:?}"),
            }
        }
    }
}
