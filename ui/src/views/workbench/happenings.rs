//! The acts, and what may hold or happen: conditions, responses, free and forbidden acts.

use competency::procedure::{ActId, Ask, Condition, ConditionId, Edit, ForbiddenAct, Response, fresh_id};
use leptos::prelude::*;

use super::{
    bench::Bench,
    inputs::{one_of, text, tick},
    new_act::new_act,
    steps::{by_label, name},
    turns::turns,
};
use crate::wording::workbench as words;

pub(super) fn happenings(bench: Bench) -> impl IntoView {
    let conditions =
        bench.read(|draft| draft.conditions.iter().map(|one| one.id.clone()).collect::<Vec<_>>());
    let add = move |_| {
        let id = bench.procedure.with_untracked(|draft| {
            fresh_id(words::NEW_CONDITION, draft.conditions.iter().map(|one| &*one.id))
        });
        let text = words::NEW_CONDITION.to_owned();
        bench.edit(&Edit::SetCondition(Condition { id, ask: Ask::Start, text }));
    };
    let answer = bench.read(|draft| draft.contamination_response.clone());
    view! {
        <section class="stack" aria-labelledby="conditions">
            <h2 id="conditions">{words::CONDITIONS}</h2>
            <For each=move || conditions.get() key=Clone::clone children=move |id| condition(bench, id) />
            <div class="row">
                <button type="button" class="button" id="add-condition" on:click=add>{words::ADD_CONDITION}</button>
            </div>
        </section>
        <section class="card stack" aria-label=words::CONTAMINATION>
            {turns(bench, "contamination-response".to_owned(), words::CONTAMINATION, answer,
                move |groups| bench.edit(&Edit::SetContaminationResponse(groups)))}
        </section>
        {acts(bench)}
    }
}

fn acts(bench: Bench) -> impl IntoView {
    // In one order as long as the view stands: an act that is renamed must not jump away from under the finger.
    let first = bench
        .procedure
        .with_untracked(|draft| by_label(draft).into_iter().map(|(act, _)| act).collect::<Vec<_>>());
    let all = bench.read(move |draft| {
        let place = |act: &ActId| first.iter().position(|other| other == act).unwrap_or(first.len());
        let mut acts: Vec<ActId> = draft.acts.keys().cloned().collect();
        acts.sort_by_key(place);
        acts
    });
    view! {
        <section class="card stack" aria-labelledby="acts">
            <h2 id="acts">{words::ACTS}</h2>
            <ul class="acts"><For each=move || all.get() key=Clone::clone children=move |act| one_act(bench, act) /></ul>
            {new_act(bench, "another-act", |_act| ())}
        </section>
    }
}

fn one_act(bench: Bench, act: ActId) -> impl IntoView {
    let (free_act, forbidden_act, until_act) = (act.clone(), act.clone(), act.clone());
    let label = {
        let act = act.clone();
        bench.read(move |draft| draft.acts.get(&act).cloned().unwrap_or_default())
    };
    let free = {
        let act = act.clone();
        bench.read(move |draft| draft.free_acts.contains(&act))
    };
    let forbidden = {
        let act = act.clone();
        bench.read(move |draft| draft.forbidden_acts.iter().find(|one| one.act == act).cloned())
    };
    let rename = {
        let id = act.clone();
        move |label: String| bench.edit(&Edit::SetAct { id: id.clone(), label })
    };
    let set_free = move |on: bool| {
        let mut acts = bench.procedure.with_untracked(|draft| draft.free_acts.clone());
        acts.retain(|other| *other != free_act);
        if on {
            acts.push(free_act.clone());
        }
        bench.edit(&Edit::SetFreeActs(acts))
    };
    let set_forbidden = move |on: bool| {
        bench.edit(&if on {
            Edit::SetForbidden(ForbiddenAct { act: forbidden_act.clone(), until: None, why: None })
        } else {
            Edit::RemoveForbidden(forbidden_act.clone())
        })
    };
    let remove = {
        let act = act.clone();
        move |_| {
            bench.edit(&Edit::RemoveAct(act.clone()));
        }
    };
    let is_forbidden = Memo::new(move |_| forbidden.with(Option::is_some));
    let more = move || is_forbidden.get().then(|| until(bench, until_act.clone(), forbidden));
    view! {
        <li class="stack tight">
            <div class="row">
                {text(format!("act-label-{act}"), words::ACT, label, rename)}
                {tick(format!("act-free-{act}"), words::FREE, free, set_free)}
                {tick(format!("act-forbidden-{act}"), words::FORBIDDEN, is_forbidden, set_forbidden)}
                <button type="button" class="button plain" aria-label=move || words::take_out(&label.get())
                    on:click=remove>{words::REMOVE}</button>
            </div>
            {more}
        </li>
    }
}

