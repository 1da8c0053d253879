//! What is to be thought of a signed record, for the window and the command line alike: the signature, then
//! that its score is what its rules make of its log, then that the page says what the attachment says. It
//! needs no ledger; what a ledger knows besides comes in as arguments.

use competency::{model::Model, sentence, validity::long_date};
use contract::{Came, CheckReason, CheckedRecord, Reliable};
use evidence::{Digest, Record};
use paper::SamePage;
use sealing::{Certificate, RevocationList, Signature, Standing, Verdict};

use crate::desk::civil_in;

/// What is known besides the file.
#[derive(Default)]
pub(crate) struct Known<'a> {
    /// The authorities whose records are believed.
    pub(crate) trusted: Vec<Certificate>,
    /// Revocation lists that were brought with the file.
    pub(crate) brought: Vec<RevocationList>,
    /// Revocation lists that are known here.
    pub(crate) lists: Vec<RevocationList>,
    /// The procedures that are known, by their hashes.
    pub(crate) procedures: Vec<Digest>,
    /// Where the procedures are known from, as in `one of this program's library`.
    pub(crate) from: &'static str,
    /// What the ledger at hand says of a record, its signature and the bytes of its file.
    pub(crate) ledger: Option<&'a AskLedger<'a>>,
}

/// Asks a ledger for its word on a record.
pub(crate) type AskLedger<'a> = dyn Fn(&Record, &Signature, &[u8]) -> LedgerWord + 'a;

/// What a ledger says of a record, in plain statements.
#[derive(Debug, Default)]
pub(crate) struct LedgerWord {
    /// What it confirms.
    pub(crate) confirms: Vec<String>,
    /// Why it does not count.
    pub(crate) refuses: Vec<String>,
    /// Why it must be asked about elsewhere before it is relied on.
    pub(crate) doubts: Vec<String>,
    /// What was put right in it since.
    pub(crate) put_right: Vec<String>,
}

/// What is to be thought of a record.
#[derive(Debug)]
pub(crate) struct Judged {
    verdict: Verdict,
    /// What in the record does not follow from the rest of it.
    wrong: Vec<String>,
    /// What in it follows from the rest of it.
    agreed: Vec<String>,
    /// Why somebody must be asked before it is relied on.
    doubts: Vec<String>,
    /// What this program cannot tell, and nothing depends on.
    untold: Vec<String>,
    /// The record, where its signature holds and it can be read.
    record: Option<Record>,
    procedure_known: bool,
    from: &'static str,
    anyone_trusted: bool,
    ledger: LedgerWord,
    /// The records that are attached, where it is a history.
    parts: Vec<(String, Judged)>,
}

/// A history carries signed records, and nothing else.
fn is_history(verdict: &Verdict) -> bool {
    !verdict.files.is_empty() && verdict.files.iter().all(|(_, bytes)| bytes.starts_with(b"%PDF-"))
}

/// Checks a record, or a history with the records that are attached to it.
pub(crate) fn judge(pdf: &[u8], known: &Known<'_>) -> Judged {
    let lists = [known.brought.as_slice(), known.lists.as_slice()].concat();
    let verdict = sealing::verify_with(pdf, &known.trusted, &lists);
    let mut judged = Judged {
        wrong: Vec::new(),
        agreed: Vec::new(),
        doubts: Vec::new(),
        untold: Vec::new(),
        record: None,
        procedure_known: false,
        from: known.from,
        anyone_trusted: !known.trusted.is_empty(),
        ledger: LedgerWord::default(),
        parts: Vec::new(),
        verdict,
    };
    if judged.verdict.standing() == Standing::Broken {
        return judged;
    }
    judged.untold.extend(of_other_authorities(&judged.verdict, &known.brought));
    match judged.verdict.attachment.as_deref().map(Record::read) {
        None if is_history(&judged.verdict) => judged.read_history(known),
        None => judged.wrong.push("it carries no record.json".to_owned()),
        Some(Err(error)) => judged.wrong.push(format!("its record.json cannot be read ({error})")),
        Some(Ok(record)) => judged.read_record(pdf, record, known),
    }
    judged
}

/// Whoever brings a list believes that it was looked at.
fn of_other_authorities(verdict: &Verdict, brought: &[RevocationList]) -> Option<String> {
    let signatures = [verdict.signature.as_ref(), verdict.second.as_ref()];
    let asked = |list: &RevocationList| {
        signatures.iter().flatten().any(|signature| list.issued_by(&signature.authority))
    };
    (!brought.iter().all(asked)).then(|| {
        "a list of revoked certificates that was given with it is of another authority, and says nothing of this file"
            .to_owned()
    })
}

impl Judged {
    /// Only a ledger that has it can tell what was signed by whoever came into possession of a key.
    fn doubt_the_moment(&mut self) {
        if self.verdict.key_in_other_hands && self.ledger.confirms.is_empty() {
            self.doubts.push(
                "its signer’s key may have come into other hands, and whoever has it can claim any moment: the \
                 facility’s ledger must have it"
                    .to_owned(),
            );
        }
    }

