//! The committed browser engine: built from today's sources, and the same as the native one.

use std::{env, fs, thread};

use gaugeleaf_calc::Catalog;
use gaugeleaf_calc::calculator::{Calculator, Input};
use gaugeleaf_calc::field::FieldKind;
use gaugeleaf_calc::unit::Unit;
use gaugeleaf_engine::Engine;
use serde_json::{Value, json};

use crate::host::{Host, engine_path};
use crate::requests::{Asked, Dice, Kind, Scale, calculate, switch};

fn wasm() -> Vec<u8> {
    let path = engine_path();
    fs::read(&path).unwrap_or_else(|fault| {
        panic!(
            "{}: {fault}: build it with src/engine/build-browser",
            path.display()
        )
    })
}

#[test]
fn the_engine_was_built_from_todays_sources() {
    let built_from = Host::start(&wasm()).sources();
    assert_eq!(
        built_from,
        gaugeleaf_engine::SOURCES,
        "{} is out of date: rebuild it with src/engine/build-browser, and commit it",
        engine_path().display()
    );
}

#[test]
fn the_engine_carries_no_catalog_of_its_own() {
    let wasm = wasm();
    for file in gaugeleaf_calc::builtin() {
        let text = file.text.as_bytes();
        let piece = &text[..text.len().min(60)];
        assert!(
            !wasm.windows(piece.len()).any(|window| window == piece),
            "{} is inside the engine, which gets its catalog from the page",
            file.path
        );
    }
}

#[test]
fn the_engine_reads_only_the_room_it_reserved() {
    let mut host = Host::start(&wasm());
    let refused = r#"{"error":"the request is not in the reserved room"}"#;
    assert_eq!(host.call_at(0, 10), refused);
    assert_eq!(host.call_at(u32::MAX, u32::MAX), refused);
    let not_text = host.call(b"\xff\xfe");
    assert_eq!(not_text, r#"{"error":"the request is not UTF-8"}"#);
    assert_eq!(host.call(b"{}"), Engine::default().call("{}"));
}

#[test]
fn every_calculator_answers_to_the_same_bits_as_natively() {
    let wasm = wasm();
    let (catalog, _) = Catalog::load(&gaugeleaf_calc::builtin());
    assert!(!catalog.calculators.is_empty());
    let open = open_request();
    thread::scope(|scope| {
        for calculator in catalog.calculators.values() {
            scope.spawn(|| compare(&wasm, &open, calculator));
        }
    });
}

#[test]
fn broken_requests_get_the_same_answer_as_natively() {
    let mut both = Both::start(&wasm(), &open_request());
    let deep = "[".repeat(100_000);
    let long = format!("{{\"do\":\"{}\"}}", "x".repeat(100_000));
    for request in [
        "",
        "{",
        "null",
        "[]",
        "{}",
        r#"{"do":7}"#,
        r#"{"do":"fly"}"#,
        r#"{"do":"calculate"}"#,
        r#"{"do":"calculate","name":"no-such"}"#,
        r#"{"do":"calculate","name":"pitch-span","inputs":7}"#,
        r#"{"do":"calculate","name":"pitch-span","inputs":{"max_pitch":{"text":7}}}"#,
        r#"{"do":"calculate","name":"pitch-span","want":"all"}"#,
        r#"{"do":"switch","name":"pitch-span","input":"max_pitch","text":"1","from":"in","to":"psi"}"#,
        r#"{"do":"search","query":"hose","limit":-1}"#,
        r#"{"do":"search","query":7}"#,
        r#"{"do":"open","files":[{"path":"a.toml","text":"[calculator]\nname = 7"}]}"#,
        r#"{"do":"open","files":[],"index":"not base64"}"#,
        r#"{"do":"open","files":[],"index":"AAAA"}"#,
        r#"{"do":"open"}"#,
        &deep,
        &long,
    ] {
        both.ask(request);
    }
}

/// The request that opens the built-in catalog, as a page does.
fn open_request() -> String {
    let files: Vec<Value> = gaugeleaf_calc::builtin()
        .into_iter()
        .map(|file| json!({ "path": file.path, "text": file.text }))
        .collect();
    json!({ "do": "open", "files": files }).to_string()
}

/// The same engine twice: as the browser runs it, and natively.
struct Both {
    host: Host,
    native: Engine,
}

impl Both {
    fn start(wasm: &[u8], open: &str) -> Self {
        let mut both = Self {
            host: Host::start(wasm),
            native: Engine::default(),
        };
        assert_eq!(both.ask(open), r#"{"ok":true}"#);
        both
    }

    /// The answer that both give; any difference ends the test.
    fn ask(&mut self, request: &str) -> String {
        let native = self.native.call(request);
        let browser = self.host.call(request.as_bytes());
        if native != browser {
            panic!("asked {request}\nnative  {native}\nbrowser {browser}");
        }
        native
    }
}

/// How many requests each calculator gets; fewer when an engine is only tried out.
fn cases() -> usize {
    env::var("ENGINE_TEST_CASES")
        .ok()
        .map_or(5000, |cases| cases.parse().expect("a number of cases"))
}

fn compare(wasm: &[u8], open: &str, calculator: &Calculator) {
    let name = calculator.name.as_str();
    let inputs: Vec<Asked> = calculator.inputs.iter().map(asked).collect();
    let mut both = Both::start(wasm, open);
    let seed = name.bytes().fold(1, |seed: u64, byte| {
        seed.wrapping_mul(31).wrapping_add(byte.into())
    });
    let mut dice = Dice::new(seed);
    let (mut answered, mut refused) = (0, 0);
    for _ in 0..cases() {
        let request = calculate(name, &inputs, &mut dice).to_string();
        let answer: Value = serde_json::from_str(&both.ask(&request)).expect("an answer is JSON");
        if answer["outputs"]
            .as_object()
            .is_some_and(|outputs| !outputs.is_empty())
        {
            answered += 1;
        } else {
            refused += 1;
        }
    }
    for _ in 0..cases() / 5 {
        both.ask(&switch(name, &inputs, &mut dice).to_string());
    }
    // neither side of the engine may go untried
    assert!(
        answered > cases() / 4,
        "{name}: only {answered} were answered"
    );
    assert!(
        refused > cases() / 10,
        "{name}: only {refused} were refused"
    );
}

fn asked(input: &Input) -> Asked {
    let kind = match &input.field.kind {
        FieldKind::Choice(choices) => {
            Kind::Choice(choices.iter().map(|choice| choice.name.clone()).collect())
        }
        FieldKind::Number {
            face,
            least,
            most,
            usual,
            ..
        } => {
            let limits = (least.unwrap_or(0.0), most.unwrap_or(1000.0));
            let usual = usual.unwrap_or(limits);
            let scale = |unit: String| {
                let known = Unit::parse(&unit).expect("a unit that the catalog offers");
                let band = |(low, high)| (known.from_si(low), known.from_si(high));
                Scale {
                    limits: band(limits),
                    usual: band(usual),
                    unit,
                }
            };
            Kind::Number(face.units().into_iter().map(scale).collect())
        }
    };
    Asked {
        name: input.field.name.clone(),
        kind,
    }
}
