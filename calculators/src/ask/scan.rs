//! A question taken apart: words, units, and quantities as the calculators read them.

use super::asked::Told;
use super::units::{each, longest_unit, unit_at};
use super::words::SmallWords;
use crate::message::tell::asking;
use crate::quantity::{QuantityFault, Want, number_at, read};
use crate::unit::Unit;

/// A piece of a question.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum ScannedItem {
    /// In small letters.
    Word(String),
    /// A unit's name without a number, in small letters.
    Unit(String, Unit),
    Quantity(Quantity),
    /// Words before it belong to what stands before it.
    Stop,
}

impl ScannedItem {
    pub fn quantity(&self) -> Option<&Quantity> {
        match self {
            ScannedItem::Quantity(quantity) => Some(quantity),
            _ => None,
        }
    }
}

/// The quantities of a question, in order.
pub(super) fn quantities(items: &[ScannedItem]) -> impl Iterator<Item = &Quantity> + Clone {
    items.iter().filter_map(ScannedItem::quantity)
}

/// Whether a quantity stands between two places.
pub(super) fn crossed(items: &[ScannedItem], a: usize, b: usize) -> bool {
    let (low, high) = (a.min(b), a.max(b));
    let between = &items[low + 1..high.max(low + 1)];
    between.iter().any(|item| item.quantity().is_some())
}

/// Whether one thing said ends between two places and another begins.
pub(super) fn parted(items: &[ScannedItem], a: usize, b: usize) -> bool {
    let (low, high) = (a.min(b), a.max(b));
    items[low..high].contains(&ScannedItem::Stop)
}

/// A number, with its unit where it has one.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Quantity {
    /// As a calculator takes it.
    pub text: String,
    pub unit: Option<Unit>,
    /// Where it ends in the question.
    pub end: usize,
    /// The unit is as good as certain, and nobody wrote it: inches of a bare fraction.
    pub bare: bool,
    /// It was read as something that isn't written there: `1 foot 3` as 1 ft 3 in.
    pub guessed: bool,
    /// What is told where nothing can be made of the guess: `10k` may be anything.
    pub doubt: Option<Box<Told>>,
}

/// Later pieces of a question are not looked at.
const MOST_ITEMS: usize = 24;
/// What stands between the ends of a range.
const BETWEEN: [&str; 7] = ["to ", "or ", "-", "–", "—", "−", ".."];

/// What makes another thing of a number: more than it, about it.
const LIMITS: [char; 9] = ['<', '>', '≤', '≥', '±', '~', '≈', '‹', '›'];

/// What of a question is understood, and what of it is refused.
pub(super) fn scan(text: &str, small: &SmallWords) -> (Vec<ScannedItem>, Vec<Told>) {
    let (mut items, mut told) = (Vec::new(), Vec::new());
    let mut at = 0;
    let mut before = ' ';
    while let Some(first) = text[at..]
        .chars()
        .next()
        .filter(|_| items.len() < MOST_ITEMS)
    {
        let rest = &text[at..];
        let apart = !(before.is_alphanumeric() || before == '.');
        let length = if apart && begins_number(rest) {
            match quantity(rest) {
                Ok(quantity) if quantity.unit.is_none() && counts_a_place(&items, small) => {
                    items.push(ScannedItem::Word(quantity.text));
                    quantity.end
                }
                // `80 % of 12 gpm` is neither
                Ok(quantity)
                    if is_share_of(&rest[..quantity.end], &rest[quantity.end..], small) =>
                {
                    items.push(ScannedItem::Word(quantity.text));
                    quantity.end
                }
                Ok(quantity) => {
                    if quantity.unit.is_none() && is_whole(&items, small) {
                        items.pop();
                        items.push(ScannedItem::Word(small.whole()));
                    }
                    let length = quantity.end;
                    items.push(ScannedItem::Quantity(Quantity {
                        end: at + length,
                        ..quantity
                    }));
                    length
                }
                Err(refusal) => {
                    let length = refusal.text.len();
                    told.push(refusal);
                    length
                }
            }
        } else if first.is_alphanumeric() {
            let (item, length) = word(rest, small);
            items.push(item);
            length
        } else if first == ',' || first == ';' {
            items.push(ScannedItem::Stop);
            first.len_utf8()
        } else if LIMITS.contains(&first) {
            items.push(ScannedItem::Word(first.to_string()));
            first.len_utf8()
        } else {
            first.len_utf8()
        };
        before = text[..at + length].chars().next_back().unwrap_or(' ');
        at += length;
        // `14in` is done; `2x4` goes on with a word
        if before.is_ascii_digit() && text[at..].starts_with(char::is_alphabetic) {
            before = ' ';
        }
    }
    (items, told)
}

