//! One procedure: its order as a picture, every step with what to look for and why, its sources.

use competency::{
    model::Model,
    procedure::{ActId, Footing, Procedure},
    sentence,
};
use contract::{OpenProcedure, OpenedProcedure};
use leptos::prelude::*;

use super::steps::steps;
use crate::{
    app::Route,
    page as page_itself, pictures,
    widgets::{
        drawing::drawing,
        loaded::{ask, loaded},
        title::title,
    },
    wording::{self, facility::procedures, workbench},
};

/// The view of the procedure of that id.
pub(crate) fn procedure(id: String) -> impl IntoView {
    let asked = ask(move || OpenProcedure { id: id.clone(), version: None });
    view! {
        <div class="stack wide">
            <a href=Route::Procedures.href()>{procedures::BACK}</a>
            {loaded(asked, |opened| page(opened).into_any())}
        </div>
    }
}

fn page(opened: OpenedProcedure) -> impl IntoView {
    let OpenedProcedure { procedure, hash, versions, retired } = opened;
    let model = Model::new(procedure.clone());
    let drawn = procedure.clone();
    let about = format!(
        "{} · {} · {}",
        wording::phase(procedure.phase),
        wording::precautions(&procedure.precautions),
        procedures::version(&procedure.version)
    );
    let from_memory = procedure.sources.iter().any(|source| source.footing == Footing::Memory);
    let caution = from_memory.then(|| view! { <p class="note warning">{procedures::FROM_MEMORY_LONG}</p> });
    let modes: Vec<String> =
        procedure.validates_in.iter().map(|mode| sentence::mode(*mode).to_owned()).collect();
    let pass = procedure.pass;
    let responds = !(procedure.responses.is_empty()
        && procedure.contamination_response.is_empty()
        && procedure.forbidden_acts.is_empty());
    view! {
        <div class="stack tight">
            {title(procedure.title.clone())}
            <p class="lead">{about}</p>
        </div>
        {caution}
        {super::versions::work_on(procedure.id.clone(), retired.clone())}
        {parts(responds)}
        <section class="card stack" aria-labelledby="order">
            <h2 id="order" tabindex="-1">{procedures::ORDER}</h2>
            <p class="quiet-text">{procedures::ORDER_WHY}</p>
            {drawing(procedures::ORDER, move |width| pictures::step_graph(&drawn, &Model::new(drawn.clone()), width))}
        </section>
        <section class="stack" aria-labelledby="steps">
            <h2 id="steps" tabindex="-1">{procedures::STEPS}</h2>
            {steps(&procedure, &model)}
        </section>
        {happenings(&procedure, &model)}
        <section class="card stack" aria-labelledby="rules">
            <h2 id="rules" tabindex="-1">{procedures::RULES}</h2>
            <p>{procedures::pass(pass.max_other_findings, pass.min_percent, procedure.valid_months)}</p>
            <p>{procedures::validates(&wording::listed(&modes, wording::door::OR))}</p>
        </section>
        {sources(&procedure)}
        {super::versions::versions(procedure.id.clone(), versions, retired.is_some())}
        <p class="small quiet-text hash">"SHA-256 "{hash}</p>
    }
}

/// The parts of the page, which is long: each is one press away.
fn parts(responds: bool) -> impl IntoView {
    let all = [
        ("order", procedures::ORDER),
        ("steps", procedures::STEPS),
        ("responses", procedures::RESPONSES),
        ("rules", procedures::RULES),
        ("sources", procedures::SOURCES),
        ("versions", workbench::VERSIONS),
    ];
    let each = all.into_iter().filter(|(id, _)| responds || *id != "responses").map(|(id, called)| {
        view! {
            <li><button type="button" class="link" id=format!("to-{id}") on:click=move |_| page_itself::focus(id)>
                {called}</button></li>
        }
    });
    let each: Vec<_> = each.collect();
    view! { <nav aria-label=procedures::PARTS><ul class="row page-parts">{each}</ul></nav> }
}

fn happenings(procedure: &Procedure, model: &Model) -> impl IntoView + use<> {
    let in_turn = |groups: &[Vec<ActId>]| sentence::in_turn(groups, |act| model.act_label(act).to_owned());
    let mut lines: Vec<(String, String, Option<String>)> = Vec::new();
    for response in &procedure.responses {
        let name = procedure.condition_text(&response.to).to_owned();
        lines.push((name, in_turn(&response.acts), response.why.clone()));
    }
    if !procedure.contamination_response.is_empty() {
        let name = procedures::CONTAMINATION.to_owned();
        lines.push((name, in_turn(&procedure.contamination_response), None));
    }
    for forbidden in &procedure.forbidden_acts {
        let label = model.act_label(&forbidden.act).to_owned();
        lines.push((procedures::MUST_NOT.to_owned(), label, forbidden.why.clone()));
    }
    let each = lines.into_iter().map(|(name, what, why)| {
        view! {
            <div class="happening">
                <dt>{name}</dt>
                <dd>{what}{why.map(|why| view! { <p class="quiet-text">{why}</p> })}</dd>
            </div>
        }
    });
    let each: Vec<_> = each.collect();
    (!each.is_empty()).then(|| {
        view! {
            <section class="card stack" aria-labelledby="responses">
                <h2 id="responses" tabindex="-1">{procedures::RESPONSES}</h2>
                <dl class="happenings">{each}</dl>
            </section>
        }
    })
}

fn sources(procedure: &Procedure) -> impl IntoView + use<> {
    let each = procedure.sources.iter().map(|source| {
        let memory = source.footing == Footing::Memory;
        view! {
            <li class="stack tight">
                <p><strong>{source.title.clone()}</strong>
                    {format!(". {}, {}. {}", source.publisher, source.year, source.locator)}</p>
                <p class="small" class:note=memory class:warning=memory>{wording::footing(source.footing)}</p>
            </li>
        }
    });
    view! {
        <section class="card stack" aria-labelledby="sources">
            <h2 id="sources" tabindex="-1">{procedures::SOURCES}</h2>
            <ul class="stack">{each.collect_view()}</ul>
        </section>
    }
}
