//! The committed browser engine: built from today's sources, and the same as the native one.

use std::io::Read;
use std::sync::Mutex;
use std::{env, fs, thread};

use flate2::read::GzDecoder;
use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_engine::Engine;
use gaugeleaf_lookup::{Document, SearchWords, build};
use serde_json::Value;

use crate::demonstration;
use crate::host::{Host, engine_path};
use gaugeleaf_fuzz::requests::{Dice, ask, asked, calculate, search, seed, switch};

pub(crate) const PARTS: [&str; 3] = ["calculators", "search", "share"];

pub(crate) fn wasm(part: &str) -> Vec<u8> {
    let path = engine_path(part);
    let mut wasm = Vec::new();
    fs::File::open(&path)
        .and_then(|packed| GzDecoder::new(packed).read_to_end(&mut wasm))
        .unwrap_or_else(|fault| {
            panic!(
                "{}: {fault}: build it with src/engine/build-browser",
                path.display()
            )
        });
    wasm
}

#[test]
fn the_engine_was_built_from_todays_sources() {
    for part in PARTS {
        let built_from = Host::start(&wasm(part)).sources();
        assert_eq!(
            built_from,
            gaugeleaf_engine::SOURCES,
            "{} is out of date: rebuild it with src/engine/build-browser, and commit it",
            engine_path(part).display()
        );
    }
}

#[test]
fn the_engine_carries_no_catalog_of_its_own() {
    let wasm = wasm("calculators");
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
    let mut host = Host::start(&wasm("calculators"));
    let refused = r#"{"error":"the request is not in the reserved room"}"#;
    assert_eq!(host.call_at(0, 10), refused);
    assert_eq!(host.call_at(u32::MAX, u32::MAX), refused);
    let not_text = host.call(b"\xff\xfe");
    assert_eq!(not_text, r#"{"error":"the request is not UTF-8"}"#);
    assert_eq!(host.call(b"{}"), Engine::default().call("{}"));
}

#[test]
fn every_calculator_answers_to_the_same_bits_as_natively() {
    let wasm = wasm("calculators");
    let catalog = demonstration::catalog();
    assert!(!catalog.calculators.is_empty());
    let packed = catalog.pack();
    // As many at a time as there are cores: an interpreter is all computing.
    let waiting = Mutex::new(catalog.calculators.values());
    let next = || waiting.lock().expect("no other thread panicked").next();
    let cores = thread::available_parallelism().map_or(1, usize::from);
    thread::scope(|scope| {
        for _ in 0..cores {
            scope.spawn(|| {
                while let Some(calculator) = next() {
                    compare(&wasm, &packed, calculator);
                }
            });
        }
    });
}

#[test]
fn broken_requests_get_the_same_answer_as_natively() {
    let catalog = demonstration::catalog();
    let mut both = Both::start(&wasm("calculators"), &catalog.pack());
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
        r#"{"do":"limits","name":"pitch-span","input":"max_pitch"}"#,
        r#"{"do":"limits","name":"pitch-span","input":"layout"}"#,
        r#"{"do":"limits","name":"pitch-span"}"#,
        r#"{"do":"grade","name":"guide-tube-length"}"#,
        r#"{"do":"grade","name":"guide-tube-length","output":"none","typed":"1","tolerance":"1 in"}"#,
        r#"{"do":"grade","name":"guide-tube-length","output":"length","given":{"channel_depth":"9 in"},"typed":"21 1/2","tolerance":"2 %"}"#,
        r#"{"do":"grade","name":"guide-tube-length","output":"length","typed":"1,250","tolerance":"1 psi"}"#,
        r#"{"do":"measure"}"#,
        r#"{"do":"measure","inputs":7}"#,
        r#"{"do":"measure","inputs":{"tube_od":7,"layout":"90","none":null,"tube_pitch":{"text":"1","unit":"psi"}}}"#,
        r#"{"do":"switch","name":"tube_od","text":"1","from":"in","to":"mm"}"#,
        r#"{"do":"calculate","name":"index-plan","want":["map"]}"#,
        r#"{"do":"ask"}"#,
        r#"{"do":"ask","query":"osha 100 db"}"#,
        r#"{"do":"ask","query":"guide tube 14 in channel","want":["bound"]}"#,
        r#"{"do":"ask","query":"1,250 in","meanings":7,"candidates":{}}"#,
        r#"{"do":"ask","query":"channel 9 in","meanings":[["channel"],[7,["x"]],"x"],"candidates":[7]}"#,
        r#"{"do":"judge"}"#,
        r#"{"do":"draw"}"#,
        r#"{"do":"job","whose":"hand","kit":"none","given":{"tube_od":{"text":"1 in","when":"2026-11-26"},"tube_pitch":{"text":"1 1/4 in","refused":"125 in"},"layout":7}}"#,
        r#"{"do":"judge"}"#,
        r#"{"do":"calculate","name":"pitch-span"}"#,
        r#"{"do":"job","whose":"prepared","name":"T9","given":{"tube_pitch":"1 in"}}"#,
        r#"{"do":"calculate","name":"index-plan"}"#,
        r#"{"do":"job","given":{"tube_pitch":"2 psi"}}"#,
        r#"{"do":"measure","inputs":{"tube_pitch":null}}"#,
        r#"{"do":"calculate","name":"pitch-span"}"#,
        &deep,
        &long,
    ] {
        both.ask(request);
    }
}

