//! Rosters of thousands: what decides each standing, found without asking every attempt.

use std::{
    cmp::Reverse,
    collections::{BTreeMap, BTreeSet},
};

use chrono::NaiveDate;
use competency::{
    report::Outcome,
    validity::{self, State},
};

use super::{Facts, PersonFacts, amended::Dates, asking::often, touched::Touched};
use crate::{PersonId, ProcedureId, UnitId};

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

/// What decides, of every person: made once of facts, renewed as they grow, and good for those facts alone.
///
/// It holds no rule: the states are those of [`Facts::standing`], which asks every attempt anew.
#[derive(Debug, Clone, Default)]
pub struct Index {
    /// The procedures that anything was shown in, numbered as they were met.
    procedures: BTreeMap<ProcedureId, u16>,
    people: BTreeMap<PersonId, Shelf>,
    /// Whoever was ever in a unit: a roster of it asks nobody else.
    units: BTreeMap<UnitId, BTreeSet<PersonId>>,
}

/// What one person has shown, by the number of the procedure and then as it was carried out.
#[derive(Debug, Clone, Default)]
struct Shelf {
    shown: Vec<Shown>,
    /// Where each procedure ends; those beyond were never shown.
    ends: Vec<u32>,
    /// The last of each procedure once more, side by side: most rosters are as of today and need no other.
    latest: Vec<Option<Shown>>,
}

/// Something that may decide: an attempt that was completed and counts, or evidence from elsewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Shown {
    on: NaiveDate,
    /// Seconds and nanoseconds of its beginning; evidence from elsewhere comes first of its day.
    begun: (i64, u32),
    /// Where it stands among the person's attempts, or among their evidence from elsewhere.
    at: u32,
    outside: bool,
    competent: bool,
    valid_until: Option<NaiveDate>,
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
        let mut index = Index::default();
        index.renew(facts, &Touched::Everyone);
        index
    }

    /// Brings it up to facts that have grown since by entries that touched these people.
    pub fn renew(&mut self, facts: &Facts, touched: &Touched) {
        match touched {
            Touched::Everyone => {
                *self = Index::default();
                for (id, person) in &facts.people {
                    self.put(facts, id, person);
                }
            }
            Touched::People(people) => {
                for (id, person) in people.iter().filter_map(|id| facts.people.get_key_value(id)) {
                    self.put(facts, id, person);
                }
            }
        }
    }

    fn put(&mut self, facts: &Facts, id: &PersonId, person: &PersonFacts) {
        let shelf = self.shelf(facts, person);
        self.people.insert(id.clone(), shelf);
        for unit in person.memberships.iter().filter_map(|member| member.unit.as_ref()) {
            if let Some(people) = self.units.get_mut(unit) {
                people.insert(id.clone());
            } else {
                self.units.insert(unit.clone(), BTreeSet::from([id.clone()]));
            }
        }
    }

    /// How everyone of a unit, or of all units, stands on a date with each procedure that is required of
    /// somebody then, in the order of [`Facts::required_procedures`]; by the order of the people's ids.
    pub fn roster<'f>(
        &self,
        facts: &'f Facts,
        unit: Option<&str>,
        on: NaiveDate,
    ) -> Vec<(&'f PersonId, Vec<Held>)> {
        let mut sheet = Sheet::new(self, facts, on);
        let mut rows = Vec::new();
        if let Some(unit) = unit {
            for id in self.units.get(unit).into_iter().flatten() {
                if let (Some(known), Some(shelf)) = (facts.people.get_key_value(id), self.people.get(id)) {
                    rows.extend(sheet.row(known, shelf, Some(unit)));
                }
            }
            return rows;
        }
        rows.reserve(facts.people.len());
        // Both are in the order of the ids, so that nobody is looked up.
        let mut shelves = self.people.iter().peekable();
        for (id, known) in &facts.people {
            while shelves.next_if(|(shelved, _)| *shelved < id).is_some() {}
            if let Some((_, shelf)) = shelves.next_if(|(shelved, _)| *shelved == id) {
                rows.extend(sheet.row((id, known), shelf, None));
            }
        }
        rows
    }

    fn number(&mut self, procedure: &ProcedureId) -> Option<u16> {
        if let Some(number) = self.procedures.get(procedure) {
            return Some(*number);
        }
        let number = u16::try_from(self.procedures.len()).ok()?;
        self.procedures.insert(procedure.clone(), number);
        Some(number)
    }

    /// Everything of one person that may decide.
    fn shelf(&mut self, facts: &Facts, person: &PersonFacts) -> Shelf {
        let mut shown: Vec<(u16, Shown)> = Vec::with_capacity(person.attempts.len() + person.outside.len());
        for (at, attempt) in (0_u32..).zip(&person.attempts) {
            let sealed = &attempt.sealed;
            let decides = sealed.outcome != Outcome::NotAssessed
                && facts.counts(attempt.entry)
                && facts.accepted(attempt)
                && facts.is_validation(sealed);
            let Some(number) = decides.then(|| self.number(&sealed.procedure)).flatten() else { continue };
            let Dates { on, valid_until } = facts.dates(attempt);
            let begun = (sealed.begun.timestamp(), sealed.begun.timestamp_subsec_nanos());
            let competent = sealed.outcome == Outcome::Competent;
            shown.push((number, Shown { on, begun, at, outside: false, competent, valid_until }));
        }
        for (at, one) in (0_u32..).zip(&person.outside) {
            if !facts.counts(one.entry) {
                continue;
            }
            let Some(number) = self.number(&one.what.procedure) else { continue };
            let Dates { on, valid_until } = facts.outside_dates(one);
            let begun = (i64::MIN, 0);
            shown.push((number, Shown { on, begun, at, outside: true, competent: true, valid_until }));
        }
        shown.sort_unstable();
        let mut shelf = Shelf { shown: Vec::with_capacity(shown.len()), ..Shelf::default() };
        for (number, one) in shown {
            let number = usize::from(number);
            let so_far = u32::try_from(shelf.shown.len()).unwrap_or(u32::MAX);
            if shelf.ends.len() <= number {
                shelf.ends.resize(number + 1, so_far);
                shelf.latest.resize(number + 1, None);
            }
            shelf.shown.push(one);
            if let (Some(end), Some(latest)) = (shelf.ends.last_mut(), shelf.latest.last_mut()) {
                (*end, *latest) = (so_far + 1, Some(one));
            }
        }
        shelf
    }
}

