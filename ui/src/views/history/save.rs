//! A history as a file, for whoever audits it.

use chrono::NaiveDate;
use contract::{HistoryForm, SaveHistory};
use leptos::prelude::*;

use crate::{
    call::call,
    widgets::loaded::{fault_note, progress},
    wording::evidence::history as words,
};

pub(super) fn save(person: String, as_of: NaiveDate) -> impl IntoView {
    let save = Action::new_local(|request: &SaveHistory| call(request.clone()));
    let asked = StoredValue::new(None::<HistoryForm>);
    let go = Callback::new(move |form: HistoryForm| {
        asked.set_value(Some(form));
        save.dispatch_local(SaveHistory { person: person.clone(), as_of: Some(as_of), form });
    });
    let again = Callback::new(move |()| {
        if let Some(form) = asked.get_value() {
            go.run(form);
        }
    });
    view! {
        <section class="card stack" aria-labelledby="save-title">
            <h2 id="save-title">{words::SAVE}</h2>
            <p class="quiet-text">{words::SAVE_WHY}</p>
            <div class="row">
                <button type="button" class="button" id="save-pdf" disabled=move || save.pending().get()
                    on:click=move |_| go.run(HistoryForm::Pdf)>{words::SAVE_PDF}</button>
                <button type="button" class="button" id="save-csv" disabled=move || save.pending().get()
                    on:click=move |_| go.run(HistoryForm::Csv)>{words::SAVE_CSV}</button>
                {move || save.pending().get().then(|| progress(words::SAVING))}
            </div>
            {move || save.value().get().map(|answer| match answer {
                Ok(shown) => view! {
                    <p class="note good path" role="status" id="history-saved">{words::saved(&shown.path)}</p>
                }.into_any(),
                Err(fault) => fault_note(fault, again).into_any(),
            })}
        </section>
    }
}
