//! One durable tap against a bare write of one page into a preallocated file with `fdatasync`, turn by turn
//! on the same disk. Only the ratio says something; the times belong to this disk and this minute.

use std::{error::Error, fs::File, io::Write, os::unix::fs::FileExt, time::Instant};

use competency::{journal::Event, procedure::By};
use ledger::{Ledger, Moment};
use suite::journal::begin;
use uuid::Uuid;

const TURNS: u64 = 1000;
const PAGE: usize = 4096;

fn main() -> Result<(), Box<dyn Error>> {
    // Beside the build, not in the system's folder for temporary files, which may be no disk at all.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR"))?;
    let ledger = Ledger::open(folder.path(), &mut Uuid::nil)?;
    let mut now = Moment {
        wall: chrono::DateTime::UNIX_EPOCH.fixed_offset(),
        zone: "Europe/Berlin".to_owned(),
        boot_ms: 0,
        boot_id: "start".to_owned(),
    };
    ledger.begin(&begin("bench"), &now)?;
    let bare = File::create(folder.path().join("bare"))?;
    bare.write_all_at(&vec![1; PAGE * usize::try_from(TURNS)?], 0)?;
    bare.sync_all()?;

    let (mut taps, mut writes) = (Vec::new(), Vec::new());
    for turn in 0..TURNS {
        now.boot_ms += 1000;
        let event = Event::Act { act: "gloves-off".to_owned(), by: By::Wearer };
        let id = turn.to_string();
        let before = Instant::now();
        ledger.append("bench", &id, &event, &now)?;
        taps.push(before.elapsed());
        let before = Instant::now();
        bare.write_all_at(&[2; PAGE], turn * PAGE as u64)?;
        bare.sync_data()?;
        writes.push(before.elapsed());
    }
    taps.sort();
    writes.sort();
    let mut out = std::io::stdout().lock();
    for percent in [50, 99] {
        let at = |times: &[std::time::Duration]| {
            times.get(times.len() * percent / 100).map_or(0, std::time::Duration::as_micros)
        };
        let (tap, write) = (at(&taps), at(&writes).max(1));
        // Hundredths, in whole numbers.
        let ratio = tap * 100 / write;
        writeln!(
            out,
            "p{percent}: a durable tap takes {}.{:02} times a bare write and fdatasync ({tap} us against {write} us)",
            ratio / 100,
            ratio % 100
        )?;
    }
    Ok(())
}
