//! A clock that was set back.

use competency::validity::{clock_was_set_back, long_date};
use contract::{Fault, Next};
use ledger::Moment;

use super::Desk;
use crate::fault::ledger_fault;

impl Desk {
    /// Refuses to begin or to seal anything on a day before the last that this device wrote something on: it would be
    /// dated, and hold, as if it had been seen then.
    pub(super) fn check_clock(&self, now: &Moment) -> Result<(), Fault> {
        match self.reader().last_written().map_err(ledger_fault)? {
            Some(last) if clock_was_set_back(now.wall, last) => Err(Fault::new(
                Next::TryAgain,
                format!(
                    "The clock of this device shows {}, but its last entry is of {}; set the clock right, then try again. If \
                     it is right, that entry was dated by a wrong one: back up, and restore the backup in an empty data \
                     folder, which begins a chain of its own.",
                    long_date(now.wall.date_naive()),
                    long_date(last.date_naive())
                ),
            )),
            Some(_) | None => Ok(()),
        }
    }
}
