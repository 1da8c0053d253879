//! Observation forms: everything an observer needs stands on them, and has a place to be written.

use competency::{
    flaw::read_json,
    procedure::{Equipment, Footing, Procedure, library, read},
};
use lopdf::Document;

use super::{sample, text_of};
use crate::FormOrigin;

fn drawn(procedure: &Procedure) -> Vec<u8> {
    let origin = FormOrigin {
        facility: "Hilltop Hospital",
        hash: "0123456789abcdef0123456789abcdef",
        drawn: "2026-11-25T10:00:00+01:00".parse().unwrap(),
        program: "Doorside 0.1.0",
    };
    crate::form(procedure, &origin).unwrap()
}

fn sampled() -> Procedure {
    let mut procedure: Procedure = read_json(sample::PROCEDURE).unwrap();
    let equipment = r#"{ "contact_times": [{ "act": "inspect", "product": "Wipe A", "seconds": 60 }],
        "glove_products": [{ "name": "Glove B", "acts": ["gloves-off"] }],
        "respirator_models": [{ "name": "Model 7", "acts": ["mask-off"] }] }"#;
    procedure.equipment = read_json::<Equipment>(equipment).unwrap();
    procedure.contamination_response = vec![vec!["hand-rub".to_owned()]];
    procedure
}

/// The text of each page in the order in which it is read.
#[test]
fn a_form_reads_as_it_should() {
    let pdf = drawn(&sampled());
    let document = Document::load_mem(&pdf).unwrap();
    let pages: Vec<String> = document
        .get_pages()
        .keys()
        .map(|page| {
            let text = document.extract_text(&[*page]).unwrap();
            let lines: Vec<&str> = text.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
            format!("--- page {page} ---\n{}", lines.join("\n"))
        })
        .collect();
    insta::assert_snapshot!(pages.join("\n"));
}

#[test]
fn every_procedure_of_the_library_has_a_form_that_leaves_nothing_out() {
    for (name, text) in library() {
        let procedure = read(text).unwrap();
        let pdf = drawn(&procedure);
        let said = text_of(&pdf);
        let mut needed = vec![procedure.title.clone(), format!("Version {}", procedure.version)];
        for step in &procedure.steps {
            needed.push(step.text.clone());
            needed.extend(step.look_for.clone());
            needed.extend(step.technique_faults.iter().map(|fault| format!("fault: {}", fault.text)));
            needed.extend(
                step.after.iter().filter_map(|one| one.danger().then(|| one.why())?).map(str::to_owned),
            );
            if step.critical {
                needed.push(format!("Critical. {}", step.why.as_deref().unwrap_or_default()));
            }
        }
        needed.extend((1..=procedure.steps.len()).map(|number| format!(" {number}. ")));
        needed.extend(procedure.conditions.iter().map(|condition| condition.text.clone()));
        needed.extend(procedure.responses.iter().filter_map(|response| response.why.clone()));
        needed
            .extend(procedure.forbidden_acts.iter().map(|forbidden| procedure.acts[&forbidden.act].clone()));
        needed.extend(procedure.sources.iter().map(|source| source.title.clone()));
        needed.extend(competency::sentence::CAUTIONS.map(str::to_owned));
        for needed in needed {
            let needed = needed.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(said.contains(&needed), "{name}: {needed:?} must stand in: {said}");
        }
        let from_memory = procedure.sources.iter().any(|source| source.footing == Footing::Memory);
        assert_eq!(said.contains("Some of it was written from memory."), from_memory, "{name}");
        let pages = Document::load_mem(&pdf).unwrap().get_pages().len();
        assert!((4..=12).contains(&pages), "{name}: {pages} pages");
        assert!(said.contains(&format!("page {pages} of {pages}")), "{name}");
    }
}

#[test]
fn a_form_is_the_same_each_time() {
    assert_eq!(drawn(&sampled()), drawn(&sampled()));
}
