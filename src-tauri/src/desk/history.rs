//! One person's history: every record, observation by observation, who observed, and what was put right.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use competency::validity::long_date;
use contract::{
    Amended, Amendment, Fault, History, HistoryForm, HistoryLine, Next, OpenHistory, RosterColumn,
    SaveHistory, Shown, beginning,
};
use evidence::{Attempt, Correction, Facts, Record};
use ledger::{Moment, Name};
use paper::HistoryOrigin;
use sealing::{Facts as SignatureFacts, Signer, sign};

use super::{
    Books, Desk, PROGRAM, absent, civil_date, civil_day,
    facility::count,
    names::{person_view, shown_name},
    procedures::title,
};
use crate::{
    fault::{file_fault, ledger_fault, paper_fault, sealing_fault},
    saved,
};

impl Books<'_> {
    /// One person's history, by id or staff number.
    pub(crate) fn history(self, request: &OpenHistory, now: &Moment) -> Result<History, Fault> {
        let facts = self.reader.facts(request.known_at).map_err(ledger_fault)?;
        let (_id, facility) = facts.facility.as_ref().ok_or_else(|| match request.known_at {
            Some(date) => nothing_known(date),
            None => ledger_fault(ledger::LedgerError::NoFacility),
        })?;
        let today = civil_date(&facts, now);
        let as_of = request.as_of.unwrap_or(today);
        let names = self.names()?;
        let id = names
            .values()
            .find(|name| name.person == request.person || name.number.as_deref() == Some(&request.person))
            .map(|name| name.person.clone())
            .ok_or_else(|| {
                Fault::new(Next::ChooseAgain, "There is no person of that staff number or id; check it, or search for them by name in the window.")
            })?;
        let mut columns: Vec<String> = facts.required_procedures(as_of).into_iter().cloned().collect();
        columns.retain(|procedure| facts.requirement(&id, procedure, as_of).is_some());
        let person = facts.people.get(&id);
        let person =
            person.ok_or_else(|| request.known_at.map_or_else(|| absent("person"), nothing_known))?;
        columns.extend(person.attempts.iter().map(|attempt| attempt.sealed.procedure.clone()));
        columns.extend(person.outside.iter().map(|one| one.what.procedure.clone()));
        columns.sort();
        columns.dedup();
        let mut demonstrations = Vec::new();
        let mut attempts: Vec<_> =
            person.attempts.iter().filter(|attempt| facts.dates(attempt).on <= as_of).collect();
        attempts.sort_by_key(|attempt| {
            std::cmp::Reverse((facts.dates(attempt).on, attempt.sealed.begun, attempt.entry))
        });
        for attempt in attempts {
            demonstrations.push(self.line(&facts, &names, attempt, as_of)?);
        }
        let later = || person.attempts.iter().map(|attempt| facts.dates(attempt).on).filter(|on| *on > as_of);
        let ahead = later().max().map(|latest| (count(later().count()), latest));
        Ok(History {
            ahead,
            person: person_view(&facts, &id, names.get(&id), as_of),
            as_of,
            // Nothing that is still to come is known.
            known_at: request.known_at.map_or(today, |known| known.min(today)),
            facility: facility.name.clone(),
            standings: columns
                .into_iter()
                .map(|procedure| {
                    let standing = facts.standing(&id, &procedure, as_of);
                    (RosterColumn { title: title(&facts, &procedure), id: procedure }, standing)
                })
                .collect(),
            demonstrations,
        })
    }

    fn line(
        self,
        facts: &Facts,
        names: &BTreeMap<String, Name>,
        attempt: &Attempt,
        as_of: NaiveDate,
    ) -> Result<HistoryLine, Fault> {
        let sealed = &attempt.sealed;
        let filed = self.reader.record(&sealed.demonstration).map_err(ledger_fault)?;
        let record = filed.as_ref().map(|filed| Record::read(&filed.json)).transpose().map_err(|_damaged| {
            Fault::new(Next::AskForHelp, "A filed record cannot be read; run the ledger check and show what it says to whoever looks after this device.")
        })?;
        let observations = record.iter().flat_map(|record| {
            let seen = record.log.observations.iter();
            seen.map(|observation| (record.time_of(observation), record.told(observation)))
        });
        let observations = observations.collect();
        let found = record.as_ref().map(|record| record.report.findings.as_slice()).unwrap_or_default();
        let findings = found.iter().map(|finding| (finding.severity, finding.text.clone())).collect();
        let dates = facts.dates(attempt);
        let observer = person_view(facts, &sealed.observer, names.get(&sealed.observer), sealed.on);
        Ok(HistoryLine {
            record: sealed.demonstration.clone(),
            entry: attempt.entry.to_string(),
            on: dates.on,
            sealed_on: sealed.on,
            procedure: title(facts, &sealed.procedure),
            version: sealed.version.clone(),
            procedure_hash: sealed.procedure_hash.to_string(),
            purpose: sealed.purpose,
            mode: sealed.mode,
            observer: observer.name,
            observer_id: sealed.observer.clone(),
            observer_then: self.observer_then(attempt, dates.on)?,
            observations,
            counts: facts.counts(attempt.entry) && facts.accepted(attempt),
            amendments: amendments(facts, names, attempt),
            disputed: facts.disputed(attempt.entry),
            second: facts
                .countersigned
                .get(&sealed.demonstration)
                .map(|second| (second.what.declined, second.known_on)),
            outcome: sealed.outcome,
            steps_well: sealed.steps_well,
            steps_counted: sealed.steps_counted,
            findings,
            valid_until: dates.valid_until,
            ended_on: facts.ended_on(&sealed.person, attempt, as_of),
            digest: sealed.pdf.to_string(),
        })
    }

    /// How the observer stood on the day by which it counts, by what the facility knew when it was sealed: what was
    /// learnt later does not make an observation of then another one.
    fn observer_then(self, attempt: &Attempt, on: NaiveDate) -> Result<(bool, String), Fault> {
        let sealed = &attempt.sealed;
        let then = self.reader.facts_of(&sealed.observer, Some(attempt.known_on)).map_err(ledger_fault)?;
        let entitled_by = then.entitled_by(&sealed.observer, &sealed.procedure, on);
        let may = entitled_by.is_some();
        let procedure = entitled_by.as_ref().unwrap_or(&sealed.procedure);
        let standing = then.standing(&sealed.observer, procedure, on);
        if standing.state.holds() {
            return Ok((may, format!("current that day: {}", standing.because)));
        }
        let person = then.people.get(&sealed.observer);
        let appointment = person.and_then(|person| person.appointment(procedure, on));
        Ok(match appointment {
            Some(appointment) if may => (
                true,
                format!("appointed since {} on outside evidence: {}", appointment.from, appointment.evidence),
            ),
            Some(_) | None => (may, format!("not current that day: {}", standing.because)),
        })
    }
}

