//! Writing sealed facts.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use evidence::{
    Author, Body, DemonstrationSealed, Draft, ENTRY_FORMAT, Entry, FacilityCreated, Hlc, PersonAdded,
    PersonId, PersonRenamed, Place, RecordCountersigned, Seen, UnitId, digest, name_digest,
};
use rusqlite::{Connection, OptionalExtension, Transaction, named_params};
use uuid::Uuid;

use crate::{
    Ledger, LedgerError, Moment, NewRecord, SignError,
    columns::{column, word},
    error::Doing,
    journal,
    names::{self, NewName},
    open::installation,
    records,
};

/// Gives the signatures over an entry's canonical bytes.
pub type Sign<'a> = dyn FnMut(&Entry, &[u8]) -> Result<Vec<Signature>, SignError> + 'a;

/// With what entries are stamped and signed. The ledger knows no clock, no chance and no key.
pub struct Stamp<'a> {
    /// Now.
    pub moment: &'a Moment,
    /// Names the device, by its key.
    pub device: &'a str,
    /// Name and version of the program.
    pub program: &'a str,
    /// Gives random ids.
    pub ids: &'a mut dyn FnMut() -> Uuid,
    /// Signs an entry's canonical bytes, with as many keys as the entry needs. It may be asked again for
    /// another form of the same entry, and holds the only writer meanwhile, so it must be quick.
    pub sign: &'a mut Sign<'a>,
}

impl std::fmt::Debug for Stamp<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Stamp")
            .field("moment", &self.moment)
            .field("device", &self.device)
            .finish_non_exhaustive()
    }
}

/// A signature over an entry's canonical bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signature {
    /// Whose it is.
    pub signer: Signer,
    /// Names the key or certificate, by its fingerprint.
    pub key: String,
    /// The signature, as `sealing` makes and reads it.
    pub bytes: Vec<u8>,
}

/// Who signs an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Signer {
    /// The device: every entry.
    Device,
    /// The observer: seals, corrections, and statements that grant or take away.
    Observer,
    /// The facility's authority: enrolment, revocation, approval.
    Authority,
}

/// One fact to write, with the name that belongs beside it, where it adds a person.
#[derive(Debug, Clone)]
pub struct Deed {
    draft: Draft,
    name: Option<NewName>,
}

/// A person to add.
#[derive(Clone)]
pub struct NewPerson {
    /// Their id.
    pub person: PersonId,
    /// Their unit.
    pub unit: UnitId,
    /// Their role.
    pub role: String,
    /// From this civil date.
    pub from: NaiveDate,
    /// Their name.
    pub name: String,
    /// Their staff number, unique in the facility.
    pub number: String,
    /// A random id, new for each person; it binds the name to the entry.
    pub salt: Uuid,
}

impl std::fmt::Debug for NewPerson {
    /// Never shows the name.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("NewPerson").field("person", &self.person).finish_non_exhaustive()
    }
}

impl Deed {
    /// A fact that needs nothing beside it.
    pub fn new(author: Author, body: impl Into<Body>) -> Self {
        Deed { draft: Draft { body: body.into(), author }, name: None }
    }

    /// Adds a person: the entry holds a digest of the name, and the name lies beside it.
    pub fn add_person(author: Author, new: NewPerson) -> Result<Self, LedgerError> {
        let body = PersonAdded {
            name_digest: name_digest(new.salt, &new.name, &new.number).map_err(unwritable)?,
            person: new.person,
            unit: new.unit,
            role: new.role,
            from: new.from,
        };
        let name = NewName { name: new.name, number: new.number, salt: new.salt };
        Ok(Deed { draft: Draft { body: body.into(), author }, name: Some(name) })
    }

    /// Calls a person otherwise; their number stays. `salt` is a random id, as in [`NewPerson`].
    pub fn rename_person(
        author: Author,
        person: PersonId,
        name: String,
        number: String,
        salt: Uuid,
    ) -> Result<Self, LedgerError> {
        let name_digest = name_digest(salt, &name, &number).map_err(unwritable)?;
        let body = PersonRenamed { person, name_digest };
        let name = NewName { name, number, salt };
        Ok(Deed { draft: Draft { body: body.into(), author }, name: Some(name) })
    }
}

/// An entry that was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    /// Its id.
    pub entry: Uuid,
    /// Where it stands.
    pub place: Place,
}

