//! Who signs here, and how signing is taken away.

use std::collections::BTreeSet;

use contract::{
    ListObservers, ObserverLine, Observers, OtherDevice, Person, RevokeSigning, RevokedSigning, Signing,
    WhyRevoked,
};
use leptos::prelude::*;

use crate::{
    call::call,
    page,
    widgets::{
        choice::{Choice, choices},
        field::{Field, Kind},
        loaded::{ask, fault_in_form, loaded, progress},
    },
    wording::evidence::{authority, observers as words},
};

/// Lists them; `renew` opens the form that appoints one again.
pub(super) fn observers(renew: RwSignal<Option<Person>>, changed: Callback<()>) -> impl IntoView {
    let asked = ask(|| ListObservers {});
    // Whoever was appointed in the meantime stands in the list as well.
    Effect::new(move |before: Option<bool>| {
        let open = renew.with(Option::is_some);
        if before == Some(true) && !open {
            asked.refetch();
        }
        open
    });
    let taken = RwSignal::new(None::<RevokedSigning>);
    // The list is asked for again and drawn anew, so what was done is told outside of it.
    let done = Callback::new(move |revoked: RevokedSigning| {
        taken.set(Some(revoked));
        asked.refetch();
        changed.run(());
    });
    view! {
        <section class="card stack" aria-labelledby="observers-title">
            <h2 id="observers-title">{words::TITLE}</h2>
            <p class="quiet-text">{words::WHY}</p>
            {move || taken.get().map(|taken| view! {
                <p class="note good path" role="status" id="taken-away" tabindex="-1">
                    {words::done(taken.certificates, &taken.path)}
                </p>
            })}
            {loaded(asked, move |Observers { lines, devices, secret }| {
                let lies = view! { <p class="quiet-text" id="secret-lies">{words::lies(secret)}</p> };
                view! { {listing(lines.clone(), renew)} {lies} {take_away(lines, devices, done)} }.into_any()
            })}
        </section>
    }
}

fn listing(lines: Vec<ObserverLine>, renew: RwSignal<Option<Person>>) -> impl IntoView {
    if lines.is_empty() {
        return view! { <p class="note">{words::NOBODY}</p> }.into_any();
    }
    let each = lines.into_iter().map(|ObserverLine { person, signing }| {
        let said = words::signing(&signing);
        let name = words::renew_name(&person.name);
        let id = format!("renew-{}", person.id);
        let shown = person.name.clone();
        view! {
            <li class="line person">
                <strong>{shown}</strong>
                <span class="quiet-text">{said}</span>
                <span class="aside">
                    <button type="button" class="button plain" id=id aria-label=name
                        on:click=move |_| renew.set(Some(person.clone()))>{words::RENEW}</button>
                </span>
            </li>
        }
    });
    view! { <ul class="lines" id="observers">{each.collect_view()}</ul> }.into_any()
}

