//! The products and contact times of a draft, put into the next versions of other procedures that use them.

use competency::procedure::{Equipment, Procedure};
use contract::{BeginDraft, DraftFrom, Fault, KeepDraft, ListProcedures, OpenProcedure};
use leptos::prelude::*;

use super::bench::{Bench, versioned};
use crate::{
    app::Route,
    call::call,
    page,
    widgets::loaded::{fault_note, progress},
    wording::workbench as words,
};

/// A procedure in force that would change.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Other {
    id: String,
    title: String,
    /// Its draft, once there is one: named here, so that what is tried again begins no second one.
    draft: String,
}

pub(super) fn elsewhere(bench: Bench) -> impl IntoView {
    let set = move || bench.procedure.with_untracked(|draft| (draft.id.clone(), draft.equipment.clone()));
    let find = Action::new_local(move |(): &()| {
        let (id, equipment) = set();
        async move { others(&id, &equipment).await }
    });
    let chosen = RwSignal::new(Vec::<String>::new());
    let put = Action::new_local(move |into: &Vec<Other>| {
        let (into, equipment) = (into.clone(), set().1);
        async move { put_into(into, &equipment).await }
    });
    let look = Callback::new(move |()| {
        find.dispatch_local(());
    });
    let last = RwSignal::new(Vec::<Other>::new());
    let put_these = Callback::new(move |into: Vec<Other>| {
        last.set(into.clone());
        put.dispatch_local(into);
    });
    let again = Callback::new(move |()| put_these.run(last.get_untracked()));
    view! {
        <section class="card stack" aria-labelledby="elsewhere">
            <h2 id="elsewhere">{words::ELSEWHERE}</h2>
            <p class="quiet-text">{words::ELSEWHERE_WHY}</p>
            <div class="row">
                <button type="button" class="button" id="find-elsewhere" disabled=move || find.pending().get()
                    on:click=move |_| { put.value().set(None); chosen.set(Vec::new()); look.run(()); }>
                    {words::FIND_ELSEWHERE}</button>
            </div>
            {move || find.pending().get().then(|| progress(words::LOOKING))}
            {move || put.value().with(Option::is_none).then(|| find.value().get()).flatten().map(|found| match found {
                Ok(found) if found.is_empty() => view! { <p class="note">{words::NOWHERE_ELSE}</p> }.into_any(),
                Ok(found) => listed(found, chosen, put.pending(), put_these).into_any(),
                Err(fault) => fault_note(fault, look).into_any(),
            })}
            {move || put.pending().get().then(|| progress(words::KEEPING))}
            {move || put.value().get().map(|answer| match answer {
                Ok(drafts) => made(drafts).into_any(),
                Err(fault) => fault_note(fault, again).into_any(),
            })}
        </section>
    }
}

fn listed(
    found: Vec<Other>,
    chosen: RwSignal<Vec<String>>,
    busy: Memo<bool>,
    put: Callback<Vec<Other>>,
) -> impl IntoView {
    let each: Vec<_> = found
        .iter()
        .map(|Other { id, title, .. }| {
            let (shown, held, turned) = (format!("elsewhere-{id}"), id.clone(), id.clone());
            let of = shown.clone();
            let turn = move |_| {
                chosen.update(|all| match all.iter().position(|one| *one == turned) {
                    Some(place) => drop(all.remove(place)),
                    None => all.push(turned.clone()),
                });
            };
            view! {
                <li><label class="tick" for=of>
                    <input type="checkbox" id=shown prop:checked=move || chosen.with(|all| all.contains(&held))
                        on:change=turn />
                    {title.clone()}
                </label></li>
            }
        })
        .collect();
    let go = move |_| {
        let into = found.iter().filter(|one| chosen.with_untracked(|all| all.contains(&one.id)));
        put.run(into.cloned().collect());
    };
    view! {
        <ul class="stack tight">{each}</ul>
        <div class="row">
            <button type="button" class="button primary" id="put-elsewhere"
                disabled=move || busy.get() || chosen.with(Vec::is_empty) on:click=go>
                {words::PUT_ELSEWHERE}</button>
        </div>
    }
}

fn made(drafts: Vec<Other>) -> impl IntoView {
    let each = drafts.into_iter().map(|Other { draft, title, .. }| {
        view! { <li><a href=Route::Workbench(draft).href()>{title}</a></li> }
    });
    view! {
        <div class="note good stack tight" role="status" id="put-done">
            <p>{words::PUT_DONE}</p>
            <ul>{each.collect_view()}</ul>
        </div>
    }
}

/// The procedures in force, other than this one, that would have other values.
async fn others(id: &str, equipment: &Equipment) -> Result<Vec<Other>, Fault> {
    let mut others = Vec::new();
    for line in call(ListProcedures { retired: false }).await? {
        if line.id == id {
            continue;
        }
        let procedure = call(OpenProcedure { id: line.id.clone(), version: None }).await?.procedure;
        if equipment.carried_into(&procedure) != procedure.equipment {
            others.push(Other { id: line.id, title: line.title, draft: page::random_id() });
        }
    }
    Ok(others)
}

/// Begins the next version of each with the values in it.
async fn put_into(into: Vec<Other>, equipment: &Equipment) -> Result<Vec<Other>, Fault> {
    for Other { id, draft, .. } in &into {
        let from = DraftFrom::NextVersion { procedure: id.clone() };
        let begun = call(BeginDraft { draft: draft.clone(), from }).await?;
        let equipment = equipment.carried_into(&begun.procedure);
        let changed = Procedure { equipment, ..begun.procedure };
        let procedure = versioned(begun.published.as_ref(), changed);
        call(KeepDraft { draft: draft.clone(), procedure }).await?;
    }
    Ok(into)
}
