//! The second signature: the person observed has seen the record and talked it over, or declines.
//!
//! They have no key of their own, so this device seals what they state on it: their name, what they say and the
//! moment. It is their statement, attested by the device; that is what the reason says.

use contract::{Countersign, Countersigned, Fault, Next};
use evidence::{ActingAs, Author, RecordCountersigned, digest};
use ledger::Moment;
use sealing::{Facts as SignatureFacts, countersign};

use super::{Desk, Keys, absent, names::shown_name};
use crate::{
    fault::{file_fault, ledger_fault, sealing_fault},
    folder::write_whole,
};

/// A page of a PDF reader's panel; longer comments belong into a conversation.
const LONGEST_COMMENT: usize = 1000;

impl Desk {
    /// Adds the second signature in a file of its own; the first file stays as it is.
    pub(crate) fn countersign(&self, request: &Countersign, now: &Moment) -> Result<Countersigned, Fault> {
        let comment = request.comment.trim();
        if comment.chars().count() > LONGEST_COMMENT {
            return Err(Fault::new(
                Next::MendInput,
                format!(
                    "The comment is longer than {LONGEST_COMMENT} characters; shorten it, then try again."
                ),
            ));
        }
        let reader = self.reader();
        let filed = reader.record(&request.record).map_err(ledger_fault)?.ok_or_else(|| absent("record"))?;
        if reader.countersignature(&request.record).map_err(ledger_fault)?.is_some() {
            return Err(Fault::new(
                Next::ChooseAgain,
                "The record carries the second signature already; open the history to see it.",
            ));
        }
        let facts = reader.facts(None).map_err(ledger_fault)?;
        let sealed = facts
            .people
            .values()
            .flat_map(|person| &person.attempts)
            .find(|attempt| attempt.entry == filed.entry)
            .map(|attempt| &attempt.sealed)
            .ok_or_else(|| absent("record"))?;
        let (_id, facility) = facts.facility.as_ref().ok_or_else(|| absent("facility"))?;
        let name = shown_name(reader.name(&sealed.person).map_err(ledger_fault)?.as_ref());
        let first = reader.records_folder().join(&filed.file);
        let pdf = std::fs::read(&first).map_err(|error| file_fault("read", &first, &error))?;
        let signer = self.device_signer()?;
        let signature = SignatureFacts {
            when: now.wall,
            name: &name,
            reason: &reason(request.declined, comment),
            place: &facility.name,
        };
        let signed = countersign(&pdf, &signer, &signature).map_err(sealing_fault)?;
        let of_file = digest(&signed);
        let file = filed.file.replace(".pdf", "-second.pdf");
        let path = reader.records_folder().join(&file);
        write_whole(&path, &signed).map_err(|error| file_fault("file the record", &path, &error))?;
        let body = RecordCountersigned {
            demonstration: request.record.clone(),
            person: sealed.person.clone(),
            declined: request.declined,
            pdf: of_file,
        };
        let author = Author {
            person: Some(sealed.person.clone()),
            role: ActingAs::Observed,
            certificate: Some(digest(signer.certificate().der())),
        };
        self.stamped(now, Keys { observer: Some(&signer), ..Keys::default() }, |ledger, stamp| {
            ledger.countersign(author, &body, &file, stamp)
        })
        .map_err(ledger_fault)?;
        Ok(Countersigned {
            path: path.display().to_string(),
            digest: of_file.to_string(),
            declined: request.declined,
        })
    }
}

/// What the signature means, as PDF readers show it.
fn reason(declined: bool, comment: &str) -> String {
    let said = if declined { "Declined to sign as seen and discussed" } else { "Seen and discussed" };
    let comment = if comment.is_empty() { String::new() } else { format!(": {comment}") };
    format!("{said}; stated on this device by the person observed{comment}")
}
