//! The wipe lock: nothing can be tapped until the button is held, so that the screen can be disinfected.

use std::time::Duration;

use leptos::prelude::*;

use super::Door;
use crate::{
    page,
    wording::{self, beside::held as words},
};

/// How long it must be held: longer than a cloth rests on one place.
const HOLD: Duration = Duration::from_secs(2);

pub(super) fn lock(door: Door) -> impl IntoView {
    let holding = RwSignal::new(None::<TimeoutHandle>);
    let let_go = move || {
        if let Some(holding) = holding.try_update(Option::take).flatten() {
            holding.clear();
        }
    };
    let hold = move || {
        // A key that is held down repeats; it is one holding.
        if holding.with_untracked(Option::is_none) {
            // It fails only where the page has no timers; then holding does nothing and the time is said wrong.
            let unlock = move || {
                door.locked.set(false);
                // What was locked takes no focus before it is drawn anew.
                set_timeout(|| page::focus("more"), Duration::ZERO);
            };
            holding.set(set_timeout_with_handle(unlock, HOLD).ok());
        }
    };
    on_cleanup(let_go);
    Effect::new(move |_| page::focus("unlock"));
    view! {
        <section class="door-lock" aria-label=words::LOCKED>
            <p class="door-elapsed">{move || wording::clock(door.elapsed.get())}</p>
            <h2>{words::LOCKED}</h2>
            <p>{words::LOCKED_HINT}</p>
            <button type="button" class="door-button" id="unlock" class:holding=move || holding.with(Option::is_some)
                on:pointerdown=move |_| hold() on:pointerup=move |_| let_go() on:pointerleave=move |_| let_go()
                on:pointercancel=move |_| let_go() on:blur=move |_| let_go()
                on:keydown=move |event| if matches!(event.key().as_str(), " " | "Enter") { hold(); }
                on:keyup=move |_| let_go()>{words::UNLOCK}</button>
        </section>
    }
}
