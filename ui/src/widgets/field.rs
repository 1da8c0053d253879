//! A labelled field with its hint and what is wrong with it.

use leptos::prelude::*;

/// What goes into a field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A line of text.
    Text,
    /// A search.
    Search,
    /// A secret, not shown.
    Secret,
    /// A secret of digits, not shown.
    Pin,
}

/// A field for one line.
#[component]
pub(crate) fn Field(
    /// Its id, stable for tests.
    id: &'static str,
    /// Its label.
    #[prop(into)]
    label: String,
    /// What it holds.
    value: RwSignal<String>,
    /// What goes into it.
    #[prop(default = Kind::Text)]
    kind: Kind,
    /// What helps to fill it in; may be empty.
    #[prop(default = "")]
    hint: &'static str,
    /// What is wrong with it; `None` where nothing is.
    #[prop(into, default = Signal::stored(None))]
    wrong: Signal<Option<&'static str>>,
) -> impl IntoView {
    let (kind, mode) = match kind {
        Kind::Text => ("text", None),
        Kind::Search => ("search", None),
        Kind::Secret => ("password", None),
        Kind::Pin => ("password", Some("numeric")),
    };
    let (hint_id, wrong_id) = (format!("{id}-hint"), format!("{id}-wrong"));
    let described = {
        let (hint_id, wrong_id) = (hint_id.clone(), wrong_id.clone());
        move || match (hint.is_empty(), wrong.get()) {
            (true, None) => None,
            (true, Some(_)) => Some(wrong_id.clone()),
            (false, None) => Some(hint_id.clone()),
            (false, Some(_)) => Some(format!("{wrong_id} {hint_id}")),
        }
    };
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <input id=id type=kind inputmode=mode autocomplete="off" prop:value=value
                aria-describedby=described
                aria-invalid=move || wrong.get().map(|_| "true")
                on:input:target=move |event| value.set(event.target().value()) />
            {(!hint.is_empty()).then(|| view! { <p class="hint" id=hint_id>{hint}</p> })}
            {move || wrong.get().map(|wrong| view! { <p class="wrong" id=wrong_id.clone()>{wrong}</p> })}
        </div>
    }
}
