//! Questions to the engine, with a fingerprint of the native answer to each: for
//! `tests/engine/compare.js`, which puts them to the browser's engine.
//!
//! `questions [CASES]` writes the packed catalog in hexadecimal on the first line, then a
//! line a question: the fingerprint, a space, the request.

use std::env;
use std::io::{self, BufWriter, Write};
use std::path::Path;

use gaugeleaf::handbook::files::read;
use gaugeleaf::session;
use gaugeleaf_engine::Engine;
use gaugeleaf_tests::requests::{Dice, ask, asked, calculate, seed, switch};
use sha2::{Digest, Sha256};

fn main() -> io::Result<()> {
    let cases = env::args()
        .nth(1)
        .and_then(|cases| cases.parse().ok())
        .unwrap_or(5000);
    let (files, _) = read(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/..")));
    let (graph, _, findings) = session::asked(&files);
    assert!(findings.is_empty(), "{findings:?}");
    let catalog = graph.catalog;
    let packed = catalog.pack();
    let mut engine = Engine::default();
    engine.take_catalog(&packed);
    let mut out = BufWriter::new(io::stdout().lock());
    // in the same stream: whoever reads the first question has the catalog
    writeln!(out, "{}", hex(&packed))?;
    let mut put = |request: &str| {
        let hash = Sha256::digest(engine.call(request));
        writeln!(out, "{} {request}", hex(&hash[..8]))
    };
    // whose values hold, before anything is asked
    put(r#"{"do":"job","whose":"page","given":{}}"#)?;
    for calculator in catalog.calculators.values() {
        let inputs = asked(calculator);
        let mut dice = Dice::new(seed(&calculator.name));
        for at in 0..cases {
            let request = match at % 12 {
                1 => ask(&calculator.name, &inputs, &mut dice),
                5 | 11 => switch(&calculator.name, &inputs, &mut dice),
                _ => calculate(&calculator.name, &inputs, &mut dice),
            };
            put(&request.to_string())?;
        }
    }
    out.flush()
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