/// Until which step an act is forbidden, and why.
fn until(bench: Bench, act: ActId, forbidden: Memo<Option<ForbiddenAct>>) -> impl IntoView {
    let change = {
        let act = act.clone();
        move |write: &dyn Fn(&mut ForbiddenAct)| {
            let Some(mut held) = forbidden.get_untracked() else { return false };
            held.act.clone_from(&act);
            write(&mut held);
            bench.edit(&Edit::SetForbidden(held))
        }
    };
    let (set_until, set_why) = (change.clone(), change);
    let steps = move || {
        let mut all = vec![(String::new(), words::THROUGHOUT.to_owned())];
        bench.procedure.with(|draft| {
            all.extend(draft.steps.iter().map(|step| (step.id.clone(), name(draft, &step.id))));
        });
        all
    };
    let held = Memo::new(move |_| {
        forbidden.with(|held| held.as_ref().and_then(|one| one.until.clone())).unwrap_or_default()
    });
    let why = Memo::new(move |_| {
        forbidden.with(|held| held.as_ref().and_then(|one| one.why.clone())).unwrap_or_default()
    });
    view! {
        <div class="columns">
            {one_of(format!("act-until-{act}"), words::UNTIL, steps, held,
                move |step: String| set_until(&|one| one.until = (!step.is_empty()).then(|| step.clone())))}
            {text(format!("act-why-{act}"), words::WHY, why,
                move |why: String| set_why(&|one| one.why = (!why.is_empty()).then(|| why.clone())))}
        </div>
    }
}

fn condition(bench: Bench, id: ConditionId) -> impl IntoView {
    let held = {
        let id = id.clone();
        bench.read(move |draft| draft.conditions.iter().find(|one| one.id == id).cloned())
    };
    let said =
        Memo::new(move |_| held.with(|one| one.as_ref().map(|one| one.text.clone())).unwrap_or_default());
    let asked = Memo::new(move |_| {
        let ask = held.with(|one| one.as_ref().map_or(Ask::Start, |one| one.ask));
        when(ask).to_owned()
    });
    let change = move |write: &dyn Fn(&mut Condition)| {
        held.get_untracked().is_some_and(|mut condition| {
            write(&mut condition);
            bench.edit(&Edit::SetCondition(condition))
        })
    };
    let response = {
        let id = id.clone();
        bench.read(move |draft| draft.responses.iter().find(|one| one.to == id).cloned())
    };
    let answer =
        Memo::new(move |_| response.with(|one| one.as_ref().map(|one| one.acts.clone())).unwrap_or_default());
    let critical = Memo::new(move |_| response.with(|one| one.as_ref().is_some_and(|one| one.critical)));
    let why = Memo::new(move |_| {
        response.with(|one| one.as_ref().and_then(|one| one.why.clone())).unwrap_or_default()
    });
    let set_response = {
        let id = id.clone();
        move |write: &dyn Fn(&mut Response)| {
            let mut answered = response.get_untracked().unwrap_or_else(|| Response {
                to: id.clone(),
                acts: Vec::new(),
                critical: false,
                why: None,
                source: None,
            });
            write(&mut answered);
            bench.edit(&if answered.acts.is_empty() {
                Edit::RemoveResponse(id.clone())
            } else {
                Edit::SetResponse(answered)
            })
        }
    };
    let (set_acts, set_critical, set_why) = (set_response.clone(), set_response.clone(), set_response);
    let remove = {
        let id = id.clone();
        move |_| {
            bench.edit(&Edit::RemoveCondition(id.clone()));
        }
    };
    let asks = || [Ask::Start, Ask::Anytime].map(|ask| (when(ask).to_owned(), when(ask).to_owned())).to_vec();
    let responded = Memo::new(move |_| response.with(Option::is_some));
    // What is asked before the first act happens to nobody, so nothing has to follow on it.
    let happens = Memo::new(move |_| {
        responded.get() || held.with(|one| one.as_ref().is_some_and(|one| one.ask == Ask::Anytime))
    });
    view! {
        <div class="card stack">
            <div class="columns">
                {text(format!("condition-text-{id}"), words::CONDITION, said,
                    move |text: String| change(&|one| one.text.clone_from(&text)))}
                {one_of(format!("condition-ask-{id}"), words::ASK, asks, asked, move |called: String| {
                    let ask = if called == when(Ask::Start) { Ask::Start } else { Ask::Anytime };
                    change(&|one| one.ask = ask)
                })}
            </div>
            <div class="columns" hidden=move || !happens.get()>
                {turns(bench, format!("response-{id}"), words::RESPONSE, answer,
                    move |groups| set_acts(&|one| one.acts.clone_from(&groups)))}
                <div class="stack tight" hidden=move || !responded.get()>
                    {text(format!("response-why-{id}"), words::WHY, why,
                        move |why: String| set_why(&|one| one.why = (!why.is_empty()).then(|| why.clone())))}
                    {tick(format!("response-critical-{id}"), words::RESPONSE_CRITICAL, critical,
                        move |on| set_critical(&|one| one.critical = on))}
                </div>
            </div>
            <div class="row">
                <button type="button" class="button plain" on:click=remove>{words::REMOVE}</button>
            </div>
        </div>
    }
}

fn when(ask: Ask) -> &'static str {
    match ask {
        Ask::Start => words::AT_START,
        Ask::Anytime => words::ANYTIME,
    }
}
