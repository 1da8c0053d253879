//! The products and contact times of a draft, put into the next versions of other procedures that use them.

use competency::procedure::{Equipment, Procedure, compare};
use contract::{BeginDraft, DraftFrom, Fault, KeepDraft, ListProcedures, OpenProcedure};
use leptos::prelude::*;

use super::bench::Bench;
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
    let again = Callback::new(move |()| {
        find.dispatch_local(());
    });
    view! {
        <section class="card stack" aria-labelledby="elsewhere">
            <h2 id="elsewhere">{words::ELSEWHERE}</h2>
            <p class="quiet-text">{words::ELSEWHERE_WHY}</p>
            <div class="row">
                <button type="button" class="button" id="find-elsewhere" disabled=move || find.pending().get()
                    on:click=move |_| { put.value().set(None); chosen.set(Vec::new()); again.run(()); }>
                    {words::FIND_ELSEWHERE}</button>
            </div>
            {move || find.pending().get().then(|| progress(words::LOOKING))}
            {move || put.value().with(Option::is_none).then(|| find.value().get()).flatten().map(|found| match found {
                Ok(found) if found.is_empty() => view! { <p class="note">{words::NOWHERE_ELSE}</p> }.into_any(),
                Ok(found) => listed(found, chosen, put).into_any(),
                Err(fault) => fault_note(fault, again).into_any(),
            })}
            {move || put.pending().get().then(|| progress(words::KEEPING))}
            {move || put.value().get().map(|answer| match answer {
                Ok(drafts) => made(drafts).into_any(),
                Err(fault) => fault_note(fault, again).into_any(),
            })}
        </section>
    }
}

type Put = Action<Vec<Other>, Result<Vec<Other>, Fault>>;

fn listed(found: Vec<Other>, chosen: RwSignal<Vec<String>>, put: Put) -> impl IntoView {
    let each: Vec<_> = found
        .iter()
        .map(|Other { id, title }| {
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
        put.dispatch_local(into.cloned().collect());
    };
    view! {
        <ul class="stack tight">{each}</ul>
        <div class="row">
            <button type="button" class="button primary" id="put-elsewhere"
                disabled=move || put.pending().get() || chosen.with(Vec::is_empty) on:click=go>
                {words::PUT_ELSEWHERE}</button>
        </div>
    }
}

fn made(drafts: Vec<Other>) -> impl IntoView {
    let each = drafts.into_iter().map(|Other { id, title }| {
        view! { <li><a href=Route::Workbench(id).href()>{title}</a></li> }
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
            others.push(Other { id: line.id, title: line.title });
        }
    }
    Ok(others)
}

/// Begins the next version of each with the values in it; answers the drafts.
async fn put_into(into: Vec<Other>, equipment: &Equipment) -> Result<Vec<Other>, Fault> {
    let mut drafts = Vec::new();
    for Other { id, title } in into {
        let begin = BeginDraft { draft: page::random_id(), from: DraftFrom::NextVersion { procedure: id } };
        let begun = call(begin).await?;
        let mut procedure =
            Procedure { equipment: equipment.carried_into(&begun.procedure), ..begun.procedure };
        let next = begun
            .published
            .as_ref()
            .and_then(|before| compare(before, &procedure).next_version(&before.version));
        if let Some(next) = next {
            procedure.version = next;
        }
        call(KeepDraft { draft: begun.draft.clone(), procedure }).await?;
        drafts.push(Other { id: begun.draft, title });
    }
    Ok(drafts)
}
