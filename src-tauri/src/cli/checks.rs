//! The subcommands that check: procedure files, records, the ledger.

use std::path::{Path, PathBuf};

use competency::{
    flaw::{Flaw, locate},
    procedure,
};
use evidence::{Record, digest};
use ledger::{Known, Reader, Signer};
use paper::SamePage;
use sealing::{Certificate, DevicePublic, Standing};

use super::{Complaint, Ending, input, print, score::placed};
use crate::{desk::device_key_name, fault::ledger_fault, folder::Folder};

/// Names every flaw of procedure files, and what is odd about those that have none. What is odd is no
/// failure: it is legal, and the educator may have meant it.
pub(super) fn procedures(files: &[PathBuf]) -> Result<Ending, Complaint> {
    let mut ending = Ending::Done;
    for file in files {
        let text = input::text(file, "procedure")?;
        match procedure::read(&text) {
            Ok(procedure) => {
                let mut odd = procedure::odd(&procedure);
                locate(&text, &mut odd);
                let told = match odd.len() {
                    0 => "no flaw".to_owned(),
                    1 => "no flaw, one thing that is odd".to_owned(),
                    count => format!("no flaw, {count} things that are odd"),
                };
                print(&format!(
                    "{}: {} {}, {} steps, {told}.",
                    file.display(),
                    procedure.id,
                    procedure.version,
                    procedure.steps.len()
                ));
                for warning in odd {
                    let text = format!("Odd: {}", warning.text);
                    print(&placed(file, &Flaw { text, ..warning }));
                }
            }
            Err(flaws) => {
                ending = Ending::CheckFailed;
                for flaw in &flaws {
                    print(&placed(file, flaw));
                }
            }
        }
    }
    Ok(ending)
}

/// Checks a signed record: the signature, then that its score is what its rules make of its log, then
/// that the page says what the attachment says. It needs no ledger.
pub(super) fn record(pdf: &Path, trust: &[PathBuf]) -> Result<Ending, Complaint> {
    let bytes = input::bytes(pdf, "record")?;
    if !bytes.starts_with(b"%PDF-") {
        return Err(Complaint::new(format!(
            "{} is no PDF; give the path of a signed record, as the program filed it.",
            pdf.display()
        )));
    }
    let trusted = trust.iter().map(|file| certificate(file)).collect::<Result<Vec<_>, _>>()?;
    let verdict = sealing::verify(&bytes, &trusted);
    let (mut wrong, mut agreed) = (Vec::new(), Vec::new());
    if verdict.standing() != Standing::Broken {
        match verdict.attachment.as_deref().map(Record::read) {
            None => wrong.push("it carries no record.json".to_owned()),
            Some(Err(error)) => wrong.push(format!("its record.json cannot be read ({error})")),
            Some(Ok(record)) => {
                wrong.extend(disagreements(&bytes, &record));
                if wrong.is_empty() {
                    agreed.extend([
                        "the score was recomputed from what was logged, and it is the one in the record",
                        "the procedure in it is the one that its hash names",
                        "the page says what the attached data says",
                    ]);
                }
            }
        }
    }
    if wrong.is_empty() {
        print(&verdict.sentence());
    } else {
        print(&format!("The signature holds, but the record does not: {}.", wrong.join("; ")));
    }
    for reason in &verdict.reasons {
        let word = match (reason.holds, verdict.standing()) {
            (true, _) => "holds",
            // Without a certificate to trust this is a question that was not asked.
            (false, Standing::UnknownAuthority) if trusted.is_empty() => "unknown",
            (false, _) => "FAILS",
        };
        print(&format!("  {word}: {}", reason.text));
    }
    for said in agreed {
        print(&format!("  holds: {said}"));
    }
    match verdict.standing() {
        Standing::Sound if wrong.is_empty() => Ok(Ending::Done),
        // Without a certificate to trust there is nothing else to hold it to.
        Standing::UnknownAuthority if wrong.is_empty() && trusted.is_empty() => Ok(Ending::Done),
        Standing::Sound | Standing::UnknownAuthority | Standing::Broken => Ok(Ending::CheckFailed),
    }
}

