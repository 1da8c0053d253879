//! Fields of the workbench. Each shows a part of the draft and hands over what was entered; where the
//! rules refuse it, the field shows again what holds.

use std::time::Duration;

use leptos::{leptos_dom::helpers::debounce, prelude::*};

/// After how long without a key what was written so far is kept, though the field was not left.
const PAUSE: Duration = Duration::from_secs(1);

/// Whether something is being written that is not in the draft yet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Typing(pub(super) RwSignal<bool>);

/// What takes an entry; `false` where it is refused.
pub(super) trait Take<T>: Fn(T) -> bool + 'static {}
impl<T, F: Fn(T) -> bool + 'static> Take<T> for F {}

/// One sentence, in a field that grows with it: nobody should have to move along a line to read their own words.
pub(super) fn text(
    id: String,
    label: impl Into<String>,
    value: Memo<String>,
    take: impl Take<String>,
) -> impl IntoView {
    let shown = id.clone();
    view! {
        <div class="field">
            <label for=shown>{label.into()}</label>
            {growing(id, None, value, move |entered: String| {
                // What is pasted may have several lines; a sentence has one.
                take(entered.split_whitespace().collect::<Vec<_>>().join(" "))
            }, true)}
        </div>
    }
}

/// A field as high as what is written in it. Its words stand a second time behind it, unseen, and hold the room.
fn growing(
    id: String,
    described: Option<String>,
    value: Memo<String>,
    take: impl Take<String>,
    one_line: bool,
) -> impl IntoView {
    let written = RwSignal::new(String::new());
    let typing = expect_context::<Typing>().0;
    // What is taken while somebody is still writing comes back tidied; it is not put under their fingers.
    let shown = RwSignal::new(value.get_untracked());
    let from_here = StoredValue::new(false);
    Effect::new(move |_| {
        let now = value.get();
        if !from_here.get_value() {
            written.set(now.clone());
            shown.set(now);
        }
        from_here.set_value(false);
    });
    let take = StoredValue::new_local(take);
    let taken = move |text: String| take.try_with_value(|take| take(text)).unwrap_or(true);
    let mut pause = debounce(PAUSE, move |text: String| {
        let Some(before) = value.try_get_untracked() else { return };
        if typing.try_get_untracked() != Some(true) {
            return;
        }
        // What is refused is told once the field is left.
        if taken(text) && value.get_untracked() != before {
            from_here.set_value(true);
        }
        typing.set(false);
    });
    let no_break = move |event: leptos::ev::KeyboardEvent| {
        if one_line && event.key() == "Enter" {
            event.prevent_default();
        }
    };
    view! {
        <div class="growing" class:one-line=one_line data-written=move || written.get()>
            <textarea id=id rows="1" autocomplete="off" aria-describedby=described prop:value=shown on:keydown=no_break
                on:input:target=move |event| {
                    let text = event.target().value();
                    written.set(text.clone());
                    typing.set(true);
                    pause(text);
                }
                on:change:target=move |event| {
                    let field = event.target();
                    typing.set(false);
                    if !taken(field.value()) {
                        field.set_value(&value.get_untracked());
                    }
                    written.set(field.value());
                }></textarea>
        </div>
    }
}

/// A number, or nothing where the field is empty; what is no number is put back.
pub(super) fn number(
    id: String,
    label: impl Into<String>,
    value: Memo<Option<u32>>,
    take: impl Take<Option<u32>>,
) -> impl IntoView {
    let shown = id.clone();
    let digits = move || value.get().map(|number| number.to_string()).unwrap_or_default();
    view! {
        <div class="field short">
            <label for=shown>{label.into()}</label>
            <input id=id type="text" inputmode="numeric" autocomplete="off" prop:value=digits
                on:change:target=move |event| {
                    let field = event.target();
                    let entered = field.value();
                    let made = match entered.trim() {
                        "" => take(None),
                        digits => digits.parse().is_ok_and(|number| take(Some(number))),
                    };
                    if !made {
                        let holds = value.get_untracked().map(|number| number.to_string());
                        field.set_value(&holds.unwrap_or_default());
                    }
                } />
        </div>
    }
}

/// Several lines; empty ones are left out.
pub(super) fn lines(
    id: String,
    label: impl Into<String>,
    hint: &'static str,
    value: Memo<Vec<String>>,
    take: impl Take<Vec<String>>,
) -> impl IntoView {
    let shown = id.clone();
    let hint_id = format!("{id}-hint");
    let described = (!hint.is_empty()).then(|| hint_id.clone());
    view! {
        <div class="field">
            <label for=shown>{label.into()}</label>
            {growing(id, described, Memo::new(move |_| value.with(|lines| lines.join("\n"))), move |entered: String| {
                let filled = entered.lines().map(str::trim).filter(|line| !line.is_empty());
                take(filled.map(str::to_owned).collect())
            }, false)}
            {(!hint.is_empty()).then(|| view! { <p class="hint" id=hint_id>{hint}</p> })}
        </div>
    }
}

/// Yes or no.
pub(super) fn tick(
    id: String,
    label: impl IntoView,
    value: Memo<bool>,
    take: impl Take<bool>,
) -> impl IntoView {
    view! {
        <label class="tick">
            <input id=id type="checkbox" prop:checked=value
                on:change:target=move |event| {
                    let field = event.target();
                    if !take(field.checked()) {
                        field.set_checked(value.get_untracked());
                    }
                } />
            <span>{label}</span>
        </label>
    }
}

/// One of a list, each with what it stands for and what it is called.
pub(super) fn one_of(
    id: String,
    label: impl Into<String>,
    options: impl Fn() -> Vec<(String, String)> + Send + 'static,
    value: Memo<String>,
    take: impl Take<String>,
) -> impl IntoView {
    let shown = id.clone();
    let listed = move || {
        let chosen = value.get();
        options()
            .into_iter()
            .map(|(stands_for, called)| {
                let selected = stands_for == chosen;
                view! { <option value=stands_for selected=selected>{called}</option> }
            })
            .collect_view()
    };
    view! {
        <div class="field">
            <label for=shown>{label.into()}</label>
            <select id=id prop:value=value
                on:change:target=move |event| {
                    let field = event.target();
                    if !take(field.value()) {
                        field.set_value(&value.get_untracked());
                    }
                }>{listed}</select>
        </div>
    }
}
