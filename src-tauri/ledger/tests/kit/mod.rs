//! A small hospital to write about.
#![allow(dead_code, unreachable_pub, reason = "each test file uses its own part of the kit")]

use std::{fs, path::Path};

use chrono::{NaiveDate, TimeDelta};
use competency::{
    journal::Event,
    log::HowEnded,
    procedure::{By, Mode},
    report::Outcome,
    validity::Purpose,
};
use evidence::{
    ActingAs, Author, Body, DemonstrationSealed, Entry, FacilityCreated, Place, RequirementSet, UnitAdded,
    canonical, digest,
};
use ledger::{
    Begin, Deed, Ledger, LedgerError, Moment, NewPerson, NewRecord, SignError, Signature, Signer, Stamp,
    Written,
};
use tempfile::TempDir;
use uuid::Uuid;

pub const WEARER: &str = "p-wearer";
pub const OBSERVER: &str = "p-observer";
pub const UNIT: &str = "u-west";

pub struct Hospital {
    pub folder: TempDir,
    pub ledger: Ledger,
    ids: u128,
}

/// The moment `ms` after ten o'clock, with the device started a minute before.
pub fn at(ms: i64) -> Moment {
    let ten = "2026-11-25T10:00:00+01:00".parse::<chrono::DateTime<chrono::FixedOffset>>().unwrap();
    Moment {
        wall: ten + TimeDelta::milliseconds(ms),
        zone: "Europe/Berlin".to_owned(),
        boot_ms: 60_000 + ms,
        boot_id: "first start".to_owned(),
    }
}

pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

pub fn author() -> Author {
    Author { person: Some(OBSERVER.to_owned()), role: ActingAs::Observer, certificate: None }
}

pub fn open(folder: &Path) -> Result<Ledger, LedgerError> {
    Ledger::open(folder, &mut || Uuid::from_u128(0xA))
}

pub fn person(id: &str, name: &str, number: &str) -> NewPerson {
    NewPerson {
        person: id.to_owned(),
        unit: UNIT.to_owned(),
        role: "Nurse".to_owned(),
        from: day("2026-11-25"),
        name: name.to_owned(),
        number: number.to_owned(),
        salt: Uuid::from_u128(digest(id.as_bytes()).as_bytes()[0].into()),
    }
}

/// A stand-in for a key: what counts here is that the very bytes are signed.
pub fn sign(_entry: &Entry, bytes: &[u8]) -> Vec<Signature> {
    vec![Signature { signer: Signer::Device, key: "k".to_owned(), bytes: digest(bytes).as_bytes().to_vec() }]
}

/// A key's stand-in is right where it signed these very bytes.
pub fn verify(_entry: &Entry, bytes: &[u8], signatures: &[Signature]) -> Result<(), SignError> {
    match signatures {
        [one] if one.bytes == digest(bytes).as_bytes() => Ok(()),
        [_] => Err("the device's signature does not hold".into()),
        _ => Err("the device's signature is missing".into()),
    }
}

impl Hospital {
    /// An empty data folder.
    pub fn empty() -> Self {
        Self::on(tempfile::tempdir().unwrap())
    }

    /// What is in a data folder.
    pub fn on(folder: TempDir) -> Self {
        let ledger = open(folder.path()).unwrap();
        Hospital { folder, ledger, ids: 0x1000 }
    }

    /// A facility with one unit, a wearer, an observer and a requirement.
    pub fn furnished() -> Self {
        let mut hospital = Hospital::empty();
        let facility =
            FacilityCreated { name: "West".to_owned(), zone: "Europe/Berlin".to_owned(), authority: None };
        let requirement = RequirementSet {
            procedure: "doffing".to_owned(),
            unit: Some(UNIT.to_owned()),
            role: None,
            required: true,
            months: None,
            lead_days: vec![30],
            from: day("2026-11-25"),
        };
        let deeds = [
            Deed::new(author(), UnitAdded { unit: UNIT.to_owned(), name: "Ward West".to_owned() }),
            Deed::add_person(author(), person(WEARER, "Ada Müller", "1001")).unwrap(),
            Deed::add_person(author(), person(OBSERVER, "ΑΝΝΑ Παππά", "1002")).unwrap(),
            Deed::new(author(), requirement),
        ];
        hospital
            .stamped(at(0), |ledger, stamp| ledger.create_facility(author(), facility.clone(), &deeds, stamp))
            .unwrap();
        hospital
    }

