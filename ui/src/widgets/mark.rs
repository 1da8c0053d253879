//! Small marks of our own drawing.

use competency::live::ActState;
use leptos::prelude::*;

/// A door that stands ajar.
#[component]
pub(crate) fn DoorMark() -> impl IntoView {
    view! {
        <svg viewBox="0 0 32 32" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linejoin="round"
            aria-hidden="true">
            <path d="M7 28V4h18v24" />
            <path d="M7 4l10 4v21l-10-1" fill="currentColor" stroke="none" />
            <path d="M3 28h26" stroke-linecap="round" />
        </svg>
    }
}

/// The shape of an act's mark; each differs in outline, not only in colour.
#[component]
pub(crate) fn ActShape(
    /// How the act stands.
    state: ActState,
    /// It answers a response that is due.
    due: bool,
    /// It was done before its turn.
    early: bool,
) -> impl IntoView {
    let path = if early {
        // A bar and a dot, in the place of the tick.
        "M12 3v11M12 19.500v.5"
    } else if due {
        // An arrow that comes down on a line: this, next.
        "M12 3v12M6 10l6 6 6-6M5 21h14"
    } else {
        match state {
            // A triangle that points on.
            ActState::MayCome => "M7 4l12 8-12 8z",
            // Two chevrons that jump over.
            ActState::Skipped => "M5 5l7 7-7 7M13 5l7 7-7 7",
            // An empty ring.
            ActState::NotYet => "M12 4a8 8 0 1 0 0.01 0z",
            // A tick.
            ActState::Done => "M4 13l5 6L20 5",
            // A plus: may be added.
            ActState::Free => "M12 5v14M5 12h14",
            // A crossed octagon.
            ActState::Forbidden => "M8.5 3.5h7l5 5v7l-5 5h-7l-5-5v-7zM7 7l10 10",
            // A dash.
            ActState::Allowed | ActState::NotCalledFor => "M5 12h14",
        }
    };
    let filled = !due && state == ActState::MayCome;
    view! {
        <svg viewBox="0 0 24 24" fill=if filled { "currentColor" } else { "none" } stroke="currentColor"
            stroke-width="3" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true"><path d=path /></svg>
    }
}

/// Something that happened: a drop.
#[component]
pub(crate) fn ContaminationShape() -> impl IntoView {
    view! {
        <svg viewBox="0 0 24 24" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linejoin="round"
            aria-hidden="true"><path d="M12 3c4 5 6.5 8 6.5 11.500a6.500 6.500 0 0 1-13 0C5.500 11 8 8 12 3z" /></svg>
    }
}
