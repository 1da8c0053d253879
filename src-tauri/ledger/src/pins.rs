//! Wrong PINs, counted on the disk, so that neither closing the program nor restarting the device makes
//! them forgotten. How long they lock a key is `sealing`'s rule; here they are counted, and the time
//! since the last one is measured.
//!
//! Whoever can write the data folder can also put the count back: what holds them off is the work that
//! each guess costs, and the device's secret.

use std::time::Duration;

use rusqlite::named_params;

use crate::{
    Ledger, LedgerError, Moment, Reader,
    columns::{column, to_word, word},
    error::Doing,
};

/// The wrong PINs of one person since theirs last opened their key.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PinState {
    /// How many in a row.
    pub tries: u32,
    /// When the last one was entered; `None` where there was none.
    pub last: Option<Moment>,
}

impl PinState {
    /// How much time has certainly passed since the last wrong try: what `sealing::pin_delay` asks for.
    ///
    /// The time since the device started counts, which nobody can set. Where the device was started anew
    /// since, only the time since that start is certain, so a restart begins the wait again. The wall
    /// clock never counts: whoever guesses may have set it.
    pub fn since_last(&self, now: &Moment) -> Duration {
        let Some(last) = &self.last else { return Duration::MAX };
        let passed_ms =
            if last.boot_id == now.boot_id { now.boot_ms.saturating_sub(last.boot_ms) } else { now.boot_ms };
        Duration::from_millis(u64::try_from(passed_ms).unwrap_or(0))
    }
}

impl Ledger {
    /// Counts a wrong PIN, and answers how many there are in a row now, when that is on the disk.
    ///
    /// Call it *before* the PIN is tried, and [`Ledger::pin_opened`] once it opened the key: then killing
    /// the program while it tries does not win a guess.
    pub fn pin_failed(&self, person: &str, now: &Moment) -> Result<u32, LedgerError> {
        let doing = "count a wrong PIN";
        let wall = to_word("wall", &now.wall)?;
        self.transact(doing, |transaction| {
            transaction
                .execute(
                    include_str!("../sql/pin/failed.sql"),
                    named_params! {
                        ":person": person,
                        ":wall": wall,
                        ":zone": now.zone,
                        ":boot_id": now.boot_id,
                        ":boot_ms": now.boot_ms,
                    },
                )
                .doing(doing)?;
            transaction
                .query_row(include_str!("../sql/pin/one.sql"), named_params! { ":person": person }, |row| {
                    row.get("tries")
                })
                .doing(doing)
        })
    }

    /// The PIN opened the key: earlier wrong ones do not count any more.
    pub fn pin_opened(&self, person: &str) -> Result<(), LedgerError> {
        let doing = "forget wrong PINs";
        self.transact(doing, |transaction| {
            transaction
                .execute(include_str!("../sql/pin/opened.sql"), named_params! { ":person": person })
                .doing(doing)?;
            Ok(())
        })
    }
}

impl Reader {
    /// The wrong PINs of a person since theirs last opened their key.
    pub fn pin_state(&self, person: &str) -> Result<PinState, LedgerError> {
        let doing = "read wrong PINs";
        let connection = self.reading();
        let mut statement = connection.prepare_cached(include_str!("../sql/pin/one.sql")).doing(doing)?;
        let mut rows = statement.query(named_params! { ":person": person }).doing(doing)?;
        let Some(row) = rows.next().doing(doing)? else { return Ok(PinState::default()) };
        let last = Moment {
            wall: word(row, "wall")?,
            zone: column(row, "zone")?,
            boot_ms: column(row, "boot_ms")?,
            boot_id: column(row, "boot_id")?,
        };
        Ok(PinState { tries: column(row, "tries")?, last: Some(last) })
    }
}
