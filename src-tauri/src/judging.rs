//! What is to be thought of a signed record, for the window and the command line alike: the signature, then
//! that its score is what its rules make of its log, then that the page says what the attachment says. It
//! needs no ledger; what a ledger knows besides comes in as arguments.

use competency::model::Model;
use contract::{Came, CheckReason, CheckedRecord, Reliable};
use evidence::{Digest, Record};
use paper::SamePage;
use sealing::{Certificate, RevocationList, Standing, Verdict};

/// What is known besides the file.
#[derive(Debug, Default)]
pub(crate) struct Known {
    /// The authorities whose records are believed.
    pub(crate) trusted: Vec<Certificate>,
    /// Revocation lists from elsewhere.
    pub(crate) lists: Vec<RevocationList>,
    /// The procedures that are known, by their hashes.
    pub(crate) procedures: Vec<Digest>,
    /// Where the procedures are known from, as in `one of this program's library`.
    pub(crate) from: &'static str,
}

/// What is to be thought of a record.
#[derive(Debug)]
pub(crate) struct Judged {
    verdict: Verdict,
    /// What in the record does not follow from the rest of it.
    wrong: Vec<String>,
    /// The record, where its signature holds and it can be read.
    pub(crate) record: Option<Record>,
    procedure_known: bool,
    from: &'static str,
    anyone_trusted: bool,
    /// The records that are attached, where it is a history.
    parts: Vec<(String, Judged)>,
}

/// A history carries signed records, and nothing else.
fn is_history(verdict: &Verdict) -> bool {
    !verdict.files.is_empty() && verdict.files.iter().all(|(_, bytes)| bytes.starts_with(b"%PDF-"))
}

/// Checks a record, or a history with the records that are attached to it.
pub(crate) fn judge(pdf: &[u8], known: &Known) -> Judged {
    let verdict = sealing::verify_with(pdf, &known.trusted, &known.lists);
    let (mut wrong, mut found, mut parts) = (Vec::new(), None, Vec::new());
    if verdict.standing() != Standing::Broken {
        match verdict.attachment.as_deref().map(Record::read) {
            None if is_history(&verdict) => {
                parts = verdict.files.iter().map(|(name, pdf)| (name.clone(), judge(pdf, known))).collect();
            }
            None => wrong.push("it carries no record.json".to_owned()),
            Some(Err(error)) => wrong.push(format!("its record.json cannot be read ({error})")),
            Some(Ok(record)) => {
                wrong.extend(disagreements(pdf, &record));
                let signer = verdict.signature.as_ref().map(|signature| signature.signer.person());
                if signer.as_ref() != Some(&record.observer.id) {
                    wrong.push("it was not signed by the observer that it names".to_owned());
                }
                found = Some(record);
            }
        }
    }
    let procedure_known =
        found.as_ref().is_some_and(|record| known.procedures.contains(&record.procedure_hash));
    Judged {
        verdict,
        wrong,
        record: found,
        procedure_known,
        from: known.from,
        anyone_trusted: !known.trusted.is_empty(),
        parts,
    }
}

impl Judged {
    /// How the record stands.
    pub(crate) fn reliable(&self) -> Reliable {
        if self.parts.iter().any(|(_, part)| part.reliable() == Reliable::No) {
            return Reliable::No;
        }
        match self.verdict.standing() {
            Standing::Sound if self.wrong.is_empty() => Reliable::Yes,
            Standing::UnknownAuthority if self.wrong.is_empty() => Reliable::UnknownAuthority,
            Standing::Sound | Standing::UnknownAuthority | Standing::Broken => Reliable::No,
        }
    }

    /// The verdict and its reasons.
    pub(crate) fn told(&self) -> CheckedRecord {
        let bad = self.parts.iter().filter(|(_, part)| part.reliable() == Reliable::No).count();
        let sentence = if bad > 0 {
            format!("The history is as it was sealed, but {bad} of the records in it cannot be relied on.")
        } else if self.wrong.is_empty() && !self.parts.is_empty() {
            self.verdict.sentence().replacen("The record is", "The history is", 1)
        } else if self.wrong.is_empty() {
            self.verdict.sentence()
        } else {
            format!("The signature holds, but the record does not: {}.", self.wrong.join("; "))
        };
        let mut reasons: Vec<CheckReason> = self
            .verdict
            .reasons
            .iter()
            .map(|reason| CheckReason {
                came: match (reason.holds, self.verdict.standing()) {
                    (true, _) => Came::Holds,
                    // Without a certificate to trust this is a question that was not asked.
                    (false, Standing::UnknownAuthority) if !self.anyone_trusted => Came::Unknown,
                    (false, _) => Came::Fails,
                },
                text: reason.text.clone(),
            })
            .collect();
        reasons.extend(self.wrong.iter().map(|text| CheckReason { came: Came::Fails, text: text.clone() }));
        if let (Some(record), true) = (&self.record, self.wrong.is_empty()) {
            let agreed = [
                "the score was recomputed from what was logged, and it is the one in the record",
                "the procedure in it is the one that its hash names",
                "the page says what the attached data says",
            ];
            reasons.extend(
                agreed.iter().map(|text| CheckReason { came: Came::Holds, text: (*text).to_owned() }),
            );
            reasons.push(self.about_the_procedure(record));
        }
        for (name, part) in &self.parts {
            let came = if part.reliable() == Reliable::No { Came::Fails } else { Came::Holds };
            let said = part.told().sentence;
            reasons.push(CheckReason { came, text: format!("the attached {name}: {said}") });
        }
        CheckedRecord { reliable: self.reliable(), sentence, reasons }
    }

    fn about_the_procedure(&self, record: &Record) -> CheckReason {
        let named = format!("{} {}", record.procedure.title, record.procedure.version);
        if self.procedure_known {
            let text = format!("its procedure, {named}, is {}", self.from);
            return CheckReason { came: Came::Holds, text };
        }
        let text = format!(
            "its procedure, {named}, is not {}: ask the facility for the one with the hash {}",
            self.from, record.procedure_hash
        );
        CheckReason { came: Came::Unknown, text }
    }
}

/// What in a record does not follow from the rest of it.
fn disagreements(pdf: &[u8], record: &Record) -> Vec<String> {
    let mut wrong = Vec::new();
    // Most scores are the same by later rules; only where one is not does it matter by which it was made.
    let scored = competency::score::score(&Model::new(record.procedure.clone()), &record.log);
    if scored != record.report && record.rules == competency::RULES_VERSION {
        wrong.push("its score is not what its rules make of its log".to_owned());
    } else if scored != record.report {
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

/// The hashes of the procedures that come with the program.
pub(crate) fn library_hashes() -> Vec<Digest> {
    competency::procedure::library()
        .iter()
        .filter_map(|(_file, text)| competency::procedure::read(text).ok())
        .filter_map(|procedure| evidence::procedure_hash(&procedure).ok())
        .collect()
}
