//! The first start of a device that begins from what there is: a backup, or the answer to a request to join.

use contract::{BringBackup, Fault, MakeJoinRequest, RestoreBackup, RestoredBackup, grouped};
use leptos::{prelude::*, task::spawn_local};

use crate::{
    app::Route,
    call::call,
    page,
    widgets::{
        doing::doing,
        files::{length, read_part},
        loaded::fault_in_form,
    },
    wording::{
        WAITING,
        evidence::{backup as words, verify},
    },
};

/// One part of a backup on its way: small enough that the window stays quick.
const PART: u64 = 256 << 10;

/// Restores a backup.
pub(super) fn restore() -> impl IntoView {
    view! {
        <section class="card stack" aria-labelledby="restore-title">
            <h2 id="restore-title">{words::RESTORE}</h2>
            <p class="quiet-text">{words::RESTORE_WHY}</p>
            {bring(words::FILE, false)}
        </section>
    }
}

/// Asks to join a facility, and brings the answer.
pub(super) fn join() -> impl IntoView {
    let ask = doing::<MakeJoinRequest>(|_| ());
    view! {
        <section class="card stack" aria-label=words::JOIN>
            <h2>{words::JOIN_FIRST}</h2>
            <p class="quiet-text">{words::JOIN_WHY}</p>
            <div class="row">
                <button type="button" class="button primary" id="join-request" disabled=move || ask.busy()
                    on:click=move |_| ask.go(MakeJoinRequest {})>{words::REQUEST}</button>
            </div>
            {ask.came(WAITING, |asked| view! {
                <div class="note good stack tight" role="status" id="join-requested">
                    <p class="path">{words::request_made(&asked.path)}</p>
                    <p>{words::JOIN_FINGERPRINT}</p>
                    <p class="fingerprint">{grouped(&asked.fingerprint)}</p>
                </div>
            }.into_any())}
            <h2>{words::JOIN_THEN}</h2>
            <p class="quiet-text">{words::JOIN_THEN_WHY}</p>
            {bring(words::ANSWER, true)}
        </section>
    }
}

/// The field for a file that holds a ledger, which must be an answer or may be any backup, and what came of it.
fn bring(label: &'static str, answer: bool) -> impl IntoView {
    let percent = RwSignal::new(None::<u32>);
    let done = RwSignal::new(None::<Result<RestoredBackup, Fault>>);
    let bring = move |event: leptos::ev::Event| {
        let Some(file) = page::chosen_file(&event) else { return };
        done.set(None);
        spawn_local(async move {
            done.set(Some(brought(&file, answer, percent).await));
            percent.set(None);
        });
    };
    Effect::new(move |_| {
        if done.with(|done| matches!(done, Some(Ok(_)))) {
            page::focus("restored");
        }
    });
    view! {
        <div class="field">
            <label for="backup-file">{label}</label>
            <input id="backup-file" type="file" accept=".zip,application/zip" on:change=bring
                disabled=move || percent.with(Option::is_some) />
        </div>
        {move || percent.get().map(|percent| view! {
            <p class="progress" role="status">
                {if percent < 100 { words::bringing(percent) } else { words::RESTORING.to_owned() }}
            </p>
        })}
        {move || done.get().map(|answer| match answer {
            Ok(restored) => view! {
                <div class="note good stack tight" role="status" id="restored" tabindex="-1">
                    <strong>{words::RESTORED}</strong>
                    <p>{words::restored(&restored.made, restored.entries, restored.records)}</p>
                    <p>{words::OF_FACILITY}" "<strong><bdi>{restored.facility}</bdi></strong></p>
                    <p>{words::COMPARE_AUTHORITY}</p>
                    <p class="fingerprint">{grouped(&restored.authority)}</p>
                    <p>{if restored.answered { words::ANSWERED } else { words::NO_ANSWER }}</p>
                    <p>{words::NEXT}</p>
                    <div class="row">
                        <a class="button primary" id="to-today" href=Route::Home.href()>{words::ON}</a>
                    </div>
                </div>
            }.into_any(),
            Err(fault) => fault_in_form(fault).into_any(),
        })}
    }
}

/// Brings the file into the program part by part, and restores it.
async fn brought(
    file: &web_sys::File,
    answer: bool,
    percent: RwSignal<Option<u32>>,
) -> Result<RestoredBackup, Fault> {
    let (whole, backup) = (length(file), page::random_id());
    let mut at = 0;
    while at < whole {
        percent.set(u32::try_from(at * 100 / whole.max(1)).ok());
        let part = read_part(file, at, (at + PART).min(whole)).await;
        let part = part.map_err(|_unreadable| Fault::new(contract::Next::TryAgain, verify::UNREADABLE))?;
        let brought = call(BringBackup { backup: backup.clone(), at, part }).await?;
        at = brought.length;
    }
    percent.set(Some(100));
    call(RestoreBackup { backup, name: file.name(), answer }).await
}
