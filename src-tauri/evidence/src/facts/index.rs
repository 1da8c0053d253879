//! Rosters of thousands: what decides each standing, found without asking every attempt.

use std::{cmp::Reverse, collections::BTreeMap};

use chrono::NaiveDate;
use competency::{
    report::Outcome,
    validity::{self, State},
};

use super::{Facts, PersonFacts, asking::often};
use crate::{PersonId, ProcedureId};

/// How a person stands with one procedure, without the sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Held {
    /// The state.
    pub state: State,
    /// Valid through this date; of the validation that decides, run out or not.
    pub valid_until: Option<NaiveDate>,
    /// Whether it is required of them.
    pub required: bool,
}

/// What decides, of every person: made once of facts, and good for as long as those facts are asked.
///
/// It holds no rule: the states are those of [`Facts::standing`], which asks every attempt anew.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Index {
    /// The procedures that anything was shown in, sorted; the others are referred to by their place here.
    procedures: Vec<ProcedureId>,
    people: BTreeMap<PersonId, Vec<Shown>>,
}

/// Something that may decide: an attempt that was completed and counts, or evidence from elsewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Shown {
    procedure: u16,
    on: NaiveDate,
    /// Seconds and nanoseconds of its beginning; evidence from elsewhere comes first of its day.
    begun: (i64, u32),
    /// Where it stands among the person's attempts, or among their evidence from elsewhere.
    at: u32,
    outside: bool,
}

/// What a column of a roster asks of whoever is in one unit and role.
#[derive(Clone, Copy)]
struct Asked {
    lead_days: u32,
    months: Option<u32>,
}

impl Index {
    /// Makes it. It takes about as long as one roster that asks every attempt.
    pub fn of(facts: &Facts) -> Index {
        let mut procedures: Vec<ProcedureId> = facts
            .people
            .values()
            .flat_map(|person| {
                let attempts = person.attempts.iter().map(|attempt| &attempt.sealed.procedure);
                attempts.chain(person.outside.iter().map(|one| &one.what.procedure))
            })
            .fold(std::collections::BTreeSet::new(), |mut all, one| {
                if !all.contains(one) {
                    all.insert(one.clone());
                }
                all
            })
            .into_iter()
            .collect();
        procedures.truncate(usize::from(u16::MAX));
        let people =
            facts.people.iter().map(|(id, person)| (id.clone(), shown(facts, person, &procedures))).collect();
        Index { procedures, people }
    }

    /// How everyone of a unit, or of all units, stands on a date with each procedure that is required of
    /// somebody then, in the order of [`Facts::required_procedures`]; by the order of the people's ids.
    pub fn roster<'f>(
        &self,
        facts: &'f Facts,
        unit: Option<&str>,
        on: NaiveDate,
    ) -> Vec<(&'f PersonId, Vec<Held>)> {
        let columns: Vec<Column<'_>> =
            facts.required_procedures(on).into_iter().map(|id| self.column(facts, id, on)).collect();
        let strict = facts.facility_rules(on).is_some_and(|rules| rules.strict_year);
        let mut asked: BTreeMap<(&str, &str), Vec<Option<Asked>>> = BTreeMap::new();
        let mut rows = Vec::new();
        for (person, known) in &facts.people {
            let Some(member) = facts.membership(person, on) else { continue };
            let of = member.unit.as_deref().unwrap_or_default();
            if unit.is_some_and(|unit| unit != of) {
                continue;
            }
            let asked = asked.entry((of, member.role.as_str())).or_insert_with(|| {
                columns.iter().map(|column| asked_of(facts, person, column.id, on)).collect()
            });
            let plain = !strict && facts.asked.is_empty() && known.leaves.is_empty();
            let row = Row { facts, person, known, on, plain };
            let shown = self.people.get(person).map(Vec::as_slice).unwrap_or_default();
            let held =
                columns.iter().zip(asked.iter()).map(|(column, asked)| row.held(shown, column, *asked));
            rows.push((person, held.collect()));
        }
        rows
    }

    fn column<'f>(&self, facts: &Facts, id: &'f ProcedureId, on: NaiveDate) -> Column<'f> {
        let place = |one: &ProcedureId| self.procedures.binary_search(one).ok();
        let places = facts.accepted_sequences(id, on).iter().filter_map(place).collect::<Vec<_>>();
        let own = place(id).and_then(|own| u16::try_from(own).ok());
        let sequences = places.into_iter().filter_map(|one| u16::try_from(one).ok()).collect();
        let versions = |one: &ProcedureId| facts.procedures.get(one).map(Vec::as_slice).unwrap_or_default();
        let again = facts.accepted_sequences(id, on);
        let plain = again.iter().flat_map(versions).all(|version| version.published.revalidate.is_none());
        Column { id, own, sequences, plain }
    }
}

