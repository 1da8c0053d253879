//! The demonstration that is being watched, held above the views: taps that wait are sent on even when
//! the observer has left the form.

use std::time::Duration;

use competency::{
    journal::{Event, TapId},
    log::What,
    sentence,
};
use contract::OpenedDemonstration;
use leptos::{prelude::*, task::spawn_local};

use super::{
    form::{Form, Short},
    lines,
};
use crate::{
    call::call,
    page,
    widgets::announcer::Announcer,
    wording::{self, beside, door::live as words},
};

/// How long to wait before a tap that did not get through is sent again.
const AGAIN_AFTER: Duration = Duration::from_secs(1);

/// How long a tap may be on its way before it is shown to be. Nearly all are durable long before, and drawing what
/// waits would hold up their answer by as long as it takes.
const SLOW_AFTER: Duration = Duration::from_millis(120);

/// The one demonstration of this window.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Watch {
    form: RwSignal<Option<Form>>,
    announcer: Announcer,
}

impl Watch {
    /// Puts one into the context of the whole window.
    pub(crate) fn provide() {
        provide_context(Watch { form: RwSignal::new(None), announcer: Announcer::here() });
    }

    /// The one of this window.
    pub(crate) fn here() -> Watch {
        expect_context()
    }

    /// Takes up a demonstration as acknowledged.
    pub(crate) fn open(self, opened: OpenedDemonstration) {
        self.form.set(Some(Form::new(opened, page::now_ms())));
    }

    /// Takes up what the shell knows of the demonstration that is open, unless taps have been made meanwhile.
    pub(crate) fn open_again(self, opened: OpenedDemonstration) {
        let same = self.peek(|form| {
            form.waiting().len() == 0
                && form.opened().demonstration == opened.demonstration
                && form.opened().lines.len() <= opened.lines.len()
        });
        if same {
            self.open(opened);
        }
    }

    /// Keeps the name of somebody who takes over.
    pub(crate) fn name(self, id: String, name: String) {
        self.change(|form| form.name(id, name));
    }

    /// The demonstration of which taps still wait, so that what is here knows more than the shell.
    pub(crate) fn unsaved(self) -> Option<String> {
        self.form.with_untracked(|form| unsaved_in(form.as_ref()))
    }

    /// The same, and called again as taps are kept.
    pub(super) fn still_unsaved(self) -> Option<String> {
        self.form.with(|form| unsaved_in(form.as_ref()))
    }

    /// Reads the form; the default while there is none.
    pub(crate) fn read<T: Default>(self, read: impl FnOnce(&Form) -> T) -> T {
        self.form.with(|form| form.as_ref().map(read).unwrap_or_default())
    }

    /// Reads the form without being called again when it changes.
    pub(crate) fn peek<T: Default>(self, read: impl FnOnce(&Form) -> T) -> T {
        self.form.with_untracked(|form| form.as_ref().map(read).unwrap_or_default())
    }

    /// One tap, one request. Returns the tap's id.
    pub(crate) fn tap(self, event: Event) -> TapId {
        let id = page::random_id();
        self.unseen(|form| form.tap(id.clone(), event));
        self.send();
        set_timeout(move || self.show_what_waits(), SLOW_AFTER);
        id
    }

    /// Gives up the tap that was refused.
    pub(crate) fn set_aside(self) {
        self.change(Form::set_aside);
        self.send();
    }

    /// Sends the next waiting tap, if none is on its way.
    pub(crate) fn send(self) {
        let Some(tap) = self.unseen(Form::next_to_send).flatten() else { return };
        spawn_local(async move {
            let id = tap.id.clone();
            match call(tap).await {
                Ok(acknowledged) => {
                    let was_short = self.peek(Form::short);
                    self.change(|form| form.acknowledged(acknowledged, page::now_ms()));
                    self.told(&id, was_short.as_ref());
                    self.send();
                }
                Err(fault) => {
                    let mut again = false;
                    // It is sent again every second; what is said again and again would be heard as news.
                    let known =
                        self.peek(|form| form.trouble().is_some_and(|known| known.text == fault.text));
                    if !known {
                        self.announcer.warn(fault.text.clone());
                    }
                    self.change(|form| again = form.failed(fault));
                    if again {
                        set_timeout(move || self.send(), AGAIN_AFTER);
                    }
                }
            }
        });
    }

    fn change(self, change: impl FnOnce(&mut Form)) {
        self.form.update(|form| {
            if let Some(form) = form {
                change(form);
            }
        });
    }

    /// Changes the form without having anything drawn anew.
    fn unseen<T>(self, change: impl FnOnce(&mut Form) -> T) -> Option<T> {
        self.form.try_maybe_update(|form| (false, form.as_mut().map(change))).flatten()
    }

    fn show_what_waits(self) {
        if self.unsaved().is_some() {
            self.change(|_form| {});
        }
    }

    /// Says and buzzes something that the observer may not be looking at.
    pub(super) fn hear(self, said: String) {
        page::buzz();
        self.announcer.say(said);
    }

    /// Says what was acknowledged, by sound for whoever cannot see it and by touch; `was_short` is the timed act
    /// that had been said to be too short before.
    fn told(self, id: &TapId, was_short: Option<&Short>) {
        page::buzz();
        let line = self.peek(|form| lines::line(form, id).map(|line| line.text));
        match (self.peek(|form| urgent(form, id, was_short)), line) {
            (Some(urgent), _) => self.announcer.warn(urgent),
            (None, Some(line)) => self.announcer.say(format!("{}: {line}", words::SAVED)),
            (None, None) => self.announcer.say(words::SAVED),
        }
    }
}

/// What must be heard at once about a line that was just acknowledged: what the banner shows.
fn urgent(form: &Form, id: &TapId, was_short: Option<&Short>) -> Option<String> {
    let model = form.model();
    if let Some((_, warning)) = form.warning().filter(|(of, _)| *of == id) {
        return Some(sentence::warning(model, warning));
    }
    let is_latest = form.folded().tap_of.last() == Some(id);
    if let Some((act, why)) = form.forbidden().filter(|_| is_latest) {
        return Some(format!("{}: {}", words::MUST_NOT_HAPPEN, words::forbidden(model.act_label(act), why)));
    }
    if let Some(short) = form.short().filter(|short| Some(short) != was_short) {
        let said = beside::short(model.act_label(&short.act), short.lasted_ms, short.least);
        return Some(format!("{}: {said}", beside::TOO_SHORT));
    }
    let due: Vec<String> = form.due().iter().map(|act| model.act_label(act).to_owned()).collect();
    (is_latest && !due.is_empty()).then(|| beside::exposure::then(&wording::listed(&due, wording::door::OR)))
}

/// Whether the latest line can still be meant by "it was prompted" and the like.
pub(crate) fn is_act(form: &Form, tap: &str) -> bool {
    let seen = form.folded().observation_of(tap).and_then(|index| form.folded().log.observations.get(index));
    seen.is_some_and(|seen| matches!(seen.what, What::Act(_)))
}

fn unsaved_in(form: Option<&Form>) -> Option<String> {
    let form = form.filter(|form| form.waiting().len() > 0);
    form.map(|form| form.opened().demonstration.clone())
}