    pub fn stamped<T>(
        &mut self,
        moment: Moment,
        act: impl FnOnce(&Ledger, &mut Stamp<'_>) -> Result<T, LedgerError>,
    ) -> Result<T, LedgerError> {
        let next = &mut self.ids;
        let mut ids = || {
            *next += 1;
            Uuid::from_u128(*next)
        };
        let mut sign = |entry: &Entry, bytes: &[u8]| Ok(sign(entry, bytes));
        let mut stamp =
            Stamp { moment: &moment, device: "device", program: "test 0", ids: &mut ids, sign: &mut sign };
        act(&self.ledger, &mut stamp)
    }

    pub fn write(&mut self, moment: Moment, body: impl Into<Body>) -> Result<Vec<Written>, LedgerError> {
        let deeds = [Deed::new(author(), body)];
        self.stamped(moment, |ledger, stamp| ledger.write(&deeds, stamp))
    }

    pub fn tap(&self, demonstration: &str, tap: &str, moment: &Moment) -> Result<i64, LedgerError> {
        self.ledger.append(demonstration, &tap.to_owned(), &act(tap), moment).map(|line| line.at_ms)
    }

    /// Begins, taps once, files a stand-in for a PDF and seals.
    pub fn seal(&mut self, demonstration: &str, outcome: Outcome) -> Written {
        self.ledger.begin(&begin(demonstration), &at(0)).unwrap();
        self.tap(demonstration, "a", &at(1_000)).unwrap();
        let place = self.ledger.reader().next_place().unwrap();
        let (sealed, record) = sealed(&self.ledger, &place, demonstration, outcome);
        self.stamped(at(9_000), |ledger, stamp| ledger.seal(&place, author(), &sealed, &record, &[], stamp))
            .unwrap()
    }

    /// Closes the ledger and opens the folder again.
    pub fn reopen(self) -> Self {
        let Hospital { folder, ledger, ids } = self;
        drop(ledger);
        let ledger = open(folder.path()).unwrap();
        Hospital { folder, ledger, ids }
    }

    /// Another program, with no respect for the triggers, changes the file, and covers its tracks.
    pub fn meddle(&self, sql: &str) -> usize {
        let (connection, triggers) = self.unguarded();
        let changed = connection.execute(sql, []).unwrap();
        for trigger in triggers {
            connection.execute_batch(&trigger).unwrap();
        }
        changed
    }

    /// The file without its triggers, and what makes them again.
    pub fn unguarded(&self) -> (rusqlite::Connection, Vec<String>) {
        let connection = rusqlite::Connection::open(self.folder.path().join("ledger.sqlite")).unwrap();
        let triggers: Vec<(String, String)> = connection
            .prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
            .unwrap()
            .query_map([], |row| Ok((row.get("name")?, row.get("sql")?)))
            .unwrap()
            .collect::<Result<_, _>>()
            .unwrap();
        for (name, _sql) in &triggers {
            connection.execute_batch(&format!("DROP TRIGGER {name}")).unwrap();
        }
        connection.execute_batch("PRAGMA foreign_keys = OFF").unwrap();
        (connection, triggers.into_iter().map(|(_name, sql)| sql).collect())
    }
}

pub fn act(name: &str) -> Event {
    Event::Act { act: name.to_owned(), by: By::Wearer }
}

pub fn begin(demonstration: &str) -> Begin {
    Begin {
        demonstration: demonstration.to_owned(),
        person: WEARER.to_owned(),
        observer: OBSERVER.to_owned(),
        assistant: None,
        procedure: "doffing".to_owned(),
        version: "1.0.0".to_owned(),
        procedure_hash: digest(b"procedure"),
        purpose: Purpose::Validation,
        mode: Mode::Assessed,
        conditions: vec!["wears-apron".to_owned()],
        first_attempt: None,
        paper_form: None,
        second_of: None,
    }
}

/// Files a stand-in for a PDF, and gives what would seal it at that place.
pub fn sealed(
    ledger: &Ledger,
    place: &Place,
    demonstration: &str,
    outcome: Outcome,
) -> (DemonstrationSealed, NewRecord) {
    let pdf = format!("stand-in for the PDF of {demonstration}");
    let file = format!("{demonstration}.pdf");
    fs::write(ledger.reader().records_folder().join(&file), &pdf).unwrap();
    let trace = ledger.reader().lines(demonstration).unwrap();
    let json = serde_json::json!({ "demonstration": demonstration, "place": place, "trace": trace });
    let json = canonical(&json).unwrap();
    let record = NewRecord { file, pdf: digest(pdf.as_bytes()), json };
    let sealed = DemonstrationSealed {
        demonstration: demonstration.to_owned(),
        first_attempt: None,
        person: WEARER.to_owned(),
        unit: UNIT.to_owned(),
        observer: OBSERVER.to_owned(),
        assistant: None,
        procedure: "doffing".to_owned(),
        version: "1.0.0".to_owned(),
        procedure_hash: digest(b"procedure"),
        purpose: Purpose::Validation,
        mode: Mode::Assessed,
        on: day("2026-11-25"),
        begun: at(0).wall,
        ended: at(9_000).wall,
        how: HowEnded::Completed,
        outcome,
        valid_until: (outcome == Outcome::Competent).then(|| day("2027-11-25")),
        score_permille: 1000,
        steps_well: 5,
        steps_counted: 5,
        critical_findings: 0,
        other_findings: 0,
        pdf: record.pdf,
        record: digest(&record.json),
    };
    (sealed, record)
}
