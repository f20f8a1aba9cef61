//! Measures the index over a generated handbook: bytes, load, query times, misspelt titles.
//!
//! `cargo run --release -p gaugeleaf-lookup --example measure [SECTIONS]`
//!
//! `… measure --write FOLDER [FILE]` only writes an index and its documents, for
//! `tests/speed/search`: of the generated handbook, or of a file's lines, each a title, a tab
//! and a text.
//!
//! The words are made up, seeded, and as frequent as in prose. Many differ by one
//! letter: for misspellings this is harder than a real handbook.

use gaugeleaf_lookup::{Document, DocumentKind, Index, SearchWords, build};
use std::collections::HashSet;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const WORDS: usize = 9_000;
const QUERIES: usize = 1_000;

type Ask = fn(&str, &mut Dice) -> String;

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    if let [_, write, folder, from @ ..] = arguments.as_slice()
        && write == "--write"
    {
        if let Err(error) = write_index(Path::new(folder), from.first()) {
            println!("{error}");
        }
        return;
    }
    let sections = std::env::args()
        .nth(1)
        .and_then(|count| count.parse().ok())
        .unwrap_or(12_000);
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15);
    let documents = handbook(sections, &mut dice);
    let text: String = documents
        .iter()
        .map(|document| format!("{}\n{}\n", document.title, document.text))
        .collect();

    let start = Instant::now();
    let built = build(&documents, &SearchWords::default());
    println!("{sections} sections, built in {:?}", start.elapsed());
    let start = Instant::now();
    let opened = Index::open(built.index.clone()).and_then(|mut index| {
        index.take_texts(&built.texts)?;
        Ok(index)
    });
    let index = match opened {
        Ok(index) => index,
        Err(error) => return println!("{error}"),
    };
    println!("opened in {:?}", start.elapsed());

    for (name, part) in [
        ("text", text.as_bytes()),
        ("index", &built.index),
        ("excerpts' texts", &built.texts),
    ] {
        print!("{name:16} {:9} bytes", part.len());
        match gzipped(part) {
            Some(size) => println!(
                ", gzipped {size:9}, {:4.1} % of the text",
                100.0 * size as f64 / text.len() as f64
            ),
            None => println!(" (no gzip here)"),
        }
    }

    let titles: Vec<&str> = (0..QUERIES)
        .map(|_| documents[dice.below(documents.len())].title.as_ref())
        .collect();
    let longest: Ask = |title, dice| misspell(title, false, dice);
    let every: Ask = |title, dice| misspell(title, true, dice);
    run(
        "exact title",
        &index,
        &titles,
        |title, _| title.to_string(),
        &mut dice,
    );
    run("one slip", &index, &titles, longest, &mut dice);
    run("slip in each word", &index, &titles, every, &mut dice);
    run(
        "last word halved",
        &index,
        &titles,
        |title, _| halved(title),
        &mut dice,
    );
    run(
        "first letter only",
        &index,
        &titles,
        |title, _| title[..1].to_string(),
        &mut dice,
    );
}

fn write_index(folder: &Path, from: Option<&String>) -> std::io::Result<()> {
    let documents = match from {
        None => handbook(12_000, &mut Dice(0x9e37_79b9_7f4a_7c15)),
        Some(file) => std::fs::read_to_string(file)?
            .lines()
            .filter_map(|line| line.split_once('\t'))
            .map(|(title, text)| Document {
                title: title.to_string().into(),
                kind: DocumentKind::Heading,
                text: text.to_string().into(),
                ..Document::default()
            })
            .collect(),
    };
    let lines = documents
        .iter()
        .map(|document| format!("{}\t{}\n", document.title, document.text));
    std::fs::write(folder.join("documents.tsv"), lines.collect::<String>())?;
    let built = build(&documents, &SearchWords::default());
    std::fs::write(folder.join("texts"), built.texts)?;
    std::fs::write(folder.join("index"), built.index)
}

/// Puts a question for each title and prints how it went.
fn run(name: &str, index: &Index, titles: &[&str], ask: Ask, dice: &mut Dice) {
    let (mut first, mut third, mut nothing) = (0, 0, 0);
    let mut times: Vec<Duration> = Vec::new();
    for title in titles {
        let query = ask(title, dice);
        let start = Instant::now();
        let found = index.search(&query, 12);
        times.push(start.elapsed());
        let place = found.hits.iter().position(|hit| hit.title == *title);
        first += usize::from(place == Some(0));
        third += usize::from(place.is_some_and(|place| place < 3));
        nothing += usize::from(found.hits.is_empty());
    }
    times.sort();
    let part = |count: usize| 100.0 * count as f64 / titles.len() as f64;
    println!(
        "{name:18} first {:5.1} %, in three {:5.1} %, nothing {:4.1} %; median {:?}, 99 % {:?}, worst {:?}",
        part(first),
        part(third),
        part(nothing),
        times[times.len() / 2],
        times[times.len() * 99 / 100],
        times[times.len() - 1]
    );
}

