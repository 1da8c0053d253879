//! Finds one person by name or staff number.

use contract::{ListPeople, People, Person};
use leptos::prelude::*;

use super::{
    field::{Field, Kind},
    loaded::{ask, loaded},
};
use crate::wording::{door::start, facility::people};

/// Most people shown at once: beyond that, searching is faster than reading.
const MOST: usize = 6;

/// Why a person cannot be chosen.
pub(crate) type Refusal = Callback<Person, Option<&'static str>>;

/// A search with what it finds; once a person is chosen, that person and a way to choose another.
#[component]
pub(crate) fn PersonPicker(
    /// The beginning of its ids.
    prefix: &'static str,
    /// Id of the search field.
    search_id: &'static str,
    /// What is searched for.
    label: &'static str,
    /// Who is chosen.
    chosen: RwSignal<Option<Person>>,
    /// Why somebody found cannot be chosen.
    refusal: Refusal,
) -> impl IntoView {
    let search = RwSignal::new(String::new());
    let asked = ask(move || ListPeople { search: search.get(), left: false, first: 0, most: 60 });
    move || match chosen.get() {
        Some(person) => view! {
            <div class="picked">
                <p>
                    <strong>{person.name.clone()}</strong>" "
                    <span class="quiet-text">{line(&person)}</span>
                </p>
                <button type="button" class="button plain" on:click=move |_| chosen.set(None)>
                    {start::ANOTHER}
                </button>
            </div>
        }
        .into_any(),
        None => view! {
            <div class="stack tight">
                <Field id=search_id label=label value=search kind=Kind::Search />
                {loaded(asked, move |found| listing(prefix, found, refusal, chosen).into_any())}
            </div>
        }
        .into_any(),
    }
}

fn listing(
    prefix: &'static str,
    people: People,
    refusal: Refusal,
    chosen: RwSignal<Option<Person>>,
) -> impl IntoView + use<> {
    let nobody = people.found.is_empty().then(|| {
        let said = if people.of == 0 { people::NOBODY } else { people::NO_MATCH };
        view! { <p class="quiet-text">{said}</p> }
    });
    // Those who can be chosen come first; the order by name stays within each part.
    let judged = people.found.into_iter().map(|person| (refusal.run(person.clone()), person));
    let (mut shown, refused): (Vec<_>, Vec<_>) = judged.partition(|(why, _)| why.is_none());
    shown.extend(refused);
    let hidden = shown.len().saturating_sub(MOST);
    shown.truncate(MOST);
    let each = shown.into_iter().map(|(why, person)| {
        let id = format!("{prefix}-{}", person.id);
        let name = person.name.clone();
        let under = why.map_or_else(|| line(&person), str::to_owned);
        view! {
            <li>
                <button type="button" class="button" id=id disabled=why.is_some()
                    on:click=move |_| chosen.set(Some(person.clone()))>
                    <span>{name}</span>
                    <span class="quiet-text">{under}</span>
                </button>
            </li>
        }
    });
    view! {
        {nobody}
        <ul class="found">{each.collect_view()}</ul>
        {(hidden > 0).then(|| view! { <p class="small quiet-text">{start::more(hidden)}</p> })}
    }
}

fn line(person: &Person) -> String {
    people::line(&person.number, &person.unit_name, &person.role)
}
