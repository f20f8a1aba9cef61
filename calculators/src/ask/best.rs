//! The best few of many.

/// The places of the best scores, best first; equal ones stay in order, and what is farther than
/// `near` from the best is left out.
pub(super) fn best_first(scores: &[f64], near: f64, most: usize) -> Vec<usize> {
    let mut places: Vec<usize> = Vec::new();
    for (place, score) in scores.iter().enumerate() {
        let before = places
            .iter()
            .take_while(|other| scores[**other] >= *score)
            .count();
        places.insert(before, place);
    }
    let best = places.first().map_or(0.0, |place| scores[*place]);
    places.retain(|place| scores[*place] > best - near);
    places.truncate(most);
    places
}
