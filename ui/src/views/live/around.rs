//! What may happen at any time: acts of no one section, conditions, contamination.

use competency::{journal::Event, model::TileKind, procedure::Ask};
use leptos::prelude::*;

use super::{Door, Form, Panel, board};
use crate::{widgets::mark::ContaminationShape, wording::door::live as words};

/// How many things stand on the shelf.
pub(super) fn count(form: &Form) -> usize {
    let conditions = form.model().procedure().conditions.iter();
    let contamination = 1;
    board::shelf(form).len()
        + conditions.filter(|condition| condition.ask == Ask::Anytime).count()
        + contamination
}

/// `events_alone` leaves out what the next step of guided mode calls for anyway.
pub(super) fn around(door: Door, events_alone: bool) -> impl IntoView {
    let (tiles, conditions) = door.watch.peek(|form| {
        let conditions = form.model().procedure().conditions.iter();
        let anytime = conditions.filter(|condition| condition.ask == Ask::Anytime);
        let mut tiles = board::shelf(form);
        tiles.retain(|tile| !events_alone || tile.kind == TileKind::Forbidden);
        (tiles, anytime.cloned().collect::<Vec<_>>())
    });
    let conditions = conditions.into_iter().map(|condition| {
        let id = condition.id.clone();
        let happened = move |_| door.tap(Event::Condition { condition: id.clone() });
        view! {
            <button type="button" class="tile minor event" id=format!("condition-{}", condition.id) on:click=happened>
                <span class="tile-shape"><ContaminationShape /></span>
                <span class="tile-state">{words::HAPPENED}</span>
                <strong>{condition.text}</strong>
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
                    <span class="tile-state">{words::HAPPENED}</span>
                    <strong>{words::CONTAMINATION}</strong>
                </button>
            </div>
        </section>
    }
}
