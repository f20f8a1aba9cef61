//! Answers one calculator straight from the catalog's files, for whoever writes
//! one: `cargo run -p gaugeleaf-calc --example answer NAME input=value …`.
//! With no name, lists every finding. `figure=FILE` writes the figure there.

use std::path::Path;
use std::{env, fs, io};

use gaugeleaf_calc::finding::line_column;
use gaugeleaf_calc::message::in_english;
use gaugeleaf_calc::{Argument, Catalog, Job, SourceFile};

fn gather(folder: &Path, path: &str, files: &mut Vec<SourceFile>) -> io::Result<()> {
    let mut entries: Vec<_> = fs::read_dir(folder)?.collect::<Result<_, _>>()?;
    entries.sort_by_key(fs::DirEntry::file_name);
    for entry in entries {
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = format!("{path}/{name}");
        if entry.path().is_dir() {
            gather(&entry.path(), &path, files)?;
        } else if name.ends_with(".toml") || name.ends_with(".svg") {
            files.push(SourceFile {
                path,
                text: fs::read_to_string(entry.path())?,
            });
        }
    }
    Ok(())
}

fn main() -> io::Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalog");
    let mut files = Vec::new();
    gather(&folder, "calculators/catalog", &mut files)?;
    let (catalog, findings) = Catalog::load(&files);
    for finding in &findings {
        let text = files
            .iter()
            .find(|file| file.path == finding.file)
            .map_or("", |file| &file.text);
        let (line, column) = line_column(text, finding.span.start);
        println!(
            "{}:{line}:{column}: {} [{}]",
            finding.file,
            finding.message,
            finding.code.name()
        );
        println!("    {}", finding.help.as_deref().unwrap_or(""));
    }
    let mut arguments = env::args().skip(1);
    let Some(name) = arguments.next() else {
        println!(
            "{} findings, {} calculators",
            findings.len(),
            catalog.calculators.len()
        );
        return Ok(());
    };
    let mut drawing = None;
    let mut given = Vec::new();
    for argument in arguments {
        let (input, text) = argument.split_once('=').unwrap_or((&argument, ""));
        if input == "figure" {
            drawing = Some(text.to_string());
        } else {
            given.push(Argument {
                confirmed: true,
                ..Argument::new(input, text)
            });
        }
    }
    let Some(answer) = catalog.calculate(&name, &given, &Job::new()) else {
        println!("there is no calculator {name}");
        return Ok(());
    };
    for problem in &answer.problems {
        println!(
            "PROBLEM {}: {} ({})",
            problem.input,
            in_english(&problem.message),
            problem.help.as_ref().map(in_english).unwrap_or_default()
        );
    }
    for input in &answer.inputs {
        println!("in   {} = {}", input.name, input.understood);
    }
    for output in &answer.outputs {
        println!(
            "out  {} = {} ({:?}) {}",
            output.name,
            in_english(&output.told()),
            answer.values.get(&output.name),
            in_english(&output.rounded)
        );
    }
    for verdict in &answer.checks {
        let because = in_english(&verdict.because);
        println!("{}: {}: {because}", verdict.is, verdict.check);
    }
    for line in &answer.working {
        println!("     {}  {}  {}", line.formula, line.numbers, line.result);
    }
    match (drawing, catalog.draw(&answer)) {
        (Some(path), Some(figure)) => fs::write(path, figure),
        _ => Ok(()),
    }
}
