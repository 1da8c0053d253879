//! Sealing: draw, sign in memory, file, and only then write the entry.

use chrono::{DateTime, FixedOffset, TimeDelta};
use competency::{RULES_VERSION, journal::decided, sentence, validity::granted_until};
use contract::{Fault, Next, SealDemonstration, Sealed};
use evidence::{
    ActingAs, Author, DemonstrationSealed, Digest, Named, Place, RECORD_FORMAT, Record, RevalidationAsked,
    digest,
};
use ledger::{Deed, LedgerError, Moment, NewRecord};
use sealing::{Facts as SignatureFacts, Signer, sign};

use super::{
    Desk, Keys, PROGRAM, absent, civil_date,
    demonstration::{Scored, Underway, scored},
    facility::count,
    names::party,
    typed::printable,
};
use crate::{
    fault::{file_fault, ledger_fault, paper_fault, sealing_fault},
    folder::write_whole,
};

/// How often a record is drawn anew when another entry took its place in the chain meanwhile.
const TRIES: u32 = 3;

impl Desk {
    /// Signs the record of a demonstration that has ended, files it and seals it.
    pub(crate) fn seal_demonstration(
        &self,
        request: &SealDemonstration,
        now: &Moment,
    ) -> Result<Sealed, Fault> {
        let underway = self.ended(&request.demonstration)?;
        if underway.begun.sealed {
            return Err(ledger_fault(LedgerError::AlreadySealed));
        }
        if underway.begun.begin.second_of.is_some() {
            return Err(Fault::new(
                Next::ChooseAgain,
                "A second log is kept to be compared and grants nothing; seal the demonstration it is of.",
            ));
        }
        if underway.folded.changes.iter().any(|change| change.why.is_empty()) {
            return Err(Fault::new(
                Next::MendInput,
                "Something was changed after every step had its answer; go back and say why, since the record tells it.",
            ));
        }
        printable(&request.remark, "remark")?;
        self.check_clock(now)?;
        let signer = self.signer(underway.observer(), &request.pin, now)?;
        let mut tries = 0;
        loop {
            tries += 1;
            let place = self.reader().next_place().map_err(ledger_fault)?;
            let record = self.record(&underway, &request.remark, place)?;
            if !record.may_be_signed_at(now.wall) {
                return Err(Fault::new(
                    Next::TryAgain,
                    "The clock shows a time before the demonstration ended; set it right, then try again; nothing was sealed.",
                ));
            }
            match self.file(&record, &signer, now) {
                Ok(sealed) => return Ok(sealed),
                Err(Unfiled::PlaceTaken) if tries < TRIES => {}
                Err(Unfiled::PlaceTaken) => return Err(ledger_fault(LedgerError::PlaceTaken)),
                Err(Unfiled::Fault(fault)) => return Err(fault),
            }
        }
    }

    /// What the record says.
    fn record(&self, underway: &Underway, remark: &str, place: Place) -> Result<Record, Fault> {
        let begin = &underway.begun.begin;
        let moment = &underway.begun.moment;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let (id, facility) = facts.facility.as_ref().ok_or_else(|| ledger_fault(LedgerError::NoFacility))?;
        let on = begin.paper_form.unwrap_or_else(|| civil_date(&facts, moment));
        let person = self.person(&begin.person, moment)?;
        let Scored { published, report } =
            scored(&facts, underway, &|| false).ok_or_else(|| absent("score"))?;
        let outcome = decided(report.outcome, underway.folded.stricter.is_some());
        let procedure = &published.procedure;
        Ok(Record {
            format: RECORD_FORMAT,
            facility: Named { id: id.to_string(), name: facility.name.clone() },
            unit: Named { id: person.unit.clone(), name: person.unit_name.clone() },
            demonstration: begin.demonstration.clone(),
            first_attempt: begin.first_attempt.clone(),
            person: party(person),
            observer: party(self.person(underway.observer(), moment)?),
            observers_before: underway
                .observers_before()
                .map(|before| self.person(before, moment).map(party))
                .collect::<Result<_, _>>()?,
            assistant: begin
                .assistant
                .as_deref()
                .map(|assistant| self.person(assistant, moment).map(party))
                .transpose()?,
            purpose: begin.purpose,
            mode: begin.mode,
            begun: moment.wall,
            ended: ended(underway),
            zone: facility.zone.clone(),
            on,
            procedure: procedure.clone(),
            procedure_hash: published.hash,
            trace: underway.lines.clone(),
            log: underway.folded.log.clone(),
            rules: RULES_VERSION,
            valid_until: granted_until(begin.purpose, begin.mode, procedure, outcome, on),
            report,
            remark: remark.trim().to_owned(),
            cautions: sentence::CAUTIONS.iter().map(|caution| (*caution).to_owned()).collect(),
            place,
            program: PROGRAM.to_owned(),
        })
    }

