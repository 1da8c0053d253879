//! Reminders: in which form they leave, and that each was sent.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use contract::{Fault, SaveReminders, Shown};
use evidence::{ActingAs, Facts, ReminderForm, ReminderSent};
use export::TakenBack;
use ledger::{Deed, Moment};

use super::{Desk, DueWithin, Required, author, names::shown_name, procedures::title};
use crate::{fault::ledger_fault, saved};

impl Desk {
    /// Saves reminders in the folder of exports, and writes down that each was sent.
    pub(crate) fn save_reminders(&self, request: &SaveReminders, now: &Moment) -> Result<Shown, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let due = self.books().due_within(None, request.within_days, now)?;
        let gone = match request.form {
            ReminderForm::Calendar => self.taken_back(&facts, &due)?,
            ReminderForm::Table | ReminderForm::Notice => Vec::new(),
        };
        let (name, bytes) = match request.form {
            ReminderForm::Calendar => {
                (format!("due-{}.ics", due.as_of), saved::reminders_ics(&due, &gone, now)?)
            }
            ReminderForm::Table => (format!("due-{}.csv", due.as_of), saved::reminders_csv(&due)?),
            ReminderForm::Notice => (format!("notices-{}.pdf", due.as_of), saved::notices_pdf(&due, now)?),
        };
        // The file first: that a reminder was sent is only written once there is one to send.
        let shown = self.save(&name, &bytes)?;
        self.write(&sent(&due, &gone, request.form), now)?;
        Ok(shown)
    }

    /// Entries of calendar files that were sent and no longer hold: the last one of each person and procedure, where
    /// it tells another day than holds now, or nothing is required or held any more. What merely lies further ahead
    /// than this file reaches still holds, and stays.
    fn taken_back(&self, facts: &Facts, due: &DueWithin) -> Result<Vec<TakenBack>, Fault> {
        let names = self.named()?;
        let told = due.due.iter().filter(|one| one.runs_out().is_some());
        let told = told.map(|one| (one.person.id.as_str(), one.procedure.id.as_str()));
        let told: BTreeSet<(&str, &str)> = told.collect();
        let mut gone = Vec::new();
        for (person, known) in &facts.people {
            let mut last: BTreeMap<&str, (NaiveDate, bool)> = BTreeMap::new();
            for one in known.reminders.iter().filter(|one| one.form == ReminderForm::Calendar) {
                if let Some(until) = one.valid_until {
                    last.insert(&one.procedure, (until, one.cancels));
                }
            }
            for (procedure, (valid_until, cancels)) in last {
                if cancels
                    || told.contains(&(person.as_str(), procedure))
                    || facts.reminder_holds(person, procedure, valid_until, due.as_of)
                {
                    continue;
                }
                gone.push(TakenBack {
                    person: person.clone(),
                    name: shown_name(names.get(person)),
                    procedure: procedure.to_owned(),
                    title: title(facts, procedure),
                    valid_until,
                    revision: facts.reminder_revision(person, procedure, valid_until, true),
                });
            }
        }
        Ok(gone)
    }
}

/// The entries that say what was sent.
fn sent(due: &DueWithin, gone: &[TakenBack], form: ReminderForm) -> Vec<Deed> {
    let on = due.as_of;
    // What has no last day has no place in a calendar.
    let in_it = |one: &&Required| form != ReminderForm::Calendar || one.runs_out().is_some();
    let told = due.due.iter().filter(in_it).map(|one| {
        let (person, procedure) = (one.person.id.clone(), one.procedure.id.clone());
        let sequence = (form == ReminderForm::Calendar).then_some(one.revision);
        ReminderSent { person, procedure, valid_until: one.runs_out(), form, on, cancels: false, sequence }
    });
    let cancelled = gone.iter().map(|gone| ReminderSent {
        person: gone.person.clone(),
        procedure: gone.procedure.clone(),
        valid_until: Some(gone.valid_until),
        form,
        on,
        cancels: true,
        sequence: Some(gone.revision),
    });
    told.chain(cancelled).map(|sent| Deed::new(author(ActingAs::Manager), sent)).collect()
}
