//! Voiding and correcting: a new entry with its reason and its author; nothing vanishes.

use competency::validity::{granted_until, long_date};
use contract::{Change, CorrectRecord, Fault, History, Next, OpenHistory};
use evidence::{ActingAs, Attempt, Author, Body, Correction, Facts, RecordCorrected, RecordVoided, digest};
use ledger::{Deed, Moment};
use uuid::Uuid;

use super::{Desk, Keys, absent, civil_date, typed::filled};
use crate::fault::ledger_fault;

impl Desk {
    /// Voids or corrects a record, or an earlier correction of it, and shows the history that comes of it.
    pub(crate) fn correct_record(&self, request: &CorrectRecord, now: &Moment) -> Result<History, Fault> {
        let reason = filled(&request.reason, "reason")?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let entry: Uuid = request.entry.parse().map_err(|_no_id| absent("record"))?;
        let (attempt, of_correction) = meant(&facts, entry).ok_or_else(|| absent("record"))?;
        let person = attempt.sealed.person.clone();
        let open = OpenHistory { person: person.clone(), as_of: None, known_at: None };
        if !facts.counts(entry) {
            return Err(Fault::new(
                Next::ChooseAgain,
                "It does not count any more already, and that is for good; what was voided by mistake is demonstrated again.",
            ));
        }
        if attempt.sealed.person == request.author {
            return Err(Fault::new(
                Next::MendInput,
                "Nobody puts their own record right; choose another observer.",
            ));
        }
        let body = body(&facts, attempt, entry, of_correction, request, reason, now)?;
        let Some(body) = body else { return self.open_history(&open, now) };
        let signer = self.signer(&request.author, &request.pin, now)?;
        let author = Author {
            person: Some(request.author.clone()),
            role: ActingAs::Observer,
            certificate: Some(digest(signer.certificate().der())),
        };
        self.write_with(
            Keys { observer: Some(&signer), ..Keys::default() },
            &[Deed::new(author, body)],
            now,
        )?;
        self.open_history(&open, now)
    }
}

/// The attempt that an entry seals, or that it corrects; and whether it is a correction.
fn meant(facts: &Facts, entry: Uuid) -> Option<(&Attempt, bool)> {
    let mut attempts = facts.people.values().flat_map(|person| &person.attempts);
    attempts.find_map(|attempt| {
        if attempt.entry == entry {
            return Some((attempt, false));
        }
        let mut corrections = facts.corrected.get(&attempt.entry)?.iter();
        corrections.any(|corrected| corrected.entry == entry).then_some((attempt, true))
    })
}

/// What is to be written; `None` where the very same stands there already, as after a repeated request.
fn body(
    facts: &Facts,
    attempt: &Attempt,
    entry: Uuid,
    of_correction: bool,
    request: &CorrectRecord,
    reason: &str,
    now: &Moment,
) -> Result<Option<Body>, Fault> {
    let (person, reason) = (attempt.sealed.person.clone(), reason.to_owned());
    let correction = match &request.change {
        Change::Void => return Ok(Some(RecordVoided { entry, person, reason }.into())),
        Change::Date(_) | Change::Note(_) if of_correction => {
            return Err(Fault::new(
                Next::MendInput,
                "A correction is not corrected; void it, and correct the record once more.",
            ));
        }
        Change::Date(on) => {
            if *on > civil_date(facts, now) {
                return Err(Fault::new(
                    Next::MendInput,
                    "The date lies ahead; enter the day on which it was carried out.",
                ));
            }
            let sealed = &attempt.sealed;
            if facts.entitled_by(&sealed.observer, &sealed.procedure, *on).is_none() {
                return Err(Fault::new(
                    Next::MendInput,
                    format!(
                        "Whoever observed it was not entitled to on {}; void the record instead, or enter the evidence \
                         for that day first.",
                        long_date(*on)
                    ),
                ));
            }
            let versions = facts.procedures.get(&sealed.procedure).map(Vec::as_slice).unwrap_or_default();
            let version = versions
                .iter()
                .find(|version| version.published.hash == sealed.procedure_hash)
                .ok_or_else(|| absent("version of the procedure"))?;
            let procedure = &version.published.procedure;
            let valid_until = granted_until(sealed.purpose, sealed.mode, procedure, sealed.outcome, *on);
            Correction::Date { on: *on, valid_until }
        }
        Change::Note(text) => Correction::Note { text: filled(text, "note")?.to_owned() },
    };
    let stands = facts
        .corrections(attempt.entry)
        .any(|known| known.correction == correction && known.reason == reason);
    if let (Correction::Date { on, .. }, false) = (&correction, stands)
        && *on == facts.dates(attempt).on
    {
        return Err(Fault::new(
            Next::MendInput,
            "It counts by that date already; enter another one, or add a note.",
        ));
    }
    Ok((!stands).then(|| RecordCorrected { entry, person, correction, reason }.into()))
}
