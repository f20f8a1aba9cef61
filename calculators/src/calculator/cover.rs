//! A box of inputs cut into pieces, and what is possible in each. Over a small piece a
//! formula that reads an input twice is enclosed almost as tightly as it can be; so a piece
//! is halved wherever it says more than samples reach, until too little is left to gain.

use std::collections::VecDeque;

use super::answer::Verdict;
use super::definition::{Calculator, Check, OutputKind};
use super::resolver::Resolver;
use super::slice::{Slice, behind, conditions, work};
use super::spread::{Possibilities, Possible};
use crate::field::FieldKind;
use crate::formula::{Spread, Value};
use crate::names::Names;
use crate::span::Span;

/// Halvings that one question may cost, and one end of one result.
const MOST_SPLITS: usize = 400;
const MOST_AT_AN_END: usize = 60;

/// How much farther than the samples a span's end may lie: of their width, or of the step
/// in which the result is printed.
const ROOM: f64 = 0.2;
const ROOM_IN_STEPS: f64 = 1e-3;

/// With more inputs than these, not every corner of the box is tried.
const MOST_CORNERS: usize = 16;

struct Piece {
    sides: Vec<Spread>,
    known: Possibilities,
}

pub(super) struct Cover<'a> {
    slice: Slice<'a>,
    whole: Vec<Spread>,
    /// Which of the inputs come in whole numbers.
    counts: Vec<bool>,
    pieces: Vec<Piece>,
    /// What is reached for certain: points of the box, worked out.
    samples: Vec<Names<Value>>,
    left: usize,
}

