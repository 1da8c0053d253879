use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset, NaiveDate};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use uuid::Uuid;

use crate::{
    Body, Digest, EvidenceError, Hlc, PersonId, canonical, canonical::value_once, digest, read_strictly,
};

/// The format of the envelope that this program writes.
pub const ENTRY_FORMAT: u32 = 1;

/// One sealed fact: an envelope that is the same for every kind, and a body.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// [`ENTRY_FORMAT`] when it was written.
    pub format: u32,
    /// The facility.
    pub facility: Uuid,
    /// Where it stands in its chain.
    pub place: Place,
    /// Names the entry.
    pub id: Uuid,
    /// The fact.
    pub body: Body,
    /// Who states it.
    pub author: Author,
    /// Names the device that wrote it, by its key.
    pub device: String,
    /// Orders entries across streams.
    pub hlc: Hlc,
    /// Wall clock of the device, with its offset.
    pub wall: DateTime<FixedOffset>,
    /// IANA name of the device's time zone.
    pub zone: String,
    /// The last entry known of each other stream.
    pub seen: BTreeMap<Uuid, Seen>,
    /// Name and version of the program.
    pub program: String,
    /// Version of the scoring rules in that program.
    pub rules: u32,
}

/// A place in a chain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Place {
    /// The chain: one per device and installation.
    pub stream: Uuid,
    /// 0 for the first entry of the stream.
    pub seq: u64,
    /// Digest of the entry before it; `None` for the first.
    pub prev: Option<Digest>,
}

/// Who states a fact.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Author {
    /// The person; `None` where nobody identified themselves to the device.
    pub person: Option<PersonId>,
    /// As what they act.
    pub role: ActingAs,
    /// SHA-256 of the certificate they sign with (DER), where they sign.
    pub certificate: Option<Digest>,
}

/// As what the author of an entry acts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ActingAs {
    /// The observer of a demonstration.
    Observer,
    /// The person observed.
    Observed,
    /// Whoever keeps people, units and requirements.
    Manager,
    /// Whoever writes the procedures.
    Educator,
    /// Whoever holds the facility's authority.
    Authority,
}

/// The last entry known of another stream.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seen {
    /// Its number.
    pub seq: u64,
    /// Its digest.
    pub digest: Digest,
}

/// What an entry says, before it has a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// The fact.
    pub body: Body,
    /// Who states it.
    pub author: Author,
}

/// The envelope as it is written: flat, with the kind beside the body, so that a reader that does not
/// know the kind still reads the rest.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Wire {
    format: u32,
    facility: Uuid,
    stream: Uuid,
    seq: u64,
    prev: Option<Digest>,
    id: Uuid,
    kind: String,
    kind_version: u32,
    body: Value,
    author: Author,
    device: String,
    hlc: Hlc,
    wall: DateTime<FixedOffset>,
    zone: String,
    seen: BTreeMap<Uuid, Seen>,
    program: String,
    rules: u32,
}

impl Entry {
    /// The canonical bytes, made once, when the entry is written.
    ///
    /// # Errors
    /// When a number is too large for canonical JSON.
    pub fn to_bytes(&self) -> Result<Vec<u8>, EvidenceError> {
        canonical(&Wire {
            format: self.format,
            facility: self.facility,
            stream: self.place.stream,
            seq: self.place.seq,
            prev: self.place.prev,
            id: self.id,
            kind: self.body.kind().to_owned(),
            kind_version: self.body.kind_version(),
            body: self.body.to_value()?,
            author: self.author.clone(),
            device: self.device.clone(),
            hlc: self.hlc,
            wall: self.wall,
            zone: self.zone.clone(),
            seen: self.seen.clone(),
            program: self.program.clone(),
            rules: self.rules,
        })
    }

    /// Reads an entry. A body of a kind, or of a version of a kind, that this program does not know is
    /// kept as it is.
    ///
    /// # Errors
    /// When the bytes are not the canonical form of an entry in a format that this program knows.
    pub fn read(bytes: &[u8]) -> Result<Entry, EvidenceError> {
        known_format(bytes, ENTRY_FORMAT)?;
        let wire: Wire = read_strictly(bytes, "entry")?;
        Ok(Entry {
            format: wire.format,
            facility: wire.facility,
            place: Place { stream: wire.stream, seq: wire.seq, prev: wire.prev },
            id: wire.id,
            body: Body::read(wire.kind, wire.kind_version, wire.body)?,
            author: wire.author,
            device: wire.device,
            hlc: wire.hlc,
            wall: wire.wall,
            zone: wire.zone,
            seen: wire.seen,
            program: wire.program,
            rules: wire.rules,
        })
    }

