//! Trying a draft: a log played against it by the very rules, and what scoring says of it.

use competency::{
    live::Live,
    log::{Ended, Log, Observation, What},
    model::Model,
    procedure::{ActId, Ask, By, ConditionId, Mode, check},
    score::score,
    sentence,
};
use leptos::prelude::*;

use super::bench::Bench;
use crate::wording::{self, workbench as words};

/// How far apart the acts of a trial are.
const APART_MS: i64 = 10_000;

pub(super) fn trial(bench: Bench) -> impl IntoView {
    let flawed = bench.read(|draft| !check(draft).is_empty());
    move || {
        if flawed.get() {
            view! { <p class="note warning">{words::TRY_FLAWED}</p> }.into_any()
        } else {
            play(bench).into_any()
        }
    }
}

fn play(bench: Bench) -> impl IntoView {
    let tapped = RwSignal::new(Vec::<What>::new());
    let holding = RwSignal::new(Vec::<ConditionId>::new());
    let model = Memo::new(move |_| bench.procedure.with(|draft| Tried(Model::new(draft.clone()))));
    let log = Memo::new(move |_| log_of(&tapped.get(), holding.get()));
    let acts: Vec<(ActId, String)> = bench.procedure.with_untracked(|draft| {
        let combined = draft.combined_acts.iter().map(|(id, act)| (id.clone(), act.label.clone()));
        draft.acts.clone().into_iter().chain(combined).collect()
    });
    let conditions = bench.procedure.with_untracked(|draft| draft.conditions.clone());
    let buttons = acts.into_iter().map(|(act, label)| {
        let id = format!("try-{act}");
        let tap = move |_| tapped.update(|all| all.push(What::Act(act.clone())));
        view! { <button type="button" class="button" id=id on:click=tap>{label}</button> }
    });
    let anytime = conditions.iter().filter(|one| one.ask == Ask::Anytime).cloned().map(|one| {
        let tap = move |_| tapped.update(|all| all.push(What::Condition(one.id.clone())));
        view! { <button type="button" class="button" on:click=tap>{one.text}</button> }
    });
    let at_start = conditions.iter().filter(|one| one.ask == Ask::Start).cloned().map(|one| {
        let id = one.id.clone();
        let held = Memo::new(move |_| holding.with(|all| all.contains(&id)));
        super::inputs::tick(format!("try-worn-{}", one.id), one.text, held, move |on: bool| {
            holding.update(|all| {
                all.retain(|other| *other != one.id);
                if on {
                    all.push(one.id.clone());
                }
            });
            true
        })
    });
    view! {
        <section class="card stack" aria-label=words::TRY>
            <p class="quiet-text">{words::TRY_WHY}</p>
            <div class="row">{at_start.collect_view()}</div>
            <div class="row" id="try-acts">{buttons.collect_view()}{anytime.collect_view()}</div>
            <div class="row">
                <button type="button" class="button plain" id="try-undo"
                    on:click=move |_| tapped.update(|all| drop(all.pop()))>{words::TAKE_BACK}</button>
                <button type="button" class="button plain" id="try-again"
                    on:click=move |_| tapped.set(Vec::new())>{words::START_OVER}</button>
            </div>
            <div class="columns">
                <ol class="stack tight" id="try-log">{move || model.with(|tried| told(&tried.0, &log.get()))}</ol>
                <div class="stack tight" aria-live="polite" id="try-score">
                    <h2>{words::SCORE}</h2>
                    {move || model.with(|tried| scored(&tried.0, &log.get()))}
                </div>
            </div>
        </section>
    }
}

/// A model as a memo holds it: two are the same where their procedures are.
struct Tried(Model);

impl PartialEq for Tried {
    fn eq(&self, other: &Self) -> bool {
        self.0.procedure() == other.0.procedure()
    }
}

fn log_of(tapped: &[What], conditions: Vec<ConditionId>) -> Log {
    let times = (0..).map(|n: i64| n * APART_MS);
    let observations = tapped.iter().zip(times).map(|(what, at_ms)| Observation {
        at_ms: Some(at_ms),
        until_ms: None,
        lasted_ms: None,
        what: what.clone(),
        prompted: false,
        faults: Vec::new(),
        by: By::Wearer,
        late: false,
        call: None,
    });
    Log {
        mode: Mode::Assessed,
        conditions,
        ended: Ended::default(),
        held: Vec::new(),
        transcribed: false,
        observations: observations.collect(),
    }
}

/// Every tap with what the live rule says of it.
fn told(model: &Model, log: &Log) -> AnyView {
    if log.observations.is_empty() {
        return view! { <li class="quiet-text">{words::NO_TAP}</li> }.into_any();
    }
    let mut live = Live::new(model, &log.conditions);
    let mut lines = Vec::new();
    for observation in &log.observations {
        let verdict = live.observe(model, observation);
        let called = match &observation.what {
            What::Act(act) => model.act_label(act).to_owned(),
            What::Condition(id) => {
                let known = model.procedure().conditions.iter().find(|condition| condition.id == *id);
                known.map_or_else(|| id.clone(), |condition| condition.text.clone())
            }
            // Nothing else is tapped here.
            What::NotSeen(_) | What::Contamination(_) | What::TeamError(_) => String::new(),
        };
        let warning = verdict.warning().map(|warning| sentence::warning(model, warning));
        let at = observation.at_ms.map(wording::clock).unwrap_or_default();
        lines.push(view! {
            <li>{at}" "<strong>{called}</strong>
                {warning.map(|said| view! { <p class="note warning small">{said}</p> })}
            </li>
        });
    }
    lines.collect_view().into_any()
}

fn scored(model: &Model, log: &Log) -> impl IntoView + use<> {
    let report = score(model, log);
    let findings = report.findings.iter().map(|finding| {
        view! {
            <li><span class="tag">{wording::severity(finding.severity)}</span>" "{finding.text.clone()}</li>
        }
    });
    view! {
        <p id="try-outcome"><strong>{wording::outcome(report.outcome)}</strong>": "{sentence::headline(&report)}</p>
        <ul class="stack tight">{findings.collect_view()}</ul>
    }
}
