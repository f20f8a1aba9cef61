//! Quantities, formulas, catalogs, kits, and the catalog as a page gets it.

use std::sync::LazyLock;

use gaugeleaf::report::Sources;
use gaugeleaf_calc::formula::{
    EvalFault, Formula, Notation, Scope, Spread, Spreads, Type, Value, Values,
};
use gaugeleaf_calc::message::Message;
use gaugeleaf_calc::quantity::{Want, in_unit, read};
use gaugeleaf_calc::unit::{Dimension, ScaleKind, Unit};
use gaugeleaf_calc::{Catalog, Job, SourceFile, builtin, kit as kits_of};

use super::{placed, text};
use crate::demonstration::{self, GRAPH, carried};

/// A unit on the first line, what somebody typed on the second.
pub fn quantity(bytes: &[u8]) {
    let Some((unit, typed)) = text(bytes).and_then(|text| text.split_once('\n')) else {
        return;
    };
    let Ok(unit) = Unit::parse(unit) else {
        return;
    };
    let want = Want::of(unit);
    let Ok(typed) = read(typed, &want) else {
        return;
    };
    assert!(typed.si.is_finite() && typed.value.is_finite(), "{typed:?}");
    if let Some(span) = typed.span {
        assert!(span.low <= typed.si && typed.si <= span.high, "{typed:?}");
    }
    let printed = in_unit(typed.si, &typed.unit, want.kind);
    let Ok(again) = read(&printed, &want) else {
        // past fifteen digits a number is printed longer than anybody may type
        let large = typed.value.abs() >= 1e15 || (typed.value != 0.0 && typed.value.abs() < 1e-15);
        assert!(large, "{printed} of {typed:?} isn't read");
        return;
    };
    let apart = (again.si - typed.si).abs();
    // ten digits; of inches, what is this near to a sixty-fourth is printed as one
    let near = (1e-8 * typed.si.abs()).max(typed.unit.difference_to_si(2e-11).abs());
    assert!(apart <= near, "{typed:?}, printed {printed}, is {again:?}");
}

pub fn quantities() -> Vec<Vec<u8>> {
    let units = [
        "in", "mm", "psi", "bar", "degF", "gal/min", "count", "ft", "lbf", "MPa", "K", "kg*m/s^2",
    ];
    let typed = [
        "14",
        "9 1/2",
        "1-1/4\"",
        "5 ft 6 1/2 in",
        "1' 2 1/8\"",
        "9 ± 1/8",
        "9 in ± 1/8 in",
        "-3,5",
        "1.234,5",
        "1e3",
        "10 000 psi",
        "20 °C",
        "2½",
        "12 gal/min",
        "3/4",
        "70 MPa(a)",
        "0.333",
        "about 5",
        "5..6 mm",
    ];
    let pairs = units
        .iter()
        .flat_map(|unit| typed.map(|typed| format!("{unit}\n{typed}").into_bytes()));
    pairs.collect()
}

/// SomeNames of every type, and one table.
struct SomeNames;

impl SomeNames {
    fn of(name: &str) -> Option<(Type, Value, Spread)> {
        let number = |dimension, kind, value| {
            let spread = Spread::of(&Value::Number(value));
            (Type::Number(dimension, kind), Value::Number(value), spread)
        };
        Some(match name {
            "length" | "a" => number(Dimension::LENGTH, ScaleKind::Plain, 0.25),
            "pressure" | "p" => number(Dimension::PRESSURE, ScaleKind::Plain, 7e7),
            "heat" | "t" => number(Dimension::TEMPERATURE, ScaleKind::Absolute, 300.0),
            "n" => number(Dimension::NONE, ScaleKind::Plain, 12.0),
            "nought" => number(Dimension::NONE, ScaleKind::Plain, 0.0),
            "large" => number(Dimension::NONE, ScaleKind::Plain, 1e300),
            "choice" => {
                let value = Value::Choice("square".into());
                let spread = Spread::of(&value);
                (
                    Type::Choice(vec!["square".into(), "round".into()]),
                    value,
                    spread,
                )
            }
            _ => return None,
        })
    }
}

impl Scope for SomeNames {
    fn name(&self, name: &str) -> Option<Type> {
        SomeNames::of(name).map(|of| of.0)
    }

    fn is_told(&self, name: &str) -> bool {
        name == "length"
    }

    fn names(&self) -> Vec<String> {
        ["length", "pressure", "heat", "n", "choice"]
            .map(String::from)
            .into()
    }

    fn column(&self, table: &str, _: &str) -> Result<Type, String> {
        match table {
            "sizes" => Ok(Type::Number(Dimension::LENGTH, ScaleKind::Plain)),
            _ => Err("no such table".into()),
        }
    }
}