/// What in a record does not follow from the rest of it.
fn disagreements(pdf: &[u8], record: &Record) -> Vec<String> {
    let mut wrong = Vec::new();
    if record.rules == competency::RULES_VERSION {
        let model = competency::model::Model::new(record.procedure.clone());
        if competency::score::score(&model, &record.log) != record.report {
            wrong.push("its score is not what its rules make of its log".to_owned());
        }
    } else {
        wrong.push(format!(
            "its score cannot be recomputed: it was scored by rules {}, and this program knows rules {}",
            record.rules,
            competency::RULES_VERSION
        ));
    }
    if evidence::procedure_hash(&record.procedure).ok() != Some(record.procedure_hash) {
        wrong.push("its procedure is not the one its hash names".to_owned());
    }
    match paper::same_page(pdf, record) {
        Ok(SamePage::Same) => {}
        Ok(SamePage::Different) => wrong.push("its page does not say what its record.json says".to_owned()),
        Ok(SamePage::OtherLayout) => wrong.push(
            "its page cannot be compared with its record.json: it was drawn by another version of the program".to_owned(),
        ),
        Err(error) => wrong.push(format!("its page cannot be compared with its record.json ({error})")),
    }
    wrong
}

fn certificate(file: &Path) -> Result<Certificate, Complaint> {
    Certificate::read(&input::bytes(file, "certificate")?).map_err(|_unreadable| {
        Complaint::new(format!(
            "{} is no certificate in PEM or DER; export the authority's certificate again.",
            file.display()
        ))
    })
}

/// Replays every entry of the ledger, and holds it to every filed record.
pub(super) fn ledger(folder: &Folder) -> Result<Ending, Complaint> {
    let reader = Reader::open(folder.root()).map_err(ledger_fault)?;
    let mut known = Vec::new();
    for filed in reader.records().map_err(ledger_fault)? {
        // A record that cannot be read is a flaw that the check itself names.
        if let Ok(record) = Record::read(&filed.json) {
            known.extend(Known::before(&record.place, format!("the record {}", filed.file)));
        }
    }
    let devices = &reader;
    let checked = reader
        .check(&known, &mut |entry, bytes, signatures| {
            let key = devices
                .key(&device_key_name(&entry.device))?
                .ok_or("the key of its device is not known here")?;
            let device = DevicePublic::read(&key)?;
            let of_entry = digest(bytes);
            let holds = signatures.iter().any(|signature| {
                signature.signer == Signer::Device
                    && device.verifies_entry(of_entry.as_bytes(), &signature.bytes)
            });
            if holds { Ok(()) } else { Err("its device did not sign it".into()) }
        })
        .map_err(ledger_fault)?;
    for flaw in &checked.flaws {
        print(&flaw.to_string());
    }
    let many = |count: u64, one: &str, many: &str| format!("{count} {}", if count == 1 { one } else { many });
    let entries = format!(
        "{} in {}, {}",
        many(checked.entries, "entry", "entries"),
        many(checked.streams as u64, "stream", "streams"),
        many(checked.records as u64, "record", "records")
    );
    if !checked.flaws.is_empty() {
        print(&format!(
            "The ledger in {} is not whole: {} in {entries}. Nothing was changed.",
            folder.root().display(),
            many(checked.flaws.len() as u64, "flaw", "flaws")
        ));
        return Ok(Ending::CheckFailed);
    }
    print(&format!("The ledger in {} is whole: {entries}.", folder.root().display()));
    if checked.unknown > 0 {
        print(&format!(
            "{} entries are of kinds that this version does not know; they are kept.",
            checked.unknown
        ));
    }
    Ok(Ending::Done)
}