fn nothing_known(by: NaiveDate) -> Fault {
    Fault::new(
        Next::MendInput,
        format!("Nothing was known of this person by the end of {}; choose a later date.", long_date(by)),
    )
}

/// What was said about a record afterwards.
pub(super) fn amendments(facts: &Facts, names: &BTreeMap<String, Name>, attempt: &Attempt) -> Vec<Amendment> {
    let by = |author: &evidence::Author| {
        author.person.as_ref().map(|person| shown_name(names.get(person))).unwrap_or_default()
    };
    let mut all: Vec<_> = facts
        .corrected
        .get(&attempt.entry)
        .into_iter()
        .flatten()
        .map(|corrected| {
            let what = match &corrected.correction {
                Correction::Date { on, valid_until } => {
                    Amended::Date { from: attempt.sealed.on, on: *on, valid_until: *valid_until }
                }
                Correction::Note { text } => Amended::Note(text.clone()),
            };
            let amendment = Amendment {
                entry: corrected.entry.to_string(),
                on: corrected.known_on,
                by: by(&corrected.author),
                what,
                reason: corrected.reason.clone(),
                counts: facts.counts(corrected.entry),
            };
            (corrected.at, amendment)
        })
        .collect();
    let own = std::iter::once(attempt.entry);
    let corrections = facts.corrected.get(&attempt.entry).into_iter().flatten().map(|one| one.entry);
    for voided in own.chain(corrections).filter_map(|entry| facts.voided.get(&entry)).flatten() {
        let amendment = Amendment {
            entry: voided.entry.to_string(),
            on: voided.known_on,
            by: by(&voided.author),
            what: Amended::Voided,
            reason: voided.reason.clone(),
            counts: true,
        };
        all.push((voided.at, amendment));
    }
    all.sort_by_key(|(at, _)| *at);
    let mut all: Vec<Amendment> = all.into_iter().map(|(_, amendment)| amendment).collect();
    let certificate = attempt.author.certificate;
    let revoked = certificate.and_then(|certificate| facts.revoked_before(certificate, attempt.place));
    all.extend(revoked.map(|revoked| Amendment {
        entry: attempt.entry.to_string(),
        on: civil_day(facts, revoked.at),
        by: String::new(),
        what: Amended::NotAccepted,
        reason: revoked.reason.clone(),
        counts: true,
    }));
    all
}