fn handbook(sections: usize, dice: &mut Dice) -> Vec<Document<'static>> {
    let words = words(dice);
    let mut titles = HashSet::new();
    let mut documents = Vec::new();
    while documents.len() < sections {
        let length = 2 + dice.below(4);
        let title = sentence(&words, length, dice);
        if !titles.insert(title.clone()) {
            continue;
        }
        let page = documents.len() / 6;
        let length = 30 + dice.below(90);
        documents.push(Document {
            place: format!("Phase {} › Page {page}", page % 7).into(),
            url: format!(
                "phase-{}/page-{page}.html#{}",
                page % 7,
                title.replace(' ', "-")
            )
            .into(),
            kind: DocumentKind::Heading,
            text: sentence(&words, length, dice).into(),
            title: title.into(),
            ..Document::default()
        });
    }
    documents
}

fn words(dice: &mut Dice) -> Vec<String> {
    const STARTS: [&str; 20] = [
        "b", "br", "c", "cl", "d", "dr", "f", "fl", "g", "h", "l", "m", "n", "p", "pr", "r", "s",
        "st", "t", "v",
    ];
    const MIDDLES: [&str; 10] = ["a", "e", "i", "o", "u", "ea", "ou", "oo", "ai", "ie"];
    const ENDS: [&str; 12] = ["", "", "", "n", "r", "l", "t", "ck", "nd", "mp", "st", "th"];
    let mut words = Vec::new();
    let mut known = HashSet::new();
    while words.len() < WORDS {
        let mut word = String::new();
        for _ in 0..=(dice.below(3) + words.len() * 2 / WORDS).min(3) {
            for part in [&STARTS[..], &MIDDLES, &ENDS] {
                word.push_str(part[dice.below(part.len())]);
            }
        }
        if word.len() > 2 && known.insert(word.clone()) {
            words.push(word);
        }
    }
    words
}

/// Words as frequent as in prose: the second half as often as the first, and so on.
fn sentence(words: &[String], length: usize, dice: &mut Dice) -> String {
    let mut text: Vec<String> = Vec::new();
    for _ in 0..length {
        let exponent = dice.below(1_000_000) as f64 / 1_000_000.0;
        let rank = (words.len() as f64).powf(exponent) as usize;
        text.push(words[rank.clamp(1, words.len()) - 1].clone());
        if dice.below(12) == 0 {
            text.push(format!("{}/16 in", 1 + 2 * dice.below(8)));
        }
    }
    text.join(" ")
}

/// One slip in the longest word, or in every word of four letters or more.
fn misspell(title: &str, every: bool, dice: &mut Dice) -> String {
    let words: Vec<&str> = title.split(' ').collect();
    let letters = |word: &str| match word.bytes().all(|b| b.is_ascii_lowercase()) {
        true => word.len(),
        false => 0,
    };
    let longest = words.iter().map(|word| letters(word)).max().unwrap_or(0);
    let mut done = false;
    let slipped = words.iter().map(|word| {
        let chosen = match every {
            true => letters(word) >= 4,
            false => !done && letters(word) == longest,
        };
        done |= chosen;
        if chosen {
            slip(word, dice)
        } else {
            word.to_string()
        }
    });
    slipped.collect::<Vec<String>>().join(" ")
}

fn slip(word: &str, dice: &mut Dice) -> String {
    let mut letters: Vec<u8> = word.bytes().collect();
    let at = dice.below(letters.len());
    let letter = b'a' + dice.below(26) as u8;
    match dice.below(4) {
        0 => letters.insert(at, letter),
        1 => drop(letters.remove(at)),
        2 => letters[at] = letter,
        _ => letters.swap(at, at.saturating_sub(1)),
    }
    String::from_utf8_lossy(&letters).into_owned()
}

fn halved(title: &str) -> String {
    let start = title.rfind(' ').map_or(0, |space| space + 1);
    let length = title.len() - start;
    title[..start + length.div_ceil(2)].to_string()
}

fn gzipped(bytes: &[u8]) -> Option<usize> {
    let mut gzip = Command::new("gzip")
        .arg("-9")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .ok()?;
    let mut input = gzip.stdin.take()?;
    let bytes = bytes.to_vec();
    let writer = std::thread::spawn(move || input.write_all(&bytes));
    let output = gzip.wait_with_output().ok()?;
    writer.join().ok()?.ok()?;
    Some(output.stdout.len())
}

/// A small generator of chance, the same on every machine.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0.wrapping_mul(0x2545_f491_4f6c_dd1d) >> 33) as usize % end
    }
}