    /// The order in which entries are folded, whatever order they arrived in.
    pub fn order(&self) -> (Hlc, Uuid, u64) {
        (self.hlc, self.place.stream, self.place.seq)
    }

    /// The civil date on which the entry was written, by the device's own wall clock and offset.
    pub fn known_on(&self) -> NaiveDate {
        self.wall.date_naive()
    }
}

impl Place {
    /// The place after an entry with these bytes.
    #[must_use]
    pub fn after(&self, bytes: &[u8]) -> Place {
        Place { stream: self.stream, seq: self.seq + 1, prev: Some(digest(bytes)) }
    }
}

/// Refuses a later format by its number, before a field that it adds is called an error.
pub(crate) fn known_format(bytes: &[u8], known: u32) -> Result<(), EvidenceError> {
    match value_once(bytes)?.get("format").and_then(Value::as_u64) {
        Some(found) if found > u64::from(known) => Err(EvidenceError::NewerFormat { found, known }),
        Some(_) | None => Ok(()),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use serde_json::json;

    use super::*;
    use crate::UnitAdded;

    pub(crate) fn entry(body: Body) -> Entry {
        Entry {
            format: ENTRY_FORMAT,
            facility: Uuid::nil(),
            place: Place { stream: Uuid::nil(), seq: 0, prev: None },
            id: Uuid::from_u128(1),
            body,
            author: Author { person: None, role: ActingAs::Manager, certificate: None },
            device: "device".to_owned(),
            hlc: Hlc { ms: 0, n: 0 },
            wall: "2026-11-25T10:02:03.004+01:00".parse().unwrap(),
            zone: "Europe/Berlin".to_owned(),
            seen: BTreeMap::new(),
            program: "test 0".to_owned(),
            rules: 1,
        }
    }

    fn unit() -> Body {
        UnitAdded { unit: "u".to_owned(), name: "Ward €".to_owned() }.into()
    }

    #[test]
    fn the_envelope_is_flat_and_canonical() {
        let bytes = entry(unit()).to_bytes().unwrap();
        let expected = concat!(
            r#"{"author":{"certificate":null,"person":null,"role":"manager"},"#,
            r#""body":{"name":"Ward €","unit":"u"},"device":"device","#,
            r#""facility":"00000000-0000-0000-0000-000000000000","format":1,"hlc":{"ms":0,"n":0},"#,
            r#""id":"00000000-0000-0000-0000-000000000001","kind":"unit-added","kind_version":1,"#,
            r#""prev":null,"program":"test 0","rules":1,"seen":{},"seq":0,"#,
            r#""stream":"00000000-0000-0000-0000-000000000000","#,
            r#""wall":"2026-11-25T10:02:03.004+01:00","zone":"Europe/Berlin"}"#
        );
        assert_eq!(String::from_utf8(bytes.clone()).unwrap(), expected);
        assert_eq!(Entry::read(&bytes).unwrap(), entry(unit()));
    }

    #[test]
    fn an_unknown_kind_or_version_is_kept_as_it_is() {
        for (kind, kind_version) in [("unit-closed", 1), ("unit-added", 2)] {
            let body = Body::Unknown {
                kind: kind.to_owned(),
                kind_version,
                body: json!({ "unit": "u", "new": 1.5 }),
            };
            let bytes = entry(body.clone()).to_bytes().unwrap();
            let read = Entry::read(&bytes).unwrap();
            assert_eq!(read.body, body);
            assert_eq!(read.to_bytes().unwrap(), bytes);
        }
    }

    #[track_caller]
    fn refused(change: impl FnOnce(&mut Value)) -> String {
        let mut value: Value = serde_json::from_slice(&entry(unit()).to_bytes().unwrap()).unwrap();
        change(&mut value);
        let error = Entry::read(&canonical(&value).unwrap()).expect_err("must be refused");
        error.to_string()
    }

    #[test]
    fn what_is_no_entry_is_refused_with_its_reason() {
        assert_eq!(
            refused(|value| value["format"] = json!(2)),
            "this is written in format 2, and this program reads formats up to 1"
        );
        assert_eq!(
            refused(|value| value["surprise"] = json!(1)),
            "the entry does not have the fields it should have"
        );
        assert_eq!(
            refused(|value| value["body"] = json!({ "unit": "u" })),
            "the body of unit-added does not have the fields it should have"
        );
        assert_eq!(refused(|value| *value = json!([])), "the entry does not have the fields it should have");
    }
}
