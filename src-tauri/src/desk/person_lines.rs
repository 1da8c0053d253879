//! What was stated about a person, and what requires a procedure of them, as the window shows it.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use competency::validity::months_asked;
use contract::{About, RequiredBy, StatedLine};
use evidence::{Cause, Facts, Stated};
use ledger::Name;

use super::names::shown_name;

/// What requires a procedure of a person on a date.
pub(super) fn required_by(facts: &Facts, person: &str, procedure: &str, on: NaiveDate) -> Vec<RequiredBy> {
    let months = facts.in_force(procedure, on).map_or(0, |published| published.procedure.valid_months);
    let sets = facts.requirements_of(person, procedure, on).into_iter();
    sets.map(|set| RequiredBy {
        unit: set.unit.as_ref().and_then(|unit| facts.units.get(unit).cloned()),
        role: set.role.clone(),
        months: months_asked(months, set.months),
        lead_days: set.lead_days.clone(),
    })
    .collect()
}

/// Everything stated about a person that still counts, the latest first.
pub(super) fn stated(facts: &Facts, person: &str, names: &BTreeMap<String, Name>) -> Vec<StatedLine> {
    let Some(known) = facts.people.get(person) else { return Vec::new() };
    let mut lines = Lines { facts, names, told: Vec::new() };
    for one in &known.fit_tests {
        let test = one.what.clone();
        let (model, style, size, tester) = (test.model, test.style, test.size, test.tester);
        let (result, on) = (test.result, test.on);
        lines.add(one, on, About::FitTest { model, style, size, result, on, tester });
    }
    for one in &known.medical {
        let (cleared, on, until) = (one.what.cleared, one.what.on, one.what.until);
        lines.add(one, on, About::Medical { cleared, on, until, source: one.what.source.clone() });
    }
    for one in &known.leaves {
        let (from, through) = (one.what.from, one.what.through);
        lines.add(one, from, About::Leave { from, through });
    }
    for one in &known.outside {
        let (procedure, source) = (one.what.procedure.clone(), one.what.source.clone());
        let (on, valid_until) = (one.what.on, one.what.valid_until);
        lines.add(one, on, About::OutsideEvidence { procedure, source, on, valid_until });
    }
    for one in &known.suspensions {
        let procedure = one.what.procedures.as_ref().map(|all| all.join(", "));
        let (why, from) = (one.what.why.clone(), one.what.from);
        lines.add(one, from, About::Suspended { procedure, why, from });
    }
    for one in &known.lifted {
        let (suspension, why) = (one.what.suspension.to_string(), one.what.why.clone());
        lines.add(one, one.what.from, About::Lifted { suspension, why });
    }
    for one in facts.asked.iter().filter(|one| one.what.person.as_deref() == Some(person)) {
        // What a demonstration asked for shows with it, and what new equipment asks for is not about one person.
        if let Cause::LossOfSkill { noted } = &one.what.cause {
            let procedure = one.what.procedures.as_ref().map(|all| all.join(", "));
            lines.add(one, one.what.on, About::LossOfSkill { procedure, noted: noted.clone() });
        }
    }
    let mut lines = lines.told;
    lines.sort_by_key(|line| std::cmp::Reverse((line.on, line.written)));
    lines
}

struct Lines<'f> {
    facts: &'f Facts,
    names: &'f BTreeMap<String, Name>,
    told: Vec<StatedLine>,
}

impl Lines<'_> {
    fn add<T>(&mut self, stated: &Stated<T>, on: NaiveDate, what: About) {
        if self.facts.counts(stated.entry) {
            let signed_by = stated.author.person.as_ref().map(|person| shown_name(self.names.get(person)));
            self.told.push(StatedLine {
                entry: stated.entry.to_string(),
                on,
                what,
                written: stated.known_on,
                signed_by,
            });
        }
    }
}
