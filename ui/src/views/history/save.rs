//! A history as a file, for whoever audits it.

use chrono::NaiveDate;
use contract::{HistoryForm, SaveHistory, Shown};
use leptos::prelude::*;

use crate::{widgets::doing::doing, wording::evidence::history as words};

pub(super) fn save(person: String, as_of: NaiveDate, known_at: Memo<Option<NaiveDate>>) -> impl IntoView {
    let save = doing::<SaveHistory>(|_| ());
    let buttons =
        [(HistoryForm::Pdf, "save-pdf", words::SAVE_PDF), (HistoryForm::Csv, "save-csv", words::SAVE_CSV)];
    let buttons = buttons.map(|(form, id, name)| {
        let person = person.clone();
        let go = move |_| {
            let known_at = known_at.get_untracked();
            save.go(SaveHistory { person: person.clone(), as_of: Some(as_of), known_at, form });
        };
        view! { <button type="button" class="button" id=id disabled=move || save.busy() on:click=go>{name}</button> }
    });
    let done = |shown: Shown| {
        view! { <p class="note good path" role="status" id="history-saved">{words::saved(&shown.path)}</p> }
            .into_any()
    };
    view! {
        <section class="card stack" aria-labelledby="save-title">
            <h2 id="save-title">{words::SAVE}</h2>
            <p class="quiet-text">{words::SAVE_WHY}</p>
            <div class="row">{buttons.into_iter().collect_view()}</div>
            {save.came(words::SAVING, done)}
        </section>
    }
}
