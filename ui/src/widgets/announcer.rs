//! What a screen reader is told without the focus moving.

use leptos::prelude::*;

/// Two live regions, one that waits its turn and one that does not; and a line that everybody sees.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Announcer {
    /// What was done, and whether the view it was done in is still there.
    told: RwSignal<Option<(String, bool)>>,
    calm: RwSignal<String>,
    urgent: RwSignal<String>,
}

impl Announcer {
    /// Puts one into the context of the whole window.
    pub(crate) fn provide() {
        provide_context(Announcer {
            told: RwSignal::new(None),
            calm: RwSignal::new(String::new()),
            urgent: RwSignal::new(String::new()),
        });
    }

    /// The one of this window.
    pub(crate) fn here() -> Announcer {
        expect_context()
    }

    /// Says something when there is a pause.
    pub(crate) fn say(self, text: impl Into<String>) {
        set(self.calm, text.into());
    }

    /// Says what was done before the view changed, and shows it above the next view until the one after.
    pub(crate) fn tell(self, text: String) {
        self.say(text.clone());
        self.told.set(Some((text, true)));
    }

    /// What was done, above the view; it goes with the next change of view.
    pub(crate) fn line(self) -> impl IntoView {
        move || self.told.get().map(|(said, _)| view! { <p class="note good" id="told">{said}</p> })
    }

    /// The view changed: what was shown above the one before goes, and what was said in it. A warning that stays in
    /// its region would be read again where it is no longer true.
    pub(crate) fn moved_on(self) {
        self.told.update(|told| *told = told.take().filter(|told| told.1).map(|(said, _)| (said, false)));
        self.urgent.set(String::new());
        let told = self.told.with_untracked(|told| told.as_ref().map(|(said, _)| said.clone()));
        let of_before =
            self.calm.with_untracked(|calm| told.is_none_or(|told| calm.trim_end_matches(AGAIN) != told));
        if of_before {
            self.calm.set(String::new());
        }
    }

    /// Says something at once.
    pub(crate) fn warn(self, text: impl Into<String>) {
        set(self.urgent, text.into());
    }

    /// The regions themselves; they stand in the page from the start, or readers do not watch them.
    pub(crate) fn regions() -> impl IntoView {
        let Announcer { calm, urgent, .. } = Announcer::here();
        view! {
            <div class="unseen" role="status" aria-live="polite">{calm}</div>
            <div class="unseen" role="alert" aria-live="assertive">{urgent}</div>
        }
    }
}

/// Stands after a sentence that is said again.
const AGAIN: char = '\u{a0}';

/// The same sentence twice must be heard twice, so a second one ends in an invisible space.
fn set(region: RwSignal<String>, text: String) {
    region.update(|old| {
        let again = *old == text;
        *old = text;
        if again {
            old.push(AGAIN);
        }
    });
}