    fn read_history(&mut self, known: &Known<'_>) {
        let files = &self.verdict.files;
        self.parts = files.iter().map(|(name, pdf)| (name.clone(), judge(pdf, known))).collect();
        // A device is named by the digest of its key, and nobody else is.
        let by_device = self
            .verdict
            .signature
            .as_ref()
            .is_some_and(|signature| signature.signer.person().parse::<Digest>().is_ok());
        self.doubt_the_moment();
        if !by_device {
            self.wrong.push("it was not sealed by a device, as histories are".to_owned());
        }
        self.untold.push(
            "its own pages are a summary that nothing here compares with the records: rely on those"
                .to_owned(),
        );
    }

    fn read_record(&mut self, pdf: &[u8], record: Record, known: &Known<'_>) {
        // There is one wherever the verdict is not broken.
        let Some(signature) = self.verdict.signature.clone() else { return };
        self.compare(pdf, &record, &signature);
        if let Some(ask) = known.ledger {
            self.ledger = ask(&record, &signature, pdf);
            self.doubts.append(&mut self.ledger.doubts);
        }
        self.doubt_the_moment();
        self.procedure_known = known.procedures.contains(&record.procedure_hash);
        self.record = Some(record);
    }

    /// Holds the parts of a record to each other.
    fn compare(&mut self, pdf: &[u8], record: &Record, signature: &Signature) {
        if signature.signer.person() != record.observer.id {
            self.wrong.push("it was not signed by the observer that it names".to_owned());
        }
        let contradictions = record.contradictions(civil_in(&record.zone, record.begun).date());
        if contradictions.is_empty() {
            self.agreed
                .push("its log, its dates and what it grants follow from what was acknowledged".to_owned());
        }
        self.wrong.extend(contradictions.into_iter().map(str::to_owned));
        if !record.may_be_signed_at(signature.when) {
            self.wrong.push("it was signed before the demonstration in it ended".to_owned());
        }
        if signature.name != record.observer.name || signature.place != record.facility.name {
            self.wrong.push("its signature names another observer or facility than its data".to_owned());
        }
        // Somebody may have been renamed since their certificate was issued.
        if signature.signer.name() != record.observer.name {
            self.doubts.push(format!(
                "the certificate is of {}, and the record names {} as the observer",
                signature.signer.name(),
                record.observer.name
            ));
        }
        // Most scores are the same by later rules; only where one is not does it matter by which it was made.
        let scored = competency::score::score(&Model::new(record.procedure.clone()), &record.log);
        if scored == record.report {
            self.agreed.push(
                "the score was recomputed from what was logged, and it is the one in the record".to_owned(),
            );
        } else if record.rules == competency::RULES_VERSION {
            self.wrong.push("its score is not what its rules make of its log".to_owned());
        } else {
            self.doubts.push(format!(
                "its score cannot be recomputed: it was scored by rules {}, and this program knows rules {}",
                record.rules,
                competency::RULES_VERSION
            ));
        }
        if evidence::procedure_hash(&record.procedure).ok() == Some(record.procedure_hash) {
            self.agreed.push("the procedure in it is the one that its hash names".to_owned());
        } else {
            self.wrong.push("its procedure is not the one its hash names".to_owned());
        }
        match paper::same_page(pdf, record, signature.when) {
            Ok(SamePage::Same) if signature.reason == sentence::SIGNED_AS => {
                self.agreed.push("the page says what the attached data says".to_owned());
            }
            Ok(SamePage::Same) => self.wrong.push(format!(
                "it was signed for another reason than records are: “{}”",
                signature.reason
            )),
            Ok(SamePage::Different) => {
                self.wrong.push("its pages, or what lies beside them, are not what its record.json makes".to_owned());
            }
            Ok(SamePage::OtherLayout) => self.untold.push(
                "its page cannot be compared with its record.json: another version of the program drew it; rely on \
                 what the data says"
                    .to_owned(),
            ),
            Err(error) => {
                self.wrong.push(format!("its page cannot be compared with its record.json ({error})"));
            }
        }
    }

    /// How the record stands; a history stands as the worst of its records.
    pub(crate) fn reliable(&self) -> Reliable {
        let own = match self.verdict.standing() {
            Standing::Broken => Reliable::No,
            _ if !self.wrong.is_empty() || !self.ledger.refuses.is_empty() => Reliable::No,
            Standing::UnknownAuthority => Reliable::UnknownAuthority,
            Standing::Sound if !self.doubts.is_empty() => Reliable::UnknownAuthority,
            Standing::Sound => Reliable::Yes,
        };
        let parts = self.parts.iter().map(|(_, part)| part.reliable());
        parts.fold(own, |worst, part| match (worst, part) {
            (Reliable::No, _) | (_, Reliable::No) => Reliable::No,
            (Reliable::UnknownAuthority, _) | (_, Reliable::UnknownAuthority) => Reliable::UnknownAuthority,
            (Reliable::Yes, Reliable::Yes) => Reliable::Yes,
        })
    }

