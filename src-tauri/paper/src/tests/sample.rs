//! One record with a finding of most kinds. Its report is made by hand: these tests are about how a
//! report is drawn, not about how it comes about.

use competency::{
    journal::Line,
    log::Log,
    procedure::{Mode, Procedure},
    report::{Finding, FindingKind, Outcome, Report, Severity, StepResult, StepState},
    validity::Purpose,
};
use evidence::{Named, Party, Place, Record, digest, procedure_hash};
use uuid::Uuid;

pub(super) const PROCEDURE: &str = r#"{
  "id": "sample-removal", "version": "1.2.0", "title": "Removal after contact precautions", "phase": "doffing",
  "precautions": ["contact", "droplet"], "ensemble": ["gown", "gloves", "mask", "face shield"],
  "pass": { "max_other_findings": 2, "min_percent": null },
  "sources": [
    { "id": "s1", "title": "Sequence for removing protective equipment", "publisher": "A public health agency", "year": 2014, "locator": "poster, example 1", "footing": "secondary" },
    { "id": "s2", "title": "Gloves and hands", "publisher": "A professional society", "year": 2019, "locator": "chapter 3", "footing": "memory" }
  ],
  "acts": { "gloves-off": "Gloves off", "shield-off": "Face shield off", "gown-off": "Gown off", "mask-off": "Mask off", "hand-rub": "Alcohol hand rub", "touch-face": "Touched the face", "inspect": "Inspected" },
  "conditions": [ { "id": "soiled", "ask": "anytime", "text": "Hands visibly soiled" }, { "id": "apron", "ask": "start", "text": "An apron is worn" } ],
  "steps": [
    { "id": "inspect", "section": "Before", "acts": ["inspect"], "text": "Inspect the equipment for tears.", "by": "observer" },
    { "id": "gloves", "section": "Outer layer", "acts": ["gloves-off"], "text": "Take the gloves off, glove to glove and skin to skin.", "critical": true, "why": "The outside of the gloves carries most of what was touched.", "source": "s1" },
    { "id": "shield", "section": "Outer layer", "acts": ["shield-off"], "text": "Lift the face shield off by its band, from the back.", "after": ["gloves"] },
    { "id": "gown", "section": "Outer layer", "acts": ["gown-off"], "text": "Undo the ties, pull the gown from the shoulders, touching the inside only, and roll it into a bundle.", "after": [{ "step": "gloves", "danger": true, "why": "Gloved hands carry what is on them to the inside of the gown." }], "critical": true },
    { "id": "mask", "section": "Face and hands", "acts": ["mask-off"], "text": "Take the mask off by its ties: bottom first, then top.", "after": ["gown"], "critical": true },
    { "id": "hands", "section": "Face and hands", "acts": ["hand-rub"], "text": "Rub all surfaces of the hands until dry.", "after": ["mask"], "critical": true, "min_seconds": { "hand-rub": 20 }, "why": "Hands are contaminated more often than anything else while taking equipment off." },
    { "id": "notes", "section": "Face and hands", "acts": ["inspect"], "text": "Note the time on the door list.", "optional": true }
  ],
  "free_acts": ["hand-rub"],
  "forbidden_acts": [{ "act": "touch-face", "until": "hands", "why": "Eyes, nose and mouth let in what the hands carry." }]
}"#;

const LOG: &str = r#"{ "mode": "assessed", "conditions": ["apron"], "ended": { "how": "completed", "at_ms": 190000 }, "observations": [
  { "at_ms": 0, "act": "inspect", "by": "observer" },
  { "at_ms": 21000, "act": "gown-off" },
  { "at_ms": 44000, "act": "gloves-off", "prompted": true },
  { "at_ms": 60000, "contamination": { "site": "face", "from": "gloves", "recognised_by": "observer" } },
  { "at_ms": 61000, "act": "touch-face" },
  { "at_ms": 95000, "act": "mask-off" },
  { "at_ms": 120000, "until_ms": 131000, "act": "hand-rub" }
] }"#;

fn result(id: &str, credit: u8, observation: Option<usize>, state: StepState) -> StepResult {
    StepResult { id: id.to_owned(), credit, observation, state }
}

fn finding(
    kind: FindingKind,
    step: Option<&str>,
    observation: Option<usize>,
    severity: Severity,
    because: &[(&str, &str)],
    text: &str,
) -> Finding {
    let because = because.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())).collect();
    Finding { kind, step: step.map(str::to_owned), observation, severity, because, text: text.to_owned() }
}

