//! Signed records against the same work by `reportlab`, `pikepdf` and `pyHanko` in the same run, one core each; then
//! how many are verified in a second, and how long the ledger check takes as the ledger grows. The ratios say something; the
//! times belong to this machine and this minute.

#![expect(clippy::expect_used, reason = "what makes the records is shared with tests, which fail loudly")]

#[path = "../records/made.rs"]
#[expect(dead_code, reason = "the tests ask more of it than a measure does")]
mod made;

use std::{
    error::Error,
    io::Write,
    time::{Duration, Instant},
};

use evidence::{ActingAs, Author, FacilityCreated, UnitAdded, digest};
use ledger::{Deed, Ledger, Moment, Signature, Signer, Stamp};
use sealing::{DeviceKey, verify};
use serde_json::json;
use suite::python;
use uuid::Uuid;

const RECORDS: u32 = 40;
const VERIFIED: u32 = 200;
const LENGTHS: [u64; 3] = [1_000, 10_000, 100_000];

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    records(&mut out)?;
    checks(&mut out)
}

fn records(out: &mut impl Write) -> Result<(), Box<dyn Error>> {
    let mut made = made::made();
    // A record as most are: names in Latin letters, and no other script's glyphs beside them.
    "Tomas Rehn".clone_into(&mut made.record.person.name);
    "Ines Odum".clone_into(&mut made.record.observer.name);
    let pdf = made::sign_record(&made.record, &made.signer);
    let mut record = made.record.clone();
    let before = Instant::now();
    for number in 0..RECORDS {
        record.remark = format!("Number {number}.");
        std::hint::black_box(made::sign_record(&record, &made.signer));
    }
    let ours = before.elapsed();
    let paper = suite::place::root().join("src-tauri/paper");
    let question = json!({
        "record": made.record,
        "regular": paper.join("fonts/NotoSans-Regular.ttf"),
        "bold": paper.join("fonts/NotoSans-Bold.ttf"),
        "profile": paper.join("colour/srgb.icc"),
        "rules": "Competent means: no critical finding, at most 2 other findings, every critical step seen. Guidance \
            publishes no pass mark; this one is common practice and the facility’s to set. ".repeat(2),
        "records": RECORDS,
    });
    let micros: u64 = python::ask(include_str!("records.py"), &question);
    let theirs = Duration::from_micros(micros);
    writeln!(
        out,
        "signed records: {} a second, {} times as many as reportlab, pikepdf and pyHanko ({} a second); {} bytes each",
        rate(RECORDS, ours),
        tenths(theirs, ours),
        rate(RECORDS, theirs),
        pdf.len()
    )?;
    let trusted = [made.authority.clone()];
    let before = Instant::now();
    for _ in 0..VERIFIED {
        std::hint::black_box(verify(&pdf, &trusted));
    }
    writeln!(out, "verified signatures: {} a second", rate(VERIFIED, before.elapsed()))?;
    Ok(())
}

/// The check of a ledger whose every entry is signed by its device, as it grows.
fn checks(out: &mut impl Write) -> Result<(), Box<dyn Error>> {
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR"))?;
    let mut next = 0_u128;
    let mut ids = || {
        next += 1;
        Uuid::from_u128(next)
    };
    let ledger = Ledger::open(folder.path(), &mut ids)?;
    let device = DeviceKey::of(&[7; 32])?;
    let public = device.public();
    let moment = Moment {
        wall: chrono::DateTime::UNIX_EPOCH.fixed_offset(),
        zone: "Europe/Berlin".to_owned(),
        boot_ms: 0,
        boot_id: "start".to_owned(),
    };
    let mut sign = |_entry: &evidence::Entry, bytes: &[u8]| {
        let bytes = device.sign_entry(digest(bytes).as_bytes())?.to_vec();
        Ok(vec![Signature { signer: Signer::Device, key: "k".to_owned(), bytes }])
    };
    let author = || Author { person: None, role: ActingAs::Manager, certificate: None };
    let mut stamp =
        Stamp { moment: &moment, device: "device", program: "bench", ids: &mut ids, sign: &mut sign };
    let facility =
        FacilityCreated { name: "Bench".to_owned(), zone: "Europe/Berlin".to_owned(), authority: None };
    ledger.create_facility(author(), facility, &[], &mut stamp)?;
    let mut written = 1;
    let mut last: Option<(u64, Duration)> = None;
    for length in LENGTHS {
        while written < length {
            let batch = (length - written).min(500);
            let deeds: Vec<Deed> = (written..written + batch)
                .map(|n| {
                    Deed::new(author(), UnitAdded { unit: format!("u{}", n % 40), name: format!("Ward {n}") })
                })
                .collect();
            ledger.write(&deeds, &mut stamp)?;
            written += batch;
        }
        let before = Instant::now();
        let checked = ledger.reader().check(&[], &mut |_entry, bytes, signatures| {
            let holds =
                signatures.iter().all(|one| public.verifies_entry(digest(bytes).as_bytes(), &one.bytes));
            if holds { Ok(()) } else { Err("its device did not sign it".into()) }
        })?;
        let took = before.elapsed();
        assert!(checked.flaws.is_empty() && checked.entries == length, "the ledger is whole");
        let grown = last.map(|(shorter, before)| {
            format!("; {} times as long for {} times as many", tenths(took, before), length / shorter)
        });
        writeln!(
            out,
            "ledger check of {length} entries: {} ms{}",
            took.as_millis(),
            grown.unwrap_or_default()
        )?;
        last = Some((length, took));
    }
    Ok(())
}

fn rate(count: u32, took: Duration) -> u128 {
    u128::from(count) * 1_000_000 / took.as_micros().max(1)
}

/// One time against another, with one decimal, in whole numbers.
fn tenths(of: Duration, to: Duration) -> String {
    let tenths = of.as_micros() * 10 / to.as_micros().max(1);
    format!("{}.{}", tenths / 10, tenths % 10)
}