    /// The verdict and its reasons.
    pub(crate) fn told(&self) -> CheckedRecord {
        let of = |came: Came, texts: &[String]| -> Vec<CheckReason> {
            texts.iter().map(|text| CheckReason { came, text: text.clone() }).collect()
        };
        let mut reasons: Vec<CheckReason> = self.signature_reasons().collect();
        reasons.extend(of(Came::Fails, &self.wrong));
        reasons.extend(of(Came::Unknown, &self.untold));
        if let (Some(record), true) = (&self.record, self.wrong.is_empty()) {
            reasons.extend(of(Came::Holds, &self.agreed));
            reasons.push(self.about_the_procedure(record));
        }
        reasons.extend(of(Came::Holds, &self.ledger.confirms));
        reasons.extend(of(Came::Fails, &self.ledger.refuses));
        reasons.extend(of(Came::Unknown, &self.doubts));
        reasons.extend(of(Came::Holds, &self.ledger.put_right));
        for (name, part) in &self.parts {
            let came = match part.reliable() {
                Reliable::Yes => Came::Holds,
                Reliable::UnknownAuthority => Came::Unknown,
                Reliable::No => Came::Fails,
            };
            let told = part.told();
            let about = told.about.map(|about| format!(" ({about})")).unwrap_or_default();
            reasons
                .push(CheckReason { came, text: format!("the attached {name}{about}: {}", told.sentence) });
        }
        let about = self.record.as_ref().map(about);
        CheckedRecord { reliable: self.reliable(), about, sentence: self.sentence(), reasons }
    }

    fn sentence(&self) -> String {
        let of = |reliable| self.parts.iter().filter(|(_, part)| part.reliable() == reliable).count();
        let (bad, unknown) = (of(Reliable::No), of(Reliable::UnknownAuthority));
        if self.verdict.standing() == Standing::Broken {
            format!("{} Ask the facility for the file as it filed it.", self.verdict.sentence())
        } else if !self.wrong.is_empty() {
            format!("The signature holds, but the record does not: {}.", self.wrong.join("; "))
        } else if bad > 0 {
            format!("The history is as it was sealed, but {bad} of the records in it cannot be relied on.")
        } else if !self.ledger.refuses.is_empty() {
            format!(
                "Nothing in the record was altered, but it does not count: {}.",
                self.ledger.refuses.join("; ").trim_end_matches('.')
            )
        } else if !self.doubts.is_empty() {
            format!(
                "Nothing in it was altered, but ask the facility before you rely on it: {}.",
                self.doubts.join("; ")
            )
        } else if unknown > 0 && self.verdict.standing() == Standing::Sound {
            format!(
                "The history is as it was sealed, but {unknown} of the records in it are of an authority that you \
                 do not trust."
            )
        } else {
            let mut sentence = self.verdict.sentence();
            if !self.parts.is_empty() {
                sentence = sentence.replacen("The record is", "The history is", 1);
            }
            // What a history cannot tell is the same of each.
            for more in self.untold.iter().filter(|_| self.parts.is_empty()) {
                sentence = format!("{sentence} Note that {more}.");
            }
            if self.record.is_some() && !self.procedure_known {
                let more = "its procedure is not one that is known here, and its limits are its own";
                sentence = format!("{sentence} Note that {more}.");
            }
            for more in &self.ledger.put_right {
                sentence = format!("{sentence} Put right since: {more}");
            }
            sentence
        }
    }

    fn signature_reasons(&self) -> impl Iterator<Item = CheckReason> {
        self.verdict.reasons.iter().map(|reason| CheckReason {
            came: match (reason.holds, self.verdict.standing()) {
                (true, _) if reason.known => Came::Holds,
                (true, _) => Came::Unknown,
                // Without a certificate to trust this is a question that was not asked.
                (false, Standing::UnknownAuthority) if !self.anyone_trusted => Came::Unknown,
                (false, _) => Came::Fails,
            },
            text: reason.text.clone(),
        })
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

/// Whose record of what it is, in one line.
fn about(record: &Record) -> String {
    format!(
        "{}, {}, {}: {}; observed by {}",
        record.person.name,
        record.procedure.title,
        long_date(record.on),
        sentence::outcome(record.outcome()),
        record.observer.name
    )
}

/// The hashes of the procedures that come with the program.
pub(crate) fn library_hashes() -> Vec<Digest> {
    competency::procedure::library()
        .iter()
        .filter_map(|(_file, text)| competency::procedure::read(text).ok())
        .filter_map(|procedure| evidence::procedure_hash(&procedure).ok())
        .collect()
}
