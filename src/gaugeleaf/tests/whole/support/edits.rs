//! Slips of a hand in a file, by a seed: each with where it was made, and with the same word
//! standing in other places where it does no harm, so that whoever searches for it goes astray.

use std::ops::Range;

/// Numbers of chance, the same for the same seed.
pub struct Seed(pub u64);

impl Seed {
    pub fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((mixed ^ (mixed >> 31)) % count.max(1) as u64) as usize
    }
}

/// A file after a slip.
pub struct Edit {
    pub file: String,
    pub text: String,
    /// The word that stands there now; empty where it was left out.
    pub word: String,
    pub at: Range<usize>,
    /// What was done, for whoever reads of it.
    pub done: String,
}

/// A file with one slip in it.
pub fn edited(file: &str, text: &str, seed: &mut Seed) -> Edit {
    let words = words(text);
    let at = chosen(&words, text, seed);
    let old = &text[at.clone()];
    let word = slip(old, &words, text, seed);
    let (line, number) = (
        line_of(text, at.start),
        text[..at.start].matches('\n').count() + 1,
    );
    let done = format!("line {number}, `{old}` became `{word}` in {line:?}");
    let mut after = format!("{}{word}{}", &text[..at.start], &text[at.end..]);
    let mut at = at.start..at.start + word.len();
    // what is whole has no harm in a second place
    let (before, behind) = harmless(file, &word);
    if !word.is_empty() {
        after.push_str(&behind);
        let lead = lead(file, text);
        if lead <= at.start {
            after.insert_str(lead, &before);
            at = at.start + before.len()..at.end + before.len();
        }
        if nested(file, &mut after, &mut at, seed) {
            return Edit {
                file: file.to_string(),
                text: after,
                word,
                at,
                done: format!("{done}, in a list"),
            };
        }
    }
    Edit {
        file: file.to_string(),
        text: after,
        word,
        at,
        done,
    }
}

/// The word where nobody acts on it, to stand before the file's text and after it.
fn harmless(file: &str, word: &str) -> (String, String) {
    match file.rsplit('.').next() {
        Some("md") => (
            format!("The word is `{word}`.\n\n"),
            format!("\n\nSo `{word}` it is.\n"),
        ),
        Some("toml") => (format!("# {word}\n"), format!("\n# {word}\n")),
        _ => (format!("<!-- {word} -->\n"), format!("\n<!-- {word} -->\n")),
    }
}

/// Where a page's text begins: after its block of settings and its title.
fn lead(file: &str, text: &str) -> usize {
    if !file.ends_with(".md") {
        return 0;
    }
    let title = text.find("\n# ").map_or(0, |at| at + 1);
    text[title..]
        .find("\n\n")
        .map_or(text.len(), |at| title + at + 2)
}

/// Puts the fenced block around the slip into a list, now and then.
fn nested(file: &str, text: &mut String, at: &mut Range<usize>, seed: &mut Seed) -> bool {
    if !file.ends_with(".md") || seed.below(3) > 0 {
        return false;
    }
    let first = text.starts_with("```").then_some(0);
    let others = text.match_indices("\n```").map(|(at, _)| at + 1);
    let fences: Vec<usize> = first.into_iter().chain(others).collect();
    let Some(block) = fences
        .chunks_exact(2)
        .find(|block| (block[0]..block[1]).contains(&at.start))
    else {
        return false;
    };
    let [open, close] = [block[0], block[1] + 3];
    if open == 0 {
        return false;
    }
    let mark = ["  ", "> "][seed.below(2)];
    let first = if mark == "  " {
        "- item\n\n"
    } else {
        "> item\n>\n"
    };
    let mut inside = String::from(first);
    let mut moved = at.start - open;
    for line in text[open..close].split_inclusive('\n') {
        inside.push_str(mark);
        inside.push_str(line);
    }
    moved += first.len() + mark.len() * (text[open..at.start].matches('\n').count() + 1);
    *at = open + moved..open + moved + at.len();
    text.replace_range(open..close, &inside);
    true
}

fn line_of(text: &str, at: usize) -> &str {
    let start = text[..at].rfind('\n').map_or(0, |at| at + 1);
    text[start..].lines().next().unwrap_or("")
}

fn words(text: &str) -> Vec<Range<usize>> {
    let mut words = Vec::new();
    let mut start = None;
    for (at, c) in text.char_indices().chain([(text.len(), ' ')]) {
        match (c.is_alphanumeric() || c == '_' || c == '-', start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                words.push(from..at);
                start = None;
            }
            _ => {}
        }
    }
    words
}

/// One of the words: mostly one in a block, a link's target or settings, which somebody reads.
fn chosen(words: &[Range<usize>], text: &str, seed: &mut Seed) -> Range<usize> {
    let read = |word: &Range<usize>| {
        let line = line_of(text, word.start);
        let fences =
            text[..word.start].matches("\n```").count() + usize::from(text.starts_with("```"));
        let before = &text[..word.start];
        fences % 2 == 1
            || line.contains(" = ")
            || line.starts_with("```")
            || before.rfind("](") > before.rfind(')')
    };
    let telling: Vec<&Range<usize>> = words.iter().filter(|word| read(word)).collect();
    if telling.is_empty() || seed.below(4) == 0 {
        return words[seed.below(words.len())].clone();
    }
    telling[seed.below(telling.len())].clone()
}

/// What a hand makes of a word.
fn slip(word: &str, words: &[Range<usize>], text: &str, seed: &mut Seed) -> String {
    let letters: Vec<char> = word.chars().collect();
    let at = seed.below(letters.len());
    let mut changed = letters.clone();
    match seed.below(6) {
        0 => changed.clear(),
        1 => return text[words[seed.below(words.len())].clone()].to_string(),
        2 => {
            changed.remove(at);
        }
        3 => changed.insert(at, letters[at]),
        4 if letters.iter().all(char::is_ascii_digit) => changed = vec!['9', '9', '9'],
        4 => changed.swap(at, letters.len() - 1),
        _ => {
            changed[at] = if letters[at].is_ascii_digit() {
                '8'
            } else {
                'q'
            }
        }
    }
    changed.into_iter().collect()
}
