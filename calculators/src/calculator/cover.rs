//! A box of inputs cut into pieces, and what is possible in each. Over a small piece a
//! formula that reads an input twice is enclosed almost as tightly as it can be; so a piece
//! is halved wherever it says more than samples reach, until too little is left to gain.

use super::answer::Verdict;
use super::definition::{Calculator, Check, OutputKind};
use super::resolver::Resolver;
use super::slice::{Mover, Slice, tolerances};
use super::spread::{Possibilities, Possible, in_order, verdicts};
use crate::field::FieldKind;
use crate::formula::{Spread, Value};
use crate::names::Names;
use crate::span::Span;

/// Halvings that one question may cost, and one result of it.
const MOST_SPLITS: usize = 400;
const MOST_FOR_A_RESULT: usize = 120;

/// How much farther than the samples a span's end may lie: of their width, or of the step
/// in which the result is printed.
const ROOM: f64 = 0.2;
const ROOM_IN_STEPS: f64 = 1e-3;

struct Piece {
    sides: Vec<Span>,
    known: Possibilities,
}

struct Cover<'a> {
    slice: Slice<'a>,
    pieces: Vec<Piece>,
    /// What is reached for certain: points of the box, worked out.
    samples: Vec<Names<Value>>,
    left: usize,
}

impl<'a> Cover<'a> {
    /// `None` where an input may be missing, or be one of several choices. `values` hold
    /// somewhere in the box: what has none there hangs on what moves, or there is no answer
    /// at all.
    fn of(
        calculator: &'a Calculator,
        resolver: &'a dyn Resolver,
        inputs: &Possibilities,
        values: &Names<Value>,
        wanted: Vec<&'a str>,
    ) -> Option<Cover<'a>> {
        let mut moved = Vec::new();
        for input in &calculator.inputs {
            let name = &input.field.name;
            let Some(Possible::Known {
                spread,
                may_be_absent: false,
            }) = inputs.get(name)
            else {
                return None;
            };
            match (spread.only(), spread, &input.field.kind) {
                (Some(_), ..) => {}
                (None, Spread::Number(span), FieldKind::Number { format, .. }) => {
                    let count = format.main.unit.symbol == "count";
                    let whole = if count { span.whole_numbers() } else { *span };
                    moved.push(Mover { name, whole, count });
                }
                _ => return None,
            }
        }
        let slice = Slice::of(calculator, resolver, &moved, wanted, values);
        let mut cover = Cover {
            slice,
            pieces: Vec::new(),
            samples: Vec::new(),
            left: MOST_SPLITS,
        };
        let mut whole = Vec::new();
        for mover in &cover.slice.moved {
            whole.push(mover.whole);
        }
        cover.add(whole);
        Some(cover)
    }

    fn add(&mut self, sides: Vec<Span>) {
        let mut point = Vec::new();
        for (side, mover) in sides.iter().zip(&self.slice.moved) {
            // Where it touches the box's own edge, results are the likeliest to be extreme.
            point.push(if side.low == mover.whole.low {
                side.low
            } else if side.high == mover.whole.high {
                side.high
            } else {
                side.middle(mover.count)
            });
        }
        self.samples.extend(self.slice.at(&point));
        let known = self.slice.over(&sides);
        self.pieces.push(Piece { sides, known });
    }

    /// Halves a piece on the side that is longest, measured by the box; of those in `along`.
    /// Whether there is anything more to be cut. One half takes its place, the other comes
    /// last.
    fn split(&mut self, at: usize, along: &[&str]) -> bool {
        let sides = &self.pieces[at].sides;
        let mut longest = (usize::MAX, 0.0);
        for (side, mover) in self.slice.moved.iter().enumerate() {
            let length = sides[side].width() / mover.whole.width();
            if along.contains(&mover.name) && length > longest.1 {
                longest = (side, length);
            }
        }
        let (side, length) = longest;
        if self.left == 0 || length < 1e-9 {
            return false;
        }
        self.left -= 1;
        let (mut first, mut second) = (sides.clone(), sides.clone());
        let count = self.slice.moved[side].count;
        let middle = sides[side].middle(count);
        first[side].high = middle;
        second[side].low = if count { middle + 1.0 } else { middle };
        self.add(first);
        self.pieces.swap_remove(at);
        self.add(second);
        true
    }

    /// Pulls a result's bounds in to what the samples reach, as near as is worth it.
    fn tighten(&mut self, name: &str, fine: f64) {
        let along = self.slice.calculator.behind([name].into_iter());
        for _ in 0..MOST_FOR_A_RESULT {
            let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
            for sample in &self.samples {
                if let Some(Value::Number(value)) = sample.get(name) {
                    low = low.min(*value);
                    high = high.max(*value);
                }
            }
            let mut enough = true;
            let (mut farthest, mut most) = (0, (ROOM * (high - low)).max(fine));
            for (at, piece) in self.pieces.iter().enumerate() {
                let beyond = match piece.known.get(name) {
                    Some(Possible::Known {
                        spread: Spread::Number(span),
                        ..
                    }) => (low - span.low).max(span.high - high),
                    Some(Possible::Unknown) => f64::INFINITY,
                    _ => continue,
                };
                if beyond > most {
                    (farthest, most) = (at, beyond);
                    enough = false;
                }
            }
            if enough || !self.split(farthest, &along) {
                break;
            }
        }
    }

    /// Every result's possibilities over all the pieces, put beside the inputs.
    fn possibilities(mut self, mut known: Possibilities) -> Possibilities {
        let outputs = &self.slice.calculator.outputs;
        for output in outputs {
            if let OutputKind::Number(format) = &output.kind
                && !output.is_term
            {
                self.tighten(&output.name, format.main.one_step() * ROOM_IN_STEPS);
            }
        }
        for output in outputs {
            let mut all: Option<Possible> = None;
            for piece in &self.pieces {
                if let Some(possible) = piece.known.get(&output.name) {
                    let possible = possible.clone();
                    all = Some(match all {
                        Some(all) => all.or(possible),
                        None => possible,
                    });
                }
            }
            if let Some(all) = all {
                known.insert(output.name.clone(), all);
            }
        }
        known
    }

    /// The verdicts that a check may come to, the best first. Pieces are cut until each says
    /// no more than is surely reached, or the effort is spent.
    fn verdicts(mut self, check: &Check) -> Vec<Verdict> {
        let along = self.slice.calculator.behind(check.reads());
        // The corner opposite the first sample: what rises or falls all the way needs no cut.
        let mut corner = Vec::new();
        for mover in &self.slice.moved {
            corner.push(mover.whole.high);
        }
        self.samples.extend(self.slice.at(&corner));
        let (mut found, mut seen, mut at) = (Vec::new(), 0, 0);
        while at < self.pieces.len() {
            while seen < self.samples.len() {
                found.push(self.slice.verdict(check, &self.samples[seen]));
                seen += 1;
            }
            let Piece { sides, known } = &self.pieces[at];
            let may_be = self.slice.verdicts(check, sides, known);
            if may_be.iter().all(|is| found.contains(is)) {
                at += 1;
            } else if !self.split(at, &along) {
                found.extend(may_be);
                at += 1;
            }
        }
        in_order(&found)
    }
}

