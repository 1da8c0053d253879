//! Replaying everything, and comparing what is stored twice.

use std::{
    collections::{BTreeMap, BTreeSet, btree_map},
    fs,
};

use competency::journal::{Line, fold};
use evidence::{
    Attempt, DemonstrationSealed, Digest, Entry, Facts, Place, Seen, chain::Checker, digest, name_digest,
};
use rusqlite::{Row, named_params, types::ValueRef};
use uuid::Uuid;

use crate::{
    FiledRecord, Flaw, LedgerError, Reader, SignError, Signature,
    columns::{column, word},
    error::Doing,
    names::searched,
    records::Filed,
    schema,
};

/// Says whether an entry has the signatures it needs, and whether they hold over its bytes.
pub type Verify<'a> = dyn FnMut(&Entry, &[u8], &[Signature]) -> Result<(), SignError> + 'a;

/// An entry that is known from outside the file, such as from a filed record or another device.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known {
    /// Its stream.
    pub stream: Uuid,
    /// Its number and digest.
    pub seen: Seen,
    /// From where it is known, to say so: `the record d-17.pdf`.
    pub from: String,
}

impl Known {
    /// What a record's place in the chain attests: the entry before it. `None` where it is the first.
    pub fn before(place: &Place, from: impl Into<String>) -> Option<Known> {
        let seen = Seen { seq: place.seq.checked_sub(1)?, digest: place.prev? };
        Some(Known { stream: place.stream, seen, from: from.into() })
    }
}

/// What a check found.
#[derive(Debug)]
pub struct Checked {
    /// How many entries there are.
    pub entries: u64,
    /// How many streams.
    pub streams: usize,
    /// How many filed records.
    pub records: usize,
    /// Entries of kinds that this program does not know: they were kept and chained, but not understood.
    pub unknown: u32,
    /// Everything that is wrong; nothing where the ledger is whole.
    pub flaws: Vec<Flaw>,
}

/// The entries that can be read, and the digest of the bytes of each.
struct Replayed {
    entries: Vec<Entry>,
    digests: BTreeMap<(Uuid, u64), Digest>,
}

impl Reader {
    /// Replays every entry: its canonical form, its digest, its columns, its chain, its signatures; then
    /// the names against the entries, the journal and the filed PDF against the sealed digests, and every
    /// entry that is `known` from elsewhere, which is the only way to notice that the last ones are gone.
    ///
    /// # Errors
    /// Only where the file cannot be read at all. What is wrong with it is in [`Checked::flaws`].
    pub fn check(&self, known: &[Known], verify: &mut Verify<'_>) -> Result<Checked, LedgerError> {
        // A connection of its own, and one snapshot: other readers wait for nothing, and what is written
        // meanwhile is not half seen.
        let snapshot = Reader::open(&self.folder)?;
        let begin = include_str!("../sql/open/snapshot.sql");
        snapshot.reading().execute_batch(begin).doing("begin the check")?;
        snapshot.check_all(known, verify)
    }

    fn check_all(&self, known: &[Known], verify: &mut Verify<'_>) -> Result<Checked, LedgerError> {
        let mut flaws = self.damage()?;
        flaws.extend(schema::compare(&self.reading())?);
        let Replayed { entries, digests } = self.replay(&mut flaws, verify)?;
        let records = self.records()?;
        let mut known = known.to_vec();
        for entry in &entries {
            let from = || format!("entry {} of stream {}", entry.place.seq, entry.place.stream);
            known.extend(entry.seen.iter().map(|(stream, seen)| Known {
                stream: *stream,
                seen: *seen,
                from: from(),
            }));
        }
        let count = entries.len() as u64;
        let streams: BTreeSet<Uuid> = digests.keys().map(|(stream, _)| *stream).collect();
        let places: BTreeMap<Uuid, Place> = entries.iter().map(|entry| (entry.id, entry.place)).collect();
        let facts = Facts::fold(entries, None);
        self.compare_names(&facts, &mut flaws)?;
        let mut sealed: BTreeMap<Uuid, &Attempt> = facts
            .people
            .values()
            .flat_map(|person| &person.attempts)
            .map(|attempt| (attempt.entry, attempt))
            .collect();
        for record in &records {
            if let Some(what) = self.compare_record(record, sealed.remove(&record.entry), &facts, &places)? {
                flaws.push(Flaw::Record { demonstration: record.demonstration.clone(), what });
            }
        }
        let mut second = facts.countersigned.clone();
        for filed in self.countersigned()? {
            let entry = second.remove(&filed.demonstration);
            let what = match entry {
                None => Some("no entry names its second signature"),
                Some(entry) if entry.entry != filed.entry || entry.what.pdf != filed.pdf => {
                    Some("its second signature is not the one its entry names")
                }
                Some(_) => match fs::read(self.records_folder().join(&filed.file)) {
                    Err(_) => Some("its PDF with the second signature is not there"),
                    Ok(pdf) if digest(&pdf) != filed.pdf => {
                        Some("its PDF with the second signature was changed")
                    }
                    Ok(_) => None,
                },
            };
            if let Some(what) = what {
                flaws.push(Flaw::Record { demonstration: filed.demonstration, what });
            }
        }
        flaws.extend(
            second.into_keys().map(|demonstration| Flaw::Record {
                demonstration,
                what: "its second signature is not filed",
            }),
        );
        flaws.extend(sealed.values().map(|attempt| Flaw::Record {
            demonstration: attempt.sealed.demonstration.clone(),
            what: "it is not filed",
        }));
        flaws.extend(known.iter().filter_map(|known| compare_known(known, &digests)));
        flaws.sort_by_key(|flaw| !flaw.comes_first());
        Ok(Checked {
            entries: count,
            streams: streams.len(),
            records: records.len(),
            unknown: facts.unknown,
            flaws,
        })
    }

