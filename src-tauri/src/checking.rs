//! The ledger check with the signatures of its entries: for the command line, and before a restored backup
//! counts.

use std::collections::BTreeMap;

use evidence::{Body, Digest, Entry, Facts, Record, digest};
use ledger::{Checked, Known, LedgerError, Reader, SignError, Signature, Signer};
use sealing::{Certificate, DevicePublic};

use crate::desk::device_key_name;

/// Replays every entry, and holds the ledger to every filed record and to what else is known of it.
pub(crate) fn check(reader: &Reader, known: &[Known]) -> Result<Checked, LedgerError> {
    let mut known = known.to_vec();
    for filed in reader.records()? {
        // A record that cannot be read is a flaw that the check itself names.
        if let Ok(record) = Record::read(&filed.json) {
            known.extend(Known::before(&record.place, format!("the record {}", filed.file)));
        }
    }
    // Where an entry cannot be read there are no facts; the check names it, and the signatures it can judge.
    let facts = reader.facts(None).map(|facts| certificates(&facts)).unwrap_or_default();
    reader.check(&known, &mut |entry, bytes, signatures| {
        by_its_device(reader, entry, bytes, signatures)?;
        by_others(&facts, entry, bytes, signatures)
    })
}

/// Every certificate that the ledger itself speaks of, by its fingerprint.
fn certificates(facts: &Facts) -> BTreeMap<Digest, Certificate> {
    let issued = facts.people.values().flat_map(|person| &person.certificates);
    let issued = issued.map(|issued| issued.certificate.as_str());
    let rolled = facts.rolled_over.iter().flat_map(|rolled| [rolled.before.as_str(), &rolled.certificate]);
    issued
        .chain(rolled)
        .filter_map(|pem| Certificate::read(pem.as_bytes()).ok())
        .map(|certificate| (digest(certificate.der()), certificate))
        .collect()
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

/// Seals and corrections carry their author's signature, by the certificate that the entry names.
fn by_others(
    certificates: &BTreeMap<Digest, Certificate>,
    entry: &Entry,
    bytes: &[u8],
    signatures: &[Signature],
) -> Result<(), SignError> {
    let needs_author = matches!(
        entry.body,
        Body::DemonstrationSealed(_)
            | Body::RecordCorrected(_)
            | Body::RecordVoided(_)
            | Body::RecordCountersigned(_)
    );
    let of_entry = digest(bytes);
    let mut by_author = false;
    for signature in signatures {
        let Ok(named) = signature.key.parse::<Digest>() else { continue };
        // The first authority's certificate lies beside the entries; what it signed is checked where it is known.
        let Some(certificate) = certificates.get(&named) else { continue };
        if signature.signer == Signer::Device {
            continue;
        }
        if !certificate.verifies_entry(of_entry.as_bytes(), &signature.bytes) {
            return Err("one of its signatures does not hold".into());
        }
        by_author |= signature.signer == Signer::Observer && entry.author.certificate == Some(named);
    }
    if needs_author && entry.author.certificate.is_some() && !by_author {
        return Err("its author did not sign it".into());
    }
    Ok(())
}
