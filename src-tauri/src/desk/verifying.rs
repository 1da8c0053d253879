//! Checking a record that somebody brought.

use contract::{Came, CheckReason, CheckRecord, CheckedRecord, Fault, Next};
use evidence::{Facts, Record};
use sealing::{Certificate, RevocationList};

use super::Desk;
use crate::{
    fault::ledger_fault,
    judging::{Known, judge, library_hashes},
};

impl Desk {
    /// Checks a signed record, against what this facility knows where it is its own.
    pub(crate) fn check_record(&self, request: &CheckRecord) -> Result<CheckedRecord, Fault> {
        if !request.pdf.starts_with(b"%PDF-") {
            return Err(Fault::new(
                Next::MendInput,
                "That file is no PDF; choose a signed record, as the program filed it.",
            ));
        }
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let mut trusted = self.authorities(&facts);
        if let Some(bytes) = &request.trust {
            trusted.push(Certificate::read(bytes).map_err(|_unreadable| {
                Fault::new(
                    Next::MendInput,
                    "The second file is no certificate in PEM or DER; ask the facility for its certificate again.",
                )
            })?);
        }
        let mut procedures = library_hashes();
        let published = facts.procedures.values().flatten().map(|version| version.published.hash);
        procedures.extend(published);
        let known = Known { trusted, lists: self.lists(&facts), procedures, from: "one that is known here" };
        let judged = judge(&request.pdf, &known);
        let mut told = judged.told();
        if let Some(record) = &judged.record {
            told.reasons.extend(since(&facts, record, &request.pdf));
        }
        Ok(told)
    }

    /// The certificates of this facility's authority, those before a roll-over included.
    pub(super) fn authorities(&self, facts: &Facts) -> Vec<Certificate> {
        let before =
            facts.rolled_over.iter().filter_map(|rolled| Certificate::read(rolled.before.as_bytes()).ok());
        before.chain(self.authority_certificate().ok()).collect()
    }

    fn lists(&self, facts: &Facts) -> Vec<RevocationList> {
        let told =
            facts.revoked.iter().filter_map(|revoked| RevocationList::read(revoked.list.as_bytes()).ok());
        told.chain(self.revocations().ok()).collect()
    }
}

/// What the ledger here says of the record: nothing where it is another facility's.
fn since(facts: &Facts, record: &Record, pdf: &[u8]) -> Vec<CheckReason> {
    let Some(person) = facts.people.get(&record.person.id) else { return Vec::new() };
    let sealed = person.attempts.iter().find(|attempt| attempt.sealed.demonstration == record.demonstration);
    let Some(attempt) = sealed else { return Vec::new() };
    let mut told = Vec::new();
    // A counter-signed file goes on from the one that was sealed, so its own digest is another.
    let filed = attempt.sealed.pdf == evidence::digest(pdf);
    if filed {
        let text = "the ledger here names this very file".to_owned();
        told.push(CheckReason { came: Came::Holds, text });
    }
    for voided in facts.voided.get(&attempt.entry).into_iter().flatten() {
        let text = format!(
            "the ledger here says that it does not count any more, since {}: {}",
            voided.known_on, voided.reason
        );
        told.push(CheckReason { came: Came::Fails, text });
    }
    for corrected in facts.corrections(attempt.entry) {
        let text = format!(
            "the ledger here says that something in it was put right on {}: {}",
            corrected.known_on, corrected.reason
        );
        told.push(CheckReason { came: Came::Unknown, text });
    }
    if !facts.accepted(attempt) {
        let text =
            "the ledger here does not accept it: it was sealed after its signer's certificate was revoked";
        told.push(CheckReason { came: Came::Fails, text: text.to_owned() });
    }
    told
}
