//! What ends a validation sooner than its calendar months, each with its date and reason.

use chrono::{Days, NaiveDate};

use super::{long_date, valid_until};
use crate::report::{FindingKind, Report, Severity};

/// That a validation holds through an earlier date.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// What was shown before holds through this date at most.
    pub by: NaiveDate,
    /// Why.
    pub early: Early,
}

impl Cut {
    /// That it ends nothing before the day from which on its rule is asked for: what is chosen today was not so
    /// yesterday. The reason then says since when.
    #[must_use]
    pub fn not_before(self, rule: NaiveDate) -> Cut {
        match rule.pred_opt().filter(|eve| self.by < *eve) {
            Some(eve) => Cut { by: eve, early: self.early.since(rule) },
            None => self,
        }
    }
}

/// Why something must be shown again early. Retraining after a change of equipment or a loss of skill is
/// 29 CFR 1910.132(f)(3) and 1910.134(k)(5); the others are common practice, no source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Early {
    /// A version asks for it.
    Version {
        /// The version.
        version: String,
        /// Why, as the educator decided it.
        why: String,
    },
    /// A contamination event that nobody recognised, or that was not dealt with. One that was recognised and
    /// dealt with never counts against anybody, or people would hide it.
    Contamination {
        /// The day of the event.
        on: NaiveDate,
    },
    /// Other equipment came into use.
    Equipment {
        /// From this day.
        on: NaiveDate,
        /// Which.
        what: String,
    },
    /// Away for longer than the facility allows.
    Leave {
        /// The first day away.
        from: NaiveDate,
        /// How many days away the facility allows.
        limit_days: u32,
        /// From when on, where that is what decides.
        since: Option<NaiveDate>,
    },
    /// An observer noted that the skill is lost.
    LossOfSkill {
        /// On this day.
        on: NaiveDate,
        /// What was noted.
        noted: String,
    },
    /// The facility counts a year as 365 days at most.
    StrictYear {
        /// From when on, where that is what decides.
        since: Option<NaiveDate>,
    },
    /// The requirement asks for it more often than the procedure does.
    Required {
        /// Every so many months.
        months: u32,
        /// From when on, where that is what decides.
        since: Option<NaiveDate>,
    },
}

impl Early {
    /// The same, with the day from which on its rule is asked for; what names a day of its own has no such rule.
    fn since(mut self, rule: NaiveDate) -> Early {
        match &mut self {
            Early::Leave { since, .. } | Early::StrictYear { since } | Early::Required { since, .. } => {
                *since = Some(rule);
            }
            Early::Version { .. }
            | Early::Contamination { .. }
            | Early::Equipment { .. }
            | Early::LossOfSkill { .. } => {}
        }
        self
    }

    /// The reason, as the later half of a sentence without its full stop.
    pub fn words(&self) -> String {
        let from = |since: &Option<NaiveDate>| {
            since.map_or_else(String::new, |since| format!(" since {}", long_date(since)))
        };
        match self {
            Early::Version { version, why } => {
                format!("version {version} asks for re-validation: {}", open(why))
            }
            Early::Contamination { on } => {
                format!("a contamination event on {} was not recognised or not dealt with", long_date(*on))
            }
            Early::Equipment { on, what } => {
                format!("new equipment since {}: {}", long_date(*on), open(what))
            }
            Early::Leave { from: first, limit_days, since } => {
                let (first, since) = (long_date(*first), from(since));
                format!("away since {first}, longer than the {limit_days} days allowed{since}")
            }
            Early::LossOfSkill { on, noted } => {
                format!("loss of skill noted on {}: {}", long_date(*on), open(noted))
            }
            Early::StrictYear { since } => {
                format!("the facility counts a year as 365 days at most{}", from(since))
            }
            Early::Required { months: 1, since } => format!("required here every month{}", from(since)),
            Early::Required { months, since } => {
                format!("required here every {months} months{}", from(since))
            }
        }
    }
}

/// Without the full stop that people end their reasons with.
pub(super) fn open(why: &str) -> &str {
    why.trim_end_matches('.')
}

/// Whether a demonstration, whatever it was for, had a contamination event that ends earlier validations.
pub fn contamination_ends(report: &Report) -> bool {
    let unanswered = |kind, severity| kind == FindingKind::Contamination && severity == Severity::Critical;
    report.findings.iter().any(|finding| unanswered(finding.kind, finding.severity))
}

/// That a leave, as it is known on `as_of`, is longer than the facility allows: what was shown before it
/// holds through the last day that is allowed. `through` is the last day away; open where it is `None`.
pub fn too_long_away(
    from: NaiveDate,
    through: Option<NaiveDate>,
    limit_days: u32,
    as_of: NaiveDate,
) -> Option<Cut> {
    let by = from.checked_add_days(Days::new(u64::from(limit_days)))?.pred_opt()?;
    let last = through.map_or(as_of, |through| through.min(as_of));
    (last > by).then_some(Cut { by, early: Early::Leave { from, limit_days, since: None } })
}

