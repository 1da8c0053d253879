//! The procedures in force.

mod drafts;
pub(crate) mod one;
mod steps;
mod versions;

use contract::{ListProcedures, ProcedureLine};
use leptos::prelude::*;

use crate::{
    app::Route,
    widgets::{
        loaded::{ask, loaded},
        title::title,
    },
    wording::{self, facility::procedures},
};

#[component]
pub(crate) fn Procedures() -> impl IntoView {
    let asked = ask(|| ListProcedures {});
    view! {
        <div class="stack wide">
            {title(procedures::TITLE)}
            {loaded(asked, |lines| listing(lines).into_any())}
            {drafts::drafts()}
        </div>
    }
}

fn listing(lines: Vec<ProcedureLine>) -> impl IntoView {
    if lines.is_empty() {
        return view! { <p class="note">{procedures::NONE}</p> }.into_any();
    }
    let each = lines.into_iter().map(|line| {
        let about = format!(
            "{} · {} · {}",
            wording::phase(line.phase),
            wording::precautions(&line.precautions),
            procedures::line(line.steps, line.critical)
        );
        view! {
            <li><a class="line" href=Route::Procedure(line.id).href()>
                <strong>{line.title}</strong>
                <span class="quiet-text">{about}</span>
                <span class="aside stack tight">
                    <span class="small">{procedures::version(&line.version)}</span>
                    {line.from_memory.then(|| view! { <span class="tag">{procedures::FROM_MEMORY}</span> })}
                </span>
            </a></li>
        }
    });
    view! { <ul class="lines" id="procedures">{each.collect_view()}</ul> }.into_any()
}
