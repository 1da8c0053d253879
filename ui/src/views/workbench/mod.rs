//! The workbench: a published procedure becomes the facility's own, step by step, with the rules beside.

mod bench;
mod elsewhere;
mod happenings;
mod head;
mod inputs;
mod new_act;
mod order;
mod publish;
mod steps;
mod trial;
mod turns;
mod values;

use competency::model::Model;
use contract::{OpenDraft, OpenedDraft};
use leptos::prelude::*;

use self::{
    bench::{Bench, Keeping},
    inputs::Typing,
};
use crate::{
    app::Route,
    pictures,
    widgets::{
        drawing::drawing,
        loaded::{ask, loaded},
        title::title,
    },
    wording::{facility::procedures, workbench as words},
};

/// The parts of the workbench, of which one is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Head,
    Steps,
    Happenings,
    Values,
    Try,
    Publish,
}

impl Part {
    const ALL: [Part; 6] =
        [Part::Head, Part::Steps, Part::Happenings, Part::Values, Part::Try, Part::Publish];

    fn named(self) -> (&'static str, &'static str) {
        match self {
            Part::Head => ("part-head", words::HEAD),
            Part::Steps => ("part-steps", words::STEPS),
            Part::Happenings => ("part-happenings", words::HAPPENINGS),
            Part::Values => ("part-values", words::VALUES),
            Part::Try => ("part-try", words::TRY),
            Part::Publish => ("part-publish", words::PUBLISH),
        }
    }
}

/// The view of one draft.
pub(crate) fn workbench(draft: String) -> impl IntoView {
    let asked = ask(move || OpenDraft { draft: draft.clone() });
    view! {
        <div class="stack wide workbench">
            <a href=Route::Procedures.href()>{procedures::BACK}</a>
            {loaded(asked, |opened| page(opened).into_any())}
        </div>
    }
}

fn page(opened: OpenedDraft) -> impl IntoView {
    let heading = opened.procedure.title.clone();
    let bench = Bench::new(opened);
    let typing = RwSignal::new(false);
    provide_context(Typing(typing));
    let part = RwSignal::new(Part::Steps);
    let becomes = becomes(bench);
    let tabs = Part::ALL.map(|one| {
        let (id, name) = one.named();
        let here = move || (part.get() == one).then_some("true");
        view! {
            <li><button type="button" class="button" id=id aria-current=here
                on:click=move |_| part.set(one)>{name}</button></li>
        }
    });
    view! {
        <div class="stack tight">
            {title(heading)}
            <p class="lead">{words::TITLE}" · "{becomes}" · "
                <span id="keeping" role="status">{move || match bench.keeping.get() {
                    Keeping::Kept if typing.get() => words::KEEPING,
                    Keeping::Kept => words::KEPT,
                    Keeping::UnderWay { .. } => words::KEEPING,
                    Keeping::Failed(_) => words::REFUSED,
                }}</span>
            </p>
        </div>
        {move || match bench.keeping.get() {
            Keeping::Failed(fault) => Some(view! { <p class="note danger" role="alert">{fault.text}</p> }),
            Keeping::Kept | Keeping::UnderWay { .. } => None,
        }}
        {move || bench.refused.get().map(|why| view! {
            <div class="note warning bench-refused stack tight" id="refused">
                <p><strong>{words::REFUSED}</strong></p>
                <p>{why}</p>
                <div><button type="button" class="button" id="refused-close" on:click=move |_| bench.refused.set(None)>
                    {words::SEEN}</button></div>
            </div>
        })}
        {move || bench.noted.get().map(|noted| view! { <p class="note" id="noted">{noted}</p> })}
        <nav aria-label=words::PARTS><ul class="row parts">{tabs.into_iter().collect_view()}</ul></nav>
        {move || match part.get() {
            Part::Head => head::head(bench).into_any(),
            Part::Steps => view! { {picture(bench)} {steps::steps(bench)} }.into_any(),
            Part::Happenings => happenings::happenings(bench).into_any(),
            Part::Values => values::values(bench).into_any(),
            Part::Try => trial::trial(bench).into_any(),
            Part::Publish => publish::publish(bench).into_any(),
        }}
    }
}

/// Which version it becomes; a version that is published already it cannot become.
fn becomes(bench: Bench) -> Memo<String> {
    let published = bench.published().map(|published| published.version);
    bench.read(move |draft| match &published {
        Some(published) if *published == draft.version => words::unchanged(published),
        Some(_) | None => words::becomes(&draft.version),
    })
}

/// The order as it is now, drawn anew with every change of it.
fn picture(bench: Bench) -> impl IntoView {
    let drawn = drawing(procedures::ORDER, move |width| {
        bench.procedure.with(|draft| pictures::step_graph(draft, &Model::new(draft.clone()), width))
    });
    view! {
        <details class="card">
            <summary>{procedures::ORDER}</summary>
            {drawn}
        </details>
    }
}
