//! Who is to be watched again after coaching, by when: planned in a review, and gone once the next
//! demonstration of it has begun.

use contract::WatchAgain;
use leptos::prelude::*;

use crate::{
    app::Route,
    wording::{self, beside::again as words},
};

pub(super) fn again(all: Vec<WatchAgain>) -> impl IntoView {
    let each = all.into_iter().map(|one| {
        let by = one.by.map(|by| words::by(&wording::short_date(by)));
        view! {
            <li><a class="line" href=Route::Start(Some(one.person)).href()>
                <strong>{format!("{}: {}", one.name, one.procedure)}</strong>
                <span class="quiet-text">{one.coached}</span>
                <span class="aside"><span class="small">{by}</span></span>
            </a></li>
        }
    });
    view! {
        <section class="stack tight" aria-labelledby="again">
            <h2 id="again">{words::TITLE}</h2>
            <ul class="lines" id="watch-again">{each.collect_view()}</ul>
        </section>
    }
}