/// One procedure of a roster.
struct Column<'f> {
    id: &'f ProcedureId,
    own: Option<u16>,
    /// The sequences by which it may be shown.
    sequences: Vec<u16>,
    /// No version of them asks for an early re-validation.
    plain: bool,
}

/// One person of a roster.
struct Row<'f> {
    facts: &'f Facts,
    person: &'f PersonId,
    known: &'f PersonFacts,
    on: NaiveDate,
    /// Nothing but a version or a requirement may end early what they have shown.
    plain: bool,
}

impl Row<'_> {
    fn held(&self, shown: &[Shown], column: &Column<'_>, asked: Option<Asked>) -> Held {
        let Row { facts, person, known, on, plain } = *self;
        let decides = column
            .sequences
            .iter()
            .filter_map(|sequence| last(shown, *sequence, on, Some(*sequence) == column.own))
            .max_by_key(|one| (one.on, one.begun, Reverse(one.outside)));
        let months = asked.and_then(|asked| asked.months);
        let attempt = decides.and_then(|one| {
            let at = usize::try_from(one.at).unwrap_or(usize::MAX);
            if one.outside {
                let dates = facts.outside_dates(known.outside.get(at)?);
                return Some(facts.counted_outside(person, column.id, dates, months, on));
            }
            let attempt = known.attempts.get(at)?;
            let dates = facts.dates(attempt);
            if plain && column.plain && months.is_none() {
                let outcome = attempt.sealed.outcome;
                return Some(validity::Attempt {
                    on: dates.on,
                    outcome,
                    valid_until: dates.valid_until,
                    cut: None,
                });
            }
            Some(facts.counted(person, attempt, dates, months, on))
        });
        let (state, valid_until) = match &attempt {
            Some(attempt) => validity::decided(attempt, asked.map_or(0, |asked| asked.lead_days), on),
            None if asked.is_some() => (State::NeverValidated, None),
            None => (State::NotRequired, None),
        };
        let suspended = !known.suspensions.is_empty() && facts.suspension(person, column.id, on).is_some();
        let state = if suspended { State::Suspended } else { state };
        Held { state, valid_until, required: asked.is_some() }
    }
}

/// The last thing shown in a procedure up to a date; evidence from elsewhere counts for its own procedure only.
fn last(shown: &[Shown], procedure: u16, on: NaiveDate, own: bool) -> Option<&Shown> {
    let end = shown.partition_point(|one| (one.procedure, one.on) <= (procedure, on));
    let before = shown.get(..end).unwrap_or_default();
    before.iter().rev().take_while(|one| one.procedure == procedure).find(|one| own || !one.outside)
}

fn asked_of(facts: &Facts, person: &str, procedure: &str, on: NaiveDate) -> Option<Asked> {
    let required = facts.requirements_of(person, procedure, on);
    let lead_days = required.iter().map(|set| set.due_soon_days()).max()?;
    Some(Asked { lead_days, months: often(&required) })
}

/// Everything that may decide of one person, in the order of procedures and then as it was carried out.
fn shown(facts: &Facts, person: &PersonFacts, procedures: &[ProcedureId]) -> Vec<Shown> {
    let place = |id: &ProcedureId| procedures.binary_search(id).ok().and_then(|at| u16::try_from(at).ok());
    let number = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    let attempts = person.attempts.iter().enumerate().filter(|(_, attempt)| {
        attempt.sealed.outcome != Outcome::NotAssessed
            && facts.counts(attempt.entry)
            && facts.accepted(attempt)
            && facts.is_validation(&attempt.sealed)
    });
    let attempts = attempts.filter_map(|(at, attempt)| {
        let begun = attempt.sealed.begun;
        Some(Shown {
            procedure: place(&attempt.sealed.procedure)?,
            on: facts.dates(attempt).on,
            begun: (begun.timestamp(), begun.timestamp_subsec_nanos()),
            at: number(at),
            outside: false,
        })
    });
    let outside = person.outside.iter().enumerate().filter(|(_, one)| facts.counts(one.entry));
    let outside = outside.filter_map(|(at, one)| {
        Some(Shown {
            procedure: place(&one.what.procedure)?,
            on: facts.outside_dates(one).on,
            begun: (i64::MIN, 0),
            at: number(at),
            outside: true,
        })
    });
    let mut shown: Vec<Shown> = attempts.chain(outside).collect();
    shown.sort_unstable();
    shown
}
