//! Something a person asked for: on its way, done, or failed with a way on.

use contract::{Command, Fault, Shown};
use leptos::prelude::*;

use super::loaded::{fault_in_form, fault_note, progress};
use crate::{call::call, wording};

/// A request that is sent when somebody presses something, and what came of it. Trying again sends the same once more,
/// so a form with a PIN or a passphrase, which is mended before, keeps an action of its own.
pub(crate) struct Doing<C: Command + 'static> {
    action: Action<C, Result<C::Reply, Fault>>,
    /// What was sent last, to try it again.
    last: RwSignal<Option<C>>,
}

// Derived, both would ask that the request itself can be copied.
impl<C: Command + 'static> Clone for Doing<C> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<C: Command + 'static> Copy for Doing<C> {}

/// Makes one; `done` runs with each answer that is no fault.
pub(crate) fn doing<C>(done: impl Fn(C::Reply) + 'static) -> Doing<C>
where
    C: Command + Clone + Send + Sync + 'static,
    C::Reply: Clone + 'static,
{
    let action = Action::new_local(|request: &C| call(request.clone()));
    Effect::new(move |_| {
        if let Some(Ok(reply)) = action.value().get() {
            done(reply);
        }
    });
    Doing { action, last: RwSignal::new(None) }
}

impl<C> Doing<C>
where
    C: Command + Clone + Send + Sync + 'static,
    C::Reply: Clone + 'static,
{
    /// Sends a request.
    pub(crate) fn go(self, request: C) {
        self.last.set(Some(request.clone()));
        self.action.dispatch_local(request);
    }

    /// Whether a request is on its way.
    pub(crate) fn busy(self) -> bool {
        self.action.pending().get()
    }

    /// The last answer that was no fault.
    pub(crate) fn answer(self) -> Option<C::Reply> {
        self.action.value().get().and_then(Result::ok)
    }

    /// What was sent last.
    pub(crate) fn last(self) -> Option<C> {
        self.last.get_untracked()
    }

    /// That it is on its way, or why it did not work and a way to try again.
    pub(crate) fn told(self) -> impl IntoView {
        self.told_in(wording::WAITING)
    }

    /// That it is on its way, in these words, or why it did not work; beside it stands the form's own button.
    pub(crate) fn in_form(self, going: &'static str) -> impl IntoView {
        view! {
            {move || self.busy().then(|| progress(going))}
            {move || self.action.value().get().and_then(Result::err).map(fault_in_form)}
        }
    }

    /// Forgets what was sent: it held a secret, and is done.
    pub(crate) fn forget(self) {
        self.last.set(None);
    }

    /// What came of it: that it is on its way, in these words, why it did not work, or what `done` makes of the answer.
    pub(crate) fn came(
        self,
        going: &'static str,
        done: impl Fn(C::Reply) -> AnyView + Send + 'static,
    ) -> impl IntoView {
        view! {
            {self.told_in(going)}
            {move || self.answer().map(&done)}
        }
    }

    /// The same, that it is on its way in these words.
    pub(crate) fn told_in(self, going: &'static str) -> impl IntoView {
        let again = Callback::new(move |()| {
            if let Some(last) = self.last() {
                self.go(last);
            }
        });
        view! {
            {move || self.busy().then(|| progress(going))}
            {move || self.action.value().get().and_then(Result::err).map(|fault| fault_note(fault, again))}
        }
    }
}

impl<C> Doing<C>
where
    C: Command<Reply = Shown> + Clone + Send + Sync + 'static,
{
    /// Where what was saved is, or why it was not.
    pub(crate) fn saved(self) -> impl IntoView {
        view! {
            {self.told()}
            {move || self.answer().map(|shown| view! {
                <p class="note good path" role="status">{wording::manager::saved_as(&shown.path)}</p>
            })}
        }
    }
}
