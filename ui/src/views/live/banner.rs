//! One fixed place for what matters now: too early, what must come next, what may come.

use competency::{
    journal::{Event, TapId},
    live::ActState,
    model::Model,
    sentence,
};
use leptos::prelude::*;

use super::{Door, Form, Panel, form::Running};
use crate::{
    pictures,
    wording::{self, door::live as words},
};

/// What the banner says.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
enum Said {
    /// An act came before its turn.
    TooEarly { of: TapId, first: Option<First>, text: String },
    /// What was seen last must not happen.
    Forbidden { act: String, why: Option<String> },
    /// A response is owed.
    Due { acts: String },
    /// It is held.
    Held,
    /// An act is being timed.
    Timing(Running, String),
    /// These acts may come now.
    MayCome { acts: String },
    /// Nothing is left.
    #[default]
    AllDone,
}

/// The step that should have come first.
#[derive(Debug, Clone, PartialEq, Eq)]
struct First {
    step: String,
    act: String,
    label: String,
}

fn said(form: &Form, closed: Option<&TapId>) -> Said {
    let model = form.model();
    if let Some((of, warning)) = form.warning().filter(|(of, _)| Some(*of) != closed) {
        let first = warning.first.first().and_then(|first| {
            let step = model.step(model.step_number(&first.step)?)?;
            Some(First {
                step: step.id.clone(),
                act: step.acts.first()?.clone(),
                label: pictures::step_label(model, step),
            })
        });
        return Said::TooEarly { of: of.clone(), first, text: sentence::warning(model, warning) };
    }
    if let Some((_, acts)) = form.live().due(model).next() {
        let labels: Vec<String> = acts.iter().map(|act| model.act_label(act).to_owned()).collect();
        return Said::Due { acts: wording::listed(&labels, wording::door::OR) };
    }
    if let Some((act, why)) = form.forbidden() {
        return Said::Forbidden { act: model.act_label(act).to_owned(), why };
    }
    if form.folded().on_hold {
        return Said::Held;
    }
    if let Some(running) = form.running() {
        let label = model.act_label(&running.act).to_owned();
        return Said::Timing(running, label);
    }
    let labels = may_come(form, model);
    if labels.is_empty() { Said::AllDone } else { Said::MayCome { acts: labels.join(" · ") } }
}

fn may_come(form: &Form, model: &Model) -> Vec<String> {
    let tiles = model.sections().iter().flat_map(|section| &section.tiles);
    let open = tiles.filter(|tile| form.live().act_mark(model, &tile.act).state == ActState::MayCome);
    open.map(|tile| tile.label.clone()).collect()
}

pub(super) fn banner(door: Door) -> impl IntoView {
    let shown = Memo::new(move |_| {
        let closed = door.closed.get();
        door.watch.read(|form| said(form, closed.as_ref()))
    });
    let class = move || match shown.get() {
        Said::TooEarly { .. } | Said::Forbidden { .. } => "door-banner too-early",
        Said::Due { .. } => "door-banner due",
        Said::Held => "door-banner held",
        Said::Timing(..) | Said::MayCome { .. } | Said::AllDone => "door-banner",
    };
    view! {
        <section id="banner" class=class aria-label=words::WORD_NOW>
            {move || match shown.get() {
                Said::TooEarly { of, first, text } => too_early(door, of, first, text).into_any(),
                Said::Forbidden { act, why } => view! {
                    <div class="banner-text" tabindex="0">
                        <h2>{words::MUST_NOT_HAPPEN}</h2><p>{words::forbidden(&act, why)}</p>
                    </div>
                }.into_any(),
                Said::Due { acts } => two(words::NEXT_MUST_COME, acts).into_any(),
                Said::Held => two(words::ON_HOLD, words::ON_HOLD_HINT.to_owned()).into_any(),
                Said::Timing(running, label) => timing(door, running, label).into_any(),
                Said::MayCome { acts } => two(wording::door::mark(ActState::MayCome), acts).into_any(),
                Said::AllDone => two(words::ALL_DONE, words::ALL_DONE_HINT.to_owned()).into_any(),
            }}
        </section>
    }
}

fn two(what: &'static str, acts: String) -> impl IntoView {
    view! { <div class="banner-text"><h2>{what}</h2><p class="banner-acts">{acts}</p></div> }
}

fn too_early(door: Door, of: TapId, first: Option<First>, text: String) -> impl IntoView {
    let prompted = of.clone();
    let closing = of.clone();
    let prompt = move |_| {
        door.watch.tap(Event::Prompted { of: prompted.clone() });
        // It has been dealt with, so the banner goes back to what comes next.
        door.closed.set(Some(closing.clone()));
    };
    let about_first = first.map(|First { step, act, label }| {
        let late = move |_| {
            let by = door.watch.peek(|form| form.by(&act));
            door.watch.tap(Event::LateAct { act: act.clone(), by, before: Some(of.clone()) });
        };
        let not_seen = move |_| {
            door.watch.tap(Event::NotSeen { step: step.clone() });
        };
        view! {
            <button type="button" class="door-button" id="first-done" on:click=late
                aria-label=format!("{}: {label}", words::DONE_NOT_LOGGED)>{words::DONE_NOT_LOGGED}</button>
            <button type="button" class="door-button" id="first-not-seen" on:click=not_seen
                aria-label=format!("{}: {label}", words::NOT_SEEN)>{words::NOT_SEEN}</button>
        }
    });
    view! {
        <div class="banner-text" tabindex="0"><h2>{words::TOO_EARLY}</h2><p id="too-early">{text}</p></div>
        <div class="banner-acts-row">
            <button type="button" class="door-button" id="banner-prompted" on:click=prompt>{words::PROMPTED}</button>
            {about_first}
            <button type="button" class="door-button stop" id="banner-stop"
                on:click=move |_| door.panel.set(Panel::Stop)>{words::STOP}</button>
        </div>
    }
}

fn timing(door: Door, running: Running, label: String) -> impl IntoView {
    let Running { of, since_ms, least, .. } = running;
    let said = move || wording::door::timing(&label, door.elapsed.get() - since_ms, least);
    view! {
        <div class="banner-text">
            <h2>{words::TIMING}</h2>
            <p class="banner-acts">{said}</p>
        </div>
        <button type="button" class="door-button" id="end-timer"
            on:click=move |_| door.tap(Event::ActEnded { of: of.clone() })>{words::TIMER_END}</button>
    }
}
