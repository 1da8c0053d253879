//! What can be asked of facts, always as of a civil date.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset, NaiveDate};
use competency::{
    report::Outcome,
    validity::{self, Asked, Cut, Early, Purpose, Standing},
};

use super::{
    amended::Dates,
    early::{Shown, earliest},
    often::Since,
};
use crate::{
    Attempt, DemonstrationId, DemonstrationSealed, Facts, Membership, OutsideEvidenceAccepted, PersonFacts,
    PersonId, ProcedureId, ProcedurePublished, PublishedVersion, RequirementSet, Stated,
};

impl Facts {
    /// Where a person belongs on a date; `None` before they joined and after they left.
    pub fn membership(&self, person: &str, on: NaiveDate) -> Option<&Membership> {
        self.people.get(person)?.membership(on).filter(|membership| membership.unit.is_some())
    }

    /// Whether a person belonged somewhere and does no more on a date; not yet is something else.
    pub fn has_left(&self, person: &str, on: NaiveDate) -> bool {
        let last = self.people.get(person).and_then(|known| known.membership(on));
        last.is_some_and(|membership| membership.unit.is_none())
    }

    /// The people of a unit on a date, or of all units.
    pub fn members(&self, unit: Option<&str>, on: NaiveDate) -> Vec<&PersonId> {
        let belongs = |person: &PersonId| {
            self.membership(person, on)
                .is_some_and(|membership| unit.is_none_or(|unit| membership.unit.as_deref() == Some(unit)))
        };
        self.people.keys().filter(|person| belongs(person)).collect()
    }

    /// The version of a procedure that is in force on a date; `None` before the first and once retired.
    pub fn in_force(&self, procedure: &str, on: NaiveDate) -> Option<&ProcedurePublished> {
        let versions = self.procedures.get(procedure)?;
        let (index, latest) = versions
            .iter()
            .enumerate()
            .filter(|(_, version)| version.published.from <= on)
            .max_by_key(|(index, version)| (version.published.from, *index))?;
        let retirements = self.retired.get(procedure).map(Vec::as_slice).unwrap_or_default();
        let retired =
            retirements.iter().any(|retired| retired.retired.from <= on && index < retired.versions);
        (!retired).then_some(&latest.published)
    }

    /// Whether a procedure was in force and is so no longer on a date.
    pub fn is_retired(&self, procedure: &str, on: NaiveDate) -> bool {
        let begun = |version: &PublishedVersion| version.published.from <= on;
        self.procedures.get(procedure).is_some_and(|versions| versions.iter().any(begun))
            && self.in_force(procedure, on).is_none()
    }

    /// The procedures by which one may be shown on a date: itself, and where its version in force accepts
    /// them the other sequences of its family that are in force.
    pub fn accepted_sequences(&self, procedure: &str, on: NaiveDate) -> Vec<ProcedureId> {
        let mut accepted = vec![procedure.to_owned()];
        let Some(own) = self.in_force(procedure, on).map(|published| &published.procedure) else {
            return accepted;
        };
        if own.accepts_family && own.family.is_some() {
            let alike = |other: &&ProcedureId| {
                other.as_str() != procedure
                    && self.in_force(other, on).is_some_and(|published| {
                        published.procedure.family == own.family && published.procedure.phase == own.phase
                    })
            };
            accepted.extend(self.procedures.keys().filter(alike).cloned());
        }
        accepted
    }

    /// The requirement that a person is under for a procedure on a date: the one with the longest lead
    /// time where several hold. What was retired is required of nobody, since nobody could demonstrate it.
    pub fn requirement(&self, person: &str, procedure: &str, on: NaiveDate) -> Option<&RequirementSet> {
        self.requirements_of(person, procedure, on).into_iter().max_by_key(|set| set.due_soon_days())
    }

    /// Every requirement that a person is under for a procedure on a date.
    pub fn requirements_of(&self, person: &str, procedure: &str, on: NaiveDate) -> Vec<&RequirementSet> {
        let Some(membership) = self.membership(person, on) else { return Vec::new() };
        let meant = |set: &RequirementSet| {
            set.procedure == procedure
                && set.unit.as_ref().is_none_or(|unit| membership.unit.as_ref() == Some(unit))
                && set.role.as_ref().is_none_or(|role| membership.role == *role)
        };
        self.requirements_on(on, meant)
    }

