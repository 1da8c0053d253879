//! Guided mode: the next step in large words to read aloud, what to look for, one large act to confirm.

use std::time::Duration;

use competency::{
    journal::Event,
    procedure::{By, Step},
};
use leptos::prelude::*;

use super::{Door, Form, banner::passed_over};
use crate::wording::{self, beside, door::live as words, facility::procedures};

pub(super) fn next(door: Door) -> impl IntoView {
    let step = Memo::new(move |_| door.watch.read(|form| form.next_step().cloned()));
    let due = Memo::new(move |_| door.watch.read(Form::due));
    let over = Memo::new(move |_| door.watch.read(passed_over));
    move || match step.get() {
        _ if due.with(|due| !due.is_empty()) => answer(door, due.get()).into_any(),
        Some(step) => one(door, step).into_any(),
        None => {
            let told = over.get().map_or_else(
                || words::ALL_DONE.to_owned(),
                |steps| format!("{}: {steps}", words::NO_TAP_YET),
            );
            view! {
                <section class="guided" aria-label=words::NEXT_STEP>
                    <p class="guided-text">{told}</p>
                    <p>{words::ALL_DONE_HINT}</p>
                </section>
            }
            .into_any()
        }
    }
}

/// A response that is owed stands before every step until it is answered.
fn answer(door: Door, acts: Vec<String>) -> impl IntoView {
    let labels: Vec<String> =
        door.watch.peek(|form| acts.iter().map(|act| form.model().act_label(act).to_owned()).collect());
    let aloud = wording::listed(&labels, wording::door::OR);
    let confirms = acts.into_iter().map(|act| {
        let (label, by) = door.watch.peek(|form| (form.model().act_label(&act).to_owned(), form.by(&act)));
        let id = format!("confirm-{act}");
        let tapped = move |_| door.tap(Event::Act { act: act.clone(), by });
        view! {
            <button type="button" class="guided-confirm" id=id on:click=tapped>
                <strong>{words::SEEN_DONE}</strong><span>{label}</span>
            </button>
        }
    });
    view! {
        <section class="guided owed" aria-label=words::NEXT_MUST_COME>
            <p class="row guided-head"><strong>{words::NEXT_MUST_COME}</strong><span>{words::READ_ALOUD}</span></p>
            <p class="guided-text">{aloud}</p>
            <p class="guided-points"></p>
            <div class="guided-confirms">{confirms.collect_view()}</div>
        </section>
    }
}

/// True a moment after a step or a question is shown. What answers it stands where the answer to the one before
/// stood, so a finger that bounces would answer what nobody has read yet.
pub(super) fn soon() -> RwSignal<bool> {
    const BOUNCE: Duration = Duration::from_millis(250);
    let ready = RwSignal::new(false);
    let now = move || {
        let _confirmed_meanwhile = ready.try_set(true);
    };
    set_timeout(now, BOUNCE);
    ready
}

fn one(door: Door, step: Step) -> impl IntoView {
    let watch = door.watch;
    let by = step.by;
    let ready = soon();
    let confirms = step.acts.iter().map(|act| {
        let (label, least) = watch.peek(|form| {
            let label = form.model().act_label(act).to_owned();
            (label, form.model().procedure().least_seconds(&step, act))
        });
        let least = least.map(|least| procedures::seconds(&label, least));
        let (tapped, waiting) = (act.clone(), act.clone());
        let waits = move || watch.read(|form| form.act_waits(&waiting));
        let word = move || if waits() { words::SAVING } else { words::SEEN_DONE };
        view! {
            <button type="button" class="guided-confirm" id=format!("confirm-{act}") disabled=move || !ready.get()
                on:click=move |_| door.tap(Event::Act { act: tapped.clone(), by })>
                <strong>{word}</strong><span>{least.unwrap_or(label)}</span>
            </button>
        }
    });
    let confirms = confirms.collect_view();
    let who = (by != By::Wearer).then(|| view! { <span class="tag">{wording::by(by)}</span> });
    let critical = step.critical.then(|| view! { <span class="tag">{procedures::CRITICAL}</span> });
    let notes = watch.peek(|form| form.model().procedure().facility_notes(&step));
    let points =
        step.look_for.into_iter().chain(notes).map(|point| view! { <li>{point}</li> }).collect_view();
    let number = watch.peek(|form| {
        let mut steps = form.steps().map(|(step, _)| &step.id);
        let at = steps.position(|known| *known == step.id).map_or(0, |at| at + 1);
        beside::step_of(at, form.progress().1)
    });
    let id = step.id;
    let not_seen = move |_| door.tap(Event::NotSeen { step: id.clone() });
    view! {
        <section class="guided" aria-label=words::NEXT_STEP>
            <p class="row guided-head"><span>{number}</span><strong>{step.section}</strong><span>{words::READ_ALOUD}</span>{who}{critical}</p>
            <p class="guided-text" id="guided-text">{step.text}</p>
            <ul class="guided-points points">{points}</ul>
            <div class="guided-confirms">
                {confirms}
                <button type="button" class="door-button" id="step-not-seen" disabled=move || !ready.get()
                    on:click=not_seen>
                    {words::STEP_NOT_SEEN}
                </button>
            </div>
        </section>
    }
}
