//! Figures, tube maps and plots of a catalog's calculators, and the drawings of the setup sheet.

use super::resolver::JobResolver;
use super::{Catalog, Job};
use crate::calculator::{Answer, Calculator, Plot, Resolver, Verdict};
use crate::field::{Entry, FieldKind};
use crate::figure::Figure;
use crate::formula::Value;
use crate::names::Names;
use crate::plot::{self, PlotLine};
use gaugeleaf_finding::Placed;

/// The name of a drawing of the setup sheet, from its path; none for other figures.
pub(super) fn drawing_name(path: &str) -> Option<&str> {
    let (folder, file) = path.rsplit_once('/')?;
    let of_sheet = folder.ends_with("sheet");
    file.strip_suffix(".svg").filter(|_| of_sheet)
}

impl Catalog {
    /// The figure of an answer's calculator, drawn for its values.
    pub fn draw(&self, answer: &Answer) -> Option<String> {
        self.drawn(answer, |calculator| &calculator.figure)
    }

    /// The tube map of an answer's calculator, drawn for its values.
    pub fn draw_map(&self, answer: &Answer) -> Option<String> {
        self.drawn(answer, |calculator| &calculator.map)
    }

    /// The drawings of the setup sheet for one job, by name. What bears no verdict isn't known to
    /// them, so that no number of another job is dialled in.
    pub fn draw_sheet(&self, job: &Job) -> Vec<(&str, String)> {
        let resolver = self.resolver(job);
        let drawings = self.drawings.iter();
        drawings
            .filter_map(|(name, drawing)| {
                Some((name.as_str(), self.drawn_for(drawing, &resolver)?))
            })
            .collect()
    }

    fn drawn_for(&self, drawing: &Figure, resolver: &JobResolver<'_>) -> Option<String> {
        let (mut values, mut texts) = (Names::new(), Names::new());
        for from in drawing.takes() {
            // a handbook may leave calculators out, and what would draw them with them
            let calculator = from.split_once('.').map(|(calculator, _)| calculator);
            if calculator.is_some_and(|name| !self.calculators.contains_key(name)) {
                return None;
            }
            if let Some((value, mut text)) = self.borne(from, resolver) {
                // without its value nothing is drawn by it; a text that is empty tells a stop
                if self.stopped(from, calculator, resolver) {
                    text.clear();
                } else {
                    values.insert(from.to_string(), value);
                }
                texts.insert(from.to_string(), text);
            }
        }
        drawing.draw(&values, &texts).ok()
    }

    /// A stop forbids it: its own calculator's, or for a measurement or rating one of any that reads it.
    fn stopped(&self, from: &str, own: Option<&str>, resolver: &JobResolver<'_>) -> bool {
        for one in self.calculators.values() {
            let mut inputs = one.inputs.iter();
            let concerns = match own {
                Some(own) => one.name == own,
                None => inputs.any(|it| it.from.as_ref().is_some_and(|it| it.value == from)),
            };
            if concerns && resolver.answer(one).worst_of_job() == Some(Verdict::Stop) {
                return true;
            }
        }
        false
    }

    /// A value of the graph that a verdict may stand on, and as it is printed.
    fn borne(&self, from: &str, resolver: &JobResolver<'_>) -> Option<(Value, String)> {
        let resolved = resolver.resolve(from).ok()?;
        if !resolved.footing.ground.bears() {
            return None;
        }
        let text = match from.split_once('.') {
            Some((calculator, output)) => {
                let answer = resolver.answer(self.calculators.get(calculator)?);
                answer.output(output)?.reading.as_ref()?.text().to_string()
            }
            None => match (&resolved.entry, &self.named.get(from)?.field.kind) {
                (Entry::Number(typed), FieldKind::Number { format, .. }) => format.echo(typed).text,
                (Entry::Choice(choice), _) => choice.label.clone(),
                (Entry::Number(_), FieldKind::Choice(_)) => return None,
            },
        };
        Some((resolved.entry.value(), text))
    }

    fn drawn(
        &self,
        answer: &Answer,
        of: fn(&Calculator) -> &Option<Placed<String>>,
    ) -> Option<String> {
        let calculator = self.calculators.get(&answer.calculator)?;
        let path = calculator.beside(of(calculator).as_ref()?);
        let figure = self.figures.get(&path)?;
        // half a drawing looks like a whole one of something else
        if !answer.problems.is_empty() || !answer.unset.is_empty() {
            return None;
        }
        figure.draw(&answer.values, &answer.texts).ok()
    }

    /// The plot of an answer's calculator, with the answer marked in it.
    pub fn plot(&self, answer: &Answer) -> Option<String> {
        let calculator = self.calculators.get(&answer.calculator)?;
        let plot = calculator.plot.as_ref()?;
        if !answer.problems.is_empty() {
            return None;
        }
        let line = PlotLine { name: "", answer };
        self.plot_of(calculator, plot, &[line], true)
    }

