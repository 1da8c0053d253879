//! The views that belong to the roster, beside one another.

use leptos::prelude::*;

use crate::{app::Route, wording::manager};

/// Links to them; the one that is shown is marked.
pub(crate) fn places(here: &Route) -> impl IntoView + use<> {
    let all = [
        (Route::Roster(None), "to-roster", manager::ROSTER),
        (Route::GoIn, "to-go-in", manager::GO_IN),
        (Route::Sessions, "to-sessions", manager::SESSIONS),
        (Route::Requirements, "to-requirements", manager::REQUIREMENTS),
    ];
    let links = all.map(|(place, id, name)| {
        let current = (place == *here).then_some("page");
        view! { <li><a id=id class="place" href=place.href() aria-current=current>{name}</a></li> }
    });
    view! { <nav aria-label=manager::PLACES><ul class="places">{links.into_iter().collect_view()}</ul></nav> }
}