    fn file(&self, record: &Record, signer: &Signer, now: &Moment) -> Result<Sealed, Unfiled> {
        let json = record.to_bytes().map_err(|error| {
            Fault::new(
                Next::AskForHelp,
                format!("The record could not be written down: {error}; the demonstration is kept."),
            )
        })?;
        let drawn = paper::record(record, now.wall).map_err(paper_fault)?;
        let facts = SignatureFacts {
            when: now.wall,
            name: &record.observer.name,
            reason: sentence::SIGNED_AS,
            place: &record.facility.name,
        };
        let signed = sign(drawn, signer, &facts).map_err(sealing_fault)?;
        let pdf = digest(&signed);
        // No name of a person stands in a file name.
        let file = format!("{}-{}-{}.pdf", record.on, record.procedure.id, short(&pdf));
        let path = self.reader().records_folder().join(&file);
        write_whole(&path, &signed).map_err(|error| file_fault("file the record", &path, &error))?;
        let new = NewRecord { file, pdf, json };
        let author = Author {
            person: Some(record.observer.id.clone()),
            role: ActingAs::Observer,
            certificate: Some(digest(signer.certificate().der())),
        };
        let sealed = sealed(record, pdf, digest(&new.json));
        // What was seen may end earlier validations; it is written with the seal or not at all.
        let asked = RevalidationAsked::of(&sealed, &record.report);
        let follows: Vec<Deed> = asked.map(|asked| Deed::new(author.clone(), asked)).into_iter().collect();
        match self.stamped(now, Keys { observer: Some(signer), ..Keys::default() }, |ledger, stamp| {
            ledger.seal(&record.place, author, &sealed, &new, &follows, stamp)
        }) {
            Ok(_written) => Ok(Sealed {
                record: record.demonstration.clone(),
                path: path.display().to_string(),
                digest: pdf.to_string(),
                person: record.person.id.clone(),
                valid_until: record.valid_until,
            }),
            Err(error) => {
                let taken = matches!(error, LedgerError::PlaceTaken);
                if taken || matches!(error, LedgerError::LoggedSince) {
                    // No entry refers to this file, and the next one replaces it.
                    std::fs::remove_file(&path).map_err(|error| file_fault("set aside", &path, &error))?;
                }
                Err(if taken { Unfiled::PlaceTaken } else { Unfiled::Fault(ledger_fault(error)) })
            }
        }
    }

    /// Where the signed PDF of a record is.
    pub(crate) fn show_record(&self, request: &contract::ShowRecord) -> Result<contract::Shown, Fault> {
        let filed =
            self.reader().record(&request.record).map_err(ledger_fault)?.ok_or_else(|| absent("record"))?;
        // With the second signature, where there is one: it holds everything that the first one does.
        let second = self.reader().countersignature(&request.record).map_err(ledger_fault)?;
        let file = second.map_or(filed.file, |second| second.file);
        let path = self.reader().records_folder().join(file);
        Ok(contract::Shown { path: path.display().to_string(), opened: false })
    }
}

/// The wall clock at the end of a demonstration, by how long it lasted.
fn ended(underway: &Underway) -> DateTime<FixedOffset> {
    let lasted = TimeDelta::try_milliseconds(underway.folded.log.ended.at_ms.unwrap_or(0));
    let begun = underway.begun.moment.wall;
    lasted.and_then(|lasted| begun.checked_add_signed(lasted)).unwrap_or(begun)
}

/// Why a record was not filed.
enum Unfiled {
    /// Another entry was written since the record was drawn.
    PlaceTaken,
    /// Anything else.
    Fault(Fault),
}

impl From<Fault> for Unfiled {
    fn from(fault: Fault) -> Self {
        Unfiled::Fault(fault)
    }
}

/// Enough of a digest to tell two files of one day apart.
fn short(digest: &Digest) -> String {
    digest.to_string().chars().take(12).collect()
}

fn sealed(record: &Record, pdf: Digest, json: Digest) -> DemonstrationSealed {
    use competency::report::Severity;

    let of = |severity| {
        count(record.report.findings.iter().filter(|finding| finding.severity == severity).count())
    };
    DemonstrationSealed {
        demonstration: record.demonstration.clone(),
        first_attempt: record.first_attempt.clone(),
        person: record.person.id.clone(),
        unit: record.unit.id.clone(),
        observer: record.observer.id.clone(),
        assistant: record.assistant.as_ref().map(|assistant| assistant.id.clone()),
        procedure: record.procedure.id.clone(),
        version: record.procedure.version.clone(),
        procedure_hash: record.procedure_hash,
        purpose: record.purpose,
        mode: record.mode,
        on: record.on,
        begun: record.begun,
        ended: record.ended,
        how: record.log.ended.how,
        outcome: record.outcome(),
        valid_until: record.valid_until,
        score_permille: record.report.score_permille,
        steps_well: record.report.steps_well,
        steps_counted: record.report.steps_counted,
        critical_findings: of(Severity::Critical),
        other_findings: of(Severity::Other),
        pdf,
        record: json,
    }
}
