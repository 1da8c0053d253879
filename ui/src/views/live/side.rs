//! The last line with what can be said about it in one tap, and the log.

use competency::{journal::Event, log::Call};
use leptos::prelude::*;

use super::{Door, Form, Panel, Shown, keys, lines, watch::is_act, written};
use crate::wording::{
    beside::{correct, note, undone as undone_words},
    door,
    door::live as words,
    paper,
};

pub(super) fn side(door: Door) -> impl IntoView {
    view! {
        {last(door)}
        <div class="door-told">
            {move || saving(door)}
            {log(door)}
        </div>
    }
}

fn last(door: Door) -> impl IntoView {
    let line = Memo::new(move |_| door.line());
    let guided = door.watch.peek(Form::is_guided);
    let first = if door.watch.peek(|form| form.paper().is_some()) { paper::FIRST } else { words::FIRST_TAP };
    let about_act = move || {
        let id = line.get().map(|line| line.id)?;
        door.watch.read(|form| is_act(form, &id)).then_some(id)
    };
    let prompt = move |_| {
        if let Some(of) = untrack(about_act) {
            door.tap(if guided { Event::Called { of, call: Call::Before } } else { Event::Prompted { of } });
        }
    };
    let undoes =
        Memo::new(move |_| door.watch.read(|form| form.undo_target().map(|(_, event)| undone(&event))));
    // What is amended must not change under the panel when another line comes.
    let open = move |panel: Panel| {
        door.chosen.set(untrack(about_act));
        door.panel.set(panel);
    };
    view! {
        <section class="door-last" aria-label=words::LAST>
            <h2>{words::LAST}</h2>
            {move || match line.get() {
                Some(line) => shown_line(&line).into_any(),
                None => view! { <p class="last-line">{words::NOTHING_YET}". "{first}</p> }.into_any(),
            }}
            {move || written::of_line(door, &line.get()?.id)}
            <div class="last-acts">
                <button type="button" class="door-button" id="undo" aria-keyshortcuts="Control+Z"
                    disabled=move || undoes.get().is_none() on:click=move |_| keys::undo(door)>
                    <span>{words::UNDO}</span><span class="under">{move || undoes.get()}</span></button>
                <button type="button" class="door-button" id="prompted" disabled=move || about_act().is_none()
                    on:click=prompt>{if guided { words::BEFORE_CALL } else { words::PROMPTED }}</button>
                <button type="button" class="door-button" id="faults" disabled=move || about_act().is_none()
                    aria-expanded="false" on:click=move |_| open(Panel::Faults)>{words::FAULT}</button>
                <button type="button" class="door-button" id="note" aria-expanded="false"
                    on:click=move |_| open(Panel::Notes)>{note::NAME}</button>
                <button type="button" class="door-button" id="correct" disabled=move || about_act().is_none()
                    aria-expanded="false" on:click=move |_| open(Panel::Correct)>{correct::NAME}</button>
            </div>
        </section>
    }
}

/// What an undo takes back, in a word or two.
fn undone(event: &Event) -> &'static str {
    if matches!(event, Event::Prompted { .. }) {
        undone_words::PROMPT
    } else if matches!(event, Event::Fault { .. }) {
        undone_words::FAULT
    } else if matches!(event, Event::Called { .. }) {
        undone_words::CALL
    } else if matches!(event, Event::Note { .. }) {
        undone_words::NOTE
    } else if matches!(event, Event::ActEnded { .. }) {
        undone_words::TIMER
    } else if matches!(event, Event::Corrected { .. }) {
        undone_words::CORRECTION
    } else if matches!(event, Event::Written { .. } | Event::WrittenSpan { .. }) {
        paper::UNDONE
    } else {
        undone_words::LINE
    }
}

fn shown_line(line: &Shown) -> impl IntoView + use<> {
    let early = line.too_early.then(|| view! { <span class="tag">{words::TOO_EARLY}</span> });
    let back = line.taken_back.is_some().then(|| view! { <span class="tag">{words::TAKEN_BACK}</span> });
    view! {
        <p class="last-line">
            <span class="number">{line.when.clone()}</span>" "<strong>{line.text.clone()}</strong>" "{early}{back}
        </p>
    }
}

/// Whether everything is durable; what to do where it is not.
fn saving(door: Door) -> impl IntoView {
    let watch = door.watch;
    let (waiting, trouble) = watch.read(|form| (form.waiting().len(), form.trouble().cloned()));
    let Some(fault) = trouble else {
        let word = match (waiting, door.line().is_some()) {
            (0, false) => String::new(),
            (0, true) => words::SAVED.to_owned(),
            (_, _) => door::waiting(waiting),
        };
        return view! { <p class="saving" id="saved">{word}</p> }.into_any();
    };
    let refused = matches!(fault.next, contract::Next::MendInput | contract::Next::ChooseAgain);
    let aside = refused.then(|| {
        view! {
            <button type="button" class="door-button" id="set-aside"
                on:click=move |_| watch.set_aside()>{words::SET_ASIDE}</button>
        }
    });
    view! {
        <div class="note danger" id="not-saved">
            <strong>{if refused { words::CANNOT_SAVE } else { words::NOT_SAVED }}" "{door::waiting(waiting)}</strong>
            <p>{fault.text}</p>
            <div class="row">
                <button type="button" class="door-button" id="try-now" on:click=move |_| watch.send()>{words::TRY_NOW}</button>
                {aside}
            </div>
        </div>
    }
    .into_any()
}

fn log(door: Door) -> impl IntoView {
    let all = Memo::new(move |_| door.watch.read(lines::all));
    view! {
        <section class="door-log" aria-label=words::LOG>
            <h2>{words::LOG}</h2>
            <ol id="log" tabindex="0" aria-label=words::LOG>
                <For each=move || all.get() key=Clone::clone let:line>
                    {log_line(door, line)}
                </For>
            </ol>
        </section>
    }
}

fn log_line(door: Door, line: Shown) -> impl IntoView {
    let Shown { id, when, text, too_early, taken_back } = line;
    let choose = move |_| {
        door.chosen.set(Some(id.clone()));
        door.panel.set(Panel::Line);
    };
    view! {
        <li>
            <button type="button" class="log-line" class:taken-back=taken_back.is_some() on:click=choose>
                <span class="number">{when}</span>
                <span class="log-text">{text}</span>
                {too_early.then(|| view! { <span class="tag">{words::TOO_EARLY}</span> })}
                {taken_back.is_some().then(|| view! { <span class="tag">{words::TAKEN_BACK}</span> })}
            </button>
        </li>
    }
}
