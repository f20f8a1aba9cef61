//! Which lists are steps of the work, and the one count of them.

use std::ops::RangeInclusive;

use pulldown_cmark::Tag;

/// Counts the steps of one page: each ordered list that stands by itself goes on where the last
/// ended, whatever numbers were typed. A crew says "step 4" on the radio, and means one step.
#[derive(Debug, Default)]
pub struct StepCount(usize);

impl StepCount {
    /// The numbers of a part's items, where it is a list of steps.
    pub fn of(&mut self, part: &Tag, items: usize) -> Option<RangeInclusive<usize>> {
        if !matches!(part, Tag::List(Some(_))) {
            return None;
        }
        let first = self.0 + 1;
        self.0 += items;
        Some(first..=self.0)
    }

    /// How many there were so far.
    pub fn total(&self) -> usize {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_goes_on_where_the_last_one_ended_and_a_dotted_one_is_none() {
        let mut count = StepCount::default();
        assert_eq!(count.of(&Tag::List(Some(1)), 3), Some(1..=3));
        assert_eq!(count.of(&Tag::List(None), 9), None);
        assert_eq!(count.of(&Tag::List(Some(1)), 2), Some(4..=5));
        assert_eq!(count.total(), 5);
    }
}
