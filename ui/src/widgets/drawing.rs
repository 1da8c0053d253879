//! A drawing that is laid out for the width there is, so that its letters are never made smaller.

use leptos::prelude::*;

use crate::page;

/// Draws anew under its name when the window changes, as when a tablet is turned; `draw` is given the width to keep to, in
/// CSS pixels.
#[expect(clippy::float_arithmetic, reason = "widths on the screen; nothing is decided by them")]
pub(crate) fn drawing(
    name: &'static str,
    draw: impl Fn(f64) -> String + Send + Sync + 'static,
) -> impl IntoView {
    let width = RwSignal::new(page::drawing_width());
    let listening = window_event_listener(leptos::ev::resize, move |_| {
        let now = page::drawing_width();
        if (now - width.get_untracked()).abs() >= 1.0 {
            width.set(now);
        }
    });
    on_cleanup(move || listening.remove());
    view! {
        <div class="picture-frame whole" tabindex="0" role="group" aria-label=name
            inner_html=move || draw(width.get())></div>
    }
}
