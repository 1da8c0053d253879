//! The subcommands that check: procedure files, records, the ledger.

use std::path::{Path, PathBuf};

use competency::{
    flaw::{Flaw, locate},
    procedure,
};
use contract::{Came, Reliable};
use ledger::{Known, Reader};
use sealing::{Certificate, RevocationList};

use super::{Complaint, Ending, input, print, score::placed};
use crate::{
    checking::{self, Outside},
    desk::Books,
    fault::ledger_fault,
    folder::Folder,
    judging::{self, judge, library_hashes},
    printing::unprintable,
};

/// Names every flaw of procedure files, and what is odd about those that have none. What is odd is no
/// failure: it is legal, and the educator may have meant it.
pub(super) fn procedures(files: &[PathBuf]) -> Result<Ending, Complaint> {
    let mut ending = Ending::Done;
    for file in files {
        let text = input::text(file, "procedure")?;
        let read = procedure::read(&text).and_then(|procedure| {
            let mut flaws = unprintable(&procedure).unwrap_or_else(|fault| vec![Flaw::new("", fault.text)]);
            locate(&text, &mut flaws);
            if flaws.is_empty() { Ok(procedure) } else { Err(flaws) }
        });
        match read {
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
/// that the page says what the attachment says. It needs no ledger, and asks one where a data folder is given.
pub(super) fn record(
    pdf: &Path,
    trust: &[PathBuf],
    revoked: &[PathBuf],
    folder: Option<&Folder>,
) -> Result<Ending, Complaint> {
    let bytes = input::bytes(pdf, "record")?;
    if !bytes.starts_with(b"%PDF-") {
        return Err(Complaint::new(format!(
            "{} is no PDF; give the path of a signed record, as the program filed it.",
            pdf.display()
        )));
    }
    let trusted = trust.iter().map(|file| certificate(file)).collect::<Result<Vec<_>, _>>()?;
    let anyone_trusted = !trusted.is_empty() || folder.is_some();
    let brought = revoked.iter().map(|file| revocations(file)).collect::<Result<_, _>>()?;
    let told = if let Some(folder) = folder {
        let reader = Reader::open(folder.root()).map_err(ledger_fault)?;
        Books::of(&reader).check_record(&bytes, trusted, brought)?
    } else {
        let procedures = library_hashes();
        let from = "one that comes with this program";
        let known = judging::Known { trusted, brought, lists: Vec::new(), procedures, from, ledger: None };
        judge(&bytes, &known).told()
    };
    if let Some(about) = &told.about {
        print(about);
    }
    print(&told.sentence);
    for reason in &told.reasons {
        let word = match reason.came {
            Came::Holds => "holds",
            Came::Fails => "FAILS",
            Came::Unknown => "unknown",
        };
        print(&format!("  {word}: {}", reason.text));
    }
    match told.reliable {
        Reliable::Yes => Ok(Ending::Done),
        // Without a certificate to trust there is nothing else to hold it to.
        Reliable::UnknownAuthority if !anyone_trusted => Ok(Ending::Done),
        Reliable::UnknownAuthority | Reliable::No => Ok(Ending::CheckFailed),
    }
}

fn certificate(file: &Path) -> Result<Certificate, Complaint> {
    Certificate::read(&input::bytes(file, "certificate")?).map_err(|_unreadable| {
        Complaint::new(format!(
            "{} is no certificate in PEM or DER; export the authority's certificate again.",
            file.display()
        ))
    })
}

fn revocations(file: &Path) -> Result<RevocationList, Complaint> {
    RevocationList::read(&input::bytes(file, "list of revoked certificates")?).map_err(|_unreadable| {
        Complaint::new(format!(
            "{} is no list of revoked certificates in PEM or DER; ask the facility for its list again.",
            file.display()
        ))
    })
}

/// Replays every entry of the ledger, and holds it to every filed record and to what was kept elsewhere.
pub(super) fn ledger(folder: &Folder, kept: &[PathBuf]) -> Result<Ending, Complaint> {
    let reader = Reader::open(folder.root()).map_err(ledger_fault)?;
    let facility = reader.installation().map_err(ledger_fault)?.facility;
    let mut known = Vec::new();
    let mut outside = checking::stray(&reader, &folder.set_aside()).map_err(ledger_fault)?;
    for file in kept {
        let name = format!("the file {}", file.display());
        let records = Outside::read(&input::bytes(file, "file that was kept elsewhere")?, &name);
        let strange = || {
            Complaint::new(format!(
                "{} is of another facility; this ledger knows nothing of it, and was not checked.",
                file.display()
            ))
        };
        if records.iter().any(|one| facility.is_none_or(|facility| !one.is_of(facility))) {
            return Err(strange());
        }
        if records.is_empty() {
            let (of, heads) = ledger::backup_heads(file).map_err(|_other| {
                Complaint::new(format!(
                    "{} is no signed record, history or backup; give one that was kept elsewhere.",
                    file.display()
                ))
            })?;
            if of != facility {
                return Err(strange());
            }
            known.extend(heads.into_iter().map(|(stream, seen)| Known { stream, seen, from: name.clone() }));
        }
        outside.extend(records);
    }
    let checked = checking::check(&reader, &known, &outside).map_err(ledger_fault)?;
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