/// That whole years hold for 365 days each at most, where the facility chose so: OSHA's letter of
/// 24 January 2007 on 1910.1030 reads "at least annually" as not over 365 days.
pub fn strict_year(shown_on: NaiveDate, until: NaiveDate) -> Option<Cut> {
    let years = (1..=10).find(|years| valid_until(shown_on, 12 * years) == Some(until))?;
    let by = shown_on.checked_add_days(Days::new(365 * u64::from(years)))?;
    (by < until).then_some(Cut { by, early: Early::StrictYear { since: None } })
}

/// That a requirement asks for something more often than its procedure does: what was shown holds for so many
/// calendar months at most.
pub fn more_often(shown_on: NaiveDate, until: NaiveDate, months: u32) -> Option<Cut> {
    let by = valid_until(shown_on, months)?;
    (by < until).then_some(Cut { by, early: Early::Required { months, since: None } })
}

/// How many months a validation holds where a requirement asks for it every so many: it never holds longer than by the
/// procedure. [`more_often`] is the same of two dates.
pub fn months_asked(procedure: u32, asked: Option<u32>) -> u32 {
    asked.map_or(procedure, |asked| asked.min(procedure))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::{Finding, Outcome};

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    /// From the end of a month on, where months differ most: by number and by date it is one rule.
    #[test]
    fn months_that_are_asked_for_and_the_day_that_follows_agree() {
        let shown = date("2025-08-31");
        for (procedure, asked) in [(12, None), (12, Some(6)), (12, Some(12)), (12, Some(24)), (6, Some(1))] {
            let until = valid_until(shown, procedure).unwrap();
            let cut = asked.and_then(|asked| more_often(shown, until, asked));
            let by = valid_until(shown, months_asked(procedure, asked)).unwrap();
            assert_eq!(cut.map_or(until, |cut| cut.by), by, "{procedure} months, {asked:?} asked");
        }
    }

    #[test]
    fn a_leave_counts_from_its_first_day_and_only_beyond_the_limit() {
        let cut = |through: Option<&str>, as_of| {
            too_long_away(date("2026-01-01"), through.map(date), 180, date(as_of)).map(|cut| cut.by)
        };
        assert_eq!(cut(None, "2026-06-29"), None, "the 180th day away");
        assert_eq!(cut(None, "2026-06-30"), Some(date("2026-06-29")));
        assert_eq!(cut(Some("2026-06-29"), "2026-12-01"), None, "back on the 181st day");
        assert_eq!(cut(Some("2026-06-30"), "2026-12-01"), Some(date("2026-06-29")));
        assert_eq!(cut(Some("2026-12-01"), "2026-06-29"), None, "announced, but not yet so long");
    }

    /// Computed with dateutil; the letter is OSHA's of 24 January 2007 on 1910.1030.
    #[test]
    fn a_strict_year_differs_from_calendar_months_only_across_a_leap_day() {
        for (shown, months, by) in [
            ("2023-06-15", 12, Some("2024-06-14")),
            ("2024-06-15", 12, None),
            ("2024-02-29", 12, None),
            ("2023-03-01", 12, Some("2024-02-29")),
            ("2023-02-28", 12, None),
            ("2023-06-15", 24, Some("2025-06-14")),
            ("2023-06-15", 6, None),
        ] {
            let until = valid_until(date(shown), months).unwrap();
            assert_eq!(strict_year(date(shown), until).map(|cut| cut.by), by.map(date), "{shown} + {months}");
        }
    }

    #[test]
    fn what_is_asked_for_from_a_day_on_ends_nothing_before_it() {
        let (shown, until) = (date("2025-11-20"), date("2026-11-20"));
        let every = |rule: &str| more_often(shown, until, 6).unwrap().not_before(date(rule));
        let told = |rule: &str| (every(rule).by, every(rule).early.words());
        let plain = "required here every 6 months".to_owned();
        assert_eq!(told("2025-01-01"), (date("2026-05-20"), plain.clone()));
        assert_eq!(told("2026-05-21"), (date("2026-05-20"), plain), "the day on which it runs out anyway");
        let since = "required here every 6 months since 22 May 2026".to_owned();
        assert_eq!(told("2026-05-22"), (date("2026-05-21"), since));
        let event = Cut { by: date("2026-05-01"), early: Early::Contamination { on: date("2026-05-02") } };
        assert_eq!(event.clone().not_before(date("2026-05-02")), event);
    }

    #[test]
    fn only_a_contamination_that_was_not_dealt_with_ends_anything() {
        let ends = |kind, severity| {
            let finding = Finding {
                kind,
                step: None,
                observation: None,
                severity,
                because: Vec::new(),
                text: String::new(),
            };
            contamination_ends(&Report {
                alignment_cost: 0,
                score_permille: 0,
                steps_well: 0,
                steps_counted: 0,
                outcome: Outcome::NotYetCompetent,
                steps: Vec::new(),
                findings: vec![finding],
            })
        };
        assert!(ends(FindingKind::Contamination, Severity::Critical));
        assert!(!ends(FindingKind::Contamination, Severity::Other), "recognised and dealt with");
        assert!(!ends(FindingKind::Missed, Severity::Critical));
    }
}
