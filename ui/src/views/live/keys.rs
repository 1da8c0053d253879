//! The keyboard alone: confirm the next act, undo, end or stop, from anywhere in the form. With Ctrl, so that
//! no letter that a screen reader or a slip sends logs anything.

use competency::journal::Event;
use leptos::{ev, prelude::*};

use super::{Door, Panel};
use crate::{page, wording::beside};

pub(super) fn listen(door: Door) {
    let listening = window_event_listener(ev::keydown, move |event| {
        if !event.ctrl_key()
            || event.alt_key()
            || event.meta_key()
            || event.repeat()
            || door.locked.get_untracked()
        {
            return;
        }
        match event.key().as_str() {
            "Enter" => confirm(door),
            "z" | "Z" if !page::writes_text() => undo(door),
            "e" | "E" => door.panel.set(Panel::Stop),
            _ => return,
        }
        event.prevent_default();
    });
    on_cleanup(move || listening.remove());
}

/// Confirms what comes next. Where it may be one act or another, the keyboard goes to the first of them, and nothing is
/// logged that nobody saw.
fn confirm(door: Door) {
    let acts = door.watch.peek(super::Form::next_acts);
    match acts.as_slice() {
        [] => {}
        [act] => {
            let by = door.watch.peek(|form| form.by(act));
            door.tap(Event::Act { act: act.clone(), by });
        }
        [first, ..] => {
            let label = |act: &String| door.watch.peek(|form| form.model().act_label(act).to_owned());
            let labels: Vec<String> = acts.iter().map(label).collect();
            door.watch.hear(beside::which(&labels));
            page::focus(&format!("act-{first}"));
        }
    }
}

/// Takes back the latest line that still stands.
pub(super) fn undo(door: Door) {
    if let Some((of, _)) = door.watch.peek(super::Form::undo_target) {
        door.tap(Event::Undo { of });
    }
}