    /// What the database itself finds wrong with its file.
    fn damage(&self) -> Result<Vec<Flaw>, LedgerError> {
        let doing = "check the file";
        let connection = self.reading();
        let mut statement = connection.prepare(include_str!("../sql/open/integrity.sql")).doing(doing)?;
        let mut rows = statement.query([]).doing(doing)?;
        let mut flaws = Vec::new();
        while let Some(row) = rows.next().doing(doing)? {
            let said: String = column(row, "integrity_check")?;
            if said != "ok" {
                flaws.push(Flaw::File(said));
            }
        }
        Ok(flaws)
    }

    /// Follows every stream, and gives the entries that can be read with the digests of their bytes.
    fn replay(&self, flaws: &mut Vec<Flaw>, verify: &mut Verify<'_>) -> Result<Replayed, LedgerError> {
        let doing = "replay the entries";
        let facility = self.installation()?.facility;
        let connection = self.reading();
        let mut statement = connection.prepare(include_str!("../sql/entry/rows.sql")).doing(doing)?;
        let mut signatures = connection.prepare(include_str!("../sql/entry/signatures.sql")).doing(doing)?;
        let mut rows = statement.query([]).doing(doing)?;
        let (mut entries, mut digests) = (Vec::new(), BTreeMap::new());
        let mut checkers = BTreeMap::new();
        while let Some(row) = rows.next().doing(doing)? {
            let (stream, seq) = (as_it_stands(row, "stream"), row.get("seq").unwrap_or_default());
            let Ok(named) = stream.parse::<Uuid>() else {
                flaws.push(Flaw::Column { stream, seq, column: "stream" });
                continue;
            };
            let checker = match checkers.entry(named) {
                btree_map::Entry::Vacant(vacant) => vacant.insert(Checker::new(named)),
                btree_map::Entry::Occupied(there) => there.into_mut(),
            };
            let bytes = row.get_ref("bytes").ok().and_then(|bytes| bytes.as_bytes().ok()).unwrap_or_default();
            let entry = match Entry::read(bytes) {
                Ok(entry) => entry,
                Err(error) => {
                    checker.skip();
                    flaws.push(Flaw::Unreadable { stream, seq, because: error.to_string() });
                    continue;
                }
            };
            let digest = digest(bytes);
            if let Some(column) = other_column(row, &entry, digest) {
                flaws.push(Flaw::Column { stream: stream.clone(), seq, column });
            }
            if let Err(broken) = checker.follow(&entry, digest) {
                flaws.push(broken.into());
            }
            let Place { stream: of, seq: number, .. } = entry.place;
            if Some(entry.facility) != facility {
                flaws.push(Flaw::OtherFacility { stream: of, seq: number });
            }
            let found = signatures
                .query(named_params! { ":stream": stream, ":seq": seq })
                .doing(doing)
                .and_then(signatures_from)?;
            if let Err(error) = verify(&entry, bytes, &found) {
                flaws.push(Flaw::Signature { stream: of, seq: number, because: error.to_string() });
            }
            digests.insert((of, number), digest);
            entries.push(entry);
        }
        Ok(Replayed { entries, digests })
    }

    fn compare_names(&self, facts: &Facts, flaws: &mut Vec<Flaw>) -> Result<(), LedgerError> {
        for (person, known) in &facts.people {
            let Some(expected) = known.name_digest else { continue };
            let holds = match self.name(person)? {
                None => false,
                Some(kept) => match (kept.name, kept.number, kept.salt) {
                    // Erased: there is nothing left to compare.
                    (None, None, None) => true,
                    (Some(name), Some(number), Some(salt)) => {
                        name_digest(salt, &name, &number).is_ok_and(|digest| digest == expected)
                            && self.is_found_by(person, &searched(&name, &number))?
                    }
                    (_, _, _) => false,
                },
            };
            if !holds {
                flaws.push(Flaw::Name(person.clone()));
            }
        }
        Ok(())
    }

