//! The live form: one tap an act, at a fixed place; nothing that stands in the way of the next tap.

mod around;
mod banner;
mod beside;
mod board;
mod body;
mod form;
mod guided;
mod header;
mod held;
mod keys;
mod lines;
mod lock;
mod pages;
mod panels;
mod ring;
mod side;
mod watch;
mod written;

pub(crate) use form::Form;
pub(crate) use held::Held;
pub(crate) use lines::{Shown, all as all_lines};
pub(crate) use watch::Watch;

use std::time::Duration;

use competency::{
    journal::{Event, TapId},
    procedure::ActId,
};
use contract::OpenDemonstration;
use leptos::{prelude::*, task::spawn_local};

use crate::{
    app::Route,
    call::call,
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
    /// Everything about the chosen line.
    Line,
    /// A note.
    Notes,
    /// The act of the chosen line was another one.
    Correct,
    /// The technique faults of a line.
    Faults,
    /// A contamination event.
    Contamination,
    /// What to do after a contamination event.
    Exposure,
    /// How it ends.
    Stop,
    /// What is rare.
    More,
    /// The team's own error.
    TeamError,
    /// Another observer takes over.
    HandOver,
    /// How the form is held and read.
    Held,
    /// When a paper form says that it began and ended.
    Span,
}

/// A finger that bounces touches the same tile twice. No act is done twice so soon, and the second touch would end
/// the timer that the first began (common practice, no source). Any other tile takes its tap at once.
const BOUNCE_MS: i64 = 400;

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
    /// Nothing can be tapped, so that the screen can be wiped.
    locked: RwSignal<bool>,
    /// A finger is on the screen; nothing may move away from under it.
    touched: RwSignal<bool>,
    /// The act whose tile was touched last and when, as long as nothing else was tapped since.
    latest: StoredValue<Option<(ActId, i64)>>,
    /// How this device is held and read.
    held: Held,
}

impl Door {
    /// One tap. Whatever was open closes: the observer has moved on.
    fn tap(self, event: Event) {
        if !matches!(event, Event::Act { .. } | Event::ActEnded { .. }) {
            self.latest.set_value(None);
        }
        let exposed = matches!(event, Event::Contamination { .. });
        self.watch.tap(event);
        self.show(if exposed { Panel::Exposure } else { Panel::Log });
    }

    /// Whether this touch of an act's tile is the last one's finger bouncing.
    fn bounced(self, act: &str) -> bool {
        let now = page::now_ms();
        let before =
            self.latest.with_value(|latest| latest.as_ref().and_then(|(of, at)| (of == act).then_some(*at)));
        self.latest.set_value(Some((act.to_owned(), now)));
        before.is_some_and(|before| now - before < BOUNCE_MS)
    }

    /// Opens a panel with no line chosen. What stands there already is left as it is: drawing it anew would hold up
    /// the answer to the tap.
    fn show(self, panel: Panel) {
        if self.panel.get_untracked() != panel {
            self.panel.set(panel);
        }
        if self.chosen.with_untracked(Option::is_some) {
            self.chosen.set(None);
        }
    }

    /// The latest line, which amendments go to.
    fn line(self) -> Option<Shown> {
        self.watch.read(lines::latest)
    }
}

