//! Questions to the engine, with a fingerprint of the native answer to each: for
//! `tests/engine/compare.js`, which puts them to the browser's engine.
//!
//! `questions [CASES [PART OF]]` writes the packed catalog in hexadecimal on the first line, then a
//! line a question: the fingerprint, a space, the request. Of the calculators it asks every one, or
//! one in OF from the PART-th on, so that each core has a share.

use std::env;
use std::io::{self, BufWriter, Write};
use std::path::Path;

use gaugeleaf::handbook::files::read;
use gaugeleaf::session;
use gaugeleaf_engine::Engine;
use gaugeleaf_fuzz::requests::{Dice, ask, asked, calculate, seed, switch};
use sha2::{Digest, Sha256};

fn main() -> io::Result<()> {
    let number = |at: usize| env::args().nth(at).and_then(|number| number.parse().ok());
    let cases = number(1).unwrap_or(5000);
    let (part, of) = (number(2).unwrap_or(0), number(3).unwrap_or(1));
    let (files, _) = read(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../..")));
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
    for calculator in catalog.calculators.values().skip(part).step_by(of) {
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
