//! How long a validation holds, and how a person stands with a procedure on a date.

#[cfg(test)]
mod boundaries;
mod early;
mod load;
mod state;

use chrono::{DateTime, Days, FixedOffset, Months, NaiveDate, TimeDelta};
use serde::{Deserialize, Serialize};

use crate::{
    procedure::{Mode, Procedure},
    report::Outcome,
};

pub use early::{Cut, Early, contamination_ends, months_asked, more_often, strict_year, too_long_away};
pub use load::{due_load, due_weeks};
pub use state::State;

/// How many days before a validation runs out people are reminded, unless a requirement says otherwise: common
/// practice, no source. From the first of them on a validation counts as due soon.
pub const LEAD_DAYS: [u32; 4] = [90, 60, 30, 7];

/// What a demonstration is for; said before the first act.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Purpose {
    /// Practice.
    Practice,
    /// Validation: the only purpose that grants validity.
    Validation,
    /// Observed during live care.
    LiveCare,
}

/// How a person stands, and why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Standing {
    /// The state.
    pub state: State,
    /// Valid through this date, in the unit's civil calendar; of the validation that decides, run out or not.
    pub valid_until: Option<NaiveDate>,
    /// Date of the demonstration that decides.
    pub decided_on: Option<NaiveDate>,
    /// Where that was seen; `None` where nothing was shown.
    pub evidence: Option<Origin>,
    /// The first day of the suspension, of whoever is suspended.
    pub suspended_since: Option<NaiveDate>,
    /// One plain sentence.
    pub because: String,
}

/// Where something was shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Origin {
    /// Here, in a demonstration that this program scored.
    Here,
    /// Elsewhere; somebody here accepted what was said of it.
    Elsewhere,
}

impl Origin {
    /// It in words, as tables show it.
    pub fn words(self) -> &'static str {
        match self {
            Origin::Here => "here",
            Origin::Elsewhere => "from elsewhere",
        }
    }
}

/// What a standing is made of: one completed attempt at a validation, or one accepted from elsewhere.
/// Practice, live care and modes that the procedure does not accept are not among them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attempt {
    /// The civil date of the demonstration.
    pub on: NaiveDate,
    /// Its outcome.
    pub outcome: Outcome,
    /// Valid through this date, where the outcome is competent.
    pub valid_until: Option<NaiveDate>,
    /// What ends it sooner, where something does.
    pub cut: Option<Cut>,
    /// What it was accepted on, where that was not seen here.
    pub elsewhere: Option<String>,
}

impl Attempt {
    fn origin(&self) -> Origin {
        if self.elsewhere.is_some() { Origin::Elsewhere } else { Origin::Here }
    }

    /// Through which date it holds, and the reason where that is sooner than by calendar months.
    fn holds(&self) -> Option<(NaiveDate, String)> {
        let until = self.valid_until?;
        Some(match self.cut.as_ref().filter(|cut| cut.by < until) {
            Some(cut) => (cut.by, format!("; {}", cut.early.words())),
            None => (until, String::new()),
        })
    }
}

/// A suspension that holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Suspension {
    /// From this date.
    pub since: NaiveDate,
    /// Why, as whoever signed it put it.
    pub why: String,
}

impl Suspension {
    /// It in one sentence.
    pub fn words(&self) -> String {
        format!("Suspended since {}: {}.", long_date(self.since), early::open(&self.why))
    }
}

/// How the requirement stands that is asked about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// Whether the procedure is required of the person.
    pub required: bool,
    /// How many days before it runs out a validation counts as due soon.
    pub lead_days: u32,
    /// The suspension that the person is under, where they are.
    pub suspended: Option<Suspension>,
}

/// The last day on which a validation holds: the date of the demonstration plus calendar months, the day
/// cut to the end of the month. Always counted from the demonstration, never from an earlier due date.
///
/// `None` only beyond the calendar's last year.
pub fn valid_until(demonstrated_on: NaiveDate, months: u32) -> Option<NaiveDate> {
    demonstrated_on.checked_add_months(Months::new(months))
}

/// Whether a demonstration for this purpose, in this mode, can grant validity of the procedure.
pub fn grants(purpose: Purpose, mode: Mode, procedure: &Procedure) -> bool {
    purpose == Purpose::Validation && procedure.validates_in.contains(&mode)
}

