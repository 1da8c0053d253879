//! One of a few, each with a word on what it means.

use leptos::prelude::*;

/// One choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Choice<T> {
    /// What is chosen.
    pub(crate) value: T,
    /// Its id on the page.
    pub(crate) id: String,
    /// What it is called.
    pub(crate) label: String,
    /// What it means; it may depend on what else is chosen.
    pub(crate) hint: Signal<String>,
}

impl<T> Choice<T> {
    /// Each by what is chosen, its id, what it is called and what it means.
    pub(crate) fn all<const N: usize>(
        each: [(T, &'static str, &'static str, &'static str); N],
    ) -> Vec<Choice<T>> {
        let one = |(value, id, label, hint): (T, &str, &str, &str)| Choice {
            value,
            id: id.to_owned(),
            label: label.to_owned(),
            hint: Signal::stored(hint.to_owned()),
        };
        each.into_iter().map(one).collect()
    }
}

/// Radio buttons in large labels; `name` is what they choose, for screen readers.
pub(crate) fn choices<T: Clone + PartialEq + Send + Sync + 'static>(
    group: &'static str,
    name: &'static str,
    all: Vec<Choice<T>>,
    chosen: RwSignal<Option<T>>,
) -> impl IntoView {
    let each = all.into_iter().map(move |Choice { value, id, label, hint }| {
        let is_chosen = {
            let value = value.clone();
            move || chosen.with(|chosen| chosen.as_ref() == Some(&value))
        };
        view! {
            <label class="choice">
                <input type="radio" name=group id=id prop:checked=is_chosen
                    on:change=move |_| chosen.set(Some(value.clone())) />
                <strong>{label}</strong>
                <span class="hint">{move || hint.get()}</span>
            </label>
        }
    });
    view! { <div class="choices" role="radiogroup" aria-label=name>{each.collect_view()}</div> }
}
