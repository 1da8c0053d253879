//! What is said around an act, and what is rare: a chosen line, notes, corrections, the team's own errors,
//! handing over. Everything about an act is reached in two taps, afterwards from the log too.

use competency::{
    journal::{Event, TapId},
    log::Call,
    procedure::By,
};
use contract::{ListObservers, Observers, Person};
use leptos::prelude::*;

use super::{
    Door, Form, Panel,
    guided::soon,
    lines,
    panels::{answer, choice, fault_choices, panel},
    watch::is_act,
    written,
};
use crate::{
    app::Route,
    widgets::loaded::{ask, loaded},
    wording::{
        self,
        beside::{correct, hand_over, held, note, team},
        door::live as words,
    },
};

/// A line chosen in the log: everything that can be said about it, each in one more tap.
pub(super) fn line(door: Door) -> impl IntoView {
    let id = door.chosen.get_untracked().unwrap_or_default();
    let (shown, act, guided) =
        door.watch.peek(|form| (lines::line(form, &id), is_act(form, &id), form.is_guided()));
    let heading = shown.as_ref().map_or_else(String::new, |line| wording::beside::at(&line.when, &line.text));
    let undo = {
        let (word, of) = match shown.and_then(|line| line.taken_back) {
            Some(undo) => (words::BRING_BACK, undo),
            None => (words::UNDO, id.clone()),
        };
        let take_back = move |_| door.tap(Event::Undo { of: of.clone() });
        view! { <button type="button" class="door-button" id="line-undo" on:click=take_back>{word}</button> }
    };
    let about_act = act.then(|| {
        let (prompted, corrected) = (id.clone(), id.clone());
        let prompt = move |_| {
            let of = prompted.clone();
            door.tap(if guided { Event::Called { of, call: Call::Before } } else { Event::Prompted { of } });
        };
        let wrong = guided.then(|| {
            let of = id.clone();
            let called = move |_| door.tap(Event::Called { of: of.clone(), call: Call::Wrong });
            view! { <button type="button" class="door-button" id="line-wrong-call" on:click=called>{words::WRONG_CALL}</button> }
        });
        let correct = move |_| {
            door.chosen.set(Some(corrected.clone()));
            door.panel.set(Panel::Correct);
        };
        view! {
            <button type="button" class="door-button" id="line-prompted" on:click=prompt>
                {if guided { words::BEFORE_CALL } else { words::PROMPTED }}</button>
            {wrong}
            <button type="button" class="door-button" id="line-correct" on:click=correct>{correct::NAME}</button>
        }
    });
    let time = written::of_line(door, &id).map(|time| view! { <div class="wide">{time}</div> });
    let faults = act.then(|| fault_choices(door, &id));
    let notes = ready_notes(door, Some(id.clone()));
    let write = {
        let open = move |_| {
            door.chosen.set(Some(id.clone()));
            door.panel.set(Panel::Notes);
        };
        view! { <button type="button" class="door-button" id="line-note" on:click=open>{note::NAME}</button> }
    };
    panel(door, heading, view! { {time}{undo}{about_act}{write}{faults}{notes} })
}

/// Notes that are often worth it, each one tap.
fn ready_notes(door: Door, of: Option<TapId>) -> impl IntoView {
    let each = note::READY.map(|text| {
        let of = of.clone();
        choice(text.to_owned(), move || door.tap(Event::Note { of: of.clone(), text: text.to_owned() }))
    });
    each.into_iter().collect_view()
}

/// A note on the chosen line, or on the demonstration where there is none.
pub(super) fn notes(door: Door) -> impl IntoView {
    let of = door.chosen.get_untracked();
    let (written, asked) = (RwSignal::new(String::new()), RwSignal::new(false));
    let ready = ready_notes(door, of.clone());
    let keep = move |_| {
        let text = written.with_untracked(|text| text.trim().to_owned());
        if text.is_empty() {
            asked.set(true);
        } else {
            door.tap(Event::Note { of: of.clone(), text });
        }
    };
    let inside = view! {
        {ready}
        <label class="panel-ask" for="note-text">{note::OWN}</label>
        <textarea id="note-text" class="door-text" prop:value=written
            aria-describedby=move || asked.get().then_some("note-empty")
            on:input:target=move |event| written.set(event.target().value())></textarea>
        {move || asked.get().then(|| view! { <p class="wrong" id="note-empty" role="alert">{note::EMPTY}</p> })}
        <button type="button" class="door-button wide" id="note-keep" on:click=keep>{note::KEEP}</button>
    };
    panel(door, note::NAME.to_owned(), inside)
}

