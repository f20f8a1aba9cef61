//! Draws a plot.

use super::axis::Axis;
use super::line::Traced;
use crate::field::NumberFormat;
use crate::figure::coordinate;
use crate::formula::mathml::escape;
use crate::message::tell::plot as tell;
use crate::message::{Language, Message};
use crate::quantity::bind;
use crate::quantity::{Rounding, UnitFormat};

pub(super) struct PlotSheet<'a> {
    pub x: Axis<'a>,
    pub y: Axis<'a>,
    pub lines: Vec<Traced<'a>>,
    /// The values that are marked, in SI.
    pub mark: Option<(f64, f64)>,
    pub language: &'a Language,
}

/// The frame inside the drawing of 360 by 300.
const LEFT: f64 = 64.0;
const RIGHT: f64 = 336.0;
const TOP: f64 = 56.0;
const BOTTOM: f64 = 244.0;

const DASHES: [&str; 4] = ["", "10 5", "3 4", "14 4 3 4"];

impl PlotSheet<'_> {
    pub fn draw(&self) -> String {
        let mut out = String::from(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 360 300\"><title>",
        );
        let title = tell::title(&self.x.label, &self.y.label);
        out.push_str(&escape(&self.language.say(&title)));
        out.push_str("</title><desc>");
        out.push_str(&escape(&bind(&self.words())));
        out.push_str("</desc>");
        text(&mut out, [4.0, 20.0], "start", &labelled(&self.y));
        text(&mut out, [RIGHT, 294.0], "end", &labelled(&self.x));
        for (si, words) in self.y.ticks() {
            let y = self.up(si);
            path(&mut out, "fig-grid", "", &[("M", LEFT, y), ("L", RIGHT, y)]);
            text(&mut out, [LEFT - 6.0, y + 5.0], "end", &words);
        }
        for (si, words) in self.x.ticks() {
            let x = self.along(si);
            path(&mut out, "fig-grid", "", &[("M", x, TOP), ("L", x, BOTTOM)]);
            text(&mut out, [x, BOTTOM + 20.0], "middle", &words);
        }
        self.verdicts(&mut out);
        path(
            &mut out,
            "fig-line",
            "",
            &[("M", LEFT, TOP), ("L", LEFT, BOTTOM), ("L", RIGHT, BOTTOM)],
        );
        for (at, line) in self.lines.iter().enumerate() {
            self.line(line, DASHES[at % DASHES.len()], &mut out);
        }
        if let Some((x, y)) = self.mark {
            let (x, y) = (self.along(x), self.up(y));
            path(
                &mut out,
                "fig-dim",
                "4 3",
                &[("M", LEFT, y), ("L", x, y), ("L", x, BOTTOM)],
            );
            let [x, y] = [x, y].map(coordinate);
            out.push_str(
                &[
                    "<circle class=\"fig-mark\" cx=\"",
                    &x,
                    "\" cy=\"",
                    &y,
                    "\" r=\"6\"></circle>",
                ]
                .concat(),
            );
        }
        out.push_str("</svg>");
        out
    }

    fn along(&self, si: f64) -> f64 {
        LEFT + (RIGHT - LEFT) * self.x.part(si)
    }

    fn up(&self, si: f64) -> f64 {
        BOTTOM - (BOTTOM - TOP) * self.y.part(si)
    }

    /// Words over the frame say what each stretch would be; with one verdict there are none.
    /// Swept values are nobody's, so no verdict's sign, colour or shape stands here.
    fn verdicts(&self, out: &mut String) {
        let [Traced { stretches, .. }] = self.lines.as_slice() else {
            return;
        };
        if stretches.len() < 2 {
            return;
        }
        text(
            out,
            [0.0, 48.0],
            "start",
            &self.language.say(&tell::would_be()),
        );
        let mut start = LEFT;
        for (is, end) in stretches {
            let end = self.along(*end);
            if end < RIGHT - 0.5 {
                path(
                    out,
                    "fig-thin",
                    "4 4",
                    &[("M", end, 34.0), ("L", end, BOTTOM)],
                );
            }
            if end - start > 62.0 {
                let is = self.language.say(&is.told());
                text(out, [(start + end) / 2.0, 48.0], "middle", &is);
            }
            start = end;
        }
    }

    fn line(&self, line: &Traced, dash: &str, out: &mut String) {
        let mut moves = Vec::new();
        let mut step = "M";
        for (x, y) in &line.points {
            match y {
                Some(y) => {
                    moves.push((step, self.along(*x), self.up(*y)));
                    step = "L";
                }
                None => step = "M",
            }
        }
        path(out, "fig-line", dash, &moves);
        if let Some((_, x, y)) = moves.last().filter(|_| !line.name.is_empty()) {
            text(out, [*x, y - 6.0], "end", line.name);
        }
    }

    /// For those who can't see it.
    fn words(&self) -> String {
        let (x, y) = (self.x.format, self.y.format);
        let mut words = Vec::new();
        if let Some((here, there)) = self.mark {
            words.push(tell::mark(&self.y.label, &said(x, here), &said(y, there)));
        }
        for line in &self.lines {
            let known = || line.points.iter().filter_map(|(x, y)| Some((*x, (*y)?)));
            if let (Some(first), Some(last)) = (known().next(), known().next_back()) {
                let [first_x, last_x] = [first.0, last.0].map(|si| said(x, si));
                let [first_y, last_y] = [first.1, last.1].map(|si| said(y, si));
                words.push(match line.name {
                    "" => tell::line(&first_x, &first_y, &last_x, &last_y),
                    name => tell::named_line(&first_x, &first_y, &last_x, &last_y, &name),
                });
            }
        }
        if let [Traced { stretches, .. }] = self.lines.as_slice() {
            for (is, end) in stretches {
                // the last printable value at which the verdict still holds
                let form = UnitFormat {
                    rounding: Rounding::Down,
                    ..x.main.clone()
                };
                words.push(tell::stretch(&form.print(*end).text, &is.told()));
            }
        }
        self.language.say(&Message::joined(&words, " "))
    }
}

/// A value in words, with its unit.
fn said(format: &NumberFormat, si: f64) -> String {
    format.main.print(si).text
}

/// `Loss, psi`
fn labelled(axis: &Axis) -> String {
    match axis.format.main.unit.shown.as_str() {
        "" => axis.label.to_string(),
        unit => [axis.label, ", ", unit].concat(),
    }
}

fn text(out: &mut String, at: [f64; 2], anchor: &str, words: &str) {
    let [x, y] = at.map(coordinate);
    out.push_str(
        &[
            "<text class=\"fig-text-small\" x=\"",
            &x,
            "\" y=\"",
            &y,
            "\" text-anchor=\"",
            anchor,
            "\">",
            &escape(&bind(words)),
            "</text>",
        ]
        .concat(),
    );
}

fn path(out: &mut String, class: &str, dash: &str, moves: &[(&str, f64, f64)]) {
    out.push_str(&["<path class=\"", class, "\" d=\""].concat());
    for (step, x, y) in moves {
        out.push_str(&[step, coordinate(*x).as_str(), " ", &coordinate(*y)].concat());
    }
    if !dash.is_empty() {
        out.push_str(&["\" stroke-dasharray=\"", dash].concat());
    }
    out.push_str("\"></path>");
}
