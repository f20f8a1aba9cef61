//! Requests that are kept until there is something new to tell them.

use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// Nobody waits longer: a reader who left is noticed only by an answer.
const LONGEST: Duration = Duration::from_secs(20);

/// How many may wait at once.
pub const MOST: usize = 64;

/// The requests that wait, the oldest first. An answer to one is asked for with whether it may
/// still wait; none means that it does.
pub struct WaitingRequests<R>(Mutex<Vec<(R, Instant)>>);

impl<R> Default for WaitingRequests<R> {
    fn default() -> Self {
        WaitingRequests(Mutex::default())
    }
}

impl<R> WaitingRequests<R> {
    /// Keeps a request until there is an answer to it. Gives back who is to be answered at
    /// once: this one, or the oldest where too many wait.
    pub fn keep<A>(
        &self,
        request: R,
        now: Instant,
        answer: impl Fn(&R, bool) -> Option<A>,
    ) -> Option<(R, A)> {
        let mut waiting = self.lock();
        // asked under the lock: what is new from here on finds the request among the waiting
        if let Some(answer) = answer(&request, true) {
            return Some((request, answer));
        }
        waiting.push((request, now));
        if waiting.len() <= MOST {
            return None;
        }
        let (oldest, _) = waiting.remove(0);
        answer(&oldest, false).map(|answer| (oldest, answer))
    }

    /// Takes out whom there is something to tell, and who has waited long enough.
    pub fn take<A>(&self, now: Instant, answer: impl Fn(&R, bool) -> Option<A>) -> Vec<(R, A)> {
        let mut waiting = self.lock();
        let mut taken = Vec::new();
        for (request, since) in std::mem::take(&mut *waiting) {
            let may_wait = now.saturating_duration_since(since) < LONGEST;
            match answer(&request, may_wait) {
                Some(answer) => taken.push((request, answer)),
                None => waiting.push((request, since)),
            }
        }
        taken
    }

    /// Something of each that waits.
    pub fn map<T>(&self, of: impl Fn(&R) -> T) -> Vec<T> {
        self.lock().iter().map(|(request, _)| of(request)).collect()
    }

    fn lock(&self) -> MutexGuard<'_, Vec<(R, Instant)>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Requests are numbers here, and what is told is all below one.
    fn below(limit: usize) -> impl Fn(&usize, bool) -> Option<&'static str> {
        move |request, may_wait| {
            if *request < limit {
                Some("new")
            } else {
                (!may_wait).then_some("old")
            }
        }
    }

    #[test]
    fn what_has_an_answer_never_waits_and_the_rest_until_it_has_one() {
        let (waiting, now) = (WaitingRequests::default(), Instant::now());
        assert_eq!(waiting.keep(1, now, below(2)), Some((1, "new")));
        for request in [2, 3, 4] {
            assert_eq!(waiting.keep(request, now, below(2)), None);
        }
        assert_eq!(waiting.take(now, below(2)), []);
        assert_eq!(waiting.take(now, below(4)), [(2, "new"), (3, "new")]);
        assert_eq!(waiting.take(now, below(5)), [(4, "new")]);
        assert_eq!(waiting.take(now, below(5)), []);
    }

    #[test]
    fn who_waited_long_enough_is_told_what_there_is() {
        let (waiting, start) = (WaitingRequests::default(), Instant::now());
        let later = start + Duration::from_secs(1);
        assert_eq!(waiting.keep(1, start, below(0)), None);
        assert_eq!(waiting.keep(2, later, below(0)), None);
        assert_eq!(waiting.take(later, below(0)), []);
        assert_eq!(waiting.take(start + LONGEST, below(0)), [(1, "old")]);
        assert_eq!(waiting.take(later + LONGEST, below(0)), [(2, "old")]);
    }

    #[test]
    fn of_too_many_the_oldest_is_told_what_there_is() {
        let (waiting, now) = (WaitingRequests::default(), Instant::now());
        for request in 0..MOST {
            assert_eq!(waiting.keep(request, now, below(0)), None);
        }
        assert_eq!(waiting.keep(MOST, now, below(0)), Some((0, "old")));
        assert_eq!(waiting.take(now, below(MOST + 1)).len(), MOST);
    }
}
