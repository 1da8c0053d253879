//! Acts that must come in turn: groups, each answered by any one of its acts. All are chosen from the
//! acts of the draft, so that nothing can be misspelt.

use competency::procedure::{ActId, Procedure};
use leptos::prelude::*;

use super::{bench::Bench, inputs::Take, steps::by_label};
use crate::{page, wording::workbench as words};

type Groups = Vec<Vec<ActId>>;

/// The groups as they stand, with a way to take out each act, and to add one to a group or after them.
pub(super) fn turns(
    bench: Bench,
    id: String,
    label: &'static str,
    value: Memo<Groups>,
    take: impl Take<Groups> + Clone + Send + Sync,
) -> impl IntoView {
    let count = Memo::new(move |_| value.with(Vec::len));
    let hint = format!("{id}-hint");
    let then = {
        let take = take.clone();
        move |act: ActId| {
            let mut groups = value.get_untracked();
            groups.push(vec![act]);
            take(groups);
        }
    };
    let row = {
        let id = id.clone();
        move |place: usize| group(bench, format!("{id}-{place}"), place, value, take.clone())
    };
    view! {
        <fieldset class="stack tight" aria-describedby=hint.clone() id=id.clone()>
            <legend>{label}</legend>
            <p class="hint" id=hint.clone()>{words::RESPONSE_HINT}</p>
            <ol class="stack tight turns">
                <For each=move || 0..count.get() key=|place| *place children=row />
            </ol>
            {add(bench, format!("{id}-then"), move || if count.get() == 0 { words::FIRST } else { words::THEN }, then)}
        </fieldset>
    }
}

fn group(
    bench: Bench,
    id: String,
    place: usize,
    value: Memo<Groups>,
    take: impl Take<Groups> + Clone + Send + Sync,
) -> impl IntoView {
    let acts = Memo::new(move |_| value.with(|groups| groups.get(place).cloned().unwrap_or_default()));
    let take = move |acts: Vec<ActId>| {
        let mut groups = value.get_untracked();
        if let Some(group) = groups.get_mut(place) {
            *group = acts;
        }
        groups.retain(|group| !group.is_empty());
        take(groups)
    };
    view! { <li>{some_of(bench, format!("{id}-or"), || words::OR_ELSE, acts, take)}</li> }
}

/// Some of the acts, each with a way to take it out, and a list to add another from; `field` names that list.
pub(super) fn some_of(
    bench: Bench,
    field: String,
    label: impl Fn() -> &'static str + Send + Sync + Clone + 'static,
    acts: Memo<Vec<ActId>>,
    take: impl Take<Vec<ActId>> + Clone + Send + Sync,
) -> impl IntoView {
    let another = {
        let take = take.clone();
        move |act: ActId| {
            let mut chosen = acts.get_untracked();
            if !chosen.contains(&act) {
                chosen.push(act);
                take(chosen);
            }
        }
    };
    let chosen = {
        let field = field.clone();
        move || {
            let each = acts.get().into_iter().map(|act| {
                let called = bench.procedure.with_untracked(|draft| called(draft, &act));
                let (take, field) = (take.clone(), field.clone());
                let remove = move |_| {
                    let left = acts.get_untracked().into_iter().filter(|other| *other != act);
                    take(left.collect());
                    // The button that had the focus is gone.
                    page::focus(&field);
                };
                view! {
                    <button type="button" class="button plain" aria-label=words::take_out(&called) on:click=remove>
                        {called.clone()}" ×"</button>
                }
            });
            each.collect_view()
        }
    };
    view! { <div class="row chips">{chosen}{add(bench, field, label, another)}</div> }
}

/// A list of the acts that adds the one that is chosen, and is ready for the next.
fn add(
    bench: Bench,
    id: String,
    label: impl Fn() -> &'static str + Send + Sync + Clone + 'static,
    take: impl Fn(ActId) + 'static,
) -> impl IntoView {
    let acts = bench.read(by_label);
    let options = move || {
        let each = acts.get().into_iter();
        each.map(|(act, label)| view! { <option value=act>{label}</option> }).collect_view()
    };
    let named = label.clone();
    view! {
        <div class="field">
            <select id=id aria-label=named on:change:target=move |event| {
                let field = event.target();
                let act = field.value();
                field.set_value("");
                if !act.is_empty() {
                    take(act);
                }
            }>
                <option value="">{move || label()}</option>
                {options}
            </select>
        </div>
    }
}

fn called(draft: &Procedure, act: &ActId) -> String {
    draft.acts.get(act).unwrap_or(act).clone()
}
