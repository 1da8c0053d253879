use std::time::SystemTime;

use chrono::{DateTime, TimeDelta, Utc};
use competency::{
    journal::{Event, Line, fold},
    log,
    model::Model,
    procedure::{self, Mode},
    score::score,
    sentence::SIGNED_AS,
    validity::{Purpose, granted_until},
};
use evidence::{Named, Party, Place, Record, digest, procedure_hash};
use sealing::{Authority, Certificate, Facts, ObserverKey, Seed, Signer, sign};
use suite::place::text;
use uuid::Uuid;

/// A removal with the gown before the gloves, a glance at the face and a rub that was too short.
const LOG: &str = r#"{ "mode": "assessed", "conditions": ["wears-respirator"], "ended": { "how": "completed", "at_ms": 190000 },
  "observations": [
    { "at_ms": 4000, "act": "remove-gown" },
    { "at_ms": 31000, "act": "remove-gloves", "prompted": true },
    { "at_ms": 52000, "act": "remove-face-shield" },
    { "at_ms": 60000, "act": "touch-face" },
    { "at_ms": 83000, "act": "leave-room" },
    { "at_ms": 101000, "act": "remove-respirator" },
    { "at_ms": 120000, "until_ms": 131000, "act": "hand-rub" } ] }"#;

/// A signed record and who vouches for it.
pub(crate) struct Made {
    pub(crate) record: Record,
    /// Whoever may certify and revoke there.
    pub(crate) facility: Authority,
    pub(crate) authority: Certificate,
    pub(crate) signer: Signer,
    pub(crate) pdf: Vec<u8>,
}

/// The outside programs compare certificates with the clock of the machine, so the record is of today.
fn now() -> DateTime<Utc> {
    SystemTime::now().into()
}

pub(crate) fn authority(facility: &str, seed: u8) -> Authority {
    let yesterday = now() - TimeDelta::days(1);
    Authority::create(facility, yesterday, Seed::new([seed; 32])).expect("an authority")
}

pub(crate) fn signer(authority: &Authority) -> Signer {
    signer_at(authority, now() - TimeDelta::days(1))
}

/// A signer whose certificate and list are of that moment.
pub(crate) fn signer_at(authority: &Authority, at: DateTime<Utc>) -> Signer {
    let key = ObserverKey::create(Seed::new([2; 32]));
    let certificate = authority
        .certify(&key, "Όλγα Παπαδοπούλου", "person-77", at, Seed::new([3; 32]))
        .expect("a certificate");
    // A facility has a list from its first day on; as long as nobody left, it names nothing.
    let list = authority.revoke(&[], 1, at).expect("a list");
    Signer::new(key, certificate, authority.certificate().clone())
        .and_then(|signer| signer.with_revocations(list))
        .expect("a signer")
}

pub(crate) fn record() -> Record {
    let file = text("procedures/standard-removal-example-1.json");
    let procedure = procedure::read(&file).expect("the procedure has no flaw");
    let log = log::read(LOG).expect("the log has no flaw");
    let trace = trace(&log);
    let folded = fold(&trace, log.mode, &log.conditions);
    assert_eq!(folded.log, log, "the lines make the log");
    let model = Model::new(procedure.clone());
    let report = score(&model, &log);
    let begun = (now() - TimeDelta::minutes(10)).fixed_offset();
    let on = begun.date_naive();
    let party = |id: &str, name: &str, role: &str| Party {
        id: id.to_owned(),
        name: name.to_owned(),
        number: format!("no. {id}"),
        role: role.to_owned(),
    };
    Record {
        format: evidence::RECORD_FORMAT,
        facility: Named { id: "f".to_owned(), name: "Hilltop Hospital".to_owned() },
        unit: Named { id: "u".to_owned(), name: "Ward 3".to_owned() },
        demonstration: "a-demonstration".to_owned(),
        first_attempt: None,
        person: party("person-1", "Nguyễn Thị Ánh", "Registered nurse"),
        observer: party("person-77", "Όλγα Παπαδοπούλου", "Infection prevention nurse"),
        observers_before: Vec::new(),
        assistant: None,
        purpose: Purpose::Validation,
        mode: Mode::Assessed,
        begun,
        ended: begun + TimeDelta::seconds(190),
        zone: "Etc/UTC".to_owned(),
        on,
        procedure_hash: procedure_hash(&procedure).expect("a hash"),
        valid_until: granted_until(Purpose::Validation, Mode::Assessed, &procedure, report.outcome, on),
        procedure,
        trace,
        log,
        report,
        rules: competency::RULES_VERSION,
        remark: String::new(),
        cautions: vec![
            "A record shows what was observed on one day, not protection against infection.".to_owned(),
        ],
        place: Place { stream: Uuid::from_u128(0x51), seq: 17, prev: Some(digest(b"the entry before")) },
        program: "Doorside".to_owned(),
    }
}

/// The taps that make a log: each act, what was said about it, and the end.
fn trace(log: &log::Log) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut tap = |at_ms: Option<i64>, event: Event| {
        let id = format!("tap-{}", lines.len() + 1);
        lines.push(Line { id: id.clone(), at_ms: at_ms.expect("every line has its time"), event });
        id
    };
    for seen in &log.observations {
        // Everything in this log is an act; the log that comes of it is compared by whoever asks.
        let log::What::Act(act) = &seen.what else { continue };
        let of = tap(seen.at_ms, Event::Act { act: act.clone(), by: seen.by });
        if seen.until_ms.is_some() {
            tap(seen.until_ms, Event::ActEnded { of: of.clone() });
        }
        if seen.prompted {
            tap(seen.at_ms, Event::Prompted { of });
        }
    }
    tap(log.ended.at_ms, Event::End { how: log.ended.how });
    lines
}

pub(crate) fn sign_record(record: &Record, signer: &Signer) -> Vec<u8> {
    let drawn = paper::record(record, record.ended).expect("the record is drawn");
    let facts = Facts {
        when: record.ended,
        name: &record.observer.name,
        reason: SIGNED_AS,
        place: &record.facility.name,
    };
    sign(drawn, signer, &facts).expect("the record is signed")
}

pub(crate) fn made() -> Made {
    let authority = authority("Hilltop Hospital", 1);
    let record = record();
    let signer = signer(&authority);
    let pdf = sign_record(&record, &signer);
    Made { record, authority: authority.certificate().clone(), facility: authority, signer, pdf }
}