impl<'a> Cover<'a> {
    /// `None` where an input may be missing.
    pub fn of(
        calculator: &'a Calculator,
        resolver: &'a dyn Resolver,
        inputs: &Possibilities,
        wanted: Vec<&'a str>,
    ) -> Option<Cover<'a>> {
        let (mut moved, mut values) = (Vec::new(), Names::new());
        for input in &calculator.inputs {
            let name = &input.field.name;
            let spread = match inputs.get(name) {
                Some(Possible::Known {
                    spread,
                    may_be_absent: false,
                }) => spread,
                _ => return None,
            };
            match spread.only() {
                Some(value) => values.insert(name.clone(), value),
                None => {
                    moved.push(name.as_str());
                    values.insert(name.clone(), spread.part(0.5));
                }
            }
        }
        // Where a result has no value, nothing fixed hangs on it.
        work(calculator, &calculator.order, resolver, &mut values);
        let slice = Slice::of(calculator, resolver, moved, wanted, &values);
        let counts: Vec<bool> = slice
            .moved
            .iter()
            .map(|name| is_count(calculator, name))
            .collect();
        let whole: Vec<Spread> = std::iter::zip(&slice.moved, &counts)
            .filter_map(|(name, count)| match inputs.get(name) {
                Some(Possible::Known { spread, .. }) => Some(spread.clone().in_steps(*count)),
                _ => None,
            })
            .collect();
        let mut cover = Cover {
            slice,
            whole,
            counts,
            pieces: Vec::new(),
            samples: Vec::new(),
            left: MOST_SPLITS,
        };
        for corner in 0..(1usize << cover.whole.len().min(16)).min(MOST_CORNERS) {
            let sides = cover.whole.iter().enumerate();
            let point: Vec<Value> = sides
                .map(|(at, side)| side.part((corner >> at & 1) as f64))
                .collect();
            cover.samples.extend(cover.slice.at(&point));
        }
        let piece = cover.piece(cover.whole.clone());
        cover.pieces.push(piece);
        Some(cover)
    }

    fn piece(&mut self, sides: Vec<Spread>) -> Piece {
        // Where it touches the box's own edge, results are the likeliest to be extreme.
        let point: Vec<Value> = std::iter::zip(&sides, &self.whole)
            .zip(&self.counts)
            .map(|((side, whole), count)| {
                let ends = [0.0, 1.0]
                    .into_iter()
                    .find(|end| side.part(*end) == whole.part(*end));
                match (ends, side.part(0.5)) {
                    (Some(end), _) => side.part(end),
                    (None, Value::Number(middle)) if *count => Value::Number(libm::floor(middle)),
                    (None, middle) => middle,
                }
            })
            .collect();
        self.samples.extend(self.slice.at(&point));
        let known = self.slice.over(&sides);
        Piece { sides, known }
    }

    /// Halves a piece on the side that is longest, measured by the box; of those in `along`.
    /// The new piece's place, or `None` where nothing more is to be cut.
    fn split(&mut self, at: usize, along: &[&str]) -> Option<usize> {
        self.left = self.left.checked_sub(1)?;
        let sides = &self.pieces[at].sides;
        let mut longest: Option<(usize, f64)> = None;
        for (side, name) in self.slice.moved.iter().enumerate() {
            let length = sides[side].size() / self.whole[side].size();
            if along.contains(name) && longest.is_none_or(|(_, most)| length > most) {
                longest = Some((side, length));
            }
        }
        let (side, _) = longest?;
        let (one, other) = sides[side].halves(self.counts[side])?;
        let (mut first, mut second) = (sides.clone(), sides.clone());
        (first[side], second[side]) = (one, other);
        self.pieces[at] = self.piece(first);
        let piece = self.piece(second);
        self.pieces.push(piece);
        Some(self.pieces.len() - 1)
    }

    /// Pulls a result's bounds in to what the samples reach, as near as is worth it.
    fn tighten(&mut self, name: &str, fine: f64) {
        let along = behind(self.slice.calculator, vec![name]);
        let of = |span: Span, sign: f64| if sign > 0.0 { span.high } else { -span.low };
        for sign in [-1.0, 1.0] {
            for _ in 0..MOST_AT_AN_END {
                let mut far = (0, f64::NEG_INFINITY);
                for (at, piece) in self.pieces.iter().enumerate() {
                    let bound = match piece.known.get(name) {
                        Some(Possible::Known {
                            spread: Spread::Number(span),
                            ..
                        }) => of(*span, sign),
                        Some(Possible::Unknown) => f64::INFINITY,
                        _ => continue,
                    };
                    if bound > far.1 {
                        far = (at, bound);
                    }
                }
                let mut reached = (f64::NEG_INFINITY, f64::NEG_INFINITY);
                for sample in &self.samples {
                    if let Some(Value::Number(value)) = sample.get(name) {
                        reached = (reached.0.max(value * sign), reached.1.max(-value * sign));
                    }
                }
                let room = (ROOM * (reached.0 + reached.1)).max(fine);
                if far.1 <= reached.0 + room || self.split(far.0, &along).is_none() {
                    break;
                }
            }
        }
    }

    /// Every result's possibilities over all the pieces.
    pub fn possibilities(mut self, mut known: Possibilities) -> Possibilities {
        let calculator = self.slice.calculator;
        for output in calculator.outputs.iter().filter(|output| !output.is_term) {
            if let OutputKind::Number(format) = &output.kind {
                self.tighten(&output.name, format.main.one_step() * ROOM_IN_STEPS);
            }
        }
        for output in &calculator.outputs {
            let possible = self
                .pieces
                .iter()
                .map(|piece| piece.known.get(&output.name).cloned());
            if let Some(Some(possible)) = possible.reduce(|a, b| Some(a?.or(b?))) {
                known.insert(output.name.clone(), possible);
            }
        }
        known
    }

    /// The verdicts that a check may come to, the best first. Pieces are cut until each says
    /// no more than is surely reached, or the effort is spent.
    pub fn verdicts(mut self, check: &Check) -> Vec<Verdict> {
        let along = self.slice.moved.clone();
        let (mut found, mut seen) = (Vec::new(), 0);
        let mut open = VecDeque::from([0]);
        while let Some(at) = open.pop_front() {
            found.extend(
                self.samples[seen..]
                    .iter()
                    .map(|sample| self.slice.verdict(check, sample)),
            );
            seen = self.samples.len();
            let Piece { sides, known } = &self.pieces[at];
            let may_be = self.slice.verdicts(check, sides, known);
            if may_be.iter().all(|is| found.contains(is)) {
                continue;
            }
            match self.split(at, &along) {
                Some(new) => open.extend([at, new]),
                None => found.extend(may_be),
            }
        }
        found.sort();
        found.dedup();
        found
    }
}

fn is_count(calculator: &Calculator, name: &str) -> bool {
    let kind = calculator.input(name).map(|input| &input.field.kind);
    matches!(kind, Some(FieldKind::Number { format, .. }) if format.main.unit.symbol == "count")
}

impl Calculator {
    /// Every result's possibilities, for inputs given as spreads.
    pub(crate) fn possibilities(
        &self,
        inputs: Possibilities,
        resolver: &dyn Resolver,
    ) -> Possibilities {
        let wanted = self
            .outputs
            .iter()
            .map(|output| output.name.as_str())
            .collect();
        match Cover::of(self, resolver, &inputs, wanted) {
            Some(cover) => cover.possibilities(inputs),
            None => self.enclosed(&self.order, inputs, resolver),
        }
    }

    /// The verdicts that a check may come to with the inputs anywhere in a box, however
    /// wide; works out alone what stands between those inputs that move and the check.
    pub(crate) fn settled(
        &self,
        inputs: Possibilities,
        check: &Check,
        resolver: &dyn Resolver,
    ) -> Vec<Verdict> {
        match Cover::of(self, resolver, &inputs, conditions(check)) {
            Some(cover) => cover.verdicts(check),
            None => {
                let known = self.enclosed(&self.order, inputs, resolver);
                super::spread::verdicts(check, &known, resolver)
            }
        }
    }
}