    /// What is wrong with a filed record, if anything.
    fn compare_record(
        &self,
        record: &FiledRecord,
        sealed: Option<&Attempt>,
        facts: &Facts,
        places: &BTreeMap<Uuid, Place>,
    ) -> Result<Option<&'static str>, LedgerError> {
        let Some(sealed) = sealed else { return Ok(Some("no entry seals it")) };
        if sealed.sealed.demonstration != record.demonstration {
            return Ok(Some("its entry seals another demonstration"));
        }
        if record.pdf != sealed.sealed.pdf {
            return Ok(Some("the digest of its PDF"));
        }
        if digest(&record.json) != sealed.sealed.record {
            return Ok(Some("its record.json"));
        }
        let Some(filed) = Filed::read(&record.json) else {
            return Ok(Some("its record.json cannot be read"));
        };
        if filed.demonstration != record.demonstration {
            return Ok(Some("its record.json is of another demonstration"));
        }
        if places.get(&record.entry) != Some(&filed.place) {
            return Ok(Some("its place in the chain"));
        }
        if self.lines(&record.demonstration)? != filed.trace {
            return Ok(Some("its journal"));
        }
        if !self.begun_as_sealed(facts, &sealed.sealed, &filed.trace)? {
            return Ok(Some("how it began, as its journal has it"));
        }
        Ok(match fs::read(self.records_folder().join(&record.file)) {
            Err(_) => Some("its PDF is not there"),
            Ok(pdf) if digest(&pdf) != record.pdf => Some("its PDF was changed"),
            Ok(_) => None,
        })
    }
}

impl Reader {
    /// Whether the journal has the beginning of a demonstration as it was sealed.
    fn begun_as_sealed(
        &self,
        facts: &Facts,
        sealed: &DemonstrationSealed,
        trace: &[Line],
    ) -> Result<bool, LedgerError> {
        let begun = match self.begun(&sealed.demonstration) {
            Ok(Some(begun)) => begun,
            Ok(None) | Err(LedgerError::Column { .. }) => return Ok(false),
            Err(error) => return Err(error),
        };
        let begin = &begun.begin;
        let observer = fold(trace, begin.mode, &begin.conditions).observer(&begin.observer).clone();
        // Of a family, another sequence than the one it was begun as may be the one that was kept.
        let versions = facts.procedures.get(&begin.procedure).map(Vec::as_slice).unwrap_or_default();
        let known = (&begin.procedure, begin.procedure_hash) == (&sealed.procedure, sealed.procedure_hash)
            || versions.iter().any(|version| version.published.hash == begin.procedure_hash);
        Ok(known
            && observer == sealed.observer
            && begin.person == sealed.person
            && begin.assistant == sealed.assistant
            && begin.purpose == sealed.purpose
            && begin.mode == sealed.mode
            && begin.first_attempt == sealed.first_attempt
            && begun.moment.wall == sealed.begun)
    }
}

/// What a column says, also where a byte of it was changed to one that is no letter.
fn as_it_stands(row: &Row<'_>, name: &str) -> String {
    match row.get_ref(name) {
        Ok(ValueRef::Text(text) | ValueRef::Blob(text)) => String::from_utf8_lossy(text).into_owned(),
        Ok(ValueRef::Integer(number)) => number.to_string(),
        Ok(ValueRef::Null | ValueRef::Real(_)) | Err(_) => String::new(),
    }
}

/// The first column that does not say what the bytes say; a column of another type does not.
fn other_column(row: &Row<'_>, entry: &Entry, digest: Digest) -> Option<&'static str> {
    let says = |name, expected: Option<&str>| {
        row.get::<_, Option<String>>(name).is_ok_and(|found| found.as_deref() == expected)
    };
    let counts =
        |name, expected: u64| row.get::<_, i64>(name).is_ok_and(|found| u64::try_from(found) == Ok(expected));
    let same = [
        ("digest", says("digest", Some(&digest.to_string()))),
        ("stream", says("stream", Some(&entry.place.stream.to_string()))),
        ("number", counts("seq", entry.place.seq)),
        ("id", says("id", Some(&entry.id.to_string()))),
        (
            "clock",
            row.get::<_, i64>("hlc_ms").is_ok_and(|ms| ms == entry.hlc.ms)
                && counts("hlc_n", u64::from(entry.hlc.n)),
        ),
        ("kind", says("kind", Some(entry.body.kind()))),
        ("person", says("person", entry.body.person().map(String::as_str))),
        ("date", says("known_on", Some(&entry.known_on().to_string()))),
    ];
    same.into_iter().find(|(_, same)| !same).map(|(name, _)| name)
}

fn compare_known(known: &Known, digests: &BTreeMap<(Uuid, u64), Digest>) -> Option<Flaw> {
    let (stream, seq, from) = (known.stream, known.seen.seq, known.from.clone());
    match digests.get(&(stream, seq)) {
        None => Some(Flaw::CutOff { stream, seq, from }),
        Some(digest) if *digest != known.seen.digest => Some(Flaw::NotAsKnown { stream, seq, from }),
        Some(_) => None,
    }
}

fn signatures_from(mut rows: rusqlite::Rows<'_>) -> Result<Vec<Signature>, LedgerError> {
    let mut signatures = Vec::new();
    while let Some(row) = rows.next().doing("read signatures")? {
        signatures.push(Signature {
            signer: word(row, "signer")?,
            key: column(row, "key")?,
            bytes: column(row, "bytes")?,
        });
    }
    Ok(signatures)
}
