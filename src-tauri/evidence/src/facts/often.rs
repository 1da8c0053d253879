//! From which day on something is asked for, so that what is chosen today ends nothing yesterday.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::{Facts, RequirementSet};

/// A number that is asked for at least, such as every so many months, with the day from which on it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Since {
    pub(super) number: u32,
    pub(super) from: NaiveDate,
}

/// What was asked for up to a date without a break, the last first: each number is the largest that was asked for from
/// its day on, so that a rule which is stated anew, or made stricter, does not begin anew. Nothing where nothing is
/// asked for on that date. The items are in the order of their entries: of several from the same day the last counts.
pub(super) fn without_break<T>(
    items: impl Iterator<Item = T>,
    on: NaiveDate,
    from: impl Fn(&T) -> NaiveDate,
    number: impl Fn(&T) -> Option<u32>,
) -> Vec<Since> {
    let begun: BTreeMap<NaiveDate, Option<u32>> =
        items.map(|item| (from(&item), number(&item))).filter(|(from, _)| *from <= on).collect();
    let mut largest = 0;
    let mut all = Vec::new();
    for (from, number) in begun.into_iter().rev() {
        let Some(number) = number else { break };
        largest = largest.max(number);
        all.push(Since { number: largest, from });
    }
    all
}

impl Facts {
    /// How often these requirements ask for it at least, in months, each with the day from which on they do.
    pub(super) fn often(&self, required: &[&RequirementSet], on: NaiveDate) -> Vec<Since> {
        let mut all = Vec::new();
        for holds in required.iter().filter(|set| set.months.is_some()) {
            let same = |set: &&RequirementSet| {
                (&set.procedure, &set.unit, &set.role) == (&holds.procedure, &holds.unit, &holds.role)
            };
            let months = |set: &&RequirementSet| set.months.filter(|_| set.required);
            all.extend(without_break(self.requirements.iter().filter(same), on, |set| set.from, months));
        }
        all
    }

    /// How many days away the facility allows, with the day from which on it does.
    pub(super) fn leave_limits(&self, on: NaiveDate) -> Vec<Since> {
        without_break(self.rules.iter(), on, |rules| rules.from, |rules| rules.leave_limit_days)
    }

    /// From which day on the facility counts a year as 365 days; `None` where it does not.
    pub(super) fn strict_since(&self, on: NaiveDate) -> Option<NaiveDate> {
        let strict = |rules: &&crate::FacilityRulesSet| rules.strict_year.then_some(0);
        without_break(self.rules.iter(), on, |rules| rules.from, strict).last().map(|since| since.from)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rule_that_is_stated_anew_or_made_stricter_does_not_begin_anew() {
        let day = |n| NaiveDate::from_ymd_opt(2026, 11, n).unwrap();
        let since = |items: &[(u32, Option<u32>)], on| {
            let all = without_break(items.iter(), day(on), |(from, _)| day(*from), |(_, number)| *number);
            all.into_iter().map(|one| (one.number, one.from.format("%-d").to_string())).collect::<Vec<_>>()
        };
        let at = |number, from: &str| (number, from.to_owned());
        let items = [
            (1, Some(9)),
            (3, None),
            (5, Some(6)),
            (8, Some(6)),
            (10, Some(3)),
            (12, Some(4)),
            (12, Some(5)),
        ];
        assert_eq!(since(&items, 2), [at(9, "1")]);
        assert_eq!(since(&items, 4), []);
        assert_eq!(since(&items, 9), [at(6, "8"), at(6, "5")]);
        assert_eq!(since(&items, 11), [at(3, "10"), at(6, "8"), at(6, "5")]);
        assert_eq!(since(&items, 12), [at(5, "12"), at(5, "10"), at(6, "8"), at(6, "5")]);
    }
}
