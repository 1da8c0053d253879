//! What the observer noted while it ran, each note with its time and what it is on.

use competency::{
    journal::{Note, fold},
    model::Model,
};
use contract::Review;
use leptos::prelude::*;

use crate::{
    pictures,
    wording::{self, beside, outcome::review as words},
};

/// Nothing where nothing was noted.
pub(super) fn notes(review: &Review, model: &Model) -> impl IntoView + use<> {
    let opened = &review.demonstration;
    let folded = fold(&opened.lines, opened.mode, &opened.conditions);
    let about = |of: &str| {
        let seen = folded.observation_of(of).and_then(|index| folded.log.observations.get(index))?;
        Some(pictures::observed(model, seen))
    };
    let told = |note: &Note| {
        let text = match note.of.as_deref().and_then(about) {
            Some(about) => words::note_on(&about, &note.text),
            None => note.text.clone(),
        };
        // While a form is entered nobody is watched, and the moment of the entry says nothing.
        if opened.paper_form.is_some() { text } else { beside::at(&wording::clock(note.at_ms), &text) }
    };
    let each: Vec<_> = folded.notes.iter().map(|note| view! { <li>{told(note)}</li> }).collect();
    (!each.is_empty()).then(|| {
        view! {
            <section class="stack tight" aria-labelledby="notes-title">
                <h2 id="notes-title">{words::NOTES}</h2>
                <ul class="points" id="notes">{each}</ul>
            </section>
        }
    })
}
