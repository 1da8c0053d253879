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

use super::{
    Facts, Membership, PersonFacts,
    amended::Dates,
    asking::{Sought, latest_from},
    often::Since,
    touched::Touched,
};
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
    /// The units and roles that anybody was ever in, numbered as they were met.
    groups: BTreeMap<(UnitId, String), u32>,
    /// Whoever was ever in a unit: a roster of it asks nobody else.
    units: BTreeMap<UnitId, BTreeSet<PersonId>>,
}

/// What one person has shown, by the number of the procedure and then as it was carried out.
#[derive(Debug, Clone, Default)]
struct Shelf {
    shown: Vec<Shown>,
    /// Where each procedure ends; those beyond were never shown.
    ends: Vec<u32>,
    /// The last of each procedure once more, short and side by side: most rosters are as of today and need no other.
    latest: Vec<Option<Latest>>,
    /// Since when they are in which unit and role, as it was stated; `None` from when on they are in none.
    members: Vec<(NaiveDate, Option<u32>)>,
    /// A leave or a suspension was stated about them, so that the facts have to be asked.
    stated: bool,
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

/// What decides of something shown where nothing else was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Latest {
    dates: Dates,
    outside: bool,
    competent: bool,
}

/// What a column of a roster asks of whoever is in one unit and role.
#[derive(Clone)]
struct Asked {
    /// What runs out through this day is due soon.
    due_soon: NaiveDate,
    often: Vec<Since>,
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
        let mut shelf = self.shelf(facts, person);
        shelf.members = person.memberships.iter().map(|member| (member.from, self.group(member))).collect();
        shelf.stated = !person.leaves.is_empty() || !person.suspensions.is_empty();
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
        &'f self,
        facts: &'f Facts,
        unit: Option<&str>,
        on: NaiveDate,
    ) -> Vec<(&'f PersonId, Vec<Held>)> {
        let mut sheet = Sheet::new(self, facts, unit, on);
        let Some(unit) = unit else {
            let mut rows = Vec::with_capacity(self.people.len());
            rows.extend(self.people.iter().filter_map(|(id, shelf)| sheet.row(id, shelf)));
            return rows;
        };
        let ids = self.units.get(unit).into_iter().flatten();
        ids.filter_map(|id| sheet.row(id, self.people.get(id)?)).collect()
    }

    /// The number of the unit and role that a membership is in.
    fn group(&mut self, member: &Membership) -> Option<u32> {
        let group = (member.unit.clone()?, member.role.clone());
        let next = u32::try_from(self.groups.len()).ok()?;
        Some(*self.groups.entry(group).or_insert(next))
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
                let Shown { on, valid_until, outside, competent, .. } = one;
                let dates = Dates { on, valid_until };
                (*end, *latest) = (so_far + 1, Some(Latest { dates, outside, competent }));
            }
        }
        shelf
    }
}

impl Shelf {
    /// The last thing shown in a procedure, where that was by a date; evidence from elsewhere counts for its own
    /// procedure only.
    fn latest(&self, procedure: u16, on: NaiveDate, own: bool) -> Option<&Latest> {
        let latest = self.latest.get(usize::from(procedure))?.as_ref()?;
        (latest.dates.on <= on && (own || !latest.outside)).then_some(latest)
    }

    /// The last thing shown in a procedure up to a date; evidence from elsewhere counts for its own procedure only.
    fn last(&self, procedure: u16, on: NaiveDate, own: bool) -> Option<&Shown> {
        let number = usize::from(procedure);
        let shown = self.of(number);
        let until = shown.partition_point(|one| one.on <= on);
        shown.get(..until)?.iter().rev().find(|one| own || !one.outside)
    }

    /// The number of the unit and role that they are in on a date.
    fn group(&self, on: NaiveDate) -> Option<u32> {
        latest_from(&self.members, on, |(from, _)| *from)?.1
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
    /// By the number of the unit and role: whether the roster is of that unit.
    wanted: Vec<bool>,
    /// By the same number, what is asked of them, once somebody in it was met.
    asked: Vec<Option<Vec<Option<Asked>>>>,
    /// From when on a year is 365 days.
    strict: Option<NaiveDate>,
    /// Whom something asks to show it again early; everyone where it is `None`.
    again: Option<BTreeSet<&'f str>>,
}

/// One procedure of a roster.
struct Column<'f> {
    id: &'f ProcedureId,
    own: Option<u16>,
    /// The procedure and the sequences by which it may be shown.
    accepted: Vec<ProcedureId>,
    /// The numbers of those that were ever shown.
    sequences: Vec<u16>,
    /// No version of them asks for an early re-validation.
    plain: bool,
}

