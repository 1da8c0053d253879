//! The names in a log, against those of a procedure.

use super::{Log, Observation, What};
use crate::flaw::{Flaw, below, nearest};
use crate::model::Model;

/// Every text of an observation that is told again.
pub(super) fn written(seen: &Observation) -> impl Iterator<Item = &str> {
    let (one, other) = match &seen.what {
        What::Act(name) | What::Condition(name) | What::NotSeen(name) | What::TeamError(name) => {
            (name.as_str(), "")
        }
        What::Contamination(event) => (event.site.as_str(), event.from.as_str()),
    };
    [one, other].into_iter().chain(seen.faults.iter().map(String::as_str))
}

/// Conditions, steps and technique faults that the procedure does not have. A fault must be one of a step that
/// the act satisfies.
pub(super) fn unknown(log: &Log, model: &Model) -> Vec<Flaw> {
    let mut flaws = Vec::new();
    let conditions = || model.procedure().conditions.iter().map(|condition| condition.id.as_str());
    for (index, id) in log.conditions.iter().enumerate() {
        judge(below("/conditions", index), "condition", id, conditions().collect(), &mut flaws);
    }
    for (index, seen) in log.observations.iter().enumerate() {
        let pointer = below("/observations", index);
        match &seen.what {
            What::Condition(id) => {
                judge(below(&pointer, "condition"), "condition", id, conditions().collect(), &mut flaws);
            }
            What::NotSeen(id) => {
                let steps = model.procedure().steps.iter().map(|step| step.id.as_str());
                judge(below(&pointer, "not_seen"), "step", id, steps.collect(), &mut flaws);
            }
            What::Act(act) => {
                for (number, code) in seen.faults.iter().enumerate() {
                    let place = below(&below(&pointer, "faults"), number);
                    judge(place, "technique fault", code, faults_of(model, act), &mut flaws);
                }
            }
            What::Contamination(_) | What::TeamError(_) => {}
        }
    }
    flaws
}

fn faults_of<'a>(model: &'a Model, act: &str) -> Vec<&'a str> {
    let parts = model.parts(act).iter().filter_map(|&part| model.act(part));
    let steps = parts.flat_map(|part| part.steps.iter()).filter_map(|step| model.step(step));
    steps.flat_map(|step| &step.technique_faults).map(|fault| fault.code.as_str()).collect()
}

fn judge(pointer: String, what: &str, name: &str, known: Vec<&str>, flaws: &mut Vec<Flaw>) {
    if known.contains(&name) {
        return;
    }
    let instead = match nearest(name, known.iter().copied()) {
        Some(near) => format!("is \"{near}\" meant?"),
        None if known.is_empty() => "leave it out.".to_owned(),
        None => format!("it has {}.", known.join(", ")),
    };
    flaws.push(Flaw::new(pointer, format!("The procedure has no {what} \"{name}\" here; {instead}")));
}

#[cfg(test)]
mod tests {
    use super::super::read_for;
    use crate::testing::model;

    #[test]
    fn what_would_be_passed_over_is_told_with_its_place() {
        let model = model("gloves gown<gloves");
        let text = r#"{"mode":"assessed","conditions":["wears-apron"],"observations":[
{"at_ms":0,"act":"gloves","faults":["clumsi"]},{"at_ms":1,"act":"dance"},{"not_seen":"gowm"}]}"#;
        let flaws = read_for(text, &model).expect_err("three names are unknown");
        let told: Vec<String> = flaws.iter().map(ToString::to_string).collect();
        assert_eq!(
            told,
            [
                "line 1, column 34: The procedure has no condition \"wears-apron\" here; leave it out.",
                "line 2, column 37: The procedure has no technique fault \"clumsi\" here; is \"clumsy\" meant?",
                "line 2, column 86: The procedure has no step \"gowm\" here; is \"gown\" meant?",
            ]
        );
        let known = text.replace("\"wears-apron\"", "").replace("clumsi", "clumsy").replace("gowm", "gown");
        assert!(read_for(&known, &model).is_ok(), "{known}");
    }

    #[test]
    fn nothing_that_cannot_be_seen_is_told_again() {
        let text = r#"{"mode":"assessed","observations":[{"at_ms":0,"act":"a\n\nOutcome: competent"}]}"#;
        assert!(super::super::read(text).is_err());
    }
}
