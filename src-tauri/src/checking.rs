//! The ledger check with the signatures of its entries: for the command line, and before a restored backup
//! counts.

use std::{collections::BTreeMap, fs, path::PathBuf};

use evidence::{Digest, Entry, Facts, Needs, Place, Record, digest};
use ledger::{Checked, Flaw, Known, LedgerError, Reader, SignError, Signature, Signer};
use sealing::{Certificate, DevicePublic};
use uuid::Uuid;

use crate::desk::{FIRST_CERTIFICATE, device_key_name};

/// A signed record that lies outside of the ledger, and what it says of its place in it.
pub(crate) struct Outside {
    record: Record,
    from: String,
}

impl Outside {
    /// The record in a file, or the records in a history; nothing where it is neither, or not whole.
    pub(crate) fn read(bytes: &[u8], from: &str) -> Vec<Outside> {
        let verdict = sealing::verify(bytes, &[]);
        let record = verdict.attachment.as_deref().and_then(|data| Record::read(data).ok());
        match record {
            Some(record) => vec![Outside { record, from: from.to_owned() }],
            None => verdict
                .files
                .iter()
                .filter(|(_, bytes)| bytes.starts_with(b"%PDF-"))
                .flat_map(|(name, bytes)| Outside::read(bytes, &format!("{name} in {from}")))
                .collect(),
        }
    }

    fn place(&self) -> Place {
        self.record.place
    }

    /// Whether it is a record of that facility; the ledger of another knows nothing of it.
    pub(crate) fn is_of(&self, facility: Uuid) -> bool {
        self.record.facility.id == facility.to_string()
    }

    /// The ledger must have it, unless it was being sealed when the device failed: then its demonstration is
    /// there to be signed again, or was.
    fn missing(&self, facts: &Facts, reader: &Reader) -> Result<Option<Flaw>, LedgerError> {
        let Outside { record, .. } = self;
        let attempts = facts.people.get(&record.person.id).map(|person| person.attempts.as_slice());
        let sealed = attempts
            .unwrap_or_default()
            .iter()
            .any(|attempt| attempt.sealed.demonstration == record.demonstration);
        if sealed || reader.begun(&record.demonstration)?.is_some() {
            return Ok(None);
        }
        let Place { stream, seq, .. } = self.place();
        Ok(Some(Flaw::CutOff { stream, seq, from: self.from.clone() }))
    }
}

/// The signed records of the facility that lie in the data folder and that no entry names.
pub(crate) fn stray(reader: &Reader, aside: &std::path::Path) -> Result<Vec<Outside>, LedgerError> {
    let mut files: Vec<PathBuf> = reader.orphans()?;
    if let Ok(lying) = fs::read_dir(aside) {
        files.extend(lying.filter_map(|file| Some(file.ok()?.path())));
    }
    files.sort();
    let outside = files.iter().filter_map(|file| {
        let name = file.file_name()?.to_string_lossy();
        Some(Outside::read(&fs::read(file).ok()?, &format!("the file {name}")))
    });
    let facility = reader.installation()?.facility;
    Ok(outside.flatten().filter(|one| facility.is_some_and(|facility| one.is_of(facility))).collect())
}

/// Replays every entry, and holds the ledger to every filed record, to records outside of it, and to what else is
/// known of it.
pub(crate) fn check(reader: &Reader, known: &[Known], outside: &[Outside]) -> Result<Checked, LedgerError> {
    let mut known = known.to_vec();
    for filed in reader.records()? {
        // A record that cannot be read is a flaw that the check itself names.
        if let Ok(record) = Record::read(&filed.json) {
            known.extend(Known::before(&record.place, format!("the record {}", filed.file)));
        }
    }
    known.extend(outside.iter().filter_map(|one| Known::before(&one.place(), one.from.clone())));
    // Where an entry cannot be read there are no facts; the check names it, and the signatures it can judge.
    let facts = reader.facts(None).unwrap_or_default();
    let keys = Certificates::of(reader, &facts)?;
    let mut checked = reader.check(&known, &mut |entry, bytes, signatures| {
        by_its_device(reader, entry, bytes, signatures)?;
        keys.by_others(entry, bytes, signatures)
    })?;
    for one in outside {
        checked.flaws.extend(one.missing(&facts, reader)?);
    }
    Ok(checked)
}

fn by_its_device(
    reader: &Reader,
    entry: &Entry,
    bytes: &[u8],
    signatures: &[Signature],
) -> Result<(), SignError> {
    let key =
        reader.key(&device_key_name(&entry.device))?.ok_or("the key of its device is not known here")?;
    let device = DevicePublic::read(&key)?;
    if digest(&key).to_string() != entry.device {
        return Err("the key kept for its device is another one".into());
    }
    let of_entry = digest(bytes);
    let holds = signatures.iter().any(|signature| {
        signature.signer == Signer::Device && device.verifies_entry(of_entry.as_bytes(), &signature.bytes)
    });
    if holds { Ok(()) } else { Err("its device did not sign it".into()) }
}

/// Every certificate that the ledger speaks of, by its fingerprint.
struct Certificates {
    issued: BTreeMap<Digest, Certificate>,
    authorities: BTreeMap<Digest, Certificate>,
}

impl Certificates {
    fn of(reader: &Reader, facts: &Facts) -> Result<Certificates, LedgerError> {
        let by_digest = |certificate: Certificate| (digest(certificate.der()), certificate);
        let issued = facts.people.values().flat_map(|person| &person.certificates);
        let issued = issued.filter_map(|issued| Certificate::read(issued.certificate.as_bytes()).ok());
        // The first lies beside the entries; the entry of the facility names it by its digest.
        let first = facts.facility.as_ref().and_then(|(_, facility)| facility.authority);
        let kept = reader.key(FIRST_CERTIFICATE)?.and_then(|der| Certificate::read(&der).ok());
        let kept = kept.filter(|kept| first == Some(digest(kept.der())));
        let rolled = facts.rolled_over.iter();
        let rolled = rolled.filter_map(|rolled| Certificate::read(rolled.certificate.as_bytes()).ok());
        Ok(Certificates {
            issued: issued.map(by_digest).collect(),
            authorities: kept.into_iter().chain(rolled).map(by_digest).collect(),
        })
    }

    fn by_others(&self, entry: &Entry, bytes: &[u8], signatures: &[Signature]) -> Result<(), SignError> {
        let of_entry = digest(bytes);
        let (mut by_author, mut by_authority) = (false, false);
        for signature in signatures {
            let known = match signature.signer {
                Signer::Device => continue,
                Signer::Observer => &self.issued,
                Signer::Authority => &self.authorities,
            };
            let named = signature.key.parse::<Digest>().ok();
            let Some((named, certificate)) = named.and_then(|named| Some((named, known.get(&named)?))) else {
                return Err("one of its signatures is of a certificate that the ledger does not name".into());
            };
            if !certificate.verifies_entry(of_entry.as_bytes(), &signature.bytes) {
                return Err("one of its signatures does not hold".into());
            }
            match signature.signer {
                Signer::Device => {}
                Signer::Observer => by_author |= entry.author.certificate == Some(named),
                Signer::Authority => by_authority = true,
            }
        }
        match entry.body.needs() {
            Needs::Authority if !by_authority => Err("the facility’s authority did not sign it".into()),
            Needs::Author if !by_author => Err("its author did not sign it".into()),
            Needs::AuthorIfNamed if !by_author && entry.author.certificate.is_some() => {
                Err("its author did not sign it".into())
            }
            Needs::Nobody | Needs::Author | Needs::AuthorIfNamed | Needs::Authority => Ok(()),
        }
    }
}
