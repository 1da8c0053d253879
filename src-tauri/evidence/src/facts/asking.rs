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
    Attempt, DemonstrationId, DemonstrationSealed, Facts, Membership, ObserverAppointed,
    OutsideEvidenceAccepted, PersonFacts, PersonId, ProcedureId, ProcedurePublished, PublishedVersion,
    RequirementSet, Stated,
};

/// What is asked of one person.
#[derive(Clone, Copy)]
pub(super) struct Sought<'a> {
    pub(super) person: &'a str,
    /// The procedure, and the sequences that are accepted in its place, as of [`Facts::accepted_sequences`].
    pub(super) accepted: &'a [ProcedureId],
    /// How often it is required at least.
    pub(super) often: &'a [Since],
    /// As of this date.
    pub(super) on: NaiveDate,
}

impl<'a> Sought<'a> {
    fn procedure(self) -> Option<&'a ProcedureId> {
        self.accepted.first()
    }
}

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

    /// The procedures in whose place one that was shown is accepted on a date, itself first: what was kept as one
    /// sequence of a family may have been begun as another.
    pub fn accepted_for(&self, shown: &str, on: NaiveDate) -> Vec<ProcedureId> {
        let accepts = |other: &&ProcedureId| {
            other.as_str() != shown && self.accepted_sequences(other, on).iter().any(|one| one == shown)
        };
        let others = self.procedures.keys().filter(accepts).cloned();
        std::iter::once(shown.to_owned()).chain(others).collect()
    }

    /// The attempt that a new one on this date repeats: the first of those that were not yet competent, where
    /// nothing better has followed in any sequence that is accepted.
    pub fn repeats(&self, person: &str, procedure: &str, on: NaiveDate) -> Option<DemonstrationId> {
        let last = &self.shown_in(person, &self.accepted_sequences(procedure, on), on).pop()?.sealed;
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

    /// The same of several procedures together.
    fn shown_in(&self, person: &str, procedures: &[ProcedureId], on: NaiveDate) -> Vec<&Attempt> {
        let mut all: Vec<_> = procedures.iter().flat_map(|one| self.attempts(person, one, on)).collect();
        all.sort_by_key(|attempt| self.order(attempt));
        all
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
    /// not-yet-competent one while it held, in any sequence that is accepted, unless the person was competent again
    /// before.
    pub fn ended_on(&self, person: &str, granted: &Attempt, on: NaiveDate) -> Option<NaiveDate> {
        let until = self.dates(granted).valid_until?;
        let later = |attempt: &&&Attempt| {
            self.order(attempt) > self.order(granted)
                && self.is_validation(&attempt.sealed)
                && attempt.sealed.outcome != Outcome::NotAssessed
        };
        let accepted = self.accepted_sequences(&granted.sealed.procedure, on);
        let attempts = self.shown_in(person, &accepted, on);
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
        let appointed =
            self.people.get(person).is_some_and(|facts| facts.appointment(procedure, on).is_some())
                && self.suspension(person, procedure, on).is_none();
        appointed || self.standing(person, procedure, on).state.holds()
    }

    /// What entitled a person to observe on a date what was kept as this procedure: the procedure itself, or one in
    /// whose place it is accepted, since the demonstration may have begun as that one.
    pub fn entitled_by(&self, person: &str, kept_as: &str, on: NaiveDate) -> Option<ProcedureId> {
        let may = |procedure: &ProcedureId| self.may_observe(person, procedure, on);
        self.accepted_for(kept_as, on).into_iter().find(may)
    }

    /// What a standing is made of: attempts at a validation, and validations accepted from elsewhere,
    /// that still count, in the order in which they were carried out.
    fn validations(&self, person: &str, procedure: &str, on: NaiveDate) -> Vec<validity::Attempt> {
        // Evidence from elsewhere has a day but no hour: what was seen here on that day comes after it.
        let mut dated: Vec<(NaiveDate, Option<DateTime<FixedOffset>>, validity::Attempt)> = Vec::new();
        let accepted = self.accepted_sequences(procedure, on);
        let often = self.often(&self.requirements_of(person, procedure, on), on);
        let sought = Sought { person, accepted: &accepted, often: &often, on };
        for attempt in accepted.iter().flat_map(|one| self.attempts(person, one, on)) {
            if self.is_validation(&attempt.sealed) {
                let dates = self.dates(attempt);
                let counted = self.counted(sought, attempt, dates);
                dated.push((dates.on, Some(attempt.sealed.begun), counted));
            }
        }
        let outside = self.people.get(person).map(|facts| facts.outside.as_slice()).unwrap_or_default();
        for evidence in outside {
            let dates = self.outside_dates(evidence);
            if evidence.what.procedure == procedure && dates.on <= on && self.counts(evidence.entry) {
                let counted = validity::Attempt {
                    elsewhere: Some(evidence.what.source.clone()),
                    ..self.counted_outside(sought, dates)
                };
                dated.push((dates.on, None, counted));
            }
        }
        dated.sort_by_key(|(on, begun, _)| (*on, *begun));
        dated.into_iter().map(|(_, _, attempt)| attempt).collect()
    }

    /// An attempt at a validation with whatever ends it sooner. What asks to show the procedure anew asks it of
    /// whoever showed another sequence in its place, too.
    pub(super) fn counted(&self, sought: Sought<'_>, attempt: &Attempt, dates: Dates) -> validity::Attempt {
        let sealed = &attempt.sealed;
        let shown = Shown { on: dates.on, begun: Some(sealed.begun), valid_until: dates.valid_until };
        let mut cut = self.version_cut(&sealed.procedure, Some(sealed), dates.on, sought.on);
        if let Some(asked) = sought.procedure().filter(|asked| **asked != sealed.procedure) {
            cut = earliest(cut, self.version_cut(asked, None, dates.on, sought.on));
        }
        self.cut_short(sought, dates, shown, sealed.outcome, cut)
    }

    /// The same of a validation accepted from elsewhere.
    pub(super) fn counted_outside(&self, sought: Sought<'_>, dates: Dates) -> validity::Attempt {
        let shown = Shown { on: dates.on, begun: None, valid_until: dates.valid_until };
        let cut = sought.procedure().and_then(|asked| self.version_cut(asked, None, dates.on, sought.on));
        self.cut_short(sought, dates, shown, Outcome::Competent, cut)
    }

    fn cut_short(
        &self,
        sought: Sought<'_>,
        dates: Dates,
        shown: Shown,
        outcome: Outcome,
        by_version: Option<Cut>,
    ) -> validity::Attempt {
        let early = self.early_cut(sought.person, sought.accepted, shown, sought.on);
        let required = sooner(dates, sought.often, self.strict_since(sought.on));
        counted(dates, outcome, earliest(earliest(by_version, early), required))
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
        counted(dates, outcome, earliest(year, sooner(dates, often, strict)))
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
    /// Where they belong on a date by what was stated last of it, also that they have left; `None` before they joined.
    pub fn membership(&self, on: NaiveDate) -> Option<&Membership> {
        latest_from(&self.memberships, on, |membership| membership.from)
    }

    /// The last appointment to observe this procedure that holds on a date.
    pub fn appointment(&self, procedure: &str, on: NaiveDate) -> Option<&ObserverAppointed> {
        self.appointments.iter().rfind(|appointment| {
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

/// The earliest end by how often something is required; a year of it is read as the facility reads a year, which it
/// may do since a date.
fn sooner(dates: Dates, often: &[Since], strict: Option<NaiveDate>) -> Option<Cut> {
    let until = dates.valid_until?;
    let cut = |one: &Since| {
        let months = validity::more_often(dates.on, until, one.number)?;
        let year = strict.and_then(|since| strict_year(dates.on, Some(months.by), since.max(one.from)));
        earliest(Some(months.not_before(one.from)), year)
    };
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
