//! Marks stay where they were set, for the lengths as told, wherever the true lengths lie in
//! their tolerances.

use proptest::prelude::*;

use super::*;

/// All lengths in inches.
#[derive(Debug)]
struct Stroke {
    tube: f64,
    guide: f64,
    /// How far each may be off, as typed.
    tube_off: f64,
    guide_off: f64,
    stop_off: f64,
    overtravel: f64,
    park: f64,
    /// Share by which the hose grows or shrinks.
    change: f64,
    run_on: f64,
}

const NOZZLE: f64 = 2.5;
const OVERTRAVEL_MOST: f64 = 3.0;

impl Stroke {
    fn told(&self) -> Answer {
        let inches = |value: f64| format!("{value:.6} in");
        let within = |value: f64, off: f64| format!("{value:.6} in ± {off:.6} in");
        let pairs = [
            ("tube_length", within(self.tube, self.tube_off)),
            ("guide_tube_length", within(self.guide, self.guide_off)),
            ("stroke_error", inches(self.stop_off)),
            ("overtravel", inches(self.overtravel)),
            ("park_depth", inches(self.park)),
            ("length_change", format!("{:.6} %", self.change * 100.0)),
            ("run_on", inches(self.run_on)),
            ("run_on_feed", inches(self.run_on)),
            ("nozzle_length", inches(NOZZLE)),
            ("overtravel_most", inches(OVERTRAVEL_MOST)),
            ("far_room", "100 in".to_string()),
        ];
        let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, text)| (*name, &**text)).collect();
        run("stroke-stops", &pairs)
    }

    /// Where the nozzle's front may come to stand past the far end, and where its back does
    /// behind the shoulder of the guide tube: walked from the marks, corner by corner.
    fn true_ends(&self) -> (Vec<f64>, Vec<f64>) {
        let forward = self.guide + self.tube + self.overtravel;
        let parked = self.guide - self.park;
        let (mut fronts, mut backs) = (Vec::new(), Vec::new());
        for corner in 0..16 {
            let side = |bit: u32| if corner >> bit & 1 == 0 { -1.0 } else { 1.0 };
            let tube = self.tube + side(0) * self.tube_off;
            let guide = self.guide + side(1) * self.guide_off;
            let (stop, change) = (side(2) * self.stop_off, 1.0 + side(3) * self.change);
            let forward = forward * change + stop;
            fronts.push(forward - guide - tube);
            fronts.push(forward + self.run_on - guide - tube);
            backs.push(parked * change - stop - self.run_on - NOZZLE);
        }
        (fronts, backs)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_true_length_inside_its_tolerance_brings_the_nozzle_past_what_a_go_says(
        tube in 30.0f64..300.0, guide in 6.0f64..40.0,
        tube_off in 0.001f64..2.0, guide_off in 0.001f64..0.5, stop_off in 0.0f64..1.0,
        overtravel in 0.0f64..4.0, park in 0.0f64..8.0, change in 0.0f64..0.01, run_on in 0.0f64..2.0,
    ) {
        let stroke = Stroke { tube, guide, tube_off, guide_off, stop_off, overtravel, park, change, run_on };
        let answer = stroke.told();
        prop_assume!(answer.problems.is_empty());
        let (fronts, backs) = stroke.true_ends();
        let inch = 0.0254;
        let near = 1e-6;
        let far = answer.output("far_most").unwrap().span.as_ref().unwrap();
        let least = answer.output("far_least").unwrap().span.as_ref().unwrap();
        for front in &fronts {
            prop_assert!(front * inch <= far.high + near, "{stroke:?}: {front} past {:?}", far.text);
            prop_assert!(front * inch >= least.low - near, "{stroke:?}: {front} short of {:?}", least.text);
        }
        let is = |name: &str| {
            let check = answer.checks.iter().find(|check| check.check == name);
            check.unwrap().is
        };
        if fronts.iter().any(|front| *front > OVERTRAVEL_MOST + 1e-4) {
            prop_assert!(is("at the far end") >= Verdict::Open, "{stroke:?}: {:?}", answer.checks);
        }
        if backs.iter().any(|back| *back < -1e-4) {
            prop_assert!(is("parked in the guide tube") >= Verdict::Open, "{stroke:?}: {:?}", answer.checks);
        }
    }
}
