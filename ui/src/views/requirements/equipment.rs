//! Other equipment came into use: whoever showed a procedure with the old one shows it again.

use contract::{AskAgain, Requirements};
use leptos::prelude::*;

use crate::{
    views::go_in::unit_options,
    widgets::{
        date::{date_field, untracked},
        doing::doing,
        field::Field,
        select::{chosen, select, ticks},
    },
    wording::{self, manager::requirements as words},
};

pub(super) fn equipment(all: &Requirements, changed: Callback<()>) -> impl IntoView + use<> {
    let [unit, what, by] = [(); 3].map(|()| RwSignal::new(String::new()));
    let of = all.procedures.iter().map(|one| (one.id.clone(), one.title.clone())).collect();
    let (boxes, ticked) = ticks("equipment", of);
    let ask_again = doing::<AskAgain>(move |_| changed.run(()));
    let today = all.today;
    let go = Callback::new(move |()| {
        ask_again.go(AskAgain {
            unit: chosen(unit),
            procedures: ticked(),
            what: what.get_untracked(),
            by: untracked(by).unwrap_or(today),
        });
    });
    view! {
        <details class="card">
            <summary>{words::EQUIPMENT}</summary>
            <form class="stack" novalidate aria-label=words::EQUIPMENT
                on:submit=move |event| { event.prevent_default(); go.run(()); }>
                <p class="quiet-text">{words::EQUIPMENT_WHY}</p>
                <div class="columns">
                    <Field id="equipment-what" label=words::WHAT value=what hint=words::WHAT_HINT />
                    {select("equipment-unit", words::OF_UNIT, unit_options(all.units.clone()), unit)}
                    {date_field("equipment-by", words::BY, by, wording::DATE_HINT)}
                </div>
                <fieldset class="stack tight">
                    <legend>{words::IN_PROCEDURES}</legend>
                    <div class="choices">{boxes}</div>
                </fieldset>
                {ask_again.told()}
                <div class="row">
                    <button type="submit" class="button" id="ask-again"
                        disabled=move || ask_again.busy()>{words::EQUIPMENT_GO}</button>
                </div>
            </form>
        </details>
    }
}
