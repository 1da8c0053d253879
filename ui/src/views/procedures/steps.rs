//! The steps of a procedure, written out.

use competency::{
    model::Model,
    procedure::{Applies, By, Footing, Procedure, Step},
};
use leptos::prelude::*;

use crate::{
    pictures,
    wording::{self, facility::procedures},
};

/// Every step in printed order.
pub(super) fn steps(procedure: &Procedure, model: &Model) -> impl IntoView + use<> {
    let each = procedure.steps.iter().enumerate().map(|(index, step)| one(index + 1, step, procedure, model));
    view! { <ol class="steps stack">{each.collect_view()}</ol> }
}

fn one(number: usize, step: &Step, procedure: &Procedure, model: &Model) -> impl IntoView + use<> {
    let mut tags = vec![step.section.clone()];
    if step.critical {
        tags.push(procedures::CRITICAL.to_owned());
    }
    if step.optional {
        tags.push(procedures::OPTIONAL.to_owned());
    }
    if step.by != By::Wearer {
        tags.push(wording::by(step.by).to_owned());
    }
    match step.applies() {
        Applies::Always => {}
        Applies::Where(id) => tags.push(procedures::when(procedure.condition_text(id))),
        Applies::NotWhere(id) => tags.push(procedures::unless(procedure.condition_text(id))),
    }
    let look_for = step.look_for.iter().map(|point| view! { <li>{point.clone()}</li> }).collect_view();
    let named = |id: &str| {
        let number = model.step_number(id);
        number.and_then(|number| Some((number + 1, model.step(number)?))).map_or_else(
            || id.to_owned(),
            |(number, step)| format!("{number}. {}", pictures::step_label(model, step)),
        )
    };
    let at_once = step.immediately_after.as_ref().map(|lead| procedures::right_after(&named(lead)));
    let at_once = at_once.map(|said| view! { <li>{said}</li> });
    let before = step.after.iter().map(|before| {
        let name = named(before.step());
        let said = if before.danger() { procedures::danger_before(&name) } else { procedures::before(&name) };
        let why = before.why().map(str::to_owned);
        view! {
            <li class:danger-before=before.danger()>
                {said}{why.map(|why| view! { <span class="quiet-text">{format!(" {why}")}</span> })}
            </li>
        }
    });
    let faults = step.technique_faults.iter().map(|fault| {
        view! {
            <li>{fault.text.clone()}
                {fault.contaminates.then(|| view! { " "<span class="tag">{procedures::CONTAMINATES}</span> })}
            </li>
        }
    });
    let seconds = step.acts.iter().filter_map(|act| {
        let least = procedure.least_seconds(step, act)?;
        Some(view! { <li>{procedures::seconds(model.act_label(act), least)}</li> })
    });
    let notes = procedure.facility_notes(step).into_iter().map(|note| view! { <li>{note}</li> });
    let source = step.source.as_ref().and_then(|id| procedure.sources.iter().find(|source| source.id == *id));
    let source = source.map(|source| {
        let footing = (source.footing != Footing::Read).then(|| wording::footing(source.footing));
        view! {
            <p class="small quiet-text">
                {format!("{}: {}, {}. {}", procedures::SOURCE, source.publisher, source.year, source.locator)}
                {footing.map(|footing| format!(". {footing}."))}
            </p>
        }
    });
    view! {
        <li class="card step">
            <span class="step-number" aria-hidden="true">{number}</span>
            <div class="stack tight">
                <h3>{step.text.clone()}</h3>
                <p class="row">{tags.into_iter().map(|tag| view! { <span class="tag">{tag}</span> }).collect_view()}</p>
                {(!step.look_for.is_empty()).then(|| view! {
                    <p><strong>{procedures::LOOK_FOR}</strong></p>
                    <ul class="points">{look_for}</ul>
                })}
                <ul class="points">{seconds.collect_view()}{notes.collect_view()}{at_once}{before.collect_view()}</ul>
                {(!step.technique_faults.is_empty()).then(|| view! {
                    <p><strong>{procedures::FAULTS}</strong></p>
                    <ul class="points">{faults.collect_view()}</ul>
                })}
                {step.why.clone().map(|why| view! { <p><strong>{procedures::WHY}</strong>" "{why}</p> })}
                {source}
            </div>
        </li>
    }
}
