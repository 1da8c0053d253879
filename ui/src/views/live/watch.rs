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

use super::{form::Form, lines};
use crate::{call::call, page, widgets::announcer::Announcer, wording::door::live as words};

/// How long to wait before a tap that did not get through is sent again.
const AGAIN_AFTER: Duration = Duration::from_secs(1);

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
        self.form.with_untracked(|form| {
            let form = form.as_ref().filter(|form| form.waiting().len() > 0);
            form.map(|form| form.opened().demonstration.clone())
        })
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
        self.change(|form| form.tap(id.clone(), event));
        self.send();
        id
    }

    /// Gives up the tap that was refused.
    pub(crate) fn set_aside(self) {
        self.change(Form::set_aside);
        self.send();
    }

    /// Sends the next waiting tap, if none is on its way.
    pub(crate) fn send(self) {
        let tap = self.form.try_update(|form| form.as_mut().and_then(Form::next_to_send)).flatten();
        let Some(tap) = tap else { return };
        spawn_local(async move {
            let id = tap.id.clone();
            match call(tap).await {
                Ok(acknowledged) => {
                    self.change(|form| form.acknowledged(acknowledged, page::now_ms()));
                    self.told(&id);
                    self.send();
                }
                Err(fault) => {
                    let mut again = false;
                    self.announcer.warn(fault.text.clone());
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

    /// Says what was acknowledged, by sound for whoever cannot see it and by touch.
    fn told(self, id: &TapId) {
        page::buzz();
        let (said, warning) = self.peek(|form| {
            let line = lines::line(form, id).map(|line| format!("{}: {}", words::SAVED, line.text));
            let warning = form.warning().filter(|(of, _)| *of == id);
            (line, warning.map(|(_, warning)| sentence::warning(form.model(), warning)))
        });
        match (warning, said) {
            (Some(warning), _) => self.announcer.warn(warning),
            (None, Some(said)) => self.announcer.say(said),
            (None, None) => self.announcer.say(words::SAVED),
        }
    }
}

/// Whether the latest line can still be meant by "it was prompted" and the like.
pub(crate) fn is_act(form: &Form, tap: &str) -> bool {
    let seen = form.folded().observation_of(tap).and_then(|index| form.folded().log.observations.get(index));
    seen.is_some_and(|seen| matches!(seen.what, What::Act(_)))
}