    /// Any plot of a calculator: one line for each answer, the first one marked if wanted.
    pub fn plot_of(
        &self,
        calculator: &Calculator,
        plot: &Plot,
        lines: &[PlotLine],
        mark: bool,
    ) -> Option<String> {
        let job = Job::new();
        let resolver = self.resolver(&job);
        plot::svg(calculator, plot, lines, mark, &resolver, &self.language)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::builtin;
    use crate::catalog::{Taken, Whose};
    use crate::ground::Ground;
    use crate::testing::demonstration;

    fn job(values: &[(&str, &str)]) -> Job {
        let pairs = values.iter();
        pairs
            .map(|(name, text)| (name.to_string(), text.to_string()))
            .collect()
    }

    fn guide(catalog: &Catalog, job: &Job) -> String {
        let drawn = catalog.draw_sheet(job);
        let found = drawn.into_iter().find(|(name, _)| *name == "guide");
        found.expect("a drawing of the guide tube").1
    }

    /// How often a dashed box says that a value is open.
    fn open(drawn: &str) -> usize {
        drawn.matches(">OPEN<").count()
    }

    #[test]
    fn an_open_dial_stands_where_its_value_will() {
        let (catalog, _) = Catalog::load(&builtin());
        let bare = guide(&catalog, &Job::new());
        let half = guide(&catalog, &job(&[("channel_depth", "9 in")]));
        let more = [("channel_depth", "9 in"), ("stock_guide_tube", "12 in")];
        let whole = guide(&catalog, &job(&more));
        assert!(open(&bare) > open(&half) && open(&half) > open(&whole));
        assert!(
            !bare.contains("head") && half.contains("head 9\u{a0}in"),
            "{half}"
        );
        assert!(
            !half.contains("21\u{a0}in") && whole.contains("21\u{a0}in"),
            "{whole}"
        );
    }

    #[test]
    fn what_a_stop_forbids_is_drawn_with_no_number() {
        let (catalog, _) = Catalog::load(&builtin());
        let drawn = |name: &str, values: &[(&str, &str)]| {
            let mut job = demonstration();
            for (name, text) in values {
                job.set(name, text, Ground::Measured, "");
            }
            let drawn = catalog.draw_sheet(&job);
            let found = drawn.into_iter().find(|(of, _)| *of == name);
            found.expect("a drawing").1.replace('\u{a0}', " ")
        };
        let run_on = [("feed_speed", "40 in/s"), ("far_room", "2 in")];
        /// A drawing, the values of its job, the number that a stop forbids, and how many boxes say so.
        type Case<'c> = (&'c str, &'c [(&'c str, &'c str)], &'c str, usize);
        let cases: [Case; 3] = [
            ("hose", &run_on, "212 1/4 in", 3),
            ("guide", &[("stop_opening", "30 mm")], "30 mm", 1),
            ("pressure", &[("gauge_now", "13000 psi")], "gauge must", 2),
        ];
        for (name, values, number, boxes) in cases {
            let svg = drawn(name, values);
            assert!(!svg.contains(number), "{number} in {svg}");
            assert_eq!(svg.matches(">STOP<").count(), boxes, "{svg}");
            assert!(svg.contains("class=\"STOP\"") && open(&svg) == 0, "{svg}");
            assert!(!drawn(name, &[]).contains("STOP"));
        }
        assert!(drawn("hose", &run_on).contains("The forward mark: STOP."));
    }

    #[test]
    fn an_older_value_beside_a_refused_entry_is_drawn_by_nobody() {
        let (catalog, _) = Catalog::load(&builtin());
        let taken = |refused: &str| Taken {
            text: "9 in".to_string(),
            refused: refused.to_string(),
            ..Taken::default()
        };
        let held = |refused: &str| {
            let given = [("channel_depth".to_string(), taken(refused))];
            catalog.job_of(&Whose::InHand {
                name: "E-204",
                kit: "",
                given: given.into_iter().collect(),
            })
        };
        assert!(guide(&catalog, &held("")).contains("head 9\u{a0}in"));
        assert!(!guide(&catalog, &held("90 in")).contains("head"));
    }

    #[test]
    fn a_length_is_drawn_by_the_scale_that_the_drawing_says() {
        let (catalog, _) = Catalog::load(&builtin());
        for (depth, n) in [("9 in", 15.0), ("60 in", 30.0)] {
            let values = [
                ("channel_depth", depth),
                ("stock_guide_tube", "12 in"),
                ("drive_length", "20 in"),
            ];
            let drawn = guide(&catalog, &job(&values));
            assert!(drawn.contains(&format!("side 1 : {n}")), "{drawn}");
            // four units of a drawing are a millimetre of paper
            let inches: f64 = depth.trim_end_matches(" in").parse().expect("a number");
            let face = 336.0 - 4.0 * inches * 25.4 / n;
            let line = format!("M{} 26H336", crate::figure::coordinate(face));
            assert!(drawn.contains(&line), "{line} in {drawn}");
        }
    }

    #[test]
    fn what_is_packed_draws_the_same() {
        let (catalog, _) = Catalog::load(&builtin());
        let mut other = Catalog::unpack(&catalog.pack()).expect("it is sealed");
        assert!(other.draw_sheet(&Job::new()).is_empty());
        assert!(!other.take_drawings(b"no drawings"));
        assert!(other.take_drawings(&catalog.pack_drawings()));
        let job = job(&[("channel_depth", "9 in")]);
        assert_eq!(other.draw_sheet(&job), catalog.draw_sheet(&job));
    }
}
