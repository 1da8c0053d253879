//! What a screen reader is told without the focus moving.

use leptos::prelude::*;

/// Two live regions: one that waits its turn and one that does not.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Announcer {
    calm: RwSignal<String>,
    urgent: RwSignal<String>,
}

impl Announcer {
    /// Puts one into the context of the whole window.
    pub(crate) fn provide() {
        provide_context(Announcer {
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

    /// Says something at once.
    pub(crate) fn warn(self, text: impl Into<String>) {
        set(self.urgent, text.into());
    }

    /// The regions themselves; they stand in the page from the start, or readers do not watch them.
    pub(crate) fn regions() -> impl IntoView {
        let Announcer { calm, urgent } = Announcer::here();
        view! {
            <div class="unseen" role="status" aria-live="polite">{calm}</div>
            <div class="unseen" role="alert" aria-live="assertive">{urgent}</div>
        }
    }
}

/// The same sentence twice must be heard twice, so a second one ends in an invisible space.
fn set(region: RwSignal<String>, text: String) {
    region.update(|old| {
        let again = *old == text;
        *old = text;
        if again {
            old.push('\u{a0}');
        }
    });
}
