//! A process without a window that journals through the code the window journals through.
//!
//! `windowless FOLDER [TAPS]` goes on with the unfinished demonstration in the folder, or begins one, taps so
//! often, or without end, and prints the id of each tap once it is acknowledged.

use std::{
    error::Error,
    io::Write,
    path::PathBuf,
    time::{Duration, SystemTime},
};

use chrono::DateTime;
use competency::journal::Event;
use ledger::{Ledger, Moment};
use suite::journal::begin;
use uuid::Uuid;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args_os().nth(1).ok_or("usage: windowless FOLDER [TAPS]")?);
    let most = std::env::args().nth(2).map(|taps| taps.parse()).transpose()?.unwrap_or(usize::MAX);
    let ledger = Ledger::open(&folder, &mut || Uuid::from_u128(since_1970().as_nanos()))?;
    let demonstration = match ledger.reader().unfinished()?.pop() {
        Some(begun) => begun.begin.demonstration,
        None => ledger.begin(&begin("killed-again-and-again"), &now()?)?.begin.demonstration,
    };
    let done = ledger.reader().lines(&demonstration)?.len();
    let mut stdout = std::io::stdout().lock();
    for n in (done..).take(most) {
        let event = Event::Act { act: "gloves-off".to_owned(), by: competency::procedure::By::Wearer };
        let line = ledger.append(&demonstration, &format!("tap {n}"), &event, &now()?)?;
        writeln!(stdout, "{}", line.id)?;
        stdout.flush()?;
    }
    Ok(())
}

fn since_1970() -> Duration {
    SystemTime::UNIX_EPOCH.elapsed().unwrap_or_default()
}

/// There is no boot clock in the standard library; each run of this process counts as a start of its own.
fn now() -> Result<Moment, Box<dyn Error>> {
    let since = since_1970();
    let wall = DateTime::from_timestamp(since.as_secs().try_into()?, since.subsec_nanos())
        .ok_or("the clock is beyond the calendar")?;
    Ok(Moment {
        wall: wall.fixed_offset(),
        zone: "Etc/UTC".to_owned(),
        boot_ms: since.as_millis().try_into()?,
        boot_id: std::process::id().to_string(),
    })
}
