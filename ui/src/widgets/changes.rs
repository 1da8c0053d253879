//! What changed between two versions of a procedure, with the words as they were and as they are.

use competency::procedure::{Change, Reworded};
use leptos::prelude::*;

use crate::wording::workbench as words;

/// The changes as a list; each passage that reads otherwise stands under its change.
pub(crate) fn changes(changes: Vec<Change>) -> impl IntoView {
    let each = changes.into_iter().map(|change| {
        let passages = change.words.into_iter().map(reworded);
        view! { <li>{change.text}{passages.collect_view()}</li> }
    });
    view! { <ul class="points">{each.collect_view()}</ul> }
}

fn reworded(passage: Reworded) -> impl IntoView {
    let Reworded { was, is } = passage;
    let line = |called: &'static str, text: String| {
        let text = if text.is_empty() { words::NO_WORDS.to_owned() } else { text };
        view! { <div class="reworded-line"><dt>{called}</dt><dd>{text}</dd></div> }
    };
    view! { <dl class="reworded small">{line(words::WAS, was)}{line(words::IS, is)}</dl> }
}
