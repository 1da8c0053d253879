//! Who, what, how long; hold and stop from anywhere.

use competency::journal::Event;
use leptos::prelude::*;

use super::{Door, Form, Panel};
use crate::{
    widgets::title::title,
    wording::{self, beside, door::live as words, paper},
};

pub(super) fn header(door: Door, guided: bool) -> impl IntoView {
    let watch = door.watch;
    let (person, about) = watch.peek(|form| {
        let opened = form.opened();
        // A second log is for nothing but to be compared.
        let purpose = match opened.second_of {
            Some(_) => beside::second::REPLAY.to_owned(),
            None => wording::purpose(opened.purpose),
        };
        let about = format!("{} · {} · {purpose}", opened.procedure.title, wording::mode(opened.mode));
        (opened.person.clone(), about)
    });
    let observer = move || watch.read(|form| form.observer().to_owned());
    let progress = move || {
        let (done, of) = watch.read(Form::progress);
        beside::where_we_are(done, of)
    };
    let on_hold = move || {
        let held = watch.read(|form| form.folded().on_hold);
        held.then(|| view! { <strong class="on-hold">{words::ON_HOLD}" · "</strong> })
    };
    let held = move || watch.read(|form| form.folded().on_hold);
    let hold = move |_| {
        let on_hold = watch.peek(|form| form.folded().on_hold);
        door.tap(if on_hold { Event::Resume } else { Event::Hold });
    };
    let all_acts = guided.then(|| {
        view! {
            <button type="button" class="door-button" id="all-acts" aria-pressed=move || door.all_acts.get().to_string()
                on:click=move |_| door.all_acts.update(|all| *all = !*all)>{words::ALL_ACTS}</button>
        }
    });
    let time = match watch.peek(Form::paper) {
        Some(date) => view! { <p class="door-form" id="paper-form">{paper::form_of(date)}</p> }.into_any(),
        None => view! {
            <p class="door-elapsed" id="elapsed" role="timer" aria-label=words::ELAPSED>
                {move || wording::clock(door.elapsed.get())}
            </p>
        }
        .into_any(),
    };
    // Nobody is held while a form is entered; what it says of the beginning and the end stands there instead.
    let hold = match watch.peek(Form::paper) {
        Some(_) => view! {
            <button type="button" class="door-button" id="span" aria-expanded=move || {
                (door.panel.get() == Panel::Span).to_string()
            } on:click=move |_| door.panel.set(Panel::Span)>{paper::SPAN}</button>
        }
        .into_any(),
        None => view! {
            <button type="button" class="door-button" id="hold" on:click=hold>
                {move || if held() { words::RESUME } else { words::HOLD }}
            </button>
        }
        .into_any(),
    };
    view! {
        <header class="door-head">
            <div class="door-who">
                {title(person)}
                <p>{about}" · "<span id="observes">{observer}</span></p>
            </div>
            <div class="door-time">
                {time}
                <p>{on_hold}{progress}</p>
            </div>
            {all_acts}
            {hold}
            <button type="button" class="door-button" id="more" aria-expanded=move || {
                (door.panel.get() == Panel::More).to_string()
            } on:click=move |_| door.panel.set(Panel::More)>{beside::held::MORE}</button>
            <button type="button" class="door-button stop" id="stop" aria-keyshortcuts="Control+E" aria-expanded=move || {
                (door.panel.get() == Panel::Stop).to_string()
            } on:click=move |_| door.panel.set(Panel::Stop)>{words::END}</button>
        </header>
    }
}
