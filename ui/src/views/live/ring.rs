//! The timer of a timed act: a ring that closes as the least duration passes.

use leptos::prelude::*;

use super::{Door, form::Running};

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
