//! Where on the body: our own figure, front and back, each part of it a target of its own; the same as a
//! list.

use leptos::prelude::*;

use super::guided::soon;
use crate::wording::beside::body as words;

/// How the figure is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Front,
    Back,
    List,
}

/// The parts of a side with the place of each in `live_body.css`, from the head down. Left and right are those
/// of the person, who faces the observer in front.
const FRONT: [(&str, &str); 10] = [
    ("hair", words::HAIR),
    ("eyes", words::EYES),
    ("arm-a", words::ARM_RIGHT),
    ("face", words::FACE),
    ("arm-b", words::ARM_LEFT),
    ("fore-a", words::FOREARM_RIGHT),
    ("trunk", words::TRUNK),
    ("fore-b", words::FOREARM_LEFT),
    ("hand-a", words::HAND_RIGHT),
    ("legs", words::LEGS),
];
const FRONT_LAST: (&str, &str) = ("hand-b", words::HAND_LEFT);
const BACK: [(&str, &str); 10] = [
    ("hair", words::HEAD_BEHIND),
    ("eyes", words::NECK_BEHIND),
    ("arm-a", words::ARM_LEFT),
    ("face", words::SHOULDERS_BEHIND),
    ("arm-b", words::ARM_RIGHT),
    ("fore-a", words::FOREARM_LEFT),
    ("trunk", words::TRUNK_BEHIND),
    ("fore-b", words::FOREARM_RIGHT),
    ("hand-a", words::HAND_LEFT),
    ("legs", words::LEGS_BEHIND),
];
const BACK_LAST: (&str, &str) = ("hand-b", words::HAND_RIGHT);

fn parts(side: Side) -> Vec<(&'static str, &'static str)> {
    let front = || FRONT.into_iter().chain([FRONT_LAST]);
    let back = || BACK.into_iter().chain([BACK_LAST]);
    match side {
        Side::Front => front().collect(),
        Side::Back => back().collect(),
        Side::List => {
            // What is on both sides is named once; the most exposed come first, as in the figure.
            let mut all: Vec<(&str, &str)> = Vec::new();
            for part in front().chain(back()) {
                if all.iter().all(|(_, name)| *name != part.1) {
                    all.push(part);
                }
            }
            all
        }
    }
}

/// The figure; `chosen` is given the name of a part. The other side and the list stand in its free corners.
pub(super) fn body(chosen: Callback<&'static str>) -> impl IntoView {
    let side = RwSignal::new(Side::Front);
    let to = move |ready: RwSignal<bool>, to: Side, id: &'static str, name: &'static str| {
        view! {
            <button type="button" class=format!("door-button to-{id}") id=format!("body-{id}")
                disabled=move || !ready.get() on:click=move |_| side.set(to)>{name}</button>
        }
    };
    move || {
        let shown = side.get();
        let ready = soon();
        let each = parts(shown).into_iter().map(|(place, name)| {
            view! {
                <button type="button" class=format!("body-part at-{place}") disabled=move || !ready.get()
                    on:click=move |_| chosen.run(name)>{name}</button>
            }
        });
        let each = each.collect_view();
        let (id, other) = match shown {
            Side::Front => ("figure-front", to(ready, Side::Back, "back", words::BACK)),
            Side::Back => ("figure-back", to(ready, Side::Front, "front", words::FRONT)),
            Side::List => {
                let figure = to(ready, Side::Front, "front", words::FIGURE);
                return view! { <div class="body-names" id="figure-list">{figure}{each}</div> }.into_any();
            }
        };
        view! {
            <div class="body" id=id role="group" aria-label=words::FIGURE>
                {outline(shown)}{other}{to(ready, Side::List, "list", words::LIST)}{each}
            </div>
        }
        .into_any()
    }
}

/// The outline behind the parts: a head, arms away from the trunk, legs.
fn outline(side: Side) -> impl IntoView {
    let face = (side == Side::Front).then(|| {
        view! { <path class="body-face" d="M136 118q28 22 56 0M140 96h12M176 96h12" /> }
    });
    view! {
        <svg class="body-outline" viewBox="0 0 328 428" preserveAspectRatio="none" aria-hidden="true">
            <path d="M164 4c62 0 92 44 92 88 0 40-24 72-54 84l-2 14 100 22c16 4 24 16 24 32v176H224v4h-36l-24-60-24 60h-36v-4H4V244c0-16 8-28 24-32l100-22-2-14c-30-12-54-44-54-84 0-44 30-88 92-88z" />
            {face}
        </svg>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_names_every_part_of_the_figure_once() {
        let list: Vec<&str> = parts(Side::List).into_iter().map(|(_, name)| name).collect();
        for (_, name) in parts(Side::Front).into_iter().chain(parts(Side::Back)) {
            assert_eq!(list.iter().filter(|listed| **listed == name).count(), 1, "{name}");
        }
    }
}
