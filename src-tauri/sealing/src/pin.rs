use std::{fmt, time::Duration};

use crate::SealingError;

const LEAST_PIN: usize = 6;
/// Wrong tries that cost no wait: people mistype, above all with gloves on (common practice, no source).
const FREE_TRIES: u32 = 3;
/// The wait once those are used up; each further wrong try doubles it (common practice, no source).
const FIRST_WAIT: Duration = Duration::from_secs(30);
/// No wait is longer: an observer must not be locked out for a whole shift (common practice, no source).
const LONGEST_WAIT: Duration = Duration::from_hours(1);

/// Whether a PIN may be set: six digits or more, digits only, and not what anybody would try first, one digit repeated
/// or digits that count up or down (NIST SP 800-63B, 5.1.1.2: "repetitive or sequential characters", from memory).
pub fn check_pin(pin: &str) -> Result<(), SealingError> {
    if pin.len() < LEAST_PIN || !pin.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(SealingError::PinTooShort);
    }
    let mut steps = pin.bytes().zip(pin.bytes().skip(1)).map(|(one, next)| (next + 10 - one) % 10);
    let first = steps.next();
    if matches!(first, Some(0 | 1 | 9)) && steps.all(|step| Some(step) == first) {
        return Err(SealingError::PinGuessable);
    }
    Ok(())
}

/// How much longer no PIN is to be tried. Its text says so in one sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct PinDelay(Duration);

impl PinDelay {
    /// The time left.
    pub fn left(self) -> Duration {
        self.0
    }
}

/// How much longer to wait, after so many wrong PINs in a row and so much time since the last of them;
/// `None` where a PIN may be tried now.
///
/// Three wrong tries are free, then the wait doubles from half a minute up to an hour. Both numbers come
/// from the ledger, which counts on the disk and measures by a clock that nobody can set.
pub fn pin_delay(wrong_tries: u32, since_last: Duration) -> Option<PinDelay> {
    let doublings = wrong_tries.checked_sub(FREE_TRIES)?;
    let wait = 2_u32
        .checked_pow(doublings)
        .and_then(|times| FIRST_WAIT.checked_mul(times))
        .map_or(LONGEST_WAIT, |wait| wait.min(LONGEST_WAIT));
    wait.checked_sub(since_last).filter(|left| !left.is_zero()).map(PinDelay)
}

impl fmt::Display for PinDelay {
    /// Rounded up, so that whoever waits as long as it says has waited long enough.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seconds = self.0.as_millis().div_ceil(1000);
        let (count, unit) = if seconds < 60 { (seconds, "second") } else { (seconds.div_ceil(60), "minute") };
        let s = if count == 1 { "" } else { "s" };
        write!(f, "The PIN was wrong too often: wait {count} {unit}{s}, then try again.")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(wrong_tries: u32, since_ms: u64, left_ms: Option<u64>) {
        let left = pin_delay(wrong_tries, Duration::from_millis(since_ms)).map(PinDelay::left);
        assert_eq!(left, left_ms.map(Duration::from_millis), "after {wrong_tries}, {since_ms} ms ago");
    }

    #[test]
    fn three_are_free_then_the_wait_doubles_up_to_an_hour() {
        for free in 0..3 {
            check(free, 0, None);
        }
        let waits = [30, 60, 120, 240, 480, 960, 1920, 3600, 3600];
        for (wrong_tries, wait) in (3..).zip(waits) {
            check(wrong_tries, 0, Some(wait * 1000));
        }
        check(u32::MAX, 0, Some(3_600_000));
    }

    #[test]
    fn the_wait_ends_to_the_millisecond() {
        check(3, 29_999, Some(1));
        check(3, 30_000, None);
        check(3, 30_001, None);
        check(100, 3_599_999, Some(1));
        check(100, 3_600_000, None);
        assert_eq!(pin_delay(3, Duration::MAX), None);
    }

    #[track_caller]
    fn says(left_ms: u64, wait: &str) {
        let said = PinDelay(Duration::from_millis(left_ms)).to_string();
        assert_eq!(said, format!("The PIN was wrong too often: wait {wait}, then try again."));
    }

    #[test]
    fn the_sentence_never_says_too_little() {
        says(1, "1 second");
        says(1_001, "2 seconds");
        says(59_000, "59 seconds");
        says(59_001, "1 minute");
        says(60_001, "2 minutes");
        says(3_600_000, "60 minutes");
    }
}
