//! The versions of a procedure, what changed between them, and what can be made of it.

use chrono::NaiveDate;
use competency::procedure::compare;
use contract::{DraftFrom, OpenProcedure, RetireProcedure, SaveForm, SaveProcedure, VersionLine};
use leptos::prelude::*;

use super::drafts::Begin;
use crate::{
    app::Route,
    call::call,
    widgets::{
        changes,
        field::{Field, Kind},
        loaded::{fault_note, progress},
    },
    wording::{
        self,
        facility::{create, procedures},
        workbench as words,
    },
};

/// What can be made of a procedure: the next version, one of our own, a file, a paper form.
pub(super) fn work_on(id: String, retired: Option<(NaiveDate, String)>) -> impl IntoView {
    let begin = Begin::new();
    let make = |from: fn(String) -> DraftFrom| {
        let id = id.clone();
        move |_| begin.from(from(id.clone()))
    };
    let next = make(|procedure| DraftFrom::NextVersion { procedure });
    let copy = make(|procedure| DraftFrom::Copy { procedure });
    let save = Action::new_local(|request: &SaveProcedure| call(request.clone()));
    let form = Action::new_local(|request: &SaveForm| call(request.clone()));
    let (save_id, form_id) = (id.clone(), id);
    let saved = move || {
        let file = save.value().get();
        let paper = form.value().get();
        let each = [file, paper].into_iter().flatten().map(|answer| match answer {
            Ok(shown) => {
                view! { <p class="note good" role="status">{words::saved(&shown.path)}</p> }.into_any()
            }
            Err(fault) => fault_note(fault, Callback::new(|()| ())).into_any(),
        });
        each.collect_view()
    };
    let busy = move || (begin.busy() || save.pending().get() || form.pending().get()).then_some("true");
    view! {
        {retired.map(|(from, why)| view! {
            <p class="note warning">{words::retired(&wording::date(from), &why)}</p>
        })}
        <div class="row" aria-busy=busy>
            <button type="button" class="button" id="next-version" on:click=next>{words::NEXT_VERSION}</button>
            <button type="button" class="button" id="copy" on:click=copy>{words::COPY}</button>
            <button type="button" class="button" id="save-file" on:click=move |_| {
                save.dispatch_local(SaveProcedure { procedure: save_id.clone() });
            }>{words::SAVE_FILE}</button>
            <button type="button" class="button" id="save-form" on:click=move |_| {
                form.dispatch_local(SaveForm { procedure: form_id.clone() });
            }>{words::SAVE_FORM}</button>
        </div>
        {begin.told()}
        {saved}
    }
}

/// Every version, the latest first, each comparable with the one before.
pub(super) fn versions(id: String, lines: Vec<VersionLine>, retired: bool) -> impl IntoView {
    let pairs: Vec<(VersionLine, Option<String>)> = lines
        .iter()
        .cloned()
        .zip(lines.iter().skip(1).map(|line| Some(line.version.clone())).chain([None]))
        .collect();
    let compared = RwSignal::new(None::<(String, String)>);
    let each = pairs.into_iter().map(|(line, before)| one(line, before, compared));
    let asked = {
        let id = id.clone();
        move || compared.get().map(|(old, new)| comparison(id.clone(), old, new))
    };
    view! {
        <section class="card stack" aria-labelledby="versions">
            <h2 id="versions" tabindex="-1">{words::VERSIONS}</h2>
            <ul class="stack">{each.collect_view()}</ul>
            {asked}
        </section>
        {(!retired).then(|| retire(id))}
    }
}

fn one(
    line: VersionLine,
    before: Option<String>,
    compared: RwSignal<Option<(String, String)>>,
) -> impl IntoView {
    let approved = line.approved.map_or_else(
        || words::WITH_PROGRAM.to_owned(),
        |(name, on)| words::approved(&name, &wording::date(on)),
    );
    let again = line.revalidate.map(|asked| words::revalidate(&wording::date(asked.by), &asked.why));
    let version = line.version.clone();
    let compare = before.map(|before| {
        let pair = (before, version.clone());
        view! {
            <button type="button" class="button plain" id=format!("compare-{}", version.replace('.', "-"))
                on:click=move |_| compared.set(Some(pair.clone()))>{words::COMPARE}</button>
        }
    });
    view! {
        <li class="row apart">
            <p><strong>{procedures::version(&line.version)}</strong>
                {format!(", {}, {approved}", wording::date(line.from))}
                {again.map(|again| format!("; {again}"))}</p>
            {compare}
        </li>
    }
}

/// What changed from one version to the next, and whether it asks for re-validation.
fn comparison(id: String, old: String, new: String) -> impl IntoView {
    let both = LocalResource::new(move || {
        let open = |version: &String| call(OpenProcedure { id: id.clone(), version: Some(version.clone()) });
        let (old, new) = (open(&old), open(&new));
        async move { Ok::<_, contract::Fault>((old.await?, new.await?)) }
    });
    move || match both.get() {
        None => progress(wording::WAITING).into_any(),
        Some(Err(fault)) => fault_note(fault, Callback::new(move |()| both.refetch())).into_any(),
        Some(Ok((old, new))) => {
            let told = compare(&old.procedure, &new.procedure);
            let proposal = told.proposal();
            view! {
                <div class="stack tight" id="comparison">
                    <h3>{words::changed(&old.procedure.version, &new.procedure.version)}</h3>
                    {changes::changes(told.changes)}
                    <p class="quiet-text">{proposal.reason}</p>
                </div>
            }
            .into_any()
        }
    }
}

fn retire(id: String) -> impl IntoView {
    let (why, passphrase) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let retire = Action::new_local(|request: &RetireProcedure| call(request.clone()));
    Effect::new(move |_| {
        if let Some(Ok(_)) = retire.value().get() {
            Route::Procedures.go_instead();
        }
    });
    let go = Callback::new(move |()| {
        let (why, passphrase) = (why.get_untracked(), passphrase.get_untracked());
        retire.dispatch_local(RetireProcedure { procedure: id.clone(), why, passphrase });
    });
    view! {
        <details class="card">
            <summary>{words::RETIRE}</summary>
            <div class="stack">
                <Field id="retire-why" label=words::RETIRE_WHY value=why hint=words::RETIRE_HINT />
                <Field id="retire-passphrase" label=create::PASSPHRASE value=passphrase kind=Kind::Secret
                    hint=words::PASSPHRASE_WHY />
                {move || retire.value().get().and_then(Result::err).map(|fault| fault_note(fault, go))}
                <div class="row">
                    <button type="button" class="button" id="retire-go" on:click=move |_| go.run(())>
                        {words::RETIRE_GO}</button>
                </div>
            </div>
        </details>
    }
}
