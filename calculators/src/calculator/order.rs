//! The order in which a calculator's formulas are evaluated: each after those
//! whose results it reads.

use super::definition::Calculator;
use gaugeleaf_finding::Code;
use gaugeleaf_finding::settings::Settings;

pub(super) fn by_need(calculator: &Calculator, settings: &mut Settings) -> Vec<usize> {
    let outputs = &calculator.outputs;
    let needs: Vec<Vec<usize>> = outputs
        .iter()
        .map(|output| {
            let only_if = output
                .only_if
                .iter()
                .flat_map(|(formula, _)| formula.names());
            let names: Vec<&str> = output.formula.names().into_iter().chain(only_if).collect();
            (0..outputs.len())
                .filter(|at| names.contains(&outputs[*at].name.as_str()))
                // An output that only repeats an input needs no output.
                .filter(|at| calculator.input(&outputs[*at].name).is_none())
                .collect()
        })
        .collect();
    let mut order: Vec<usize> = Vec::new();
    while order.len() < outputs.len() {
        let ready = (0..outputs.len())
            .find(|at| !order.contains(at) && needs[*at].iter().all(|need| order.contains(need)));
        let Some(ready) = ready else {
            let stuck: Vec<&str> = (0..outputs.len())
                .filter(|at| !order.contains(at))
                .map(|at| outputs[at].name.as_str())
                .collect();
            let first = outputs.iter().find(|output| output.name == stuck[0]);
            let span = first.map_or(0..0, |output| output.formula_at.span.clone());
            let message = format!("these formulas need each other: {}", stuck.join(", "));
            let circle = settings.error(Code::Circle, &span, message);
            circle.help = Some("give one of them a formula that doesn't read the others".into());
            circle.ties.breaks.push(calculator.name.clone());
            return order;
        };
        order.push(ready);
    }
    order
}