    /// The requirements that hold on a date, each as it was last set; those `meant` says no to are left out.
    pub fn requirements_on(
        &self,
        on: NaiveDate,
        meant: impl Fn(&RequirementSet) -> bool,
    ) -> Vec<&RequirementSet> {
        let mut holding: BTreeMap<_, Vec<&RequirementSet>> = BTreeMap::new();
        for set in self.requirements.iter().filter(|set| meant(set)) {
            holding.entry((&set.procedure, &set.unit, &set.role)).or_default().push(set);
        }
        let latest = holding.values().filter_map(|sets| latest_from(sets, on, |set| set.from));
        latest.filter(|set| set.required && !self.is_retired(&set.procedure, on)).copied().collect()
    }

    /// Every procedure that somebody must hold on a date.
    pub fn required_procedures(&self, on: NaiveDate) -> Vec<&ProcedureId> {
        let mut procedures: Vec<_> =
            self.requirements_on(on, |_| true).into_iter().map(|set| &set.procedure).collect();
        procedures.sort();
        procedures.dedup();
        procedures
    }

    /// The attempt that a new one on this date repeats: the first of those that were not yet competent, where
    /// nothing better has followed.
    pub fn repeats(&self, person: &str, procedure: &str, on: NaiveDate) -> Option<DemonstrationId> {
        let last = &self.attempts(person, procedure, on).pop()?.sealed;
        (last.outcome == Outcome::NotYetCompetent)
            .then(|| last.first_attempt.clone().unwrap_or_else(|| last.demonstration.clone()))
    }

    /// A person's sealed demonstrations of a procedure up to a date that still count, earliest first, each
    /// on the date it counts from.
    pub fn attempts(&self, person: &str, procedure: &str, on: NaiveDate) -> Vec<&Attempt> {
        let Some(facts) = self.people.get(person) else { return Vec::new() };
        let mut attempts: Vec<_> = facts
            .attempts
            .iter()
            .filter(|attempt| {
                attempt.sealed.procedure == procedure
                    && self.dates(attempt).on <= on
                    && self.counts(attempt.entry)
                    && self.accepted(attempt)
            })
            .collect();
        // A stable sort: attempts that began at the same moment keep the order of their entries.
        attempts.sort_by_key(|attempt| self.order(attempt));
        attempts
    }

    /// How a person stands with a procedure on a date, by the rules of [`competency::validity`]; the sentence goes on
    /// to say what was put right of the records.
    pub fn standing(&self, person: &str, procedure: &str, on: NaiveDate) -> Standing {
        let requirement = self.requirement(person, procedure, on);
        let asked = Asked {
            required: requirement.is_some(),
            lead_days: requirement.map_or(0, RequirementSet::due_soon_days),
            suspended: self.suspension(person, procedure, on),
        };
        let mut standing = validity::standing(&self.validations(person, procedure, on), asked, on);
        for (_, said) in self.put_right(person, procedure, on) {
            standing.because.push(' ');
            standing.because.push_str(&said);
        }
        standing
    }

    /// The day up to `on` on which a later attempt ended the validation that this one granted: the first
    /// not-yet-competent one while it held, unless the person was competent again before.
    pub fn ended_on(&self, person: &str, granted: &Attempt, on: NaiveDate) -> Option<NaiveDate> {
        let until = self.dates(granted).valid_until?;
        let later = |attempt: &&&Attempt| {
            self.order(attempt) > self.order(granted)
                && self.is_validation(&attempt.sealed)
                && attempt.sealed.outcome != Outcome::NotAssessed
        };
        let attempts = self.attempts(person, &granted.sealed.procedure, on);
        let next = attempts.iter().find(later)?;
        let ended_on = self.dates(next).on;
        (next.sealed.outcome == Outcome::NotYetCompetent && ended_on <= until).then_some(ended_on)
    }

