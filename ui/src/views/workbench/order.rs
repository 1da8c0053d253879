//! What must come before a step: chosen among the others, with what follows already from other orders.

use competency::procedure::{Edit, Precedes, StepId, precedes};
use leptos::prelude::*;

use super::{
    bench::Bench,
    inputs::{one_of, text, tick},
    steps::name,
};
use crate::wording::{self, door::AND, workbench as words};

pub(super) fn order(bench: Bench, id: StepId) -> impl IntoView {
    let others = {
        let id = id.clone();
        bench.read(move |draft| {
            draft.steps.iter().map(|step| step.id.clone()).filter(|other| *other != id).collect::<Vec<_>>()
        })
    };
    let at_once = {
        let id = id.clone();
        move |lead: String| {
            bench.edit(&Edit::SetAtOnce { step: id.clone(), lead: (!lead.is_empty()).then_some(lead) })
        }
    };
    let leads = {
        let id = id.clone();
        move || {
            let mut all = vec![(String::new(), words::NOTHING.to_owned())];
            bench.procedure.with(|draft| {
                let others = draft.steps.iter().filter(|step| step.id != id);
                all.extend(others.map(|step| (step.id.clone(), name(draft, &step.id))));
            });
            all
        }
    };
    let lead = bench.read_step(id.clone(), |step| step.immediately_after.clone().unwrap_or_default());
    let field = format!("step-at-once-{id}");
    let one = move |other: StepId| before(bench, id.clone(), other);
    view! {
        <fieldset class="stack tight" id="order">
            <legend>{words::BEFORE}</legend>
            <p class="quiet-text">{words::BEFORE_WHY}</p>
            {move || others.with(Vec::is_empty).then(|| view! { <p class="note">{words::NO_OTHER_STEP}</p> })}
            <ul class="stack tight">
                <For each=move || others.get() key=Clone::clone children=one />
            </ul>
            {one_of(field, words::AT_ONCE, leads, lead, at_once)}
        </fieldset>
    }
}

/// Another step: whether it must come before, directly or through others, and with what danger.
fn before(bench: Bench, step: StepId, other: StepId) -> impl IntoView {
    let held = {
        let (step, other) = (step.clone(), other.clone());
        bench.read(move |draft| precedes(draft, &step).into_iter().find(|one| one.step == other))
    };
    let called = {
        let other = other.clone();
        bench.read(move |draft| name(draft, &other))
    };
    let declared = Memo::new(move |_| held.with(|held| held.as_ref().is_some_and(|one| one.declared)));
    let require = {
        let (step, other) = (step.clone(), other.clone());
        move |danger: bool, why: Option<String>| {
            bench.edit(&Edit::Require { before: other.clone(), after: step.clone(), danger, why })
        }
    };
    let choose = {
        let (require, step, other) = (require.clone(), step.clone(), other.clone());
        move |on: bool| {
            if on {
                require(false, None)
            } else {
                bench.edit(&Edit::Free { before: other.clone(), after: step.clone() })
            }
        }
    };
    let implied = move || {
        let held = held.get().filter(|one| !one.declared)?;
        let through: Vec<String> = bench
            .procedure
            .with_untracked(|draft| held.through.iter().map(|between| name(draft, between)).collect());
        let said = words::implied(&wording::listed(&through, AND));
        Some(view! { <p class="small quiet-text implied">{said}</p> })
    };
    let field = format!("before-{other}");
    let more = move || declared.get().then(|| reason(&format!("{step}-{other}"), held, require.clone()));
    view! {
        <li>
            {tick(field, called, declared, choose)}
            {implied}
            {more}
        </li>
    }
}

/// The danger and the reason of a declared order.
fn reason(
    field: &str,
    held: Memo<Option<Precedes>>,
    require: impl Fn(bool, Option<String>) -> bool + Clone + 'static,
) -> AnyView {
    let danger = Memo::new(move |_| held.with(|held| held.as_ref().is_some_and(|one| one.danger)));
    let why = Memo::new(move |_| held.with(|held| held.as_ref().and_then(|one| one.why.clone())));
    let shown = Memo::new(move |_| why.get().unwrap_or_default());
    let set_why = {
        let require = require.clone();
        move |entered: String| require(danger.get_untracked(), (!entered.is_empty()).then_some(entered))
    };
    view! {
        <div class="stack tight inset">
            {text(format!("why-{field}"), words::ORDER_WHY, shown, set_why)}
            {tick(format!("danger-{field}"), words::DANGER, danger,
                move |on| require(on, why.get_untracked()))}
        </div>
    }
    .into_any()
}