/// Whether a share is said to be of something: `80 % of 12 gpm`.
fn is_share_of(quantity: &str, rest: &str, small: &SmallWords) -> bool {
    let next = rest.split_whitespace().next();
    quantity.ends_with('%') && next.is_some_and(|next| small.shares(next))
}

/// `310 of 1240`: the second is all there are.
fn is_whole(items: &[ScannedItem], small: &SmallWords) -> bool {
    matches!(items, [.., ScannedItem::Quantity(part), ScannedItem::Word(of)]
        if part.unit.is_none() && small.shares(of))
}

/// `step 6`: a number that says which, not how much.
fn counts_a_place(items: &[ScannedItem], small: &SmallWords) -> bool {
    matches!(items.last(), Some(ScannedItem::Word(word)) if small.numbers(word))
}

/// The word that a text begins with, or the unit's name.
fn word(text: &str, small: &SmallWords) -> (ScannedItem, usize) {
    let length = text
        .find(|c: char| !c.is_alphanumeric())
        .unwrap_or(text.len());
    let word = text[..length].to_ascii_lowercase();
    if !small.holds(&word)
        && let Some((unit, end)) = longest_unit(text)
        && end > 1
    {
        return (ScannedItem::Unit(word, unit), end);
    }
    (ScannedItem::Word(word), length)
}

fn is_vulgar(c: char) -> bool {
    "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞".contains(c)
}

fn begins_number(text: &str) -> bool {
    let mut letters = text.chars();
    match letters.next() {
        Some('-' | '−' | '.') => letters.next().is_some_and(|next| next.is_ascii_digit()),
        Some(first) => first.is_ascii_digit() || is_vulgar(first),
        None => false,
    }
}

/// The digits and marks that a number may be made of.
fn run(text: &str) -> &str {
    let part = |c: char| {
        c.is_ascii_digit() || is_vulgar(c) || " \u{a0}\u{202f}\u{2009}.,/⁄-–−+".contains(c)
    };
    let end = text.find(|c| !part(c)).unwrap_or(text.len());
    text[..end].trim_end_matches(|c: char| !c.is_ascii_digit() && !is_vulgar(c))
}

/// The quantity that a text begins with, unless it is the first end of a range.
fn quantity(text: &str) -> Result<Quantity, Told> {
    let found = one_quantity(text)?;
    let rest = text[found.end..].trim_start();
    for between in BETWEEN {
        let Some(more) = rest.strip_prefix(between).map(str::trim_start) else {
            continue;
        };
        if !begins_number(more) {
            continue;
        }
        let Ok(other) = one_quantity(more) else {
            continue;
        };
        let kinds = [&found, &other].map(|one| one.unit.as_ref().map(|unit| unit.dimension));
        if kinds[0].is_none() || kinds[1].is_none() || kinds[0] == kinds[1] {
            let all = &text[..text.len() - more.len() + other.end];
            return Err(Told::of(
                all,
                asking::range(&all),
                Some(asking::one_number()),
            ));
        }
    }
    Ok(found)
}

