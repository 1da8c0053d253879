//! Checks a signed record that somebody brought: one sentence, then the reasons.

use contract::{Came, CheckReason, CheckRecord, CheckedRecord, Reliable};
use leptos::{prelude::*, task::spawn_local};

use crate::{
    call::call,
    page,
    widgets::{
        files::{Refused, read_file},
        loaded::{fault_note, progress},
        title::title,
    },
    wording::evidence::verify as words,
};

/// A bundle of a long history has a few megabytes.
const LARGEST: u64 = 64 << 20;
/// A certificate has a kilobyte, and a list of those that were revoked not many more.
const LARGEST_BESIDE: u64 = 1 << 20;

#[component]
pub(crate) fn VerifyView() -> impl IntoView {
    let record = RwSignal::new(None::<(String, Vec<u8>)>);
    let trust = RwSignal::new(None::<Vec<u8>>);
    let revoked = RwSignal::new(None::<Vec<u8>>);
    let refused = RwSignal::new(None::<String>);
    let over = RwSignal::new(false);
    let check = Action::new_local(|request: &CheckRecord| call(request.clone()));
    let go = Callback::new(move |()| {
        if let Some((_name, pdf)) = record.get_untracked() {
            let (trust, revoked) = (trust.get_untracked(), revoked.get_untracked());
            check.dispatch_local(CheckRecord { pdf, trust, revoked });
        }
    });
    let bring = move |file: Option<web_sys::File>| {
        let Some(file) = file else { return };
        refused.set(None);
        check.clear();
        spawn_local(async move {
            match read_file(&file, LARGEST).await {
                Ok(bytes) => {
                    record.set(Some((file.name(), bytes)));
                    go.run(());
                }
                Err(why) => refused.set(Some(said(why))),
            }
        });
    };
    // A file that is small and checked with the record.
    let beside = move |id: &'static str, label, hint, into: RwSignal<Option<Vec<u8>>>| {
        let bring = move |event: leptos::ev::Event| {
            let Some(file) = page::chosen_file(&event) else { return };
            refused.set(None);
            spawn_local(async move {
                match read_file(&file, LARGEST_BESIDE).await {
                    Ok(bytes) => {
                        into.set(Some(bytes));
                        go.run(());
                    }
                    Err(why) => refused.set(Some(said(why))),
                }
            });
        };
        let hinted = format!("{id}-hint");
        view! {
            <div class="field">
                <label for=id>{label}</label>
                <input id=id type="file" accept=".pem,.der,.cer,.crt,.crl" on:change=bring
                    aria-describedby=hinted.clone() />
                <p class="hint" id=hinted>{hint}</p>
            </div>
        }
    };
    Effect::new(move |_| {
        if check.value().with(Option::is_some) {
            page::focus("verdict");
        }
    });
    view! {
        <div class="stack wide">
            <div class="stack tight">
                {title(words::TITLE)}
                <p class="lead">{words::LEAD}</p>
            </div>
            <section class="card stack drop" class:over=over aria-label=words::FILE
                on:dragover=move |event| { event.prevent_default(); over.set(true); }
                on:dragleave=move |_| over.set(false)
                on:drop=move |event| {
                    event.prevent_default();
                    over.set(false);
                    bring(page::dropped_file(&event));
                }>
                <div class="field">
                    <label for="record-file">{words::FILE}</label>
                    <input id="record-file" type="file" accept=".pdf,application/pdf"
                        aria-describedby="record-file-hint"
                        on:change=move |event| bring(page::chosen_file(&event)) />
                    <p class="hint" id="record-file-hint">{words::FILE_HINT}</p>
                </div>
                <details>
                    <summary>{words::OTHER}</summary>
                    {beside("trust-file", words::CERTIFICATE, words::OTHER_WHY, trust)}
                    {beside("revoked-file", words::REVOKED, words::REVOKED_WHY, revoked)}
                </details>
            </section>
            {move || refused.get().map(|why| view! { <p class="note danger" role="alert">{why}</p> })}
            {move || check.pending().get().then(|| progress(words::CHECKING))}
            {move || check.value().get().map(|answer| match answer {
                Ok(checked) => {
                    let name = record.with_untracked(|record| record.as_ref().map(|(name, _)| name.clone()));
                    verdict(name.unwrap_or_default(), checked).into_any()
                }
                Err(fault) => fault_note(fault, go).into_any(),
            })}
        </div>
    }
}

fn said(why: Refused) -> String {
    match why {
        Refused::TooLarge(megabytes) => words::too_large(megabytes),
        Refused::Unreadable => words::UNREADABLE.to_owned(),
    }
}

/// What fails first, then what nothing here can tell, then what holds; within each in the order of the checks.
fn failing_first(mut reasons: Vec<CheckReason>) -> Vec<CheckReason> {
    reasons.sort_by_key(|reason| match reason.came {
        Came::Fails => 0,
        Came::Unknown => 1,
        Came::Holds => 2,
    });
    reasons
}

fn verdict(name: String, checked: CheckedRecord) -> impl IntoView {
    let class = match checked.reliable {
        Reliable::Yes => "note good stack tight",
        Reliable::UnknownAuthority => "note warning stack tight",
        Reliable::No => "note danger stack tight",
    };
    let each = failing_first(checked.reasons).into_iter().map(|CheckReason { came, text }| {
        let class = match came {
            Came::Holds => "tag",
            Came::Fails => "tag tag-danger",
            Came::Unknown => "tag tag-warning",
        };
        let mut letters = text.chars();
        let first = letters.next().map(|letter| letter.to_uppercase().to_string()).unwrap_or_default();
        view! {
            <li class="reason">
                <span class=class>{words::came(came)}</span>
                <span>{format!("{first}{}", letters.as_str())}</span>
            </li>
        }
    });
    let label = name.clone();
    view! {
        <section class="stack" id="verdict" tabindex="-1" aria-label=label>
            <div class=class role="status">
                <strong id="reliable">{words::reliable(checked.reliable)}</strong>
                <p class="path">{name}</p>
                {checked.about.map(|about| view! { <p class="path">{about}</p> })}
                <p class="path">{checked.sentence}</p>
            </div>
            <h2>{words::REASONS}</h2>
            <ul class="card stack tight reasons" id="reasons">{each.collect_view()}</ul>
        </section>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_fails_is_read_first() {
        let came = [Came::Holds, Came::Unknown, Came::Fails, Came::Holds, Came::Fails];
        let reasons =
            came.into_iter().zip(1..).map(|(came, n)| CheckReason { came, text: format!("check {n}") });
        let told: Vec<String> = failing_first(reasons.collect()).into_iter().map(|one| one.text).collect();
        assert_eq!(told, ["check 3", "check 5", "check 2", "check 1", "check 4"]);
    }
}