impl Shelf {
    /// The last thing shown in a procedure up to a date; evidence from elsewhere counts for its own procedure only.
    fn last(&self, procedure: u16, on: NaiveDate, own: bool) -> Option<&Shown> {
        let number = usize::from(procedure);
        let latest = self.latest.get(number)?.as_ref()?;
        if latest.on <= on && (own || !latest.outside) {
            return Some(latest);
        }
        let shown = self.of(number);
        let until = shown.partition_point(|one| one.on <= on);
        shown.get(..until)?.iter().rev().find(|one| own || !one.outside)
    }

    fn of(&self, number: usize) -> &[Shown] {
        let end = |number: usize| self.ends.get(number).map_or(0, |end| usize::try_from(*end).unwrap_or(0));
        self.shown.get(number.checked_sub(1).map_or(0, end)..end(number)).unwrap_or_default()
    }
}

/// A roster as of a date, while it is made.
struct Sheet<'f> {
    facts: &'f Facts,
    on: NaiveDate,
    columns: Vec<Column<'f>>,
    /// What is asked of each unit and role that was met.
    asked: BTreeMap<(&'f str, &'f str), Vec<Option<Asked>>>,
    strict: bool,
    /// Whom something asks to show it again early; everyone where it is `None`.
    again: Option<BTreeSet<&'f str>>,
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

impl<'f> Sheet<'f> {
    fn new(index: &Index, facts: &'f Facts, on: NaiveDate) -> Self {
        let columns =
            facts.required_procedures(on).into_iter().map(|id| column(index, facts, id, on)).collect();
        let strict = facts.facility_rules(on).is_some_and(|rules| rules.strict_year);
        let again = facts.asked.iter().map(|asked| asked.what.person.as_deref()).collect();
        Sheet { facts, on, columns, asked: BTreeMap::new(), strict, again }
    }

