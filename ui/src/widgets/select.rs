//! One of many by name, or some of a few.

use leptos::prelude::*;

/// A labelled list to choose from. Each option is its value and its name; the empty value is for none.
pub(crate) fn select(
    id: impl Into<String>,
    label: impl Into<String>,
    options: Vec<(String, String)>,
    chosen: RwSignal<String>,
) -> impl IntoView {
    let id = id.into();
    let each = options.into_iter().map(|(value, name)| {
        let selected = chosen.with_untracked(|chosen| *chosen == value);
        view! { <option value=value selected=selected>{name}</option> }
    });
    view! {
        <div class="field">
            <label for=id.clone()>{label.into()}</label>
            <select id=id prop:value=chosen on:change:target=move |event| chosen.set(event.target().value())>
                {each.collect_view()}
            </select>
        </div>
    }
}

/// What was chosen; `None` where nothing is.
pub(crate) fn chosen(value: RwSignal<String>) -> Option<String> {
    value.with_untracked(|value| (!value.is_empty()).then(|| value.clone()))
}

/// A box to tick.
pub(crate) fn tick(
    id: impl Into<String>,
    label: impl Into<String>,
    hint: &'static str,
    ticked: RwSignal<bool>,
) -> impl IntoView {
    view! {
        <label class="choice">
            <input type="checkbox" id=id.into() prop:checked=ticked
                on:change:target=move |event| ticked.set(event.target().checked()) />
            <strong>{label.into()}</strong>
            {(!hint.is_empty()).then(|| view! { <span class="hint">{hint}</span> })}
        </label>
    }
}

/// Some of a few, each with its value and its name: the boxes, and what tells which are ticked.
pub(crate) fn ticks(
    prefix: &str,
    all: Vec<(String, String)>,
) -> (impl IntoView + use<>, impl Fn() -> Vec<String> + Clone + Send + Sync + use<>) {
    let each: Vec<(String, String, RwSignal<bool>)> =
        all.into_iter().map(|(value, name)| (value, name, RwSignal::new(false))).collect();
    let boxes: Vec<_> = each
        .iter()
        .map(|(value, name, ticked)| tick(format!("{prefix}-{value}"), name.clone(), "", *ticked))
        .collect();
    let which = move || {
        let ticked = each.iter().filter(|(_, _, ticked)| ticked.get_untracked());
        ticked.map(|(value, _, _)| value.clone()).collect()
    };
    (boxes, which)
}