    /// Orders attempts as they were carried out.
    fn order(&self, attempt: &Attempt) -> (NaiveDate, DateTime<FixedOffset>) {
        (self.dates(attempt).on, attempt.sealed.begun)
    }

    /// Whether a person may observe a procedure on a date: they are current in it, or an appointment on
    /// outside evidence covers it; nobody who is suspended may. Whether they can sign is another question.
    pub fn may_observe(&self, person: &str, procedure: &str, on: NaiveDate) -> bool {
        let appointed = self.people.get(person).is_some_and(|facts| facts.appointed(procedure, on))
            && self.suspension(person, procedure, on).is_none();
        appointed || self.standing(person, procedure, on).state.holds()
    }

    /// What a standing is made of: attempts at a validation, and validations accepted from elsewhere,
    /// that still count, in the order in which they were carried out.
    fn validations(&self, person: &str, procedure: &str, on: NaiveDate) -> Vec<validity::Attempt> {
        // Evidence from elsewhere has a day but no hour: what was seen here on that day comes after it.
        let mut dated: Vec<(NaiveDate, Option<DateTime<FixedOffset>>, validity::Attempt)> = Vec::new();
        let accepted = self.accepted_sequences(procedure, on);
        let often = self.often(&self.requirements_of(person, procedure, on), on);
        for attempt in accepted.iter().flat_map(|one| self.attempts(person, one, on)) {
            if self.is_validation(&attempt.sealed) {
                let dates = self.dates(attempt);
                let counted = self.counted(person, attempt, dates, &often, on);
                dated.push((dates.on, Some(attempt.sealed.begun), counted));
            }
        }
        let outside = self.people.get(person).map(|facts| facts.outside.as_slice()).unwrap_or_default();
        for accepted in outside {
            let dates = self.outside_dates(accepted);
            if accepted.what.procedure == procedure && dates.on <= on && self.counts(accepted.entry) {
                let counted = validity::Attempt {
                    elsewhere: Some(accepted.what.source.clone()),
                    ..self.counted_outside(person, procedure, dates, &often, on)
                };
                dated.push((dates.on, None, counted));
            }
        }
        dated.sort_by_key(|(on, begun, _)| (*on, *begun));
        dated.into_iter().map(|(_, _, attempt)| attempt).collect()
    }

    /// An attempt at a validation with whatever ends it sooner, as of a date; `often` is how often it is
    /// required at least.
    pub(super) fn counted(
        &self,
        person: &str,
        attempt: &Attempt,
        dates: Dates,
        often: &[Since],
        on: NaiveDate,
    ) -> validity::Attempt {
        let sealed = &attempt.sealed;
        let shown = Shown { on: dates.on, begun: Some(sealed.begun), valid_until: dates.valid_until };
        let cut = earliest(
            self.version_cut(&sealed.procedure, Some(sealed), dates.on, on),
            self.early_cut(person, &sealed.procedure, shown, on),
        );
        counted(dates, sealed.outcome, earliest(cut, sooner(dates, often)))
    }

    /// The same of a validation accepted from elsewhere.
    pub(super) fn counted_outside(
        &self,
        person: &str,
        procedure: &str,
        dates: Dates,
        often: &[Since],
        on: NaiveDate,
    ) -> validity::Attempt {
        let shown = Shown { on: dates.on, begun: None, valid_until: dates.valid_until };
        let cut = earliest(
            self.version_cut(procedure, None, dates.on, on),
            self.early_cut(person, procedure, shown, on),
        );
        counted(dates, Outcome::Competent, earliest(cut, sooner(dates, often)))
    }

    /// The same of what no version and no early trigger can end: only how often it is required, and the
    /// facility's own reading of a year.
    pub(super) fn plainly_counted(
        dates: Dates,
        competent: bool,
        often: &[Since],
        strict: Option<NaiveDate>,
    ) -> validity::Attempt {
        let outcome = if competent { Outcome::Competent } else { Outcome::NotYetCompetent };
        if strict.is_none() && often.is_empty() {
            return counted(dates, outcome, None);
        }
        let year = strict.and_then(|since| strict_year(dates.on, dates.valid_until, since));
        counted(dates, outcome, earliest(year, sooner(dates, often)))
    }