    /// The row of a person; `None` where they are in no unit then, or in another.
    fn row(
        &mut self,
        (id, known): (&'f PersonId, &'f PersonFacts),
        shelf: &Shelf,
        unit: Option<&str>,
    ) -> Option<(&'f PersonId, Vec<Held>)> {
        let member = known.membership(self.on)?;
        let of = member.unit.as_deref()?;
        if unit.is_some_and(|unit| unit != of) {
            return None;
        }
        let (facts, on) = (self.facts, self.on);
        let asked = self.asked.entry((of, member.role.as_str())).or_insert_with(|| {
            self.columns.iter().map(|column| asked_of(facts, id, column.id, on)).collect()
        });
        let again = self.again.as_ref().is_none_or(|again| again.contains(id.as_str()));
        let plain = !again && known.leaves.is_empty();
        let row = Row { facts, person: id, known, shelf, on, strict: self.strict, plain };
        let cells = self.columns.iter().zip(asked.iter());
        Some((id, cells.map(|(column, asked)| row.held(column, *asked)).collect()))
    }
}

fn column<'f>(index: &Index, facts: &'f Facts, id: &'f ProcedureId, on: NaiveDate) -> Column<'f> {
    let accepted = facts.accepted_sequences(id, on);
    let number = |one: &ProcedureId| index.procedures.get(one).copied();
    let versions = |one: &ProcedureId| facts.procedures.get(one).map(Vec::as_slice).unwrap_or_default();
    let plain = accepted.iter().flat_map(versions).all(|version| version.published.revalidate.is_none());
    Column { id, own: number(id), sequences: accepted.iter().filter_map(number).collect(), plain }
}

/// One person of a roster.
struct Row<'f> {
    facts: &'f Facts,
    person: &'f PersonId,
    known: &'f PersonFacts,
    shelf: &'f Shelf,
    on: NaiveDate,
    strict: bool,
    /// Nothing but a version, a requirement or a strict year may end early what they have shown.
    plain: bool,
}

impl Row<'_> {
    fn held(&self, column: &Column<'_>, asked: Option<Asked>) -> Held {
        let attempt = self.decides(column).and_then(|one| self.counted(one, column, asked));
        let (state, valid_until) = match &attempt {
            Some(attempt) => validity::decided(attempt, asked.map_or(0, |asked| asked.lead_days), self.on),
            None if asked.is_some() => (State::NeverValidated, None),
            None => (State::NotRequired, None),
        };
        let suspended = !self.known.suspensions.is_empty()
            && self.facts.suspension(self.person, column.id, self.on).is_some();
        let state = if suspended { State::Suspended } else { state };
        Held { state, valid_until, required: asked.is_some() }
    }

    fn decides(&self, column: &Column<'_>) -> Option<&Shown> {
        let last = |sequence: &u16| self.shelf.last(*sequence, self.on, Some(*sequence) == column.own);
        match column.sequences.as_slice() {
            [only] => last(only),
            several => {
                let shown = several.iter().filter_map(last);
                shown.max_by_key(|one| (one.on, one.begun, Reverse(one.outside)))
            }
        }
    }

    fn counted(&self, one: &Shown, column: &Column<'_>, asked: Option<Asked>) -> Option<validity::Attempt> {
        let Row { facts, person, known, on, .. } = *self;
        let months = asked.and_then(|asked| asked.months);
        let dates = Dates { on: one.on, valid_until: one.valid_until };
        if self.plain && column.plain {
            return Some(Facts::plainly_counted(dates, one.competent, months, self.strict));
        }
        let at = usize::try_from(one.at).ok()?;
        if one.outside {
            return Some(facts.counted_outside(person, column.id, dates, months, on));
        }
        Some(facts.counted(person, known.attempts.get(at)?, dates, months, on))
    }
}

fn asked_of(facts: &Facts, person: &str, procedure: &str, on: NaiveDate) -> Option<Asked> {
    let required = facts.requirements_of(person, procedure, on);
    let lead_days = required.iter().map(|set| set.due_soon_days()).max()?;
    Some(Asked { lead_days, months: often(&required) })
}
