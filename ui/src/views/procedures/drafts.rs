//! What is being worked on, and a way to bring a procedure file.

use competency::flaw::MOST_BYTES;
use contract::{BeginDraft, DraftFrom, DraftLine, ListDrafts};
use leptos::{prelude::*, task::spawn_local};

use crate::{
    app::Route,
    call::call,
    page,
    widgets::loaded::{ask, fault_note, loaded, progress},
    wording::workbench as words,
};

/// Begins drafts, and opens each once it is there.
#[derive(Clone, Copy)]
pub(super) struct Begin(Action<BeginDraft, Result<contract::OpenedDraft, contract::Fault>>);

impl Begin {
    pub(super) fn new() -> Self {
        let begin = Action::new_local(|request: &BeginDraft| call(request.clone()));
        Effect::new(move |_| {
            if let Some(Ok(opened)) = begin.value().get() {
                page::go(&Route::Workbench(opened.draft).href());
            }
        });
        Begin(begin)
    }

    pub(super) fn from(self, from: DraftFrom) {
        self.0.dispatch_local(BeginDraft { draft: page::random_id(), from });
    }

    pub(super) fn busy(self) -> bool {
        self.0.pending().get()
    }

    /// That it is on its way, or why it did not work.
    pub(super) fn told(self) -> impl IntoView {
        let nothing = Callback::new(|()| ());
        view! {
            {move || self.busy().then(|| progress(words::WORKING))}
            {move || self.0.value().get().and_then(Result::err).map(|fault| fault_note(fault, nothing))}
        }
    }
}

pub(super) fn drafts() -> impl IntoView {
    let asked = ask(|| ListDrafts {});
    let begin = Begin::new();
    let refused = RwSignal::new(None::<String>);
    let bring = move |event: leptos::ev::Event| {
        refused.set(None);
        let Some(file) = page::chosen_file(&event) else { return };
        // What no reader takes is not even loaded.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a size in whole bytes")]
        let bytes = file.size() as usize;
        if bytes > MOST_BYTES {
            refused.set(Some(words::too_large(bytes >> 20)));
            return;
        }
        spawn_local(async move {
            if let Some(text) = page::text_of(&file).await {
                begin.from(DraftFrom::File { text });
            }
        });
    };
    view! {
        <section class="stack" aria-labelledby="drafts-title">
            <h2 id="drafts-title">{words::DRAFTS}</h2>
            {loaded(asked, |lines| listing(lines).into_any())}
            <div class="field">
                <label for="bring-file">{words::BRING}</label>
                <input id="bring-file" type="file" accept=".json,application/json" on:change=bring
                    aria-describedby="bring-hint" />
                <p class="hint" id="bring-hint">{words::BRING_HINT}</p>
            </div>
            {move || refused.get().map(|why| view! { <p class="note danger" role="alert">{why}</p> })}
            {begin.told()}
        </section>
    }
}

fn listing(lines: Vec<DraftLine>) -> impl IntoView {
    if lines.is_empty() {
        return view! { <p class="note">{words::NO_DRAFT}</p> }.into_any();
    }
    let each = lines.into_iter().map(|line| {
        view! {
            <li><a class="line" href=Route::Workbench(line.draft).href()>
                <strong>{line.title}</strong>
                <span class="quiet-text">{words::becomes(&line.version)}</span>
                <span class="aside small">{words::kept(&line.kept)}</span>
            </a></li>
        }
    });
    view! { <ul class="lines" id="drafts">{each.collect_view()}</ul> }.into_any()
}
