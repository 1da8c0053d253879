//! How this device is held and read: which hand, how large the text, how bright the surroundings. It is the
//! device's own and kept beside the page, never in the ledger.

use leptos::prelude::*;

use super::{Door, panels::panel};
use crate::{page, wording::beside::held as words};

const HAND: &str = "doorside-hand";
const TEXT: &str = "doorside-text";
const LIGHT: &str = "doorside-light";

/// Sizes of the text in percent.
const SIZES: [u32; 4] = [100, 125, 150, 200];

/// The settings of this device.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Held {
    /// The log stands at the left hand.
    pub(super) left: RwSignal<bool>,
    /// Size of the text in percent.
    pub(super) text: RwSignal<u32>,
    /// `bright`, `dim`, or empty for what the device says.
    light: RwSignal<String>,
}

impl Held {
    /// Reads what the device keeps, holds the page to it, and puts it into the context of the whole window.
    pub(crate) fn provide() {
        let text = page::kept(TEXT).and_then(|kept| kept.parse().ok()).filter(|kept| SIZES.contains(kept));
        let held = Held {
            left: RwSignal::new(page::kept(HAND).as_deref() == Some("left")),
            text: RwSignal::new(text.unwrap_or(100)),
            light: RwSignal::new(page::kept(LIGHT).unwrap_or_default()),
        };
        Effect::new(move |_| page::set_on_page("data-text", &held.text.get().to_string()));
        Effect::new(move |_| page::set_on_page("data-light", &held.light.get()));
        provide_context(held);
    }

    /// Those of this window.
    pub(super) fn here() -> Held {
        expect_context()
    }
}

/// The settings as choices, each shown at once.
pub(super) fn settings(door: Door) -> impl IntoView {
    let held = door.held;
    let hand =
        [(false, "hand-right", words::RIGHT), (true, "hand-left", words::LEFT)].map(|(left, id, name)| {
            choice(
                id.to_owned(),
                name.to_owned(),
                move || held.left.get() == left,
                move || {
                    held.left.set(left);
                    page::keep(HAND, if left { "left" } else { "right" });
                },
            )
        });
    let sizes = SIZES.map(|size| {
        choice(
            format!("text-{size}"),
            words::percent(size),
            move || held.text.get() == size,
            move || {
                held.text.set(size);
                page::keep(TEXT, &size.to_string());
            },
        )
    });
    let lights = [
        ("", "light-device", words::AS_DEVICE),
        ("bright", "light-bright", words::BRIGHT),
        ("dim", "light-dim", words::DIM),
    ];
    let lights = lights.map(|(light, id, name)| {
        choice(
            id.to_owned(),
            name.to_owned(),
            move || held.light.with(|held| held == light),
            move || {
                held.light.set(light.to_owned());
                page::keep(LIGHT, light);
            },
        )
    });
    let inside = view! {
        <p class="panel-ask">{words::HAND}</p>{hand.into_iter().collect_view()}
        <p class="panel-ask">{words::TEXT}</p>{sizes.into_iter().collect_view()}
        <p class="panel-ask">{words::LIGHT}</p>
        <div class="thirds">{lights.into_iter().collect_view()}</div>
        <p class="small">{words::KEYS}</p>
    };
    panel(door, words::SETTINGS, inside)
}

fn choice(
    id: String,
    name: String,
    chosen: impl Fn() -> bool + Send + 'static,
    choose: impl Fn() + 'static,
) -> impl IntoView {
    view! {
        <button type="button" class="door-button" id=id aria-pressed=move || chosen().to_string()
            on:click=move |_| choose()>{name}</button>
    }
}