fn take_away(
    lines: Vec<ObserverLine>,
    devices: Vec<OtherDevice>,
    done: Callback<RevokedSigning>,
) -> impl IntoView {
    let can = |line: &ObserverLine| matches!(line.signing, Signing::Here(_) | Signing::Elsewhere(_));
    let lines: Vec<_> = lines.into_iter().filter(can).collect();
    if lines.is_empty() && devices.is_empty() {
        return ().into_any();
    }
    let [chosen, lost] = [(); 2].map(|()| RwSignal::new(BTreeSet::<String>::new()));
    let why = RwSignal::new(None::<WhyRevoked>);
    let [reason, passphrase] = [(); 2].map(|()| RwSignal::new(String::new()));
    let tried = RwSignal::new(false);
    let revoke = Action::new_local(|request: &RevokeSigning| call(request.clone()));
    Effect::new(move |_| {
        if let Some(Ok(revoked)) = revoke.value().get() {
            // The list is drawn anew, and the form with it, without what was typed.
            done.run(revoked);
            page::focus("taken-away");
        }
    });
    let go = Callback::new(move |()| {
        tried.set(true);
        let whole =
            [reason, passphrase].iter().all(|value| !value.with_untracked(|text| text.trim().is_empty()));
        let ids = |of: RwSignal<BTreeSet<String>>| -> Vec<String> {
            of.with_untracked(|chosen| chosen.iter().cloned().collect())
        };
        let Some(why) = why.get_untracked() else { return };
        // Whoever leaves takes no device along.
        let devices = if why == WhyRevoked::KeyInOtherHands { ids(lost) } else { Vec::new() };
        let people = ids(chosen);
        if whole && !(people.is_empty() && devices.is_empty()) {
            revoke.dispatch_local(RevokeSigning {
                people,
                devices,
                why,
                reason: reason.get_untracked().trim().to_owned(),
                passphrase: passphrase.get_untracked(),
            });
        }
    });
    let missing = move |value: RwSignal<String>| {
        Signal::derive(move || {
            (tried.get() && value.with(|text| text.trim().is_empty())).then_some(authority::MISSING)
        })
    };
    let in_other_hands = move || why.get() == Some(WhyRevoked::KeyInOtherHands);
    let none = move || {
        let no_device = !in_other_hands() || lost.with(BTreeSet::is_empty);
        tried.get() && (why.with(Option::is_none) || chosen.with(BTreeSet::is_empty) && no_device)
    };
    let each = lines.into_iter().map(|line| {
        let ObserverLine { person, signing } = line;
        one_of(chosen, person.id, person.name, words::signing(&signing))
    });
    let tablets: Vec<_> = devices
        .into_iter()
        .map(|device| one_of(lost, device.id.clone(), words::device(&device), words::since(&device)))
        .collect();
    let any_tablets = !tablets.is_empty();
    view! {
        <details>
            <summary id="take-away">{words::TAKE_AWAY}</summary>
            <form class="stack" novalidate on:submit=move |event| { event.prevent_default(); go.run(()); }>
                <p class="quiet-text">{words::TAKE_AWAY_WHY}</p>
                <div class="choices" role="group" aria-label=words::FROM>{each.collect_view()}</div>
                {choices("why-revoked", words::WHICH, whys(), why)}
                <div class="stack tight" id="lost-tablets" hidden=move || !(any_tablets && in_other_hands())>
                    <strong>{words::LOST}</strong>
                    <p class="quiet-text">{words::LOST_WHY}</p>
                    <div class="choices" role="group" aria-label=words::LOST>{tablets}</div>
                </div>
                {move || none().then(|| view! { <p class="wrong" role="alert">{words::CHOOSE_ONE}</p> })}
                <div class="columns">
                    <Field id="away-reason" label=words::REASON value=reason wrong=missing(reason) />
                    <Field id="away-passphrase" label=words::PASSPHRASE value=passphrase kind=Kind::Secret
                        wrong=missing(passphrase) />
                </div>
                {move || revoke.value().get().and_then(Result::err).map(fault_in_form)}
                <div class="row">
                    <button type="submit" class="button primary" id="away-go"
                        disabled=move || revoke.pending().get()>{words::GO}</button>
                    {move || revoke.pending().get().then(|| progress(words::GOING))}
                </div>
            </form>
        </details>
    }
    .into_any()
}

/// One of those that signing may be taken from.
fn one_of(chosen: RwSignal<BTreeSet<String>>, id: String, name: String, hint: String) -> impl IntoView {
    let box_id = format!("from-{id}");
    view! {
        <label class="choice">
            <input type="checkbox" id=box_id on:change:target=move |event| {
                let id = id.clone();
                chosen.update(|chosen| {
                    if event.target().checked() { chosen.insert(id); } else { chosen.remove(&id); }
                });
            } />
            <strong>{name}</strong>
            <span class="hint">{hint}</span>
        </label>
    }
}

fn whys() -> Vec<Choice<WhyRevoked>> {
    Choice::all([
        (WhyRevoked::Left, "why-left", words::LEFT, words::LEFT_HINT),
        (WhyRevoked::KeyInOtherHands, "why-other-hands", words::OTHER_HANDS, words::OTHER_HANDS_HINT),
    ])
}