fn one_quantity(text: &str) -> Result<Quantity, Told> {
    let sign = text
        .chars()
        .next()
        .filter(|c| "-−".contains(*c))
        .map_or(0, char::len_utf8);
    let faulty = |end: usize, fault: &QuantityFault| {
        Told::of(&text[..end], fault.message(), Some(fault.help()))
    };
    let digits = run(&text[sign..]);
    let number = number_at(digits).map_err(|fault| faulty(sign + digits.len(), &fault))?;
    let end = sign + number;
    if let Some(plain) = text[..end].strip_suffix(".000").filter(|_| sign == 0) {
        let fault = QuantityFault::AmbiguousMark {
            text: text[..end].to_string(),
            plain: format!("{plain}000"),
            decimal: plain.to_string(),
        };
        return Err(faulty(end, &fault));
    }
    let found = |text: String, unit: Option<Unit>, end: usize| Quantity {
        text,
        unit,
        end,
        bare: false,
        guessed: false,
        doubt: None,
    };
    if let Some((minutes, end)) = clock(text, end) {
        return Ok(found(
            format!("{minutes} min"),
            Unit::parse("min").ok(),
            end,
        ));
    }
    let (unit, unit_end) = match unit_at(text, end) {
        Ok(Some(unit)) => unit,
        Ok(None) => {
            let bare = text[..end].contains(|c| c == '/' || c == '⁄' || is_vulgar(c));
            if is_two(&text[..end]) {
                return Err(Told::of(
                    &text[..end],
                    asking::range(&&text[..end]),
                    Some(asking::one_number()),
                ));
            }
            return Ok(match Unit::parse("in").ok().filter(|_| bare) {
                Some(inches) => Quantity {
                    bare,
                    ..found(format!("{} in", &text[..end]), Some(inches), end)
                },
                None => found(text[..end].to_string(), None, end),
            });
        }
        Err(refusal) => {
            let length = refusal.text.len();
            let thousands = refusal.text[end..].trim().eq_ignore_ascii_case("k");
            let whole = text[..end].bytes().all(|byte| byte.is_ascii_digit());
            // `1 k bar` is no kilopound
            let alone = longest_unit(text[length..].trim_start()).is_none();
            if whole && end < 4 && thousands && alone {
                let written = format!("{} ksi", &text[..end]);
                return Ok(Quantity {
                    guessed: true,
                    doubt: Some(Box::new(refusal)),
                    ..found(written, Unit::parse("ksi").ok(), length)
                });
            }
            return Err(refusal);
        }
    };
    Ok(with_parts(text, found(String::new(), Some(unit), unit_end)))
}

/// A quantity with its smaller parts: `5 ft 6 in`, `5'-6"`, and `1 foot 3`.
fn with_parts(text: &str, first: Quantity) -> Quantity {
    let more = text[first.end..].trim_start_matches([' ', '-']);
    let start = text.len() - more.len();
    let fits = |text: &str| {
        let unit = first.unit.clone();
        unit.is_some_and(|unit| read(text, &Want::of(unit)).is_ok())
    };
    if begins_number(more)
        && let Ok(length) = number_at(run(more))
    {
        let end = start + length;
        match (unit_at(text, end), smaller(&first, &more[..length])) {
            // half an inch after feet is a size of its own: `100 ft 1/2 in`, `50 ft 0.5 in`
            (Ok(Some((_, end))), _) if !is_size(&more[..length]) && fits(&text[..end]) => {
                return Quantity {
                    text: text[..end].to_string(),
                    end,
                    ..first
                };
            }
            // feet and a number are inches and hours and two digits minutes, unless they count what comes
            // next
            (Ok(None), Some(part)) => {
                let both = format!("{} {part}", &text[..end]);
                let next = text[end..].trim_start();
                let next = &next[..next.find(' ').unwrap_or(next.len())];
                if !next.ends_with('s') && fits(&both) {
                    return Quantity {
                        text: both,
                        end,
                        guessed: true,
                        ..first
                    };
                }
            }
            _ => {}
        }
    }
    Quantity {
        text: each(&text[..first.end]),
        ..first
    }
}

/// The smaller unit that a bare number after a quantity is of.
fn smaller(first: &Quantity, number: &str) -> Option<&'static str> {
    let unit = first.unit.as_ref()?;
    match unit.symbol.as_str() {
        "ft" => Some("in"),
        "h" if number.len() == 2 => Some("min"),
        _ => None,
    }
}

/// `63/20` is no size of an inch, but two numbers.
fn is_two(number: &str) -> bool {
    let parts = number
        .split_once('/')
        .map(|(over, under)| (over.parse::<u32>(), under.parse::<u32>()));
    matches!(parts, Some((Ok(over), Ok(under))) if over > under || !under.is_power_of_two())
}

/// A fraction without a whole number before it, or a decimal.
fn is_size(number: &str) -> bool {
    let fraction = number.contains(['/', '⁄']) || number.starts_with(is_vulgar);
    number.contains('.') || (fraction && !number.contains([' ', '-']))
}

/// `6h30` in minutes, and where it ends.
fn clock(text: &str, from: usize) -> Option<(u32, usize)> {
    let rest = text[from..].strip_prefix(['h', 'H'])?;
    let minutes = rest.get(..2)?;
    let end = from + 3;
    if text[end..].starts_with(char::is_alphanumeric) {
        return None;
    }
    let number = |digits: &str| {
        let mut sum = 0;
        for digit in digits.chars() {
            sum = sum * 10 + digit.to_digit(10)?;
        }
        (digits.len() < 4).then_some(sum)
    };
    let minutes = number(minutes).filter(|minutes| *minutes < 60)?;
    Some((number(&text[..from])? * 60 + minutes, end))
}
