//! Which steps a unit keeps getting wrong: shares of people, from five people on.

use chrono::NaiveDate;
use contract::{OpenUnitFindings, UnitFinding, UnitFindings};
use leptos::prelude::*;

use crate::{
    widgets::loaded::{ask, loaded},
    wording::manager::findings as words,
};

/// Width of a bar for everyone, in CSS pixels.
const WHOLE: u32 = 240;

pub(super) fn findings(unit: RwSignal<String>, as_of: Memo<Option<NaiveDate>>) -> impl IntoView {
    let asked = ask(move || OpenUnitFindings {
        unit: unit.with(|unit| (!unit.is_empty()).then(|| unit.clone())),
        as_of: as_of.get(),
    });
    view! {
        <section class="stack" aria-labelledby="findings-title">
            <h2 id="findings-title">{words::TITLE}</h2>
            <p class="quiet-text">{words::WHY}</p>
            {loaded(asked, |found| listing(found).into_any())}
        </section>
    }
}

fn listing(found: UnitFindings) -> impl IntoView {
    if found.people < found.least {
        return view! { <p class="note">{words::too_few(found.people, found.least)}</p> }.into_any();
    }
    let left_out = (found.left_out > 0).then(|| {
        view! { <p class="quiet-text small" id="findings-left-out">{words::left_out(found.left_out, found.least)}</p> }
    });
    if found.lines.is_empty() {
        return view! { <p class="note">{words::NONE}</p> {left_out} }.into_any();
    }
    view! {
        <ol class="lines" id="unit-findings">{found.lines.into_iter().map(line).collect_view()}</ol>
        {left_out}
    }
    .into_any()
}

fn line(one: UnitFinding) -> impl IntoView {
    let full = WHOLE * one.share.count / one.share.of.max(1);
    view! {
        <li class="line">
            <strong>{one.step}</strong>
            <span class="quiet-text">{one.procedure}</span>
            <span class="aside stack tight">
                <svg class="share" width=WHOLE height="14" aria-hidden="true">
                    <rect class="share-whole" width=WHOLE height="14" />
                    <rect class="share-part" width=full height="14" />
                </svg>
                <span class="small">{one.share.words()}</span>
            </span>
        </li>
    }
}
