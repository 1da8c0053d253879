//! Entering a paper form: the time beside a line, and when it began and ended, as they are written there.

use competency::journal::{
    Event, TapId,
    written::{TimeOfDay, read_lasted},
};
use leptos::prelude::*;

use super::{Door, panels::panel};
use crate::{page, wording::paper as words};

/// A field of the form of the size of everything else to tap.
fn field(id: &'static str, label: &'static str, value: RwSignal<String>) -> impl IntoView {
    view! {
        <label class="written-field" for=id>
            <span>{label}</span>
            <input id=id class="door-text" type="text" inputmode="numeric" autocomplete="off" prop:value=value
                aria-describedby="written-wrong" on:input:target=move |event| value.set(event.target().value()) />
        </label>
    }
}

/// `None` where nothing is written.
fn filled<T>(
    text: RwSignal<String>,
    read: impl FnOnce(&str) -> Result<T, String>,
) -> Result<Option<T>, String> {
    text.with_untracked(|text| if text.trim().is_empty() { Ok(None) } else { read(text).map(Some) })
}

/// Keeps what was typed where it may be, and says what is wrong with it where not.
fn keep(door: Door, typed: Result<Event, String>, wrong: RwSignal<Option<String>>) {
    let checked = typed.and_then(|event| {
        door.watch
            .peek(|form| Some(form.check_written(&event, page::now_ms())))
            .unwrap_or(Ok(()))
            .map(|()| event)
    });
    match checked {
        Ok(event) => door.tap(event),
        Err(said) => wrong.set(Some(said)),
    }
}

fn told(wrong: RwSignal<Option<String>>) -> impl IntoView {
    view! { <p class="wrong written-wrong" id="written-wrong" role="alert">{wrong}</p> }
}

/// What the form says of a line; nothing where the line has no time or no form is entered.
pub(super) fn of_line(door: Door, line: &TapId) -> Option<impl IntoView + use<>> {
    let written = door.watch.peek(|form| form.written_of(line))?;
    let (at, lasted) = (RwSignal::new(written.at), RwSignal::new(written.lasted));
    let wrong = RwSignal::new(None);
    let of = line.clone();
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let typed = filled(at, TimeOfDay::read).and_then(|at| {
            let lasted_s = filled(lasted, read_lasted)?;
            Ok(Event::Written { of: of.clone(), at, lasted_s })
        });
        keep(door, typed, wrong);
    };
    let lasted = written.timed.then(|| field("written-lasted", words::LASTED, lasted));
    Some(view! {
        <form class="written" on:submit=keep>
            {field("written-at", words::TIME, at)}
            {lasted}
            <button type="submit" class="door-button" id="written-keep">{words::KEEP}</button>
            {told(wrong)}
        </form>
    })
}

/// When it began and ended, by the form.
pub(super) fn span(door: Door) -> impl IntoView {
    let (begun, ended) = door.watch.peek(super::Form::written_span);
    let (begun, ended) = (RwSignal::new(begun), RwSignal::new(ended));
    let wrong = RwSignal::new(None);
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let typed = filled(begun, TimeOfDay::read).and_then(|begun| {
            let ended = filled(ended, TimeOfDay::read)?;
            Ok(Event::WrittenSpan { begun, ended })
        });
        keep(door, typed, wrong);
    };
    let inside = view! {
        <p class="panel-ask">{words::SPAN_HINT}</p>
        <form class="written wide" on:submit=keep>
            {field("span-begun", words::BEGUN, begun)}
            {field("span-ended", words::ENDED, ended)}
            <button type="submit" class="door-button" id="span-keep">{words::KEEP}</button>
            {told(wrong)}
        </form>
    };
    panel(door, words::SPAN, inside)
}
