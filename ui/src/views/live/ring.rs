//! The timer of a timed act: a ring that closes as the least duration passes.

use leptos::prelude::*;

use super::{Door, Form, form::Running};
use crate::wording::beside;

/// Circumference of a ring of radius 15.
const AROUND: i64 = 94;

pub(super) fn ring(door: Door, running: &Running) -> impl IntoView + use<> {
    let (since, least) = (running.since_ms, i64::from(running.least) * 1000);
    let done = move || AROUND * (door.elapsed.get() - since).clamp(0, least) / least.max(1);
    let full = move || done() >= AROUND;
    view! {
        <svg class="timer-ring" viewBox="0 0 36 36" aria-hidden="true">
            <circle class="ring-rest" cx="18" cy="18" r="15" />
            <circle class="ring-done" class:full=full cx="18" cy="18" r="15"
                stroke-dasharray=move || format!("{} 200", done()) />
        </svg>
    }
}

/// Says once that a timed act has gone on long enough, so that nobody has to look at the ring.
pub(super) fn say_when_long_enough(door: Door) {
    let running = Memo::new(move |_| door.watch.read(Form::running));
    let reached = Memo::new(move |_| {
        let least_ms = |running: &Running| i64::from(running.least) * 1000;
        running.get().filter(|running| door.elapsed.get() - running.since_ms >= least_ms(running))
    });
    Effect::new(move |before: Option<Option<Running>>| {
        let now = reached.get();
        // Not for one that was long enough before the form was opened.
        if let (Some(before), Some(running)) = (before, &now)
            && before.as_ref() != Some(running)
        {
            let label = door.watch.peek(|form| form.model().act_label(&running.act).to_owned());
            door.watch.hear(beside::long_enough(&label));
        }
        now
    });
}