/// The act of the chosen line was another one.
pub(super) fn correction(door: Door) -> impl IntoView {
    let of = door.chosen.get_untracked().unwrap_or_default();
    let acts = door.watch.peek(|form| {
        let sections = form.model().sections().iter();
        let all: Vec<(String, String)> = sections
            .flat_map(|section| &section.tiles)
            .map(|tile| (tile.act.clone(), tile.label.clone()))
            .collect();
        all
    });
    let each = acts.into_iter().map(|(act, label)| {
        let (of, id) = (of.clone(), format!("correct-{act}"));
        let correct = move |_| {
            let by = door.watch.peek(|form| form.by(&act));
            door.tap(Event::Corrected { of: of.clone(), act: act.clone(), by });
        };
        view! { <button type="button" class="door-button" id=id on:click=correct>{label}</button> }
    });
    let inside = view! { <p class="panel-ask">{correct::ASK}</p>{each.collect_view()} };
    panel(door, correct::NAME.to_owned(), inside)
}

/// What is rare: it stands behind one button, so that the form stays calm.
pub(super) fn more(door: Door) -> impl IntoView {
    let ways = [
        (Panel::TeamError, "team-error", team::NAME),
        (Panel::HandOver, "hand-over", hand_over::NAME),
        (Panel::Held, "settings", held::SETTINGS),
    ];
    let ways = ways.map(|(to, id, name)| {
        view! { <button type="button" class="door-button wide" id=id on:click=move |_| door.panel.set(to)>{name}</button> }
    });
    let lock = move |_| {
        door.panel.set(Panel::Log);
        door.locked.set(true);
    };
    let inside = view! {
        <button type="button" class="door-button wide" id="lock" on:click=lock>{held::LOCK}</button>
        {ways.into_iter().collect_view()}
        <a class="door-button wide" id="leave" href=Route::Home.href() aria-label=words::LEAVE_NAME>{words::LEAVE}</a>
    };
    panel(door, held::MORE.to_owned(), inside)
}

/// The observer's or the assistant's own error.
pub(super) fn team_error(door: Door) -> impl IntoView {
    let assisted = door.watch.peek(|form| form.opened().assistant.is_some());
    let who = RwSignal::new((!assisted).then_some(By::Observer));
    let inside = move || match who.get() {
        None => {
            let ready = soon();
            let each = [By::Observer, By::Assistant]
                .map(|by| answer(ready, wording::by(by).to_owned(), move || who.set(Some(by))));
            view! { <p class="panel-ask">{team::WHO}</p>{each.into_iter().collect_view()} }.into_any()
        }
        Some(by) => {
            let ready = soon();
            let each = team::READY.map(|what| {
                answer(ready, what.to_owned(), move || {
                    door.tap(Event::TeamError { by, what: what.to_owned() });
                })
            });
            view! { <p class="panel-ask">{team::WHAT}</p>{each.into_iter().collect_view()} }.into_any()
        }
    };
    panel(door, team::NAME.to_owned(), inside)
}

/// Who takes over: everybody appointed but those who have another part.
pub(super) fn handing_over(door: Door) -> impl IntoView {
    let asked = ask(|| ListObservers {});
    let inside = loaded(asked, move |Observers { lines, .. }| {
        let (wearer, now) =
            door.watch.peek(|form: &Form| (form.opened().person_id.clone(), form.observer().to_owned()));
        let may = |person: &Person| person.observes && person.id != wearer && person.name != now;
        let others: Vec<Person> = lines.into_iter().map(|line| line.person).filter(may).collect();
        if others.is_empty() {
            return view! { <p class="panel-ask">{hand_over::NOBODY}</p> }.into_any();
        }
        let each = others.into_iter().map(|person| {
            let (id, name) = (person.id.clone(), person.name.clone());
            let over = move |_| {
                door.watch.name(id.clone(), name.clone());
                door.tap(Event::HandedOver { to: id.clone() });
            };
            view! {
                <button type="button" class="door-button wide" id=format!("over-{}", person.id) on:click=over>
                    {person.name}
                </button>
            }
        });
        view! { <p class="panel-ask">{hand_over::ASK}</p>{each.collect_view()} }.into_any()
    });
    panel(door, hand_over::NAME.to_owned(), inside)
}
