//! What may happen at any time: acts of no one section, conditions, contamination.

use competency::{journal::Event, procedure::Ask};
use leptos::prelude::*;

use super::{Door, Panel, board};
use crate::{widgets::mark::ContaminationShape, wording::door::live as words};

pub(super) fn around(door: Door) -> impl IntoView {
    let (tiles, conditions) = door.watch.peek(|form| {
        let conditions = form.model().procedure().conditions.iter();
        let anytime = conditions.filter(|condition| condition.ask == Ask::Anytime);
        (board::shelf(form), anytime.cloned().collect::<Vec<_>>())
    });
    let conditions = conditions.into_iter().map(|condition| {
        let id = condition.id.clone();
        let happened = move |_| door.tap(Event::Condition { condition: id.clone() });
        view! {
            <button type="button" class="tile minor event" id=format!("condition-{}", condition.id) on:click=happened>
                <span class="tile-shape"><ContaminationShape /></span>
                <strong>{condition.text}</strong>
                <span class="tile-state">{words::HAPPENED}</span>
            </button>
        }
    });
    view! {
        <section class="door-around" aria-label=words::ANY_TIME>
            <h2>{words::ANY_TIME}</h2>
            <div class="door-tiles">
                {tiles.iter().map(|tile| board::tile(door, tile)).collect_view()}
                {conditions.collect_view()}
                <button type="button" class="tile minor event" id="contamination"
                    aria-expanded=move || (door.panel.get() == Panel::Contamination).to_string()
                    on:click=move |_| door.panel.set(Panel::Contamination)>
                    <span class="tile-shape"><ContaminationShape /></span>
                    <strong>{words::CONTAMINATION}</strong>
                    <span class="tile-state">{words::CONTAMINATION_HINT}</span>
                </button>
            </div>
        </section>
    }
}
