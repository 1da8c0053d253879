//! Short demonstrations by name: what is found, the outcome, and why that is right.
//!
//! The procedure is invented for these tests, in the shape of published removal orders.

use super::super::{score, score_family};
use super::rules::told;
use crate::log::{Call, Log};
use crate::model::Model;
use crate::procedure::{Ask, CombinedAct, Condition, Mode, Procedure, Response};
use crate::report::Outcome::{self, Competent, NotYetCompetent};
use crate::testing::{log_in, procedure};

/// Gloves first, hygiene, then goggles, gown and boots in any order, the mask last, and hygiene at once.
pub(super) fn gloves_first() -> Procedure {
    common(
        "inspect tape+<inspect apron-off@apron<inspect gloves-off*<!apron-off,inspect \
         h1[rub|wash]*<!gloves-off goggles-off<!h1 gown-off*<!h1 left-off<h1 right-off<h1 \
         mask-off*<!goggles-off,!gown-off,left-off,right-off h2[rub|wash]*^mask-off store?<h2",
    )
}

/// Gown and gloves in one, without hygiene between them.
fn gown_first() -> Procedure {
    common(
        "inspect tape+<inspect apron-off@apron<inspect gown-off*<!apron-off,inspect gloves-off*<!gown-off \
         h1[rub|wash]*<!gloves-off goggles-off<!h1 left-off<h1 right-off<h1 \
         mask-off*<!goggles-off,left-off,right-off h2[rub|wash]*^mask-off store?<h2",
    )
}

fn common(steps: &str) -> Procedure {
    let mut procedure = procedure(&format!("{steps} ~rub ~wash #face:h2"));
    for step in &mut procedure.steps {
        if step.acts.iter().any(|act| act == "rub") {
            step.min_seconds = [("rub".to_owned(), 20), ("wash".to_owned(), 40)].into();
        }
    }
    let change = vec![vec!["change".to_owned()], vec!["rub".to_owned(), "wash".to_owned()]];
    for (id, text, acts, critical) in [
        ("torn", "Glove torn", change, true),
        ("apron-torn", "Apron torn", vec![vec!["bin".to_owned()]], false),
    ] {
        let (to, text) = (id.to_owned(), text.to_owned());
        procedure.conditions.push(Condition { id: to.clone(), ask: Ask::Anytime, text });
        procedure.responses.push(Response { to, acts, critical, why: None, source: None });
    }
    for act in ["change", "bin"] {
        procedure.acts.insert(act.to_owned(), act.to_owned());
    }
    procedure.contamination_response = vec![vec!["rub".to_owned(), "wash".to_owned()]];
    let counts_as = vec!["gown-off".to_owned(), "gloves-off".to_owned()];
    procedure
        .combined_acts
        .insert("in-one".to_owned(), CombinedAct { label: "In one".to_owned(), counts_as });
    procedure
}

const PERFECT: &str = "START goggles-off gown-off END";

pub(super) fn observed(mode: Mode, conditions: &[&str], text: &str) -> Log {
    let text = text.replace("PERFECT", PERFECT).replace("START", "inspect tape+ gloves-off rub=20");
    log_in(mode, conditions, &text.replace("END", "left-off right-off mask-off rub=20"))
}

#[track_caller]
fn check(name: &str, log: &Log, findings: &str, outcome: Outcome, why: &str) {
    let report = score(&Model::new(gloves_first()), log);
    assert_eq!((told(&report).as_str(), report.outcome), (findings, outcome), "{name}: {why}");
}

#[test]
fn demonstrations() {
    let table = include_str!("demonstrations.txt");
    let rows: Vec<&str> = table.lines().filter(|row| !row.is_empty() && !row.starts_with('#')).collect();
    assert!(rows.len() >= 60);
    for row in rows {
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let [name, text, findings, outcome, why] = cells.as_slice() else { panic!("not five cells: {row}") };
        let conditions: &[&str] = if name.starts_with("apron:") { &["apron"] } else { &[] };
        let outcome = serde_json::from_value((*outcome).into()).unwrap();
        check(name, &observed(Mode::Assessed, conditions, text), findings, outcome, why);
    }
}

/// The log with a call on one observation.
fn called(text: &str, at: usize, call: Call) -> Log {
    let mut log = observed(Mode::Guided, &[], text);
    log.observations[at].call = Some(call);
    log
}

#[test]
fn guided() {
    let prompted =
        "inspect! tape+ gloves-off! rub=20! goggles-off! gown-off left-off right-off mask-off rub=20!";
    let prompted = observed(Mode::Guided, &[], prompted);
    check("prompted throughout", &prompted, "", Competent, "a prompt is the method");
    let before = called("PERFECT", 4, Call::Before);
    check(
        "goggles before the call",
        &before,
        "call goggles-off@4",
        Competent,
        "acting before the call is a finding",
    );
    let wrong = called("PERFECT", 4, Call::Wrong);
    check(
        "called wrong, no harm",
        &wrong,
        "call goggles-off@4~",
        Competent,
        "a wrong call is the observer's",
    );
    let early = "inspect tape+ gloves-off rub=20 mask-off goggles-off gown-off left-off right-off rub=20";
    let wrong = called(early, 4, Call::Wrong);
    let expected = "out-of-order mask-off@4~, call mask-off@4~";
    check("mask called too early", &wrong, expected, Competent, "following a wrong call is the observer's");
    let mut assessed = called("PERFECT", 4, Call::Before);
    assessed.mode = Mode::Assessed;
    check("no calls in assessed mode", &assessed, "", Competent, "nobody calls there");
}

#[test]
fn families() {
    let models = [Model::new(gloves_first()), Model::new(gown_first())];
    for (text, expected) in [
        (PERFECT, 0),
        ("inspect tape+ gown-off gloves-off rub=20 goggles-off left-off right-off mask-off rub=20", 1),
        ("inspect tape+ in-one rub=20 goggles-off left-off right-off mask-off rub=20", 1),
    ] {
        let log = observed(Mode::Assessed, &[], text);
        let (kept, report) = score_family(&models, &log).unwrap();
        assert_eq!(
            (kept, report.outcome),
            (expected, Competent),
            "an accepted sequence of the family: {text}"
        );
        assert_eq!(report.score_permille, 1000);
        assert_eq!(score(&models[1 - expected], &log).outcome, NotYetCompetent, "a blend would hide that");
    }
    assert_eq!(score_family(&[], &observed(Mode::Assessed, &[], PERFECT)), None);
}
