//! One of many by name, or some of a few.

use leptos::prelude::*;

use crate::wording;

/// A labelled list to choose from. Each option is its value and its name; the empty value is for none.
pub(crate) fn select(
    id: impl Into<String>,
    label: impl Into<String>,
    options: Vec<(String, String)>,
    chosen: RwSignal<String>,
) -> impl IntoView {
    list(id.into(), label.into(), options, chosen, Signal::stored(None))
}

/// The same where nothing may be chosen for whoever fills it in: the first option is none, and `wrong` says so at
/// the list.
pub(crate) fn select_one(
    id: impl Into<String>,
    label: impl Into<String>,
    options: Vec<(String, String)>,
    chosen: RwSignal<String>,
    wrong: Signal<Option<&'static str>>,
) -> impl IntoView {
    let none = (String::new(), wording::CHOOSE.to_owned());
    let options = [none].into_iter().chain(options).collect();
    list(id.into(), label.into(), options, chosen, wrong)
}

fn list(
    id: String,
    label: String,
    options: Vec<(String, String)>,
    chosen: RwSignal<String>,
    wrong: Signal<Option<&'static str>>,
) -> impl IntoView {
    let wrong_id = format!("{id}-wrong");
    let described = {
        let wrong_id = wrong_id.clone();
        move || wrong.get().map(|_| wrong_id.clone())
    };
    let each = options.into_iter().map(|(value, name)| {
        let selected = chosen.with_untracked(|chosen| *chosen == value);
        view! { <option value=value selected=selected>{name}</option> }
    });
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <select id=id prop:value=chosen aria-describedby=described
                aria-invalid=move || wrong.get().map(|_| "true")
                on:change:target=move |event| chosen.set(event.target().value())>
                {each.collect_view()}
            </select>
            {move || wrong.get().map(|wrong| view! { <p class="wrong" id=wrong_id.clone()>{wrong}</p> })}
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
