//! Every act at its place.

use competency::{
    journal::Event,
    live::{ActMark, ActState},
    model::{Section, Tile, TileKind},
    procedure::By,
};
use leptos::prelude::*;

use super::{
    Door, around,
    form::{Form, Running},
    pages, ring,
};
use crate::{
    widgets::mark::ActShape,
    wording::{door, door::live as words},
};

/// So many acts or fewer stand in three rows at most.
const ROOMY: usize = 12;

/// The sections, page by page.
pub(super) fn board(door: Door) -> impl IntoView {
    let (sections, shelf) = door.watch.peek(|form| (form.model().sections().to_vec(), around::count(form)));
    let pages = StoredValue::new(pages::pages(&sections, shelf));
    let count = pages.with_value(Vec::len);
    let crowded = count > 1;
    // Few acts leave room for large words, which are read from further away.
    let roomy = !crowded && sections.iter().map(|section| section.tiles.len()).sum::<usize>() <= ROOMY;
    let shown =
        RwSignal::new(door.watch.peek(|form| pages.with_value(|pages| pages::moved_on(form, pages, 0))));
    // Only what the rule says of the next step moves the form on, never a turn of the page by hand.
    let next = Memo::new(move |_| {
        let at = shown.get_untracked();
        door.watch.read(|form| pages.with_value(|pages| pages::moved_on(form, pages, at)))
    });
    Effect::new(move |before: Option<usize>| {
        let next = next.get();
        // Once the finger is off the screen it is asked again.
        if door.touched.get() {
            return before.unwrap_or(next);
        }
        if before.is_some_and(|before| before != next) {
            shown.set(next);
        }
        next
    });
    let turned = {
        let sections = sections.clone();
        (count > 1).then(|| view! {
            <nav class="door-pages" aria-label=words::SECTIONS>
                {(0..count).map(|page| {
                    let here: Vec<Section> = pages.with_value(|pages| pages.get(page).cloned().unwrap_or_default())
                        .into_iter().filter_map(|index| sections.get(index).cloned()).collect();
                    tab(door, page, here, shown)
                }).collect_view()}
            </nav>
        })
    };
    view! {
        {turned}
        <div class="door-board" class:crowded=crowded class:roomy=roomy>
            {move || {
                let page = shown.get();
                let here = pages.with_value(|pages| pages.get(page).cloned().unwrap_or_default());
                here.into_iter().filter_map(|index| sections.get(index)).map(|part| section(door, part)).collect_view()
            }}
        </div>
    }
}

fn tab(door: Door, page: usize, sections: Vec<Section>, shown: RwSignal<usize>) -> impl IntoView {
    let name = sections.iter().filter_map(|section| section.title.clone()).collect::<Vec<_>>().join(" · ");
    let steps: Vec<String> = sections.into_iter().flat_map(|section| section.steps).collect();
    let done = move || {
        door.watch.read(|form| {
            let (done, of) = form.done_of(&steps);
            door::section_done(done, of)
        })
    };
    view! {
        <button type="button" class="door-page" id=format!("page-{page}")
            aria-current=move || (shown.get() == page).then_some("true")
            on:click=move |_| shown.set(page)>
            <strong>{name}</strong><span>{done}</span>
        </button>
    }
}

fn section(door: Door, section: &Section) -> impl IntoView + use<> {
    let title = section.title.clone().unwrap_or_default();
    let name = title.clone();
    let class = format!("door-section span-{}", section.tiles.len().clamp(1, 4));
    view! {
        <section class=class aria-label=name>
            <h2>{title}</h2>
            <div class="door-tiles">
                {section.tiles.iter().map(|act| tile(door, act)).collect_view()}
            </div>
        </section>
    }
}

/// What a tile shows.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Looks {
    mark: Option<ActMark>,
    waits: bool,
    /// When it was last seen, as it is read.
    last: Option<String>,
    too_early: bool,
    running: Option<Running>,
    by: By,
}

impl Looks {
    /// It was done, and before its turn: that stays to be seen.
    fn was_early(&self) -> bool {
        self.too_early && self.mark.is_some_and(|mark| mark.state == ActState::Done)
    }
}

