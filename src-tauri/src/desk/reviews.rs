//! Reviews that nobody waits for any more, so that scoring one of the worst logs does not go on for them.

use std::sync::{Mutex, PoisonError};

/// How many are remembered: far more than can be under way at once.
const MOST: usize = 32;

/// The reviews that were stopped, the latest last.
#[derive(Debug, Default)]
pub(super) struct StoppedReviews(Mutex<Vec<String>>);

impl StoppedReviews {
    /// Stops a review, whether it has begun or not.
    pub(super) fn stop(&self, review: &str) {
        let mut stopped = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        stopped.push(review.to_owned());
        let beyond = stopped.len().saturating_sub(MOST);
        stopped.drain(..beyond);
    }

    /// Whether a review was stopped.
    pub(super) fn is_stopped(&self, review: &str) -> bool {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).iter().any(|stopped| stopped == review)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_review_is_stopped_by_its_own_name_and_the_oldest_are_forgotten() {
        let reviews = StoppedReviews::default();
        reviews.stop("a");
        assert!(reviews.is_stopped("a") && !reviews.is_stopped("b"));
        for n in 0..MOST {
            reviews.stop(&n.to_string());
        }
        assert!(!reviews.is_stopped("a") && reviews.is_stopped("0"));
    }
}