fn party(id: &str, name: &str, number: &str, role: &str) -> Party {
    Party { id: id.to_owned(), name: name.to_owned(), number: number.to_owned(), role: role.to_owned() }
}

/// When it is signed: some minutes after the end.
pub(super) fn signed() -> chrono::DateTime<chrono::FixedOffset> {
    "2026-11-25T10:12:40+01:00".parse().unwrap()
}

pub(super) fn record() -> Record {
    let procedure: Procedure = serde_json::from_str(PROCEDURE).unwrap();
    let log: Log = serde_json::from_str(LOG).unwrap();
    let report = Report {
        alignment_cost: 3,
        score_permille: 500,
        steps_well: 2,
        steps_counted: 5,
        outcome: Outcome::NotYetCompetent,
        steps: vec![
            result("inspect", 2, Some(0), StepState::Well),
            result("gloves", 1, Some(2), StepState::Partly),
            result("shield", 0, None, StepState::Missed),
            result("gown", 0, None, StepState::OutOfOrder),
            result("mask", 2, Some(5), StepState::Well),
            result("hands", 1, Some(6), StepState::Partly),
            result("notes", 0, None, StepState::LeftOut),
        ],
        findings: vec![
            finding(
                FindingKind::OutOfOrder,
                Some("gown"),
                Some(1),
                Severity::Critical,
                &[("gloves", "gown")],
                "The gown came off at 0:21, before the gloves at 0:44: gloved hands carry what is on them to the \
                 inside of the gown.",
            ),
            finding(
                FindingKind::Forbidden,
                None,
                Some(4),
                Severity::Critical,
                &[],
                "The face was touched before hand hygiene.",
            ),
            finding(
                FindingKind::Prompted,
                Some("gloves"),
                Some(2),
                Severity::Critical,
                &[],
                "The observer had to say that the gloves come off.",
            ),
            finding(
                FindingKind::Missed,
                Some("shield"),
                None,
                Severity::Other,
                &[],
                "The face shield was not taken off.",
            ),
            finding(
                FindingKind::TooShort,
                Some("hands"),
                Some(6),
                Severity::Other,
                &[],
                "The hand rub took 11 seconds; 20 are asked for.",
            ),
        ],
    };
    Record {
        format: evidence::RECORD_FORMAT,
        facility: Named { id: "f".to_owned(), name: "Hilltop Hospital".to_owned() },
        unit: Named { id: "u".to_owned(), name: "Ward 3".to_owned() },
        demonstration: "demo-1".to_owned(),
        first_attempt: None,
        person: party("p-1", "Nguyễn Thị Ánh", "1042", "Registered nurse"),
        observer: party("p-2", "Όλγα Παπαδοπούλου", "0077", "Infection prevention nurse"),
        observers_before: Vec::new(),
        assistant: Some(party("p-3", "Юрий Щербаков", "2001", "Nursing assistant")),
        purpose: Purpose::Validation,
        mode: Mode::Assessed,
        begun: "2026-11-25T10:02:03+01:00".parse().unwrap(),
        ended: "2026-11-25T10:05:13+01:00".parse().unwrap(),
        zone: "Europe/Berlin".to_owned(),
        on: "2026-11-25".parse().unwrap(),
        procedure_hash: procedure_hash(&procedure).unwrap(),
        procedure,
        trace: Vec::<Line>::new(),
        log,
        report,
        rules: competency::RULES_VERSION,
        valid_until: None,
        remark: "We practised the order once more together.\nHand rub: count to twenty.".to_owned(),
        cautions: vec![
            "A record shows what was observed on one day, not protection against infection.".to_owned(),
            "Local policy, the equipment’s instructions for use and licensed infection-prevention and \
             occupational-health practice decide."
                .to_owned(),
            "After a suspected exposure, follow the facility’s exposure plan at once.".to_owned(),
        ],
        place: Place { stream: Uuid::from_u128(0x51), seq: 17, prev: Some(digest(b"the entry before")) },
        program: "Doorside 0.1.0".to_owned(),
    }
}

/// A record short enough for one page of findings, all done well.
pub(super) fn faultless() -> Record {
    let mut record = record();
    record.report.findings.clear();
    for step in &mut record.report.steps {
        step.state = StepState::Well;
        step.credit = 2;
    }
    record.report.outcome = Outcome::Competent;
    (record.report.steps_well, record.report.steps_counted, record.report.score_permille) = (5, 5, 1000);
    record.valid_until = Some("2027-11-25".parse().unwrap());
    record
}