impl Values for SomeNames {
    fn value(&self, name: &str) -> Option<Value> {
        SomeNames::of(name).map(|of| of.1)
    }

    fn lookup(&self, _: &str, _: &str, keys: &[(&str, Value)]) -> Result<Value, Message> {
        match keys.len() {
            1 => Ok(Value::Number(0.5)),
            _ => Err(Message::data("no row")),
        }
    }

    fn found(&self, _: &str, keys: &[(&str, Value)]) -> Result<bool, Message> {
        Ok(keys.len() == 1)
    }
}

impl Spreads for SomeNames {
    fn spread(&self, name: &str) -> Option<Spread> {
        SomeNames::of(name).map(|of| of.2)
    }

    fn entries(&self, _: &str, _: &str) -> Vec<Value> {
        vec![Value::Number(0.5)]
    }
}

impl Notation for SomeNames {
    fn name(&self, name: &str) -> String {
        name.to_string()
    }

    fn is_number(&self) -> bool {
        false
    }
}

/// A formula's text: parsed, checked, worked out, enclosed and printed. A fault lies within the text.
pub fn formula(bytes: &[u8]) {
    let Some(text) = text(bytes) else {
        return;
    };
    let formula = match Formula::parse(text) {
        Ok(formula) => formula,
        Err(fault) => {
            assert!(text.get(fault.span.clone()).is_some(), "{fault:?}");
            return;
        }
    };
    assert!(
        text.get(formula.expr.span.clone()).is_some(),
        "{:?}",
        formula.expr.span
    );
    let mathml = formula.mathml(&SomeNames);
    assert_eq!(crate::html::foreign(&mathml), None, "{mathml}");
    let plain = formula.plain(&SomeNames);
    match formula.check(&SomeNames) {
        Err(fault) => assert!(text.get(fault.span.clone()).is_some(), "{fault:?}"),
        Ok(_) => {
            let evaluated = formula.evaluate(&SomeNames);
            if let Err(EvalFault { span, .. }) = &evaluated {
                assert!(text.get(span.clone()).is_some(), "{span:?}");
            }
            if let Ok(Value::Number(number)) = &evaluated {
                assert!(number.is_finite(), "{number}");
                // each name is one value there, so what it may be holds what it is
                if let Ok(Spread::Number(span)) = formula.enclose(&SomeNames) {
                    assert!(
                        span.low <= *number && *number <= span.high,
                        "{number} is not in {span:?}"
                    );
                }
            }
            let taken = formula.taken(&SomeNames);
            if let (Ok(Value::Number(whole)), Ok(Value::Number(part))) =
                (&evaluated, &taken.evaluate(&SomeNames))
            {
                assert_eq!(whole.to_bits(), part.to_bits(), "{plain}");
            }
        }
    }
}

pub fn formulas() -> Vec<Vec<u8>> {
    let mut seeds: Vec<Vec<u8>> = [
        "2 * (length + 3 in)",
        "if(n > 3 and not choice = \"round\", length, 2 * a)",
        "sum(k, 1, n, k^2)",
        "root(x, 0, 10, x^2 - n)",
        "largest(k, 1, 3, k * length)",
        "row(\"sizes\", \"bore\", size = n) + a",
        "pressure / 2 - 100 psi",
        "density(heat)",
        "floor(length / 1 in)",
        "-a^2",
        "min(a, length, 2 in)",
    ]
    .map(|text| text.as_bytes().to_vec())
    .into();
    for file in builtin() {
        for line in file.text.lines() {
            if let Some(formula) = line.strip_prefix("formula = \"") {
                seeds.push(formula.trim_end_matches('"').as_bytes().to_vec());
            }
        }
    }
    seeds.sort();
    seeds.dedup();
    seeds
}

/// What calculators stand on: measurements, ratings and tables.
static BASE: LazyLock<Vec<SourceFile>> = LazyLock::new(|| {
    let mut files = builtin();
    files.retain(|file| {
        let stands = ["measurements", "ratings", "/tables/"];
        stands.iter().any(|part| file.path.contains(part))
    });
    files
});

/// What stands between a catalog's file and a figure of it.
const FIGURE: &str = "\n%%%\n";