#[test]
fn qr_codes_are_drawn_as_natively() {
    let mut host = Host::start(&wasm("share"));
    let mut native = Engine::default();
    for length in [1, 20, 150, 600, 900, 1200, 3000] {
        let text = "https://yard.example/jobs.html#job=A&b=1/2+in".repeat(length / 40 + 1);
        let text = text.get(..length).unwrap_or(&text);
        let request = format!("{{\"do\":\"qr\",\"text\":\"{text}\"}}");
        let answer = native.call(&request);
        assert!(answer.contains("svg") || answer.contains("too long"));
        assert_eq!(host.call(request.as_bytes()), answer, "{length}");
    }
}

#[test]
fn searches_find_the_same_in_the_same_order_as_natively() {
    let catalog = demonstration::catalog();
    let documents: Vec<Document> = catalog
        .calculators
        .values()
        .map(|calculator| Document {
            title: calculator.title.as_str().into(),
            place: "Calculators".into(),
            url: format!("calculators/{}.html", calculator.name).into(),
            kind: gaugeleaf_lookup::DocumentKind::Calculator,
            text: format!("{} {}", calculator.purpose, calculator.method).into(),
            ..Document::default()
        })
        .collect();
    let built = build(&documents, &SearchWords::default());
    let mut native = Engine::default();
    let mut host = Host::start(&wasm("search"));
    for (part, bytes) in [("take_index", &built.index), ("take_texts", &built.texts)] {
        let answer = host.take(part, bytes);
        assert_eq!(answer, r#"{"ok":true}"#, "{part}");
    }
    native.take_index(&built.index);
    native.take_texts(&built.texts);
    let words: Vec<&str> = documents
        .iter()
        .flat_map(|found| found.text.split(' '))
        .collect();
    let mut dice = Dice::new(7);
    let mut found = 0;
    for _ in 0..1000 {
        let request = search(&words, &mut dice).to_string();
        let answer = native.call(&request);
        assert_eq!(host.call(request.as_bytes()), answer, "{request}");
        found += usize::from(!answer.starts_with(r#"{"hits":[]"#));
    }
    assert!(found > 500, "only {found} searches found anything");
    assert_eq!(
        host.take("take_index", b"no index"),
        native.take_index(b"no index")
    );
    assert_eq!(
        host.take("take_texts", &built.index),
        native.take_texts(&built.index)
    );
}

/// The same engine twice: as the browser runs it, and natively.
struct Both {
    host: Host,
    native: Engine,
}

impl Both {
    fn start(wasm: &[u8], packed: &[u8]) -> Self {
        let mut both = Self {
            host: Host::start(wasm),
            native: Engine::default(),
        };
        let taken = both.host.take("take_catalog", packed);
        assert_eq!(taken, r#"{"ok":true}"#);
        assert_eq!(taken, both.native.take_catalog(packed));
        both.ask(demonstration::PAGE);
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

/// How many requests each calculator gets: few, because an interpreter is slow. `tests/engine`
/// puts thousands to the same engine in a browser's runtime.
fn cases() -> usize {
    env::var("ENGINE_TEST_CASES")
        .ok()
        .map_or(60, |cases| cases.parse().expect("a number of cases"))
}

fn compare(wasm: &[u8], packed: &[u8], calculator: &Calculator) {
    let name = calculator.name.as_str();
    let inputs = asked(calculator);
    let mut both = Both::start(wasm, packed);
    let mut dice = Dice::new(seed(name));
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
    let mut understood = 0;
    for _ in 0..cases() / 5 {
        let answer = both.ask(&ask(name, &inputs, &mut dice).to_string());
        understood += usize::from(!answer.starts_with(r#"{"readings":[],"conversion":null"#));
    }
    assert!(understood > 0, "{name}: no question was understood");
    // neither side of the engine may go untried
    assert!(
        answered > cases() / 4,
        "{name}: only {answered} were answered"
    );
    assert!(
        refused > cases() / 25,
        "{name}: only {refused} were refused"
    );
}
