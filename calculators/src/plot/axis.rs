//! An axis: its range in round steps of the number format's own unit.

use crate::field::NumberFormat;
use crate::quantity::{RoundingStep, UnitFormat, bare_in_unit};

pub(super) struct Axis<'f> {
    pub format: &'f NumberFormat,
    pub label: &'f str,
    /// In SI.
    pub low: f64,
    pub high: f64,
    /// Between two ticks, in the format's unit.
    stride: f64,
}

/// Steps between ticks that one axis has room for.
const MOST: f64 = 5.0;

impl<'f> Axis<'f> {
    /// An axis that ends where the range does.
    pub fn over(format: &'f NumberFormat, label: &'f str, low: f64, high: f64) -> Axis<'f> {
        let form = &format.main;
        let stride = round_step(form, value(form, high) - value(form, low), MOST);
        Axis {
            format,
            label,
            low,
            high,
            stride,
        }
    }

    /// An axis that ends on ticks, and begins at zero where that is near.
    pub fn up(format: &'f NumberFormat, label: &'f str, low: f64, high: f64) -> Axis<'f> {
        let form = &format.main;
        let (mut from, mut to) = (value(form, low), value(form, high));
        if from > 0.0 && from < to * 0.6 {
            from = 0.0;
        }
        let stride = round_step(form, to - from, MOST);
        from = libm::floor(from / stride) * stride;
        to = (libm::ceil(to / stride) * stride).max(from + stride);
        let si = |value: f64| form.unit.to_si_as(value, form.kind);
        Axis {
            format,
            label,
            low: si(from),
            high: si(to),
            stride,
        }
    }

    /// How far along the axis a value lies, 0 to 1.
    pub fn part(&self, si: f64) -> f64 {
        (si - self.low) / (self.high - self.low)
    }

    /// Round values, in SI and as printed without their unit.
    pub fn ticks(&self) -> Vec<(f64, String)> {
        let form = &self.format.main;
        let mut ticks = Vec::new();
        // noise of the conversion must not lose the last tick
        let slack = self.stride * 1e-6;
        let mut count = libm::ceil((value(form, self.low) - slack) / self.stride);
        while count * self.stride <= value(form, self.high) + slack {
            let si = form.unit.to_si_as(count * self.stride + 0.0, form.kind);
            ticks.push((si, bare_in_unit(si, &form.unit, form.kind)));
            count += 1.0;
        }
        ticks
    }
}

fn value(form: &UnitFormat, si: f64) -> f64 {
    form.unit.from_si_as(si, form.kind)
}

/// The least round step, in the form's own unit, of which at most so many fill the range: ones,
/// twos and fives; halves and quarters below a whole inch.
pub(crate) fn round_step(form: &UnitFormat, range: f64, most: f64) -> f64 {
    let mut stride = form.unit.difference_from_si(form.one_step());
    let fraction = matches!(form.step, RoundingStep::Fraction(_));
    let mut turn = 0;
    while stride * most < range {
        stride *= match turn {
            _ if fraction && stride < 1.0 => 2.0,
            1 => 2.5,
            _ => 2.0,
        };
        if !fraction || stride > 1.0 {
            turn = (turn + 1) % 3;
        }
    }
    stride
}
