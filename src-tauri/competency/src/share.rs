//! How sure a share is that was counted in a small group.

use serde::{Deserialize, Serialize};

/// A share with its 95 % Wilson score interval, in millionths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Share {
    /// How many.
    pub count: u32,
    /// Of how many.
    pub of: u32,
    /// The lower end, 0 to 1,000,000.
    pub lower_ppm: u32,
    /// The upper end, 0 to 1,000,000.
    pub upper_ppm: u32,
}

/// From this many people on a share is shown of a unit: with fewer it would tell who it was. Common practice, no
/// source.
pub const LEAST_PEOPLE: u32 = 5;

/// Whether what so many people of a group did may be told where others, so many, are counted beside them: enough of
/// them, and of the others none or enough, since the whole less the group is the others. Common practice, no source.
pub fn tells_nobody(inside: u32, outside: u32) -> bool {
    inside >= LEAST_PEOPLE && (outside == 0 || outside >= LEAST_PEOPLE)
}

/// The square of 1.959964, the 97.5th percentile of the normal distribution, in units of 10 to the minus 12.
const Z_SQUARED: u128 = 3_841_458_881_296;
/// One in the same units.
const ONE: u128 = 1_000_000_000_000;
/// One in millionths.
const PPM: u128 = 1_000_000;

/// A share with its Wilson score interval (Wilson 1927, Journal of the American Statistical Association), in
/// whole numbers throughout, rounded to the nearest millionth. `None` of nobody, and of more than there are.
pub fn share(count: u32, of: u32) -> Option<Share> {
    if of == 0 || count > of {
        return None;
    }
    let (x, n) = (u128::from(count), u128::from(of));
    // The textbook form (p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n), times 2n above and below.
    let middle = 2 * x * ONE + Z_SQUARED;
    // Divided in two goes, since the whole product would not fit.
    let spread = 4 * Z_SQUARED * x * (n - x);
    let half = (Z_SQUARED * Z_SQUARED + spread / n * ONE + spread % n * ONE / n).isqrt();
    let whole = 2 * (n * ONE + Z_SQUARED);
    let ppm = |end: u128| u32::try_from(((end * PPM + whole / 2) / whole).min(PPM)).ok();
    let lower_ppm = ppm(middle.saturating_sub(half))?;
    Some(Share { count, of, lower_ppm, upper_ppm: ppm(middle + half)? })
}

impl Share {
    /// The count first, then what it may well be: `17 of 20 (95 % interval: 64 % to 95 %)`. Only the count where an
    /// interval tells nothing: of fewer than [`LEAST_PEOPLE`], and of so many that both its ends are the same percent.
    pub fn words(self) -> String {
        let percent = |ppm: u32| (ppm + 5_000) / 10_000;
        let (lower, upper) = (percent(self.lower_ppm), percent(self.upper_ppm));
        if self.of < LEAST_PEOPLE || lower == upper {
            return format!("{} of {}", self.count, self.of);
        }
        format!("{} of {} (95 % interval: {lower} % to {upper} %)", self.count, self.of)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_group_is_told_of_only_where_neither_it_nor_the_others_are_few() {
        for (inside, outside, tells) in [
            (5, 0, true),
            (4, 0, false),
            (5, 5, true),
            (5, 4, false),
            (5, 1, false),
            (0, 9, false),
            (40, 60, true),
        ] {
            assert_eq!(tells_nobody(inside, outside), tells, "{inside} beside {outside}");
        }
    }

    /// The first four are the examples of Newcombe 1998, Statistics in Medicine 17:857 (attribution from
    /// memory; the printed values, to four places, agree); all were computed with z = 1.959964.
    #[test]
    fn the_worked_examples() {
        for (count, of, lower, upper) in [
            (81, 263, 255_289, 366_210),
            (15, 148, 62_386, 160_487),
            (0, 20, 0, 161_125),
            (1, 29, 6_113, 171_755),
            (20, 20, 838_875, 1_000_000),
            (10, 10, 722_467, 1_000_000),
            (17, 20, 639_581, 947_631),
            (5, 10, 236_593, 763_407),
            (1, 1, 206_549, 1_000_000),
            // Tomas and others 2015, JAMA Internal Medicine 175:1904: 46.0 % of 435 simulations; computed.
            (200, 435, 413_500, 506_800),
        ] {
            let share = share(count, of).unwrap();
            let near = |one: u32, other: u32, by| one.abs_diff(other) <= by;
            let by = if of == 435 { 50 } else { 0 };
            assert!(near(share.lower_ppm, lower, by) && near(share.upper_ppm, upper, by), "{share:?}");
        }
    }

    #[test]
    fn it_holds_the_share_and_mirrors_its_complement() {
        for of in 1..=200 {
            for count in 0..=of {
                let one = share(count, of).unwrap();
                let other = share(of - count, of).unwrap();
                let exact = u64::from(count) * 1_000_000;
                assert!(u64::from(one.lower_ppm) * u64::from(of) <= exact);
                assert!(u64::from(one.upper_ppm) * u64::from(of) >= exact);
                assert!((one.lower_ppm + other.upper_ppm).abs_diff(1_000_000) <= 1, "{one:?} {other:?}");
            }
        }
        assert_eq!((share(0, 0), share(3, 2)), (None, None));
        assert!(share(u32::MAX / 2, u32::MAX).is_some(), "no number is too large");
    }

    #[test]
    fn the_count_comes_first() {
        let words = "17 of 20 (95 % interval: 64 % to 95 %)";
        assert_eq!(share(17, 20).unwrap().words(), words);
    }

    #[test]
    fn an_interval_that_tells_nothing_is_left_out() {
        let words = |count, of| share(count, of).unwrap().words();
        assert_eq!((words(0, 1), words(3, 4)), ("0 of 1".to_owned(), "3 of 4".to_owned()));
        assert_eq!(words(5, 5), "5 of 5 (95 % interval: 57 % to 100 %)");
        assert_eq!(words(9, 10_014), "9 of 10014", "0 % to 0 %");
    }
}