impl Calculator {
    /// Every result's possibilities, for inputs given as spreads; `values` hold somewhere in
    /// them.
    pub(crate) fn possibilities(
        &self,
        inputs: Possibilities,
        values: &Names<Value>,
        resolver: &dyn Resolver,
    ) -> Possibilities {
        let mut wanted = Vec::new();
        for output in &self.outputs {
            wanted.push(output.name.as_str());
        }
        match Cover::of(self, resolver, &inputs, values, wanted) {
            Some(cover) => cover.possibilities(inputs),
            None => self.enclosed_whole(inputs, values, resolver),
        }
    }

    /// By one evaluation of each result.
    fn enclosed_whole(
        &self,
        mut inputs: Possibilities,
        values: &Names<Value>,
        resolver: &dyn Resolver,
    ) -> Possibilities {
        for (name, value) in tolerances(values) {
            inputs.insert(name.clone(), Possible::sure(Spread::of(value)));
        }
        self.enclosed(&self.order, inputs, resolver)
    }

    /// The verdicts that a check may come to with the inputs anywhere in a box, however
    /// wide; works out alone what stands between those inputs that move and the check.
    pub(crate) fn settled(
        &self,
        inputs: Possibilities,
        values: &Names<Value>,
        check: &Check,
        resolver: &dyn Resolver,
    ) -> Vec<Verdict> {
        match Cover::of(self, resolver, &inputs, values, check.reads().collect()) {
            Some(cover) => cover.verdicts(check),
            None => {
                let known = self.enclosed_whole(inputs, values, resolver);
                verdicts(check, &known, resolver)
            }
        }
    }
}