/// A catalog's file, and perhaps a figure: every calculator that comes of it is asked, drawn and packed.
pub fn catalog(bytes: &[u8]) {
    let Some(text) = text(bytes) else {
        return;
    };
    let (own, figure) = text.split_once(FIGURE).unwrap_or((text, ""));
    let mut files = BASE.clone();
    let mut add = |path: &str, text: &str| {
        let (path, text) = (path.to_string(), text.to_string());
        files.push(SourceFile { path, text });
    };
    add("calculators/own.toml", own);
    if !figure.is_empty() {
        let named = own
            .lines()
            .find_map(|line| line.strip_prefix("figure = \""));
        let named = named.map_or("own.svg", |named| named.trim_end_matches('"'));
        add(&format!("calculators/{named}"), figure);
    }
    let (catalog, findings) = Catalog::load(&files);
    let sources = files.into_iter().map(|file| (file.path, file.text));
    placed(&findings, &Sources::from_iter(sources));
    let job = Job::new();
    for calculator in catalog.calculators.values() {
        let answer = catalog
            .calculate(&calculator.name, &[], &job)
            .expect("a calculator that is there");
        for drawn in [
            catalog.draw(&answer),
            catalog.plot(&answer),
            catalog.draw_map(&answer),
        ] {
            let fault = drawn.as_deref().and_then(crate::html::foreign);
            assert_eq!(fault, None, "{drawn:?}");
        }
        serde_json::from_str::<serde_json::Value>(&calculator_json(&catalog, &calculator.name))
            .expect("JSON");
    }
    if findings.is_empty() {
        let packed = catalog.pack();
        let again = Catalog::unpack(&packed).expect("what was packed");
        assert!(
            again.pack() == packed,
            "what is unpacked packs to other bytes"
        );
        catalog.setup_sheet(&job);
    }
}

/// What the page would get of it.
fn calculator_json(catalog: &Catalog, name: &str) -> String {
    let mut engine = gaugeleaf_engine::Engine::default();
    engine.take_catalog(&catalog.pack());
    let request = serde_json::json!({ "do": "calculate", "name": name, "want": ["working"] });
    engine.call(&request.to_string())
}

pub fn catalogs() -> Vec<Vec<u8>> {
    let files = builtin();
    let figure = |path: &str| files.iter().find(|file| file.path == path);
    let seed = |file: &SourceFile| {
        let name = file.path.strip_suffix(".toml")?;
        let drawn = figure(&format!("{name}.svg")).map(|figure| format!("{FIGURE}{}", figure.text));
        Some((file.text.clone() + &drawn.unwrap_or_default()).into_bytes())
    };
    let mut seeds: Vec<Vec<u8>> = files.iter().filter_map(seed).collect();
    seeds.retain(|seed| seed.len() < 16 << 10);
    seeds.sort_by_key(Vec::len);
    seeds
}

/// A kit's file, against the demonstration's catalog; what it fixes is taken by its field, or refused.
pub fn kit(bytes: &[u8]) {
    let Some(text) = text(bytes) else {
        return;
    };
    let path = "content/equipment/fuzzed.toml";
    let (kit, findings) = kits_of::load(path, text, &GRAPH.catalog);
    placed(
        &findings,
        &Sources::from([(path.to_string(), text.to_string())]),
    );
    for (name, rating) in kit.iter().flat_map(|kit| kit.ratings.iter()) {
        let named = GRAPH
            .catalog
            .named
            .get(name)
            .expect("a rating that there is");
        assert!(text.get(rating.text.span.clone()).is_some(), "{rating:?}");
        let _ = named.field.take(&rating.text.value, None, true);
    }
}

pub fn kits() -> Vec<Vec<u8>> {
    demonstration::texts("content/equipment", ".toml")
}

/// A packed catalog of other bytes, under the seal of the demonstration's, is refused. The bytes are
/// an even one and what stands after the seal, or an odd one and changes: a place, in two bytes, and a letter.
pub fn packed(bytes: &[u8]) {
    let Some((first, bytes)) = bytes.split_first() else {
        return;
    };
    let whole = carried("catalog");
    let mut damaged = whole.to_vec();
    if first % 2 == 0 {
        damaged.truncate(8);
        damaged.extend(bytes);
    } else {
        for change in bytes.chunks_exact(3) {
            let at = usize::from(change[0]) << 8 | usize::from(change[1]);
            let end = damaged.len();
            damaged[at * 97 % end] ^= change[2];
        }
    }
    let taken = Catalog::unpack(&damaged);
    assert!(
        taken.is_none() || damaged == whole,
        "bytes that nobody packed are taken"
    );
}

pub fn packed_seeds() -> Vec<Vec<u8>> {
    let whole = carried("catalog");
    let part = |length: usize| [&[0], &whole[8..length.min(whole.len())]].concat();
    vec![
        part(9),
        part(100),
        part(4_000),
        vec![1, 0, 9, 1],
        vec![1, 3, 0, 128, 2, 7, 255],
    ]
}