impl Ledger {
    /// Creates the facility, with whatever belongs to its beginning, all or nothing.
    ///
    /// # Errors
    /// [`LedgerError::FacilityExists`], and as [`Ledger::write`].
    pub fn create_facility(
        &self,
        author: Author,
        facility: FacilityCreated,
        deeds: &[Deed],
        stamp: &mut Stamp<'_>,
    ) -> Result<Uuid, LedgerError> {
        let doing = "create the facility";
        self.transact(doing, |transaction| {
            if facility_of(transaction)?.is_some() {
                return Err(LedgerError::FacilityExists);
            }
            let id = (stamp.ids)();
            transaction
                .execute(
                    include_str!("../sql/open/set_facility.sql"),
                    named_params! { ":facility": id.to_string() },
                )
                .doing(doing)?;
            write(transaction, id, &Deed::new(author.clone(), facility.clone()), stamp)?;
            for deed in deeds {
                write(transaction, id, deed, stamp)?;
            }
            Ok(id)
        })
    }

    /// Writes facts in one transaction, all or nothing, and answers when they are on the disk.
    ///
    /// # Errors
    /// [`LedgerError::NoFacility`], [`LedgerError::NumberTaken`], [`LedgerError::NameMissing`],
    /// [`LedgerError::Sign`], [`LedgerError::Full`]. After an error nothing was written.
    pub fn write(&self, deeds: &[Deed], stamp: &mut Stamp<'_>) -> Result<Vec<Written>, LedgerError> {
        self.transact("write entries", |transaction| {
            let facility = facility_of(transaction)?.ok_or(LedgerError::NoFacility)?;
            deeds.iter().map(|deed| write(transaction, facility, deed, stamp)).collect()
        })
    }

    /// Seals a demonstration: its entry, its record and what follows from it, in one transaction. The signed PDF
    /// is in the records folder already, and was drawn with the place from
    /// [`Reader::next_place`](crate::Reader::next_place).
    ///
    /// # Errors
    /// [`LedgerError::PlaceTaken`] where another entry was written since; draw it again.
    /// [`LedgerError::NotBegun`], [`LedgerError::AlreadySealed`], [`LedgerError::Disagree`], and as
    /// [`Ledger::write`]. After an error nothing was written.
    pub fn seal(
        &self,
        at: &Place,
        author: Author,
        sealed: &DemonstrationSealed,
        record: &NewRecord,
        follows: &[Deed],
        stamp: &mut Stamp<'_>,
    ) -> Result<Written, LedgerError> {
        if sealed.pdf != record.pdf {
            return Err(LedgerError::Disagree("digest of the PDF"));
        }
        if sealed.record != digest(&record.json) {
            return Err(LedgerError::Disagree("digest of record.json"));
        }
        let deed = Deed::new(author, sealed.clone());
        let lines = self.reader().lines(&sealed.demonstration)?;
        self.transact("seal a demonstration", |transaction| {
            let facility = facility_of(transaction)?.ok_or(LedgerError::NoFacility)?;
            let begun = journal::begun(transaction, &sealed.demonstration)?.ok_or(LedgerError::NotBegun)?;
            if begun.sealed {
                return Err(LedgerError::AlreadySealed);
            }
            if begun.begin.person != sealed.person {
                return Err(LedgerError::Disagree("person"));
            }
            let folded = competency::journal::fold(&lines, begun.begin.mode, &begun.begin.conditions);
            if *folded.observer(&begun.begin.observer) != sealed.observer {
                return Err(LedgerError::Disagree("observer"));
            }
            let written = write(transaction, facility, &deed, stamp)?;
            // Checked after the writing, which takes the next place there is; an error rolls it back.
            if written.place != *at {
                return Err(LedgerError::PlaceTaken);
            }
            records::file(transaction, &sealed.demonstration, written.entry, record)?;
            for deed in follows {
                write(transaction, facility, deed, stamp)?;
            }
            Ok(written)
        })
    }
}

impl Ledger {
    /// Files a record with its second signature: its entry and where the file lies, in one transaction. The
    /// signed PDF is in the records folder already, under the name `file`.
    ///
    /// # Errors
    /// [`LedgerError::NotBegun`] where the demonstration has no record, [`LedgerError::AlreadySealed`] where it
    /// has a second signature, and as [`Ledger::write`]. After an error nothing was written.
    pub fn countersign(
        &self,
        author: Author,
        countersigned: &RecordCountersigned,
        file: &str,
        stamp: &mut Stamp<'_>,
    ) -> Result<Written, LedgerError> {
        let deed = Deed::new(author, countersigned.clone());
        self.transact("file a second signature", |transaction| {
            let facility = facility_of(transaction)?.ok_or(LedgerError::NoFacility)?;
            let begun =
                journal::begun(transaction, &countersigned.demonstration)?.ok_or(LedgerError::NotBegun)?;
            if !begun.sealed {
                return Err(LedgerError::NotBegun);
            }
            if begun.begin.person != countersigned.person {
                return Err(LedgerError::Disagree("person"));
            }
            let written = write(transaction, facility, &deed, stamp)?;
            let demonstration = &countersigned.demonstration;
            records::countersign(transaction, demonstration, written.entry, file, countersigned.pdf)?;
            Ok(written)
        })
    }
}

