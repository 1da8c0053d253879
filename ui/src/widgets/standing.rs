//! A person's state with a procedure: a shape and a word, never a colour alone.

use competency::validity::State;
use leptos::prelude::*;

use crate::{pictures, wording};

/// The shape and the word.
pub(crate) fn state(state: State) -> impl IntoView {
    view! {
        <span class="state">
            <span class="state-mark" inner_html=pictures::state_mark(state)></span>
            {wording::state(state)}
        </span>
    }
}