impl<'f> Sheet<'f> {
    fn new(index: &Index, facts: &'f Facts, unit: Option<&str>, on: NaiveDate) -> Self {
        let columns =
            facts.required_procedures(on).into_iter().map(|id| column(index, facts, id, on)).collect();
        let strict = facts.strict_since(on);
        let again = facts.asked.iter().map(|asked| asked.what.person.as_deref()).collect();
        let mut wanted = vec![unit.is_none(); index.groups.len()];
        for ((of, _role), number) in index.groups.iter().filter(|_| unit.is_some()) {
            if let Some(wanted) = usize::try_from(*number).ok().and_then(|at| wanted.get_mut(at)) {
                *wanted = Some(of.as_str()) == unit;
            }
        }
        let asked = vec![None; wanted.len()];
        Sheet { facts, on, columns, wanted, asked, strict, again }
    }

    /// The row of a person; `None` where they are in no unit then, or in another.
    fn row(&mut self, id: &'f PersonId, shelf: &Shelf) -> Option<(&'f PersonId, Vec<Held>)> {
        let (facts, on, columns) = (self.facts, self.on, &self.columns);
        let place = usize::try_from(shelf.group(on)?).ok()?;
        self.wanted.get(place).filter(|wanted| **wanted)?;
        let asked = self
            .asked
            .get_mut(place)?
            .get_or_insert_with(|| columns.iter().map(|column| asked_of(facts, id, column.id, on)).collect());
        let again = self.again.as_ref().is_none_or(|again| again.contains(id.as_str()));
        let plain = !again && !shelf.stated;
        let row = Row { facts, person: id, shelf, on, strict: self.strict, plain };
        let cells = columns.iter().zip(asked.iter());
        Some((id, cells.map(|(column, asked)| row.held(column, asked.as_ref())).collect()))
    }
}

fn column<'f>(index: &Index, facts: &'f Facts, id: &'f ProcedureId, on: NaiveDate) -> Column<'f> {
    let accepted = facts.accepted_sequences(id, on);
    let number = |one: &ProcedureId| index.procedures.get(one).copied();
    let versions = |one: &ProcedureId| facts.procedures.get(one).map(Vec::as_slice).unwrap_or_default();
    let plain = accepted.iter().flat_map(versions).all(|version| version.published.revalidate.is_none());
    let sequences = accepted.iter().filter_map(number).collect();
    Column { id, own: number(id), accepted, sequences, plain }
}

/// One person of a roster.
struct Row<'f> {
    facts: &'f Facts,
    person: &'f PersonId,
    shelf: &'f Shelf,
    on: NaiveDate,
    /// From when on a year is 365 days.
    strict: Option<NaiveDate>,
    /// Nothing but a version, a requirement or a strict year may end early what they have shown.
    plain: bool,
}

impl Row<'_> {
    fn held(&self, column: &Column<'_>, asked: Option<&Asked>) -> Held {
        let attempt = self.plainly(column, asked);
        let attempt =
            attempt.or_else(|| self.decides(column).and_then(|one| self.counted(one, column, asked)));
        let (state, valid_until) = match &attempt {
            Some(attempt) => {
                let due_soon = asked.map_or(self.on, |asked| asked.due_soon);
                validity::decided(attempt, due_soon, self.on)
            }
            None if asked.is_some() => (State::NeverValidated, None),
            None => (State::NotRequired, None),
        };
        let suspended = self.shelf.stated && self.facts.suspension(self.person, column.id, self.on).is_some();
        let state = if suspended { State::Suspended } else { state };
        Held { state, valid_until, required: asked.is_some() }
    }

    /// What nearly everybody needs: one sequence, shown last by that date, and nothing that ends it early.
    fn plainly(&self, column: &Column<'_>, asked: Option<&Asked>) -> Option<validity::Attempt> {
        let [only] = column.sequences.as_slice() else { return None };
        let one = self.shelf.latest(*only, self.on, Some(*only) == column.own);
        let one = one.filter(|_one| self.plain && column.plain)?;
        let often = asked.map(|asked| asked.often.as_slice()).unwrap_or_default();
        Some(Facts::plainly_counted(one.dates, one.competent, often, self.strict))
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

    fn counted(&self, one: &Shown, column: &Column<'_>, asked: Option<&Asked>) -> Option<validity::Attempt> {
        let Row { facts, person, on, .. } = *self;
        let often = asked.map(|asked| asked.often.as_slice()).unwrap_or_default();
        let dates = Dates { on: one.on, valid_until: one.valid_until };
        if self.plain && column.plain {
            return Some(Facts::plainly_counted(dates, one.competent, often, self.strict));
        }
        let sought = Sought { person, accepted: &column.accepted, often, on };
        let at = usize::try_from(one.at).ok()?;
        if one.outside {
            return Some(facts.counted_outside(sought, dates));
        }
        let attempt = facts.people.get(person)?.attempts.get(at)?;
        Some(facts.counted(sought, attempt, dates))
    }
}

fn asked_of(facts: &Facts, person: &str, procedure: &str, on: NaiveDate) -> Option<Asked> {
    let required = facts.requirements_of(person, procedure, on);
    let lead_days = required.iter().map(|set| set.due_soon_days()).max()?;
    Some(Asked { due_soon: validity::due_soon_through(lead_days, on), often: facts.often(&required, on) })
}