/// Whether a demonstration ends a validation that holds: a later attempt that was not yet competent does.
pub fn ends(purpose: Purpose, mode: Mode, procedure: &Procedure, outcome: Outcome) -> bool {
    outcome == Outcome::NotYetCompetent && grants(purpose, mode, procedure)
}

/// Through which date a demonstration would hold; `None` where it grants nothing.
pub fn granted_until(
    purpose: Purpose,
    mode: Mode,
    procedure: &Procedure,
    outcome: Outcome,
    on: NaiveDate,
) -> Option<NaiveDate> {
    match outcome {
        Outcome::Competent if grants(purpose, mode, procedure) => valid_until(on, procedure.valid_months),
        Outcome::Competent | Outcome::NotYetCompetent | Outcome::NotAssessed => None,
    }
}

/// How a person stands on a date. `attempts` are in the order they were carried out; those after `as_of`
/// are passed over. The latest completed attempt decides; one that was not assessed changes nothing.
pub fn standing(attempts: &[Attempt], asked: Asked, as_of: NaiveDate) -> Standing {
    let decides =
        attempts.iter().rev().find(|attempt| attempt.on <= as_of && attempt.outcome != Outcome::NotAssessed);
    if let Some(suspension) = asked.suspended.filter(|suspension| suspension.since <= as_of) {
        return Standing {
            state: State::Suspended,
            valid_until: decides.and_then(Attempt::holds).map(|(until, _)| until),
            decided_on: decides.map(|attempt| attempt.on),
            evidence: decides.map(Attempt::origin),
            suspended_since: Some(suspension.since),
            because: suspension.words(),
        };
    }
    let Some(attempt) = decides else {
        let (state, because) = if asked.required {
            (State::NeverValidated, "Never validated: no completed attempt counts.")
        } else {
            (State::NotRequired, "Not required, and never demonstrated.")
        };
        return Standing {
            state,
            valid_until: None,
            decided_on: None,
            evidence: None,
            suspended_since: None,
            because: because.to_owned(),
        };
    };
    let (state, valid_until) = decided(attempt, due_soon_through(asked.lead_days, as_of), as_of);
    let on = long_date(attempt.on);
    let sooner = attempt.holds().map(|(_, sooner)| sooner).unwrap_or_default();
    let through = || format!("valid through {}{sooner}.", long_date(valid_until.unwrap_or(as_of)));
    let elsewhere = attempt.elsewhere.as_deref().map(early::open);
    let accepted =
        elsewhere.map(|source| format!("accepted from elsewhere ({source}), ")).unwrap_or_default();
    let because = match state {
        State::Overdue => {
            let since = next_day(valid_until.unwrap_or(as_of));
            format!("Overdue since {since}: {accepted}last competent on {on}, {}", through())
        }
        State::DueSoon => format!("Due soon: {accepted}competent on {on}, {}", through()),
        State::Current => match elsewhere {
            Some(source) => {
                format!("Accepted from elsewhere ({source}): competent on {on}, {}", through())
            }
            None => format!("Competent on {on}, {}", through()),
        },
        State::NotYetCompetent | State::NeverValidated | State::Suspended | State::NotRequired => {
            let held = attempts.iter().any(|earlier| {
                earlier.on <= attempt.on && earlier.holds().is_some_and(|(until, _)| until >= attempt.on)
            });
            let ended = if held { "; an earlier validation ended that day" } else { "" };
            format!("Not yet competent on {on}{ended}.")
        }
    };
    let evidence = Some(attempt.origin());
    Standing { state, valid_until, decided_on: Some(attempt.on), evidence, suspended_since: None, because }
}

/// Whether a clock was set back since a device last wrote something: what begins or is sealed by it would be dated, and
/// hold, as if it had been seen on another day. Zones and corrections of a clock are within a day (common practice, no
/// source).
pub fn clock_was_set_back(now: DateTime<FixedOffset>, last_written: DateTime<FixedOffset>) -> bool {
    last_written.signed_duration_since(now) > TimeDelta::days(1)
}

/// The last day on which a validation may run out and be due soon already: so many days ahead.
pub fn due_soon_through(lead_days: u32, as_of: NaiveDate) -> NaiveDate {
    as_of.checked_add_days(Days::new(u64::from(lead_days))).unwrap_or(NaiveDate::MAX)
}

