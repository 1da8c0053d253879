//! What is due as a notification of the system: once a day, how many, never who.

use std::{fs, io};

use chrono::NaiveDate;
use competency::validity::State;
use contract::{Fault, Notified, NotifyDue};
use evidence::Facts;
use ledger::Moment;

use super::{Desk, civil_date};
use crate::fault::{file_fault, ledger_fault};

impl Desk {
    /// Has `show` show how many validations are overdue and due soon, where any is and none was shown today, and
    /// writes down that it was. It reminds whoever holds this device and no one person, so it is a line beside the
    /// ledger and not an entry that somebody was reminded.
    pub(crate) fn notify_due(
        &self,
        _request: &NotifyDue,
        now: &Moment,
        show: impl FnOnce(&str, &str) -> Result<(), Fault>,
    ) -> Result<Notified, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let last = self.last_notice()?;
        if last == Some(today) {
            return Ok(Notified { last, due: true });
        }
        let Some(counts) = self.counts(&facts, today)? else { return Ok(Notified { last, due: false }) };
        show("Re-validation", &format!("{counts}. Open Today in Doorside to see what to do."))?;
        let (log, line) = (self.folder().notices(), format!("{today} {counts}\n"));
        crate::folder::append(&log, line.as_bytes()).map_err(|error| file_fault("write", &log, &error))?;
        Ok(Notified { last: Some(today), due: true })
    }

    /// How many are due, in words; `None` where none is, and before there is a facility.
    fn counts(&self, facts: &Facts, today: NaiveDate) -> Result<Option<String>, Fault> {
        if facts.facility.is_none() {
            return Ok(None);
        }
        let held = self.books().required_held(today)?;
        let of = |state: State| held.iter().filter(|one| one.state == state).count();
        // What is overdue first.
        let counts: Vec<String> = State::ALL
            .into_iter()
            .rev()
            .filter(|state| state.falls_due() && of(*state) > 0)
            .map(|state| format!("{} {}", of(state), state.words()))
            .collect();
        Ok((!counts.is_empty()).then(|| counts.join(", ")))
    }

    /// The day of the last line of the log.
    fn last_notice(&self) -> Result<Option<NaiveDate>, Fault> {
        let log = self.folder().notices();
        match fs::read_to_string(&log) {
            Ok(lines) => Ok(lines.lines().last().and_then(|line| line.split(' ').next()?.parse().ok())),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(file_fault("read", &log, &error)),
        }
    }
}
