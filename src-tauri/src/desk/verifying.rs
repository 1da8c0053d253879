//! Checking a record that somebody brought.

use std::collections::BTreeMap;

use competency::{sentence::second_signature, validity::long_date};
use contract::{Amended, CheckRecord, CheckedRecord, Fault, Next};
use evidence::{Attempt, Facts, Place, Record, Seen};
use ledger::Name;
use sealing::{Certificate, RevocationList, Signature};
use uuid::Uuid;

use super::{Books, Desk, civil_day, history::amendments};
use crate::{
    fault::ledger_fault,
    judging::{Known, LedgerWord, judge, library_hashes},
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
        let trusted = request.trust.iter().map(|bytes| {
            Certificate::read(bytes).map_err(|_unreadable| {
                Fault::new(
                    Next::MendInput,
                    "The second file is no certificate in PEM or DER; ask the facility for its certificate again.",
                )
            })
        });
        let lists = request.revoked.iter().map(|bytes| {
            RevocationList::read(bytes).map_err(|_unreadable| {
                Fault::new(
                    Next::MendInput,
                    "The third file is no list of revoked certificates in PEM or DER; ask the facility for its list again.",
                )
            })
        });
        let (trusted, lists) = (trusted.collect::<Result<_, _>>()?, lists.collect::<Result<_, _>>()?);
        self.books().check_record(&request.pdf, trusted, lists)
    }

    /// The certificates of this facility's authority, those before a roll-over included.
    pub(super) fn authorities(&self, facts: &Facts) -> Vec<Certificate> {
        self.books().authorities(facts)
    }
}

impl Books<'_> {
    /// Checks a signed record by what these books know, and by certificates and lists that were brought with it.
    pub(crate) fn check_record(
        self,
        pdf: &[u8],
        mut trusted: Vec<Certificate>,
        brought: Vec<RevocationList>,
    ) -> Result<CheckedRecord, Fault> {
        let facts = self.reader.facts(None).map_err(ledger_fault)?;
        trusted.extend(self.authorities(&facts));
        let lists = self.lists(&facts);
        let mut procedures = library_hashes();
        let published = facts.procedures.values().flatten().map(|version| version.published.hash);
        procedures.extend(published);
        let heads = self.reader.heads().map_err(ledger_fault)?;
        let own = self.reader.installation().map_err(ledger_fault)?.stream;
        let names = self.names()?;
        let here = Here { facts: &facts, names: &names, heads: &heads, own };
        let ask = |record: &Record, signature: &Signature, pdf: &[u8]| here.word(record, signature, pdf);
        let from = "one that is known here";
        let known = Known { trusted, brought, lists, procedures, from, ledger: Some(&ask) };
        Ok(judge(pdf, &known).told())
    }

    fn authorities(self, facts: &Facts) -> Vec<Certificate> {
        before(facts).chain(self.authority_certificate().ok()).collect()
    }

    fn lists(self, facts: &Facts) -> Vec<RevocationList> {
        let told =
            facts.revoked.iter().filter_map(|revoked| RevocationList::read(revoked.list.as_bytes()).ok());
        told.chain(self.revocations().ok()).collect()
    }
}

/// The authorities that were replaced.
fn before(facts: &Facts) -> impl Iterator<Item = Certificate> {
    facts.rolled_over.iter().filter_map(|rolled| Certificate::read(rolled.before.as_bytes()).ok())
}

/// What the ledger here has to say of records of this facility.
struct Here<'a> {
    facts: &'a Facts,
    names: &'a BTreeMap<String, Name>,
    heads: &'a BTreeMap<Uuid, Seen>,
    /// The stream that this device alone writes.
    own: Uuid,
}

impl Here<'_> {
    /// Its word on a record; none where it is another facility's.
    fn word(&self, record: &Record, signature: &Signature, pdf: &[u8]) -> LedgerWord {
        let mut word = LedgerWord::default();
        let facility = self.facts.facility.as_ref().map(|(id, _)| id.to_string());
        if facility.as_ref() != Some(&record.facility.id) {
            return word;
        }
        let attempts =
            self.facts.people.get(&record.person.id).into_iter().flat_map(|person| &person.attempts);
        match attempts.into_iter().find(|one| one.sealed.demonstration == record.demonstration) {
            Some(attempt) => self.of_attempt(attempt, pdf, &mut word),
            None => self.of_stranger(record, signature, &mut word),
        }
        word
    }

    /// The record of a demonstration that the ledger has.
    fn of_attempt(&self, attempt: &Attempt, pdf: &[u8], word: &mut LedgerWord) {
        // A counter-signed file goes on from the one that was sealed, so its own digest is another.
        let second = self.facts.countersigned.get(&attempt.sealed.demonstration);
        let filed = [Some(attempt.sealed.pdf), second.map(|second| second.what.pdf)];
        if filed.contains(&Some(evidence::digest(pdf))) {
            word.confirms.push("the ledger here names this very file".to_owned());
            if let Some(later) = second.filter(|second| second.what.pdf != evidence::digest(pdf)) {
                let said = second_signature(later.what.declined, later.known_on);
                word.put_right.push(format!("the file with the second signature is another one: {said}."));
            }
        } else {
            word.doubts.push("the ledger here names another file for this demonstration".to_owned());
        }
        let voids: Vec<String> = self
            .facts
            .voided
            .get(&attempt.entry)
            .into_iter()
            .flatten()
            .map(|one| one.entry.to_string())
            .collect();
        for amendment in amendments(self.facts, self.names, attempt).iter().filter(|one| one.counts) {
            let told = amendment.told(long_date);
            match amendment.what {
                Amended::Voided if voids.contains(&amendment.entry) => word.refuses.push(told),
                // Of a correction, which then counts no more and is not told.
                Amended::Voided => {}
                Amended::NotAccepted => word.refuses.push(told),
                Amended::Date { .. } | Amended::Note(_) => word.put_right.push(told),
            }
        }
    }

    /// A record that claims to be of here, and that the ledger does not have: whoever holds a key can claim any
    /// moment, but not a place in a chain that others go on writing.
    fn of_stranger(&self, record: &Record, signature: &Signature, word: &mut LedgerWord) {
        let Place { stream, seq, .. } = record.place;
        let signer = evidence::digest(signature.signer.der());
        if let Some(revoked) = self.facts.revoked_before(signer, record.place) {
            word.refuses.push(format!(
                "the ledger here does not have it, and its signer’s right to sign was taken away on {}",
                long_date(civil_day(self.facts, revoked.at))
            ));
        }
        match self.heads.get(&stream) {
            Some(head) if seq <= head.seq => word.refuses.push(format!(
                "the ledger here has another entry at its place ({seq} of stream {stream}), so it was not sealed here"
            )),
            _ if stream == self.own => word.refuses.push(format!(
                "it says that it is entry {seq} of this device, and the ledger here ends before that: either the \
                 ledger lost its last entries, or the record was made on a copy of the device; run the ledger check"
            )),
            _ => word.doubts.push(
                "the ledger here does not have it: it says that it was sealed on another device".to_owned(),
            ),
        }
        if before(self.facts).any(|certificate| certificate == signature.authority) {
            word.doubts.push(
                "its authority was replaced by another since, and the ledger here does not have it"
                    .to_owned(),
            );
        }
    }
}