/// The state that the attempt which decides leaves a person in on a date, and through when it holds; a roster of
/// thousands asks for no more, and reckons the day of [`due_soon_through`] once for all of them.
#[inline]
pub fn decided(attempt: &Attempt, due_soon: NaiveDate, as_of: NaiveDate) -> (State, Option<NaiveDate>) {
    let holds = attempt.valid_until.map(|until| attempt.cut.as_ref().map_or(until, |cut| cut.by.min(until)));
    match (attempt.outcome, holds) {
        (Outcome::Competent, Some(until)) if as_of > until => (State::Overdue, holds),
        (Outcome::Competent, Some(until)) if until <= due_soon => (State::DueSoon, holds),
        (Outcome::Competent, Some(_)) => (State::Current, holds),
        (Outcome::Competent | Outcome::NotYetCompetent | Outcome::NotAssessed, _) => {
            (State::NotYetCompetent, holds)
        }
    }
}

fn next_day(date: NaiveDate) -> String {
    long_date(date.succ_opt().unwrap_or(date))
}

/// A date as people read it without mistaking day and month: `3 May 2026`.
pub fn long_date(date: NaiveDate) -> String {
    date.format("%-d %B %Y").to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn competent(on: &str) -> Attempt {
        Attempt {
            on: date(on),
            outcome: Outcome::Competent,
            valid_until: valid_until(date(on), 12),
            cut: None,
            elsewhere: None,
        }
    }

    fn other(on: &str, outcome: Outcome) -> Attempt {
        Attempt { on: date(on), outcome, valid_until: None, cut: None, elsewhere: None }
    }

    #[track_caller]
    fn check(attempts: &[Attempt], as_of: &str, state: State, because: &str) {
        let asked = Asked { required: true, lead_days: 90, suspended: None };
        let standing = standing(attempts, asked, date(as_of));
        assert_eq!((standing.state, standing.because.as_str()), (state, because), "as of {as_of}");
    }

    /// Computed with java.time `plusMonths` and dateutil `relativedelta`, which agree; the two letters
    /// are OSHA's of 23 December 1998 (1910.134) and 24 January 2007 (1910.1030).
    #[test]
    fn a_clock_is_set_back_by_more_than_a_day() {
        let at = |text: &str| DateTime::parse_from_rfc3339(text).unwrap();
        let last = at("2026-11-26T12:00:00+01:00");
        for (now, back) in [
            ("2026-11-27T12:00:00+01:00", false),
            ("2026-11-25T12:00:00+01:00", false),
            ("2026-11-25T11:00:00+00:00", false),
            ("2026-11-25T11:59:59+01:00", true),
            ("2026-10-17T12:00:00+02:00", true),
        ] {
            assert_eq!(clock_was_set_back(at(now), last), back, "{now}");
        }
    }

    #[test]
    fn months_are_added_and_cut_to_the_end_of_the_month() {
        for (from, months, until) in [
            ("2024-01-31", 1, "2024-02-29"),
            ("2023-01-31", 1, "2023-02-28"),
            ("2024-02-29", 12, "2025-02-28"),
            ("2024-02-29", 48, "2028-02-29"),
            ("2023-02-28", 12, "2024-02-28"),
            ("2025-08-31", 6, "2026-02-28"),
            ("2023-08-30", 6, "2024-02-29"),
            ("2023-11-30", 3, "2024-02-29"),
            ("2023-12-31", 12, "2024-12-31"),
            ("1999-02-01", 12, "2000-02-01"),
            ("2023-06-15", 12, "2024-06-15"),
        ] {
            assert_eq!(valid_until(date(from), months), Some(date(until)), "{from} + {months} months");
        }
    }

    #[test]
    fn the_day_before_on_and_after() {
        let attempts = [competent("2025-05-03")];
        let holds = "Competent on 3 May 2025, valid through 3 May 2026.";
        let soon = "Due soon: competent on 3 May 2025, valid through 3 May 2026.";
        check(
            &attempts,
            "2025-05-02",
            State::NeverValidated,
            "Never validated: no completed attempt counts.",
        );
        check(&attempts, "2025-05-03", State::Current, holds);
        check(&attempts, "2026-02-01", State::Current, holds);
        check(&attempts, "2026-02-02", State::DueSoon, soon);
        check(&attempts, "2026-05-03", State::DueSoon, soon);
        check(
            &attempts,
            "2026-05-04",
            State::Overdue,
            "Overdue since 4 May 2026: last competent on 3 May 2025, valid through 3 May 2026.",
        );
    }

    #[test]
    fn what_was_accepted_from_elsewhere_does_not_read_as_if_it_was_seen_here() {
        let elsewhere = Some("Harbour Hospital, course of May".to_owned());
        let attempts = [Attempt { elsewhere, ..competent("2025-05-03") }];
        let source = "ccepted from elsewhere (Harbour Hospital, course of May)";
        let through = "competent on 3 May 2025, valid through 3 May 2026.";
        check(&attempts, "2025-06-01", State::Current, &format!("A{source}: {through}"));
        check(&attempts, "2026-05-01", State::DueSoon, &format!("Due soon: a{source}, {through}"));
        let since = format!("Overdue since 4 May 2026: a{source}, last {through}");
        check(&attempts, "2026-05-04", State::Overdue, &since);
        let asked = || Asked { required: true, lead_days: 90, suspended: None };
        let of = |attempts: &[Attempt]| standing(attempts, asked(), date("2025-06-01")).evidence;
        assert_eq!(of(&attempts), Some(Origin::Elsewhere));
        assert_eq!((of(&[competent("2025-05-03")]), of(&[])), (Some(Origin::Here), None));
    }

    #[test]
    fn a_later_not_yet_competent_ends_it_and_not_assessed_changes_nothing() {
        let ended = "Not yet competent on 1 June 2025; an earlier validation ended that day.";
        let attempts = [
            competent("2025-05-03"),
            other("2025-06-01", Outcome::NotYetCompetent),
            other("2025-06-02", Outcome::NotAssessed),
        ];
        check(&attempts, "2025-05-31", State::Current, "Competent on 3 May 2025, valid through 3 May 2026.");
        check(&attempts, "2025-06-01", State::NotYetCompetent, ended);
        check(&attempts, "2025-06-03", State::NotYetCompetent, ended);
        let first = [other("2025-06-01", Outcome::NotYetCompetent)];
        check(&first, "2025-06-03", State::NotYetCompetent, "Not yet competent on 1 June 2025.");
        check(
            &[competent("2025-05-03"), other("2025-06-02", Outcome::NotAssessed)],
            "2025-07-01",
            State::Current,
            "Competent on 3 May 2025, valid through 3 May 2026.",
        );
    }

    #[test]
    fn a_version_that_asks_for_re_validation_ends_what_was_shown_before_it() {
        let early = Early::Version { version: "2.0.0".to_owned(), why: "the gown is new.".to_owned() };
        let by = |by| Cut { by: date(by), early: early.clone() };
        let attempts = |by: Cut| [Attempt { cut: Some(by), ..competent("2025-05-03") }];
        let through = "competent on 3 May 2025, valid through 30 September 2025; version 2.0.0 asks for re-validation: the gown is new.";
        check(&attempts(by("2025-09-30")), "2025-09-30", State::DueSoon, &format!("Due soon: {through}"));
        check(
            &attempts(by("2025-09-30")),
            "2025-10-01",
            State::Overdue,
            &format!("Overdue since 1 October 2025: last {through}"),
        );
        // It never makes anything hold longer.
        let holds = "Competent on 3 May 2025, valid through 3 May 2026.";
        check(&attempts(by("2026-05-04")), "2025-06-01", State::Current, holds);
    }

    #[test]
    fn what_is_not_required_is_said_so_and_a_suspension_comes_first() {
        let mut asked = Asked { required: false, lead_days: 90, suspended: None };
        assert_eq!(standing(&[], asked.clone(), date("2026-01-01")).state, State::NotRequired);
        asked.suspended =
            Some(Suspension { since: date("2026-01-01"), why: "by the ward sister.".to_owned() });
        let on = |day| standing(&[competent("2025-12-01")], asked.clone(), date(day));
        assert_eq!(on("2025-12-31").state, State::Current);
        assert_eq!(on("2026-01-01").state, State::Suspended);
        assert_eq!(on("2026-01-01").because, "Suspended since 1 January 2026: by the ward sister.");
    }
}
