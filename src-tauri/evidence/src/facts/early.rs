//! Suspensions, and what ends a validation early, always as of a civil date.

use chrono::{DateTime, FixedOffset, NaiveDate};
use competency::validity::{self, Cut, Early, Suspension};

use super::{
    Attempt, Facts, Stated,
    asking::{latest_from, strict_year},
};
use crate::{Cause, FacilityRulesSet, LeaveStated, PersonSuspended, ProcedureId, RevalidationAsked};

/// When something was shown, and until when it holds by itself.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shown {
    /// The civil date.
    pub(super) on: NaiveDate,
    /// The moment; `None` for evidence from elsewhere, which has a day only.
    pub(super) begun: Option<DateTime<FixedOffset>>,
    /// Valid through this date.
    pub(super) valid_until: Option<NaiveDate>,
}

impl Facts {
    /// What the facility chose, as it holds on a date; `None` where it never chose.
    pub fn facility_rules(&self, on: NaiveDate) -> Option<&FacilityRulesSet> {
        latest_from(&self.rules, on, |rules| rules.from)
    }

    /// The suspension that keeps a person from a procedure on a date: of several the one that began first.
    pub fn suspension(&self, person: &str, procedure: &str, on: NaiveDate) -> Option<Suspension> {
        self.suspension_where(person, on, |procedures| meant(procedures, procedure))
    }

    /// The suspension from everything that a person is under on a date.
    pub fn suspension_from_all(&self, person: &str, on: NaiveDate) -> Option<Suspension> {
        self.suspension_where(person, on, |procedures| procedures.is_none())
    }

    /// Every suspension that a person is under on a date.
    pub fn suspensions(&self, person: &str, on: NaiveDate) -> Vec<&Stated<PersonSuspended>> {
        let Some(facts) = self.people.get(person) else { return Vec::new() };
        let lifted = |suspension: &Stated<_>| {
            facts.lifted.iter().any(|lifted| {
                lifted.what.suspension == suspension.entry
                    && lifted.what.from <= on
                    && self.counts(lifted.entry)
            })
        };
        let holds = |suspension: &&Stated<PersonSuspended>| {
            suspension.what.from <= on && self.counts(suspension.entry) && !lifted(suspension)
        };
        facts.suspensions.iter().filter(holds).collect()
    }

    fn suspension_where(
        &self,
        person: &str,
        on: NaiveDate,
        from: impl Fn(Option<&[String]>) -> bool,
    ) -> Option<Suspension> {
        self.suspensions(person, on)
            .into_iter()
            .filter(|suspension| from(suspension.what.procedures.as_deref()))
            .min_by_key(|suspension| suspension.what.from)
            .map(|suspension| Suspension { since: suspension.what.from, why: suspension.what.why.clone() })
    }

    /// What ends early what a person has shown in a procedure or in one accepted in its place, as of a date; of several
    /// the earliest.
    pub(super) fn early_cut(
        &self,
        person: &str,
        accepted: &[ProcedureId],
        shown: Shown,
        as_of: NaiveDate,
    ) -> Option<Cut> {
        let year = self.strict_since(as_of).and_then(|since| strict_year(shown.on, shown.valid_until, since));
        let leaves = self.leaves(person);
        let limits = if leaves.is_empty() { Vec::new() } else { self.leave_limits(as_of) };
        let away = leaves
            .into_iter()
            .filter(|leave| shown.on < leave.from)
            .flat_map(|leave| limits.iter().map(move |limit| (leave, limit)))
            .filter_map(|(leave, limit)| {
                let cut = validity::too_long_away(leave.from, leave.through, limit.number, as_of)?;
                Some(cut.not_before(limit.from))
            })
            .min_by_key(|cut| cut.by);
        let asked = self
            .asked
            .iter()
            .filter(|asked| asked.what.on <= as_of && self.is_asked(asked, person, accepted))
            .filter(|asked| self.shown_before(shown, asked))
            .map(|asked| Cut { by: asked.what.by, early: early(&asked.what) })
            .min_by_key(|cut| cut.by);
        earliest(earliest(year, away), asked)
    }

    /// The leaves of a person that still count, each as it was last stated.
    fn leaves(&self, person: &str) -> Vec<&LeaveStated> {
        let stated = self.people.get(person).map(|facts| facts.leaves.as_slice()).unwrap_or_default();
        let counting: Vec<_> = stated.iter().filter(|leave| self.counts(leave.entry)).collect();
        let replaced = |at: usize, leave: &LeaveStated| {
            counting.iter().skip(at + 1).any(|later| later.what.from == leave.from)
        };
        let last = counting.iter().enumerate().filter(|(at, leave)| !replaced(*at, &leave.what));
        last.map(|(_, leave)| &leave.what).collect()
    }

    fn is_asked(&self, asked: &Stated<RevalidationAsked>, person: &str, accepted: &[ProcedureId]) -> bool {
        let what = &asked.what;
        let in_unit = |unit: &String| {
            self.membership(person, what.on).is_some_and(|member| member.unit.as_ref() == Some(unit))
        };
        self.counts(asked.entry)
            && what.person.as_ref().is_none_or(|meant| meant == person)
            && what.unit.as_ref().is_none_or(in_unit)
            && accepted.iter().any(|procedure| meant(what.procedures.as_deref(), procedure))
            && !self.seen_in_voided(what)
    }

    /// Whether the demonstration in which it was seen no longer counts.
    fn seen_in_voided(&self, asked: &RevalidationAsked) -> bool {
        self.seen_in(asked).is_some_and(|attempt| !self.counts(attempt.entry))
    }

    /// The sealed demonstration in which it was seen.
    fn seen_in(&self, asked: &RevalidationAsked) -> Option<&Attempt> {
        let Cause::Contamination { demonstration: Some(seen_in) } = &asked.cause else { return None };
        let person = self.people.get(asked.person.as_ref()?)?;
        person.attempts.iter().find(|attempt| attempt.sealed.demonstration == *seen_in)
    }

    /// Whether something was shown before what asks for it anew. On the same day the moments decide: what
    /// began after the demonstration in which it was seen, or after the entry was written where there was
    /// none, is the re-validation itself.
    fn shown_before(&self, shown: Shown, asked: &Stated<RevalidationAsked>) -> bool {
        let moment = self.seen_in(&asked.what).map_or(asked.at, |attempt| attempt.sealed.begun);
        shown.on < asked.what.on
            || shown.on == asked.what.on && shown.begun.is_none_or(|begun| begun <= moment)
    }
}

fn early(asked: &RevalidationAsked) -> Early {
    let on = asked.on;
    match &asked.cause {
        Cause::Contamination { .. } => Early::Contamination { on },
        Cause::Equipment { what } => Early::Equipment { on, what: what.clone() },
        Cause::LossOfSkill { noted } => Early::LossOfSkill { on, noted: noted.clone() },
    }
}

fn meant(procedures: Option<&[String]>, procedure: &str) -> bool {
    procedures.is_none_or(|procedures| procedures.iter().any(|one| one == procedure))
}

/// Of two the earlier.
pub(super) fn earliest(one: Option<Cut>, other: Option<Cut>) -> Option<Cut> {
    one.into_iter().chain(other).min_by_key(|cut| cut.by)
}