impl Desk {
    /// One person's history.
    pub(crate) fn open_history(&self, request: &OpenHistory, now: &Moment) -> Result<History, Fault> {
        self.books().history(request, now)
    }

    /// Saves one person's history in the folder of exports. Nothing is written to the ledger.
    pub(crate) fn save_history(&self, request: &SaveHistory, now: &Moment) -> Result<Shown, Fault> {
        let open =
            OpenHistory { person: request.person.clone(), as_of: request.as_of, known_at: request.known_at };
        let history = self.books().history(&open, now)?;
        // No name of a person stands in a file name.
        let short = beginning(&history.person.id);
        let known = request.known_at.map_or_else(String::new, |known| format!("-known-{known}"));
        let name = format!("history-{short}-{}{known}", history.as_of);
        match request.form {
            HistoryForm::Csv => self.save(&format!("{name}.csv"), &saved::history_csv(&history)?),
            HistoryForm::Pdf => {
                let bundle = self.books().history_bundle(&history, &self.device_signer()?, now)?;
                self.save(&format!("{name}.pdf"), &bundle)
            }
        }
    }
}

impl Books<'_> {
    /// A history as one signed PDF with its records attached.
    pub(crate) fn history_bundle(
        self,
        history: &History,
        signer: &Signer,
        now: &Moment,
    ) -> Result<Vec<u8>, Fault> {
        let mut files = Vec::new();
        for line in &history.demonstrations {
            let filed = self.reader.record(&line.record).map_err(ledger_fault)?;
            let filed = filed.ok_or_else(|| absent("record"))?;
            // What was not known yet is not attached.
            let second = match line.second {
                Some(_) => self.reader.countersignature(&line.record).map_err(ledger_fault)?,
                None => None,
            };
            let file = second.map_or(filed.file, |second| second.file);
            let path = self.reader.records_folder().join(&file);
            let bytes = std::fs::read(&path).map_err(|error| file_fault("read", &path, &error))?;
            files.push((file, bytes));
        }
        let origin = HistoryOrigin { drawn: now.wall, program: PROGRAM, records: &files };
        let drawn = paper::history(history, &origin).map_err(paper_fault)?;
        let facts = SignatureFacts {
            when: now.wall,
            name: &signer.certificate().name(),
            reason: "Drawn from the ledger of this device",
            place: &history.facility,
        };
        sign(drawn, signer, &facts).map_err(sealing_fault)
    }
}