/// Loads a demonstration and shows `view` once it is there; at once where taps of it still wait.
///
/// While taps of another one wait, that one is shown the way to instead: taking up this one would lose them.
pub(crate) fn with_demonstration(id: String, view: fn(Watch) -> AnyView) -> AnyView {
    let watch = Watch::here();
    match watch.unsaved() {
        Some(unsaved) if unsaved == id => view(watch),
        Some(unsaved) => waiting(unsaved, words::UNSAVED_ELSEWHERE, words::UNSAVED_ELSEWHERE_HINT),
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

/// Shows `view` once no tap waits any more: what is scored or signed before would be without it.
pub(crate) fn once_saved(view: impl Fn() -> AnyView + Send + Sync + 'static) -> impl IntoView {
    let watch = Watch::here();
    let unsaved = Memo::new(move |_| watch.still_unsaved());
    move || match unsaved.get() {
        Some(unsaved) => waiting(unsaved, words::UNSAVED, words::UNSAVED_HINT),
        None => untrack(&view),
    }
}

/// The way to the demonstration of which taps still wait.
fn waiting(unsaved: String, what: &'static str, hint: &'static str) -> AnyView {
    view! {
        <div class="note danger stack tight" role="alert">
            <strong>{what}</strong>
            <p>{hint}</p>
            <div class="row">
                <a class="button primary" href=Route::Live(unsaved).href()>{words::TO_UNSAVED}</a>
            </div>
        </div>
    }
    .into_any()
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
        locked: RwSignal::new(false),
        touched: touched(),
        latest: StoredValue::new(None),
        held: Held::here(),
    };
    let flows = flowing(door);
    keys::listen(door);
    ring::say_when_long_enough(door);
    came_back(watch);
    let tick = move || door.elapsed.set(watch.peek(|form| form.elapsed(page::now_ms())));
    tick();
    // It fails only where the page has no timers.
    let ticking = set_interval_with_handle(tick, Duration::from_millis(250)).ok();
    on_cleanup(move || {
        if let Some(ticking) = ticking {
            ticking.clear();
        }
    });
    let over = Memo::new(move |_| watch.read(|form| form.folded().ended || form.opened().sealed));
    Effect::new(move |_| {
        if over.get() {
            go_on(watch);
        }
    });
    let guided = watch.peek(Form::is_guided);
    let paper = watch.peek(|form| form.paper().is_some());
    let acts = move || {
        let step_alone = guided && !door.all_acts.get();
        let main = if step_alone { guided::next(door).into_any() } else { board::board(door).into_any() };
        (main, around::around(door, step_alone))
    };
    view! {
        <div class="door" class:left=move || door.held.left.get() class:flows=flows class:paper=paper
            class:figure=move || door.panel.get() == Panel::Contamination inert=move || door.locked.get()>
            {header::header(door, guided)}
            {banner::banner(door)}
            <div class="door-acts">{acts}</div>
            <aside class="door-side" aria-label=words::LOG>
                {move || match door.panel.get() {
                    Panel::Log => side::side(door).into_any(),
                    Panel::Line => beside::line(door).into_any(),
                    Panel::Faults => panels::faults(door).into_any(),
                    Panel::Notes => beside::notes(door).into_any(),
                    Panel::Correct => beside::correction(door).into_any(),
                    Panel::Contamination => panels::contamination(door).into_any(),
                    Panel::Exposure => panels::exposure(door).into_any(),
                    Panel::Stop => panels::stop(door).into_any(),
                    Panel::More => beside::more(door).into_any(),
                    Panel::TeamError => beside::team_error(door).into_any(),
                    Panel::HandOver => beside::handing_over(door).into_any(),
                    Panel::Held => held::settings(door).into_any(),
                    Panel::Span => written::span(door).into_any(),
                }}
            </aside>
        </div>
        {move || door.locked.get().then(|| lock::lock(door))}
    }
}

/// It has ended: on to the steps without a tap, or to the review where everything has its answer. A second
/// log leads back to the review of what it is of.
fn go_on(watch: Watch) {
    let (id, second_of, open, answered) = watch.peek(|form| {
        let opened = form.opened();
        let answered = opened.sealed || form.folded().settled;
        (opened.demonstration.clone(), opened.second_of.clone(), !form.unanswered().is_empty(), answered)
    });
    if let Some(first) = second_of {
        Route::Review(first).go_instead();
    } else if open {
        Route::Settle(id).go_instead();
    } else {
        if !answered {
            watch.tap(Event::Settled);
        }
        Route::Review(id).go_instead();
    }
}

/// Whether the form is laid one thing below another and scrolls as a page: where the text is large or the
/// window small, fixed places would leave no room for what is in them.
fn flowing(door: Door) -> Signal<bool> {
    /// The least window, in CSS pixels, in which everything has its place.
    const LEAST: (f64, f64) = (760.0, 640.0);
    let room = || page::width() >= LEAST.0 && page::height() >= LEAST.1;
    let roomy = RwSignal::new(room());
    let listening = window_event_listener(leptos::ev::resize, move |_| roomy.set(room()));
    on_cleanup(move || listening.remove());
    Signal::derive(move || door.held.text.get() >= 150 || !roomy.get())
}

/// Whether a finger is on the screen. It counts until the tap that it makes has met what it touched.
fn touched() -> RwSignal<bool> {
    const UNTIL_TAPPED: Duration = Duration::from_millis(60);
    let touched = RwSignal::new(false);
    // How many times it came down: what the last one left to do must not be done for the next.
    let times = StoredValue::new(0_u32);
    let let_go = move || {
        let time = times.get_value();
        let free = move || {
            if times.try_get_value() == Some(time) {
                touched.set(false);
            }
        };
        set_timeout(free, UNTIL_TAPPED);
    };
    let come_down = move || {
        times.update_value(|times| *times = times.wrapping_add(1));
        touched.set(true);
    };
    let down = window_event_listener(leptos::ev::pointerdown, move |_| come_down());
    let up = window_event_listener(leptos::ev::pointerup, move |_| let_go());
    let cancelled = window_event_listener(leptos::ev::pointercancel, move |_| let_go());
    on_cleanup(move || {
        down.remove();
        up.remove();
        cancelled.remove();
    });
    touched
}

/// A window that was in the background asks again how long the demonstration has run: the page's own clock
/// may have slept.
fn came_back(watch: Watch) {
    let listening = window_event_listener(leptos::ev::visibilitychange, move |_| {
        let id = watch.peek(|form| (form.waiting().len() == 0).then(|| form.opened().demonstration.clone()));
        if let (true, Some(demonstration)) = (page::is_shown(), id) {
            spawn_local(async move {
                // Where it does not answer, the next tap brings its time.
                if let Ok(opened) = call(OpenDemonstration { demonstration }).await {
                    watch.open_again(opened);
                }
            });
        }
    });
    on_cleanup(move || listening.remove());
}
