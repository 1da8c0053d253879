use competency::{
    model::Model,
    procedure::{Applies, Step},
};
use picture::{GraphStep, Lettering, Precedence, StepGraph, Words, step_graph};

use crate::{faces::Faces, sheet::Sheet};

/// Wider than the text, so that its letters come out smaller than on a screen and still readable.
const WIDEST: f64 = 680.0;

/// What must come before what, as a drawing; over several pages where it is long.
pub(super) fn draw(sheet: &mut Sheet, model: &Model, faces: &Faces) {
    let measure = |text: &str, size: f64, weight| faces.measure(text, size, weight);
    let lettering = Lettering { words: &Words::ENGLISH, measure: &measure };
    sheet.long_figure(&step_graph(&graph(model), lettering));
}

fn graph(model: &Model) -> StepGraph {
    let procedure = model.procedure();
    let labelled = |(index, step): (usize, &Step)| {
        let acts: Vec<&str> = step.acts.iter().map(|act| model.act_label(act)).collect();
        GraphStep {
            id: step.id.clone(),
            label: format!("{}. {}", index + 1, acts.join(" or ")),
            section: step.section.clone(),
            critical: step.critical,
            optional: step.optional,
            conditional: step.applies() != Applies::Always,
            right_after: model.right_after(step).map(|number| number.to_string()),
        }
    };
    let id = |number: usize| model.step(number).map(|step| step.id.clone());
    let precedence = |(before, after, danger): (usize, usize, bool)| {
        Some(Precedence { from: id(before)?, to: id(after)?, danger })
    };
    StepGraph {
        title: "What must come before what".to_owned(),
        steps: procedure.steps.iter().enumerate().map(labelled).collect(),
        precedences: model.precedences().filter_map(precedence).collect(),
        widest: WIDEST,
    }
}
