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
    let asked = ask(|| ListProcedures { retired: false });
    let gone = ask(|| ListProcedures { retired: true });
    view! {
        <div class="stack wide">
            {title(procedures::TITLE)}
            {loaded(asked, |lines| listing(lines, "procedures", procedures::NONE).into_any())}
            {drafts::drafts()}
            <details class="card">
                <summary>{procedures::RETIRED}</summary>
                {loaded(gone, |lines| listing(lines, "retired", procedures::NONE_RETIRED).into_any())}
            </details>
        </div>
    }
}

fn listing(lines: Vec<ProcedureLine>, id: &'static str, none: &'static str) -> impl IntoView {
    if lines.is_empty() {
        return view! { <p class="note">{none}</p> }.into_any();
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
    view! { <ul class="lines" id=id>{each.collect_view()}</ul> }.into_any()
}
