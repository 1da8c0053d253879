//! Notifications of the system: asked for on this device, shown at the start and when the day changes.

use std::time::Duration;

use contract::NotifyDue;
use leptos::prelude::*;

use crate::{
    page,
    widgets::{
        doing::{Doing, doing},
        select::tick,
    },
    wording::{self, manager::notices as words},
};

/// Under which name the device keeps whether it was asked for.
const KEPT: &str = "notifications";
/// How often it is looked whether another day has begun.
const LOOK: Duration = Duration::from_mins(10);

#[derive(Clone, Copy)]
struct Notices {
    wanted: RwSignal<bool>,
    doing: Doing<NotifyDue>,
}

/// Looks at the start and from time to time as long as the window is open; the shell knows which day it is.
pub(crate) fn provide() {
    let wanted = RwSignal::new(page::kept(KEPT).as_deref() == Some("on"));
    let doing = doing::<NotifyDue>(|_| ());
    provide_context(Notices { wanted, doing });
    Effect::new(move |_| {
        let on = wanted.get();
        page::keep(KEPT, if on { "on" } else { "off" });
        if on {
            doing.go(NotifyDue {});
        }
    });
    let look = move || {
        if wanted.get_untracked() {
            doing.go(NotifyDue {});
        }
    };
    // It fails only where the page has no timers.
    let looking = set_interval_with_handle(look, LOOK).ok();
    on_cleanup(move || {
        if let Some(looking) = looking {
            looking.clear();
        }
    });
}

pub(super) fn notices() -> Option<impl IntoView> {
    let Notices { wanted, doing } = use_context::<Notices>()?;
    let last = move || {
        let answer = doing.answer().filter(|_| wanted.get())?;
        Some(view! {
            <p class="quiet-text small" role="status" id="notified">
                {words::came(answer.last.map(wording::date).as_deref(), answer.due)}
            </p>
        })
    };
    Some(view! {
        <section class="card stack" aria-labelledby="notices-title">
            <h2 id="notices-title">{words::TITLE}</h2>
            <p class="quiet-text">{words::WHY}</p>
            {tick("notifications", words::WANTED, "", wanted)}
            {last}
            <Show when=move || wanted.get()>{doing.told()}</Show>
        </section>
    })
}