    /// The dates by which evidence from elsewhere counts.
    pub(super) fn outside_dates(&self, accepted: &Stated<OutsideEvidenceAccepted>) -> Dates {
        let said = Dates { on: accepted.what.on, valid_until: Some(accepted.what.valid_until) };
        self.dates_of(accepted.entry, said)
    }

    /// Whether a later version asks for re-validation, and until when what was shown before it holds. Of
    /// several the earliest date counts. Evidence from elsewhere belongs to no version: its day decides.
    fn version_cut(
        &self,
        procedure: &str,
        sealed: Option<&DemonstrationSealed>,
        shown_on: NaiveDate,
        on: NaiveDate,
    ) -> Option<Cut> {
        let versions = self.procedures.get(procedure)?;
        let own = sealed.and_then(|sealed| {
            versions.iter().position(|version| version.published.hash == sealed.procedure_hash)
        });
        versions
            .iter()
            .enumerate()
            .filter(|(index, version)| match own {
                Some(own) => *index > own,
                None => version.published.from > shown_on,
            })
            .filter(|(_, version)| version.published.from <= on)
            .filter_map(|(_, version)| {
                let revalidate = version.published.revalidate.as_ref()?;
                let version = version.published.procedure.version.clone();
                let early = Early::Version { version, why: revalidate.why.clone() };
                Some(Cut { by: revalidate.by, early })
            })
            .min_by_key(|cut| cut.by)
    }

    /// Whether a sealed demonstration was an attempt at a validation, in a mode that its very version of
    /// the procedure accepts. Where that version is not among the facts, the mode is not held against it:
    /// better that a failed attempt counts than that it is passed over.
    pub(super) fn is_validation(&self, sealed: &DemonstrationSealed) -> bool {
        let versions = self.procedures.get(&sealed.procedure).map(Vec::as_slice).unwrap_or_default();
        match versions.iter().find(|version| version.published.hash == sealed.procedure_hash) {
            Some(version) => validity::grants(sealed.purpose, sealed.mode, &version.published.procedure),
            None => sealed.purpose == Purpose::Validation,
        }
    }
}

impl PersonFacts {
    pub(super) fn membership(&self, on: NaiveDate) -> Option<&Membership> {
        latest_from(&self.memberships, on, |membership| membership.from)
    }

    /// Whether an appointment to observe this procedure holds on a date.
    pub fn appointed(&self, procedure: &str, on: NaiveDate) -> bool {
        self.appointments.iter().any(|appointment| {
            appointment.from <= on
                && appointment.until.is_none_or(|until| on <= until)
                && appointment
                    .procedures
                    .as_ref()
                    .is_none_or(|procedures| procedures.iter().any(|one| one == procedure))
        })
    }
}

fn counted(dates: Dates, outcome: Outcome, cut: Option<Cut>) -> validity::Attempt {
    validity::Attempt { on: dates.on, outcome, valid_until: dates.valid_until, cut, elsewhere: None }
}

/// The earliest end by how often something is required.
fn sooner(dates: Dates, often: &[Since]) -> Option<Cut> {
    let until = dates.valid_until?;
    let cut = |one: &Since| Some(validity::more_often(dates.on, until, one.number)?.not_before(one.from));
    often.iter().filter_map(cut).min_by_key(|cut| cut.by)
}

/// The end by the facility's own reading of a year, which it has since a date.
pub(super) fn strict_year(on: NaiveDate, until: Option<NaiveDate>, since: NaiveDate) -> Option<Cut> {
    Some(validity::strict_year(on, until?)?.not_before(since))
}

/// Of items in the order of their entries, the one that holds on a date: the latest that had begun, and
/// of several from the same date the last stated.
pub(super) fn latest_from<T>(items: &[T], on: NaiveDate, from: impl Fn(&T) -> NaiveDate) -> Option<&T> {
    items.iter().filter(|item| from(item) <= on).max_by_key(|item| from(item))
}