/// The last entry of every stream.
pub(crate) fn heads(connection: &Connection) -> Result<BTreeMap<Uuid, Seen>, LedgerError> {
    let doing = "read the heads of the streams";
    let mut statement = connection.prepare_cached(include_str!("../sql/entry/heads.sql")).doing(doing)?;
    let mut rows = statement.query([]).doing(doing)?;
    let mut heads = BTreeMap::new();
    while let Some(row) = rows.next().doing(doing)? {
        let seq: i64 = column(row, "seq")?;
        heads.insert(word(row, "stream")?, Seen { seq: seq.unsigned_abs(), digest: word(row, "digest")? });
    }
    Ok(heads)
}

pub(crate) fn next_place(heads: &BTreeMap<Uuid, Seen>, stream: Uuid) -> Place {
    match heads.get(&stream) {
        Some(head) => Place { stream, seq: head.seq + 1, prev: Some(head.digest) },
        None => Place { stream, seq: 0, prev: None },
    }
}

fn facility_of(connection: &Connection) -> Result<Option<Uuid>, LedgerError> {
    Ok(installation(connection)?.and_then(|installation| installation.facility))
}

fn last_clock(connection: &Connection) -> Result<Option<Hlc>, LedgerError> {
    connection
        .query_row(include_str!("../sql/entry/clock.sql"), [], |row| {
            Ok(Hlc { ms: row.get("hlc_ms")?, n: row.get("hlc_n")? })
        })
        .optional()
        .doing("read the last clock")
}

fn write(
    transaction: &Transaction<'_>,
    facility: Uuid,
    deed: &Deed,
    stamp: &mut Stamp<'_>,
) -> Result<Written, LedgerError> {
    let stream = installation(transaction)?.ok_or(LedgerError::NoFacility)?.stream;
    let mut seen = heads(transaction)?;
    let place = next_place(&seen, stream);
    seen.remove(&stream);
    let entry = Entry {
        format: ENTRY_FORMAT,
        facility,
        place,
        id: (stamp.ids)(),
        body: deed.draft.body.clone(),
        author: deed.draft.author.clone(),
        device: stamp.device.to_owned(),
        hlc: Hlc::next(last_clock(transaction)?, stamp.moment.wall.timestamp_millis()),
        wall: stamp.moment.wall,
        zone: stamp.moment.zone.clone(),
        seen,
        program: stamp.program.to_owned(),
        rules: competency::RULES_VERSION,
    };
    let bytes = entry.to_bytes().map_err(unwritable)?;
    let signatures = (stamp.sign)(&entry, &bytes).map_err(LedgerError::Sign)?;
    insert(transaction, &entry, &bytes, &signatures)?;
    let name = || deed.name.as_ref().ok_or(LedgerError::NameMissing);
    if let Body::PersonAdded(added) = &entry.body {
        names::add(transaction, &added.person, name()?)?;
    } else if let Body::PersonRenamed(renamed) = &entry.body {
        names::rename(transaction, &renamed.person, name()?)?;
    }
    Ok(Written { entry: entry.id, place })
}

fn insert(
    transaction: &Transaction<'_>,
    entry: &Entry,
    bytes: &[u8],
    signatures: &[Signature],
) -> Result<(), LedgerError> {
    let doing = "write an entry";
    let seq = i64::try_from(entry.place.seq).map_err(|_beyond| LedgerError::PlaceTaken)?;
    let stream = entry.place.stream.to_string();
    let mut append = transaction.prepare_cached(include_str!("../sql/entry/append.sql")).doing(doing)?;
    append
        .execute(named_params! {
            ":stream": stream,
            ":seq": seq,
            ":id": entry.id.to_string(),
            ":digest": digest(bytes).to_string(),
            ":hlc_ms": entry.hlc.ms,
            ":hlc_n": entry.hlc.n,
            ":kind": entry.body.kind(),
            ":person": entry.body.person(),
            ":known_on": entry.known_on().to_string(),
            ":bytes": bytes,
        })
        .doing(doing)?;
    let mut sign = transaction.prepare_cached(include_str!("../sql/entry/sign.sql")).doing(doing)?;
    for signature in signatures {
        sign.execute(named_params! {
            ":stream": stream,
            ":seq": seq,
            ":signer": crate::columns::to_word("signer", &signature.signer)?,
            ":key": signature.key,
            ":bytes": signature.bytes,
        })
        .doing(doing)?;
    }
    Ok(())
}

fn unwritable(source: evidence::EvidenceError) -> LedgerError {
    LedgerError::Evidence { doing: "written", source }
}
