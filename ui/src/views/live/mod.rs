//! The live form: one tap an act, at a fixed place; nothing that stands in the way of the next tap.

mod around;
mod banner;
mod board;
mod form;
mod guided;
mod header;
mod lines;
mod pages;
mod panels;
mod side;
mod watch;

pub(crate) use form::{Form, is_done};
pub(crate) use lines::{Shown, all as all_lines};
pub(crate) use watch::Watch;

use competency::journal::TapId;
use contract::OpenDemonstration;
use leptos::prelude::*;

use crate::{
    app::Route,
    page,
    widgets::loaded::{ask, loaded},
    wording::door::live as words,
};

/// What stands in the side column.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
enum Panel {
    /// The last line and the log.
    #[default]
    Log,
    /// The technique faults of a line.
    Faults,
    /// A contamination event.
    Contamination,
    /// How it ends.
    Stop,
}

/// What the parts of the form share.
#[derive(Debug, Clone, Copy)]
struct Door {
    watch: Watch,
    panel: RwSignal<Panel>,
    /// The line of the log that is being amended, where it is not the latest.
    chosen: RwSignal<Option<TapId>>,
    /// The warning that the observer has closed, by its line.
    closed: RwSignal<Option<TapId>>,
    /// Milliseconds since the demonstration began, a few times a second.
    elapsed: RwSignal<i64>,
    /// In guided mode, the whole board is shown instead of the next step.
    all_acts: RwSignal<bool>,
}

impl Door {
    /// One tap. Whatever was open closes: the observer has moved on.
    fn tap(self, event: competency::journal::Event) {
        self.watch.tap(event);
        self.panel.set(Panel::Log);
        self.chosen.set(None);
    }

    /// The line that amendments go to: the chosen one, else the latest.
    fn line(self) -> Option<Shown> {
        let chosen = self.chosen.get();
        self.watch.read(|form| match chosen.as_deref() {
            Some(id) => lines::line(form, id),
            None => lines::latest(form),
        })
    }
}

/// Loads a demonstration and shows `view` once it is there; at once where taps of it still wait.
///
/// While taps of another one wait, that one is shown the way to instead: taking up this one would lose them.
pub(crate) fn with_demonstration(id: String, view: fn(Watch) -> AnyView) -> AnyView {
    let watch = Watch::here();
    match watch.unsaved() {
        Some(unsaved) if unsaved == id => view(watch),
        Some(unsaved) => view! {
            <div class="note danger stack tight" role="alert">
                <strong>{words::UNSAVED_ELSEWHERE}</strong>
                <p>{words::UNSAVED_ELSEWHERE_HINT}</p>
                <div class="row">
                    <a class="button primary" href=Route::Live(unsaved).href()>{words::TO_UNSAVED}</a>
                </div>
            </div>
        }
        .into_any(),
        None => {
            let asked = ask(move || OpenDemonstration { demonstration: id.clone() });
            // What the view reads while it is made must not make it anew, or it would open the old answer.
            let show = move |opened| {
                untrack(|| {
                    watch.open(opened);
                    view(watch)
                })
            };
            loaded(asked, show).into_any()
        }
    }
}

/// The live form of the demonstration of that id.
pub(crate) fn live(id: String) -> impl IntoView {
    with_demonstration(id, |watch| form(watch).into_any())
}

fn form(watch: Watch) -> impl IntoView {
    let door = Door {
        watch,
        panel: RwSignal::new(Panel::Log),
        chosen: RwSignal::new(None),
        closed: RwSignal::new(None),
        elapsed: RwSignal::new(0),
        all_acts: RwSignal::new(false),
    };
    let tick = move || door.elapsed.set(watch.peek(|form| form.elapsed(page::now_ms())));
    tick();
    // It fails only where the page has no timers.
    let ticking = set_interval_with_handle(tick, std::time::Duration::from_millis(250)).ok();
    on_cleanup(move || {
        if let Some(ticking) = ticking {
            ticking.clear();
        }
    });
    let over = Memo::new(move |_| watch.read(|form| form.folded().ended || form.opened().sealed));
    Effect::new(move |_| {
        if over.get() {
            let (id, open) =
                watch.peek(|form| (form.opened().demonstration.clone(), !form.unanswered().is_empty()));
            if open { Route::Settle(id).go_instead() } else { Route::Review(id).go_instead() }
        }
    });
    let guided = watch.peek(Form::is_guided);
    let acts = move || {
        let step_alone = guided && !door.all_acts.get();
        let main = if step_alone { guided::next(door).into_any() } else { board::board(door).into_any() };
        (main, around::around(door, step_alone))
    };
    view! {
        <div class="door">
            {header::header(door, guided)}
            {banner::banner(door)}
            <div class="door-acts">{acts}</div>
            <aside class="door-side" aria-label=words::LOG>
                {move || match door.panel.get() {
                    Panel::Log => side::side(door).into_any(),
                    Panel::Faults => panels::faults(door).into_any(),
                    Panel::Contamination => panels::contamination(door).into_any(),
                    Panel::Stop => panels::stop(door).into_any(),
                }}
            </aside>
        </div>
    }
}
