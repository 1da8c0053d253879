//! What opens in the side column: technique faults, a contamination event, how it ends. The acts stay in
//! reach beside it, and any tap on one closes it.

use competency::{
    journal::Event,
    log::{Contamination, HowEnded, What},
    procedure::{By, TechniqueFault},
};
use leptos::prelude::*;

use super::{Door, Form, Panel, body, guided::soon};
use crate::{
    page,
    wording::{self, beside::exposure as cautions, door::live as words},
};

pub(super) fn panel(door: Door, heading: impl IntoView, inside: impl IntoView) -> impl IntoView {
    let back = move |_| {
        door.panel.set(Panel::Log);
        door.chosen.set(None);
    };
    // The panel takes the focus, so that a keyboard goes on inside it.
    Effect::new(move |_| page::focus("panel-title"));
    view! {
        <section class="door-panel" aria-labelledby="panel-title">
            <div class="panel-head">
                <h2 id="panel-title" tabindex="-1">{heading}</h2>
                <button type="button" class="door-button" id="panel-back" on:click=back>{words::BACK}</button>
            </div>
            <div class="panel-choices">{inside}</div>
        </section>
    }
}

/// The technique faults of the chosen line's act.
pub(super) fn faults(door: Door) -> impl IntoView {
    let of = door.chosen.get_untracked().unwrap_or_default();
    let none = door.watch.peek(|form| faults_of(form, &of).is_empty());
    let none = none.then(|| view! { <p>{words::NO_FAULTS}</p> });
    panel(door, words::FAULT, view! { {none}{fault_choices(door, &of)} })
}

/// A choice for each technique fault of a line's act.
pub(super) fn fault_choices(door: Door, of: &str) -> impl IntoView + use<> {
    let known = door.watch.peek(|form| faults_of(form, of));
    let each = known.into_iter().map(|fault| {
        let TechniqueFault { code, text, contaminates } = fault;
        let (of, id) = (of.to_owned(), format!("fault-{code}"));
        view! {
            <button type="button" class="door-button wide" id=id
                on:click=move |_| door.tap(Event::Fault { of: of.clone(), code: code.clone() })>
                <span>{text}{contaminates.then(|| view! { " "<span class="tag">{words::CONTAMINATES}</span> })}</span>
            </button>
        }
    });
    each.collect_view()
}

fn faults_of(form: &Form, line: &str) -> Vec<TechniqueFault> {
    let seen = form.folded().observation_of(line).and_then(|index| form.folded().log.observations.get(index));
    let Some(What::Act(act)) = seen.map(|seen| &seen.what) else { return Vec::new() };
    let procedure = form.model().procedure();
    let parts = procedure.combined_acts.get(act).map(|combined| combined.counts_as.as_slice());
    let stands_for = |id: &String| id == act || parts.is_some_and(|parts| parts.contains(id));
    let steps = procedure.steps.iter().filter(|step| step.acts.iter().any(stands_for));
    let mut all: Vec<TechniqueFault> = Vec::new();
    for fault in steps.flat_map(|step| &step.technique_faults) {
        if !all.iter().any(|known| known.code == fault.code) {
            all.push(fault.clone());
        }
    }
    all
}

/// A contamination event: where, from what, noticed by whom.
pub(super) fn contamination(door: Door) -> impl IntoView {
    let site = RwSignal::new(None::<String>);
    let from = RwSignal::new(None::<String>);
    let sources = door.watch.peek(|form| {
        let mut all = form.model().procedure().ensemble.clone();
        all.push(words::SURFACE.to_owned());
        all
    });
    // It happened when the observer reached for it, not when the last question was answered.
    let began = page::now_ms();
    let assisted = door.watch.peek(|form| form.opened().assistant.is_some());
    let log = move |recognised_by: Option<By>| {
        if let (Some(site), Some(from)) = (site.get_untracked(), from.get_untracked()) {
            let ago_ms = u32::try_from(page::now_ms() - began).unwrap_or(0);
            door.tap(Event::Contamination { event: Contamination { site, from, recognised_by }, ago_ms });
        }
    };
    let inside = move || match (site.get(), from.get()) {
        (None, _) => {
            let chosen = Callback::new(move |name: &'static str| site.set(Some(name.to_owned())));
            body::body(chosen).into_any()
        }
        (Some(_), None) => {
            let ready = soon();
            let each = sources.clone().into_iter().map(|name| {
                let chosen = name.clone();
                answer(ready, name, move || from.set(Some(chosen.clone())))
            });
            view! { <p class="panel-ask">{words::FROM}</p>{each.collect_view()} }.into_any()
        }
        (Some(_), Some(_)) => {
            let ready = soon();
            let people = [Some(By::Wearer), Some(By::Observer), Some(By::Assistant), None];
            let there = people.into_iter().filter(|who| assisted || *who != Some(By::Assistant));
            let each = there.map(|who| {
                answer(ready, who.map_or(words::NOBODY, wording::by).to_owned(), move || log(who))
            });
            view! { <p class="panel-ask">{words::NOTICED}</p>{each.collect_view()} }.into_any()
        }
    };
    let heading =
        move || if site.get().is_none() { words::CONTAMINATION_WHERE } else { words::CONTAMINATION };
    panel(door, heading, inside)
}

pub(super) fn choice(name: String, chosen: impl Fn() + 'static) -> impl IntoView {
    view! { <button type="button" class="door-button" on:click=move |_| chosen()>{name}</button> }
}

/// A choice that answers one of several questions, once `ready`; see [`soon`].
pub(super) fn answer(ready: RwSignal<bool>, name: String, chosen: impl Fn() + 'static) -> impl IntoView {
    view! {
        <button type="button" class="door-button" disabled=move || !ready.get()
            on:click=move |_| chosen()>{name}</button>
    }
}

/// After a contamination event: what must come next, and the usual cautions. Any tap closes it.
pub(super) fn exposure(door: Door) -> impl IntoView {
    let due = move || {
        door.watch.read(|form| {
            let labels: Vec<String> =
                form.due().iter().map(|act| form.model().act_label(act).to_owned()).collect();
            (!labels.is_empty()).then(|| cautions::then(&wording::listed(&labels, wording::door::OR)))
        })
    };
    let inside = view! {
        <div class="exposure wide" id="exposure">
            <p><strong>{cautions::STOP}</strong></p>
            {move || due().map(|due| view! { <p><strong>{due}</strong></p> })}
            <p>{cautions::SKIN}</p>
            <p>{cautions::EYES}</p>
            <p>{cautions::PLAN}" "{cautions::OCCUPATIONAL}</p>
        </div>
    };
    panel(door, cautions::TITLE, inside)
}

/// How the demonstration ends.
pub(super) fn stop(door: Door) -> impl IntoView {
    let ways = [
        (HowEnded::Completed, "end-completed"),
        (HowEnded::StoppedExposure, "end-stopped-exposure"),
        (HowEnded::StoppedSafety, "end-stopped-safety"),
        (HowEnded::Abandoned, "end-abandoned"),
    ];
    let each = ways.map(|(how, id)| {
        view! {
            <button type="button" class="door-button wide" class:stop=matches!(how, HowEnded::StoppedExposure | HowEnded::StoppedSafety) id=id
                on:click=move |_| door.tap(Event::End { how })>{wording::how_ended(how)}</button>
        }
    });
    let inside = view! { {each.into_iter().collect_view()}<p class="small">{words::EXPOSURE}</p> };
    panel(door, words::HOW_ENDED, inside)
}
