//! Tubes of a sheet as points of a lattice inside a circle, row by row.
//!
//! Rows run level. Lengths are in tube pitches: `reach` is how far from the
//! bundle's centre a tube's centre may lie, `lane` how near the middle line it
//! may come where a pass lane runs between the rows.

use crate::span::is_even;

/// What is counted of a lattice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lattice {
    /// Tubes in one row.
    Row,
    /// The farthest row that may hold a tube.
    End,
}

impl Lattice {
    /// The count for a call's numbers; `None` where there is no such lattice.
    pub(super) fn count(self, layout: &str, centre: &str, numbers: &[f64]) -> Option<f64> {
        match (self, numbers) {
            (Lattice::Row, [reach, lane, number]) => row(layout, centre, *reach, *lane, *number),
            (Lattice::End, [reach]) => farthest_row(layout, centre, *reach),
            _ => None,
        }
    }
}

/// Farther than the largest bundle.
const FARTHEST: f64 = 400.0;

/// A point on the edge counts as inside, whatever the conversion did to it.
const NOISE: f64 = 1e-9;

/// A layout's rows: distance between tubes, between rows, and every second row
/// shifted by half.
struct Rows {
    along: f64,
    between: f64,
    staggered: bool,
    /// Where the first tube lies from the bundle's centre.
    across: (f64, f64),
}

impl Rows {
    fn of(layout: &str, centre: &str) -> Option<Rows> {
        let (root_two, root_three) = (std::f64::consts::SQRT_2, libm::sqrt(3.0));
        // Midway between two neighbouring tubes: in a row where the row has
        // neighbours one pitch apart, else where the slanting ones are.
        let (along, between, staggered, midway) = match layout {
            "30" => (1.0, root_three / 2.0, true, (0.5, 0.0)),
            "60" => (root_three, 0.5, true, (root_three / 2.0, 0.0)),
            "90" => (1.0, 1.0, false, (0.5, 0.0)),
            "45" => (
                root_two,
                root_two / 2.0,
                true,
                (root_two / 4.0, root_two / 4.0),
            ),
            _ => return None,
        };
        let across = match centre {
            "on-tube" => (0.0, 0.0),
            "between-tubes" => midway,
            _ => return None,
        };
        Some(Rows {
            along,
            between,
            staggered,
            across,
        })
    }

    /// Tubes in row `number`, counted from the middle, up and down.
    fn count(&self, number: f64, reach: f64, lane: f64) -> f64 {
        let y = number * self.between + self.across.1;
        if y.abs() > reach + NOISE || y.abs() < lane - NOISE {
            return 0.0;
        }
        let half = libm::sqrt((reach * reach - y * y).max(0.0)) + NOISE;
        let odd = is_even(number - 1.0);
        let shift = self.across.0
            + if self.staggered && odd {
                self.along / 2.0
            } else {
                0.0
            };
        let last = libm::floor((half - shift) / self.along);
        let first = libm::ceil((-half - shift) / self.along);
        (last - first + 1.0).max(0.0)
    }
}

/// Tubes in one row; `None` for a layout or a reach that isn't one.
fn row(layout: &str, centre: &str, reach: f64, lane: f64, number: f64) -> Option<f64> {
    let rows = Rows::of(layout, centre)?;
    (reach <= FARTHEST && number == libm::round(number)).then(|| rows.count(number, reach, lane))
}

/// The farthest row, counted from the middle, that may hold a tube.
fn farthest_row(layout: &str, centre: &str, reach: f64) -> Option<f64> {
    let rows = Rows::of(layout, centre)?;
    (reach <= FARTHEST).then(|| libm::ceil(reach.max(0.0) / rows.between) + 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn total(layout: &str, centre: &str, reach: f64) -> f64 {
        let last = farthest_row(layout, centre, reach).unwrap() as i32;
        (-last..=last)
            .map(|number| row(layout, centre, reach, 0.0, f64::from(number)).unwrap())
            .sum()
    }

    #[test]
    fn small_circles_hold_the_tubes_one_can_draw() {
        for layout in ["30", "60"] {
            assert_eq!(total(layout, "on-tube", 0.5), 1.0, "{layout}");
            assert_eq!(total(layout, "on-tube", 1.0), 7.0, "{layout}");
            assert_eq!(total(layout, "between-tubes", 0.5), 2.0, "{layout}");
        }
        for layout in ["90", "45"] {
            assert_eq!(total(layout, "on-tube", 1.0), 5.0, "{layout}");
            assert_eq!(total(layout, "on-tube", 1.5), 9.0, "{layout}");
            assert_eq!(total(layout, "between-tubes", 0.5), 2.0, "{layout}");
        }
    }

    #[test]
    fn turning_a_layout_moves_no_tube_in_or_out() {
        for tenth in 1..200 {
            let reach = f64::from(tenth) / 10.0 + 0.03;
            assert_eq!(total("30", "on-tube", reach), total("60", "on-tube", reach));
            assert_eq!(total("90", "on-tube", reach), total("45", "on-tube", reach));
            assert_eq!(
                total("30", "between-tubes", reach),
                total("60", "between-tubes", reach)
            );
            assert_eq!(
                total("90", "between-tubes", reach),
                total("45", "between-tubes", reach)
            );
        }
    }

    #[test]
    fn a_lane_takes_the_rows_that_it_covers() {
        assert_eq!(row("90", "on-tube", 3.0, 0.6, 0.0), Some(0.0));
        assert_eq!(row("90", "on-tube", 3.0, 0.6, 1.0), Some(5.0));
        assert_eq!(row("31", "on-tube", 3.0, 0.0, 0.0), None);
        assert_eq!(row("90", "on-tube", 1e9, 0.0, 0.0), None);
    }
}
