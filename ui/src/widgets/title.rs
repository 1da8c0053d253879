//! The heading of a view. It takes the focus when the view comes, so that keyboard and screen reader
//! start at its beginning.

use leptos::prelude::*;

use crate::{page, wording};

/// The one `h1` of a view.
pub(crate) fn title(text: impl Into<String>) -> impl IntoView {
    let text = text.into();
    page::set_title(&format!("{text} · {}", wording::NAME));
    let heading = NodeRef::<leptos::html::H1>::new();
    Effect::new(move |_| {
        if let Some(heading) = heading.get() {
            // It fails only for an element that has left the page again.
            drop(heading.focus());
        }
    });
    view! { <h1 id="title" tabindex="-1" node_ref=heading>{text}</h1> }
}