fn looks(form: &Form, act: &str) -> Looks {
    let mark = form.live().act_mark(form.model(), act);
    Looks {
        mark: Some(mark),
        waits: form.act_waits(act),
        last: mark.last.and_then(|last| form.observed_at(last)),
        too_early: mark.last.is_some_and(|last| form.was_too_early(last)),
        running: form.running().filter(|running| running.act == act),
        by: form.by(act),
    }
}

/// One act: a tap logs it, or ends it while it is being timed.
pub(super) fn tile(door: Door, tile: &Tile) -> impl IntoView + use<> {
    let act = tile.act.clone();
    let watched = act.clone();
    let looks = Memo::new(move |_| door.watch.read(|form| looks(form, &watched)));
    let kind = match tile.kind {
        TileKind::Step | TileKind::Combined => "tile",
        TileKind::Free | TileKind::Answer | TileKind::Other => "tile minor",
        TileKind::Forbidden => "tile minor forbidden",
    };
    let class = move || {
        let looks = looks.get();
        let due = looks.mark.is_some_and(|mark| mark.due);
        let state = looks.mark.map_or("", |mark| state_class(mark.state));
        format!(
            "{kind} {state}{}{}{}",
            if looks.was_early() { " early" } else { "" },
            if due { " is-due" } else { "" },
            if looks.waits { " waits" } else { "" }
        )
    };
    let label = tile.label.clone();
    let under = move || {
        let looks = looks.get();
        if looks.waits {
            return words::SAVING.to_owned();
        }
        if let Some(running) = looks.running {
            return door::running(door.elapsed.get() - running.since_ms, running.least);
        }
        let Some(mark) = looks.mark else { return String::new() };
        // What must come now is all there is room for.
        if mark.due {
            return words::NEXT_MUST_COME.to_owned();
        }
        match looks.by {
            by @ (By::Assistant | By::Observer) if mark.times == 0 => door::by_other(by, mark.state),
            By::Wearer | By::Assistant | By::Observer => {
                // That it may be done at any time stands over the row; what is new is that it was.
                let seen = mark.state == ActState::Free && mark.times > 0;
                let state = if seen { ActState::Done } else { mark.state };
                door::tile(door::mark(state), looks.last.as_deref(), mark.times, looks.was_early())
            }
        }
    };
    let tap = move |event: leptos::ev::MouseEvent| {
        // A key that is pressed counts no clicks, and does not bounce.
        if event.detail() > 0 && door.bounced(&act) {
            return;
        }
        let (running, by) =
            door.watch.peek(|form| (form.running().filter(|running| running.act == act), form.by(&act)));
        door.tap(match running {
            Some(running) => Event::ActEnded { of: running.of },
            None => Event::Act { act: act.clone(), by },
        });
    };
    view! {
        <button type="button" class=class id=format!("act-{}", tile.act) on:click=tap>
            <span class="tile-shape">{move || {
                let looks = looks.get();
                if let Some(running) = &looks.running {
                    return Some(ring::ring(door, running).into_any());
                }
                let early = looks.was_early();
                looks.mark.map(|mark| view! { <ActShape state=mark.state due=mark.due early=early /> }.into_any())
            }}</span>
            <span class="tile-state">{under}</span>
            <strong>{label}</strong>
        </button>
    }
}

fn state_class(state: ActState) -> &'static str {
    match state {
        ActState::MayCome => "may-come",
        ActState::Skipped => "skipped",
        ActState::NotYet => "not-yet",
        ActState::Done => "done",
        ActState::Free => "free",
        ActState::Forbidden => "must-not",
        ActState::Allowed | ActState::NotCalledFor => "not-called-for",
    }
}

/// Whether a tile stands on the shelf that is on every page.
pub(super) fn shelf(form: &Form) -> Vec<Tile> {
    let untitled = form.model().sections().iter().filter(|section| section.title.is_none());
    untitled.flat_map(|section| section.tiles.clone()).collect()
}
