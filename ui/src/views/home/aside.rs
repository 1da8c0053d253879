//! What was put aside when the program started, and what to do next.

use contract::{SetAside, WhatWasSetAside};
use leptos::prelude::*;

use crate::{app::Route, wording::facility::home as words};

pub(super) fn aside(all: Vec<SetAside>) -> impl IntoView {
    let each = all.into_iter().map(|SetAside { path, what }| {
        let (title, why, next) = match what {
            WhatWasSetAside::Record { demonstration, name, procedure } => (
                words::aside_record(&name, &procedure),
                words::RECORD_WHY,
                Some((Route::Settle(demonstration), words::SIGN_AGAIN)),
            ),
            WhatWasSetAside::SecondSignature { person, name, procedure } => (
                words::aside_second(&name, &procedure),
                words::SECOND_WHY,
                Some((Route::History(person), words::ASK_AGAIN)),
            ),
            WhatWasSetAside::NotInLedger => (words::NOT_IN_LEDGER.to_owned(), words::NOT_IN_LEDGER_WHY, None),
            WhatWasSetAside::NoRecord => (words::NO_RECORD.to_owned(), words::NO_RECORD_WHY, None),
        };
        view! {
            <div class="note warning stack tight">
                <strong>{title}</strong>
                <p>{why}</p>
                <p class="small path">{words::lies(&path)}</p>
                {next.map(|(route, word)| view! {
                    <div class="row"><a class="button" href=route.href()>{word}</a></div>
                })}
            </div>
        }
    });
    view! {
        <section class="stack tight" aria-labelledby="aside" id="set-aside">
            <h2 id="aside">{words::SET_ASIDE}</h2>
            {each.collect_view()}
        </section>
    }
}
