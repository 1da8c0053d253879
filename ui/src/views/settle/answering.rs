//! An answer, with its reason where everything had its answer before.

use competency::journal::Event;
use leptos::prelude::*;

use crate::{
    page,
    views::live::{Form, Watch, all_lines},
    wording::beside::changed as words,
};

/// How answers are given.
#[derive(Debug, Clone, Copy)]
pub(super) struct Answering {
    pub(super) watch: Watch,
    why: RwSignal<String>,
    asked: RwSignal<bool>,
}

impl Answering {
    pub(super) fn new(watch: Watch) -> Answering {
        Answering { watch, why: RwSignal::new(String::new()), asked: RwSignal::new(false) }
    }

    /// One answer. After the answers it waits until there is a reason, and the reason goes with it.
    pub(super) fn tap(self, event: Event) {
        let settled = self.watch.peek(|form| form.folded().settled);
        let why = self.why.with_untracked(|why| why.trim().to_owned());
        if settled && why.is_empty() {
            self.asked.set(true);
            page::focus("change-why");
            return;
        }
        let of = self.watch.tap(event);
        if settled {
            self.watch.tap(Event::Because { of, why });
        }
    }

    /// Where the reason is asked for, and what was changed so far; nothing before the answers.
    pub(super) fn reason(self) -> impl IntoView {
        let settled =
            Memo::new(move |_| self.watch.read(|form| form.folded().settled && !form.opened().sealed));
        let changed = Memo::new(move |_| self.watch.read(changes));
        move || {
            settled.get().then(|| {
                view! {
                    <section class="card stack" aria-label=words::TITLE>
                        <div class="field">
                            <label for="change-why">{words::WHY}</label>
                            <input id="change-why" type="text" autocomplete="off" prop:value=self.why
                                aria-describedby="change-why-hint" aria-invalid=move || self.asked.get().then_some("true")
                                on:input:target=move |event| self.why.set(event.target().value()) />
                            <p class="hint" id="change-why-hint">{words::WHY_HINT}</p>
                            {move || (self.asked.get() && self.why.with(|why| why.trim().is_empty()))
                                .then(|| view! { <p class="wrong" role="alert">{words::WHY_MISSING}</p> })}
                        </div>
                        <ul class="points">
                            {move || changed.get().into_iter().map(|said| view! { <li>{said}</li> }).collect_view()}
                        </ul>
                    </section>
                }
            })
        }
    }
}

/// What was changed after the answers, each with its reason.
fn changes(form: &Form) -> Vec<String> {
    let lines = all_lines(form);
    let said = |id: &str| {
        let line = form.opened().lines.iter().find(|line| line.id == *id);
        // What was taken back is told by what it was.
        let of = match line.map(|line| &line.event) {
            Some(Event::Undo { of }) => of.clone(),
            Some(_) | None => id.to_owned(),
        };
        lines.iter().find(|line| line.id == of).map(|line| line.text.clone()).unwrap_or_default()
    };
    let changes = form.folded().changes.iter();
    changes
        .map(|change| {
            let why = if change.why.is_empty() { words::NO_REASON } else { &change.why };
            format!("{}: {why}", said(&change.line))
        })
        .collect()
}
