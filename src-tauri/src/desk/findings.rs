//! Which steps a unit keeps getting wrong: of people, and never by name.

use std::collections::{BTreeMap, BTreeSet};

use chrono::Months;
use competency::{
    procedure::Procedure,
    report::Severity,
    share::{LEAST_PEOPLE, share, tells_nobody},
};
use contract::{Fault, OpenUnitFindings, UnitFinding, UnitFindings};
use evidence::Record;
use ledger::Moment;

use super::{Desk, civil_date, facility::count};
use crate::fault::ledger_fault;

/// How far back demonstrations count, in months.
const MONTHS_BACK: u32 = 12;
/// How many steps are shown.
const MOST_LINES: usize = 10;

/// Who was observed in a procedure, and who had a finding at which step.
#[derive(Default)]
struct Seen {
    title: String,
    people: BTreeSet<String>,
    /// Who was observed in it and is of another unit.
    outside: BTreeSet<String>,
    at: BTreeMap<String, (String, BTreeSet<String>)>,
}

impl Desk {
    /// Which steps the people of a unit have findings at, in the last twelve months.
    pub(crate) fn open_unit_findings(
        &self,
        request: &OpenUnitFindings,
        now: &Moment,
    ) -> Result<UnitFindings, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let as_of = request.as_of.unwrap_or_else(|| civil_date(&facts, now));
        let since = as_of.checked_sub_months(Months::new(MONTHS_BACK)).unwrap_or(as_of);
        let mut observed = BTreeSet::new();
        let mut by_procedure: BTreeMap<String, Seen> = BTreeMap::new();
        for person in facts.members(None, as_of) {
            let unit = facts.membership(person, as_of).and_then(|membership| membership.unit.as_ref());
            let inside = request.unit.is_none() || unit == request.unit.as_ref();
            let attempts =
                facts.people.get(person).map(|known| known.attempts.as_slice()).unwrap_or_default();
            for attempt in attempts {
                let sealed = &attempt.sealed;
                let on = facts.dates(attempt).on;
                let counts = facts.counts(attempt.entry) && facts.accepted(attempt);
                if on <= since || on > as_of || !counts {
                    continue;
                }
                let seen = by_procedure.entry(sealed.procedure.clone()).or_default();
                if !inside {
                    seen.outside.insert(person.clone());
                    continue;
                }
                let Some(filed) = self.reader().record(&sealed.demonstration).map_err(ledger_fault)? else {
                    continue;
                };
                // A record that cannot be read is told by the ledger check; here it is one observation less.
                let Ok(record) = Record::read(&filed.json) else { continue };
                observed.insert(person.clone());
                seen.take(person, &record);
            }
        }
        let people = count(observed.len());
        by_procedure.retain(|_, seen| !seen.people.is_empty());
        let of_all = by_procedure.len();
        by_procedure.retain(|_, seen| tells_nobody(count(seen.people.len()), count(seen.outside.len())));
        let left_out = count(of_all - by_procedure.len());
        let mut lines: Vec<UnitFinding> = by_procedure.into_values().flat_map(Seen::lines).collect();
        lines.sort_by(|one, other| {
            let key = |line: &UnitFinding| (line.share.count, line.share.lower_ppm);
            key(other).cmp(&key(one)).then_with(|| one.step.cmp(&other.step))
        });
        lines.truncate(MOST_LINES);
        Ok(UnitFindings { people, least: LEAST_PEOPLE, left_out, lines })
    }
}

impl Seen {
    fn take(&mut self, person: &str, record: &Record) {
        self.title.clone_from(&record.procedure.title);
        self.people.insert(person.to_owned());
        let own = record.report.findings.iter().filter(|finding| finding.severity != Severity::Team);
        for id in own.filter_map(|finding| finding.step.as_ref()) {
            let (words, people) = self.at.entry(id.clone()).or_default();
            *words = step_words(&record.procedure, id);
            people.insert(person.to_owned());
        }
    }

    fn lines(self) -> Vec<UnitFinding> {
        let of = count(self.people.len());
        let at = self.at.into_values();
        at.filter_map(|(step, people)| {
            let share = share(count(people.len()), of)?;
            Some(UnitFinding { procedure: self.title.clone(), step, share })
        })
        .collect()
    }
}

fn step_words(procedure: &Procedure, id: &str) -> String {
    let step = procedure.steps.iter().find(|step| step.id == id);
    step.map_or_else(|| id.to_owned(), |step| step.text.clone())
}
