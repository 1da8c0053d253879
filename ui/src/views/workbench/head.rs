//! What stands at the head of a procedure, and its sources.

use competency::procedure::{Edit, Footing, Head, Mode, Phase, Precaution, Procedure, Source, fresh_id};
use leptos::prelude::*;

use super::{
    bench::Bench,
    inputs::{lines, number, one_of, text, tick},
};
use crate::wording::{self, workbench as words};

pub(super) fn head(bench: Bench) -> impl IntoView {
    let phases = || {
        [Phase::Donning, Phase::Doffing, Phase::Other]
            .map(|phase| (wording::phase(phase).to_owned(), wording::phase(phase).to_owned()))
            .to_vec()
    };
    let set_phase = move |called: String| {
        let chosen = [Phase::Donning, Phase::Doffing, Phase::Other];
        let chosen = chosen.into_iter().find(|phase| wording::phase(*phase) == called);
        chosen.is_some_and(|phase| change(bench, |head| head.phase = phase))
    };
    view! {
        <section class="card stack" aria-label=words::HEAD>
            {text("head-title".to_owned(), words::NAME, bench.read(|draft| draft.title.clone()),
                move |title| change(bench, |head| head.title = title))}
            <div class="columns">
                {one_of("head-phase".to_owned(), words::PHASE, phases,
                    bench.read(|draft| wording::phase(draft.phase).to_owned()), set_phase)}
                <div class="stack tight">
                    {text("head-family".to_owned(), words::FAMILY,
                        bench.read(|draft| draft.family.clone().unwrap_or_default()),
                        move |family| change(bench, |head| head.family = (!family.is_empty()).then_some(family)))}
                    <p class="small quiet-text">{words::FAMILY_HINT}</p>
                </div>
                {lines("head-ensemble".to_owned(), words::ENSEMBLE, "", bench.read(|draft| draft.ensemble.clone()),
                    move |ensemble| change(bench, |head| head.ensemble = ensemble))}
                <fieldset class="stack tight">
                    <legend>{words::PRECAUTIONS}</legend>
                    {precautions(bench)}
                </fieldset>
                <fieldset class="stack tight">
                    <legend>{words::VALIDATES}</legend>
                    {modes(bench)}
                </fieldset>
            </div>
        </section>
        {sources(bench)}
    }
}

fn precautions(bench: Bench) -> impl IntoView {
    use Precaution::{Airborne, Contact, Droplet, HighConsequence, Standard};
    [Standard, Contact, Droplet, Airborne, HighConsequence]
        .map(|one| {
            let called = wording::precaution(one);
            let id = format!("precaution-{}", called.to_lowercase());
            let held = bench.read(move |draft| draft.precautions.contains(&one));
            tick(id, called, held, move |on| change(bench, |head| among(&mut head.precautions, one, on)))
        })
        .into_iter()
        .collect_view()
}

fn modes(bench: Bench) -> impl IntoView {
    [Mode::Assessed, Mode::Guided]
        .map(|one| {
            let called = wording::mode(one);
            let id = format!("validates-{}", called.to_lowercase());
            let held = bench.read(move |draft| draft.validates_in.contains(&one));
            tick(id, called, held, move |on| change(bench, |head| among(&mut head.validates_in, one, on)))
        })
        .into_iter()
        .collect_view()
}

fn among<T: PartialEq + Ord>(list: &mut Vec<T>, item: T, on: bool) {
    list.retain(|other| *other != item);
    if on {
        list.push(item);
        list.sort();
    }
}

fn change(bench: Bench, change: impl FnOnce(&mut Head)) -> bool {
    let mut head = bench.procedure.with_untracked(|draft: &Procedure| Head {
        title: draft.title.clone(),
        phase: draft.phase,
        family: draft.family.clone(),
        precautions: draft.precautions.clone(),
        ensemble: draft.ensemble.clone(),
        validates_in: draft.validates_in.clone(),
    });
    change(&mut head);
    bench.edit(&Edit::SetHead(head))
}

fn sources(bench: Bench) -> impl IntoView {
    let ids = bench.read(|draft| draft.sources.iter().map(|source| source.id.clone()).collect::<Vec<_>>());
    let add = move |_| {
        let source = bench.procedure.with_untracked(|draft| Source {
            id: fresh_id(words::NEW_SOURCE, draft.sources.iter().map(|source| &*source.id)),
            title: words::NEW_SOURCE.to_owned(),
            publisher: String::new(),
            year: bench.year(),
            locator: String::new(),
            footing: Footing::Read,
        });
        bench.edit(&Edit::SetSource(source));
    };
    view! {
        <section class="stack" aria-labelledby="sources">
            <h2 id="sources">{words::SOURCES}</h2>
            <For each=move || ids.get() key=Clone::clone children=move |id| source(bench, id) />
            <div class="row">
                <button type="button" class="button" id="add-source" on:click=add>{words::ADD_SOURCE}</button>
            </div>
        </section>
    }
}

fn source(bench: Bench, id: String) -> impl IntoView {
    let part = |read: fn(&Source) -> String| {
        let id = id.clone();
        bench.read(move |draft| {
            draft.sources.iter().find(|source| source.id == id).map(read).unwrap_or_default()
        })
    };
    let set = |write: fn(&mut Source, String)| {
        let id = id.clone();
        move |entered: String| {
            let found = bench
                .procedure
                .with_untracked(|draft| draft.sources.iter().find(|source| source.id == id).cloned());
            found.is_some_and(|mut source| {
                write(&mut source, entered);
                bench.edit(&Edit::SetSource(source))
            })
        }
    };
    let year = {
        let id = id.clone();
        bench.read(move |draft| {
            let source = draft.sources.iter().find(|source| source.id == id)?;
            u32::try_from(source.year).ok()
        })
    };
    let set_year = set(|source, year| source.year = year.parse().unwrap_or(source.year));
    let footings = [Footing::Read, Footing::Secondary, Footing::Memory, Footing::CommonPractice];
    let options = move || {
        footings.map(|one| (wording::footing(one).to_owned(), wording::footing(one).to_owned())).to_vec()
    };
    let remove = {
        let id = id.clone();
        move |_| {
            bench.edit(&Edit::RemoveSource(id.clone()));
        }
    };
    view! {
        <div class="card stack">
            {text(format!("source-title-{id}"), words::SOURCE_TITLE, part(|source| source.title.clone()),
                set(|source, title| source.title = title))}
            <div class="columns">
                {text(format!("source-publisher-{id}"), words::PUBLISHER, part(|source| source.publisher.clone()),
                    set(|source, publisher| source.publisher = publisher))}
                {number(format!("source-year-{id}"), words::YEAR, year,
                    move |year: Option<u32>| year.is_some_and(|year| set_year(year.to_string())))}
                {text(format!("source-locator-{id}"), words::LOCATOR, part(|source| source.locator.clone()),
                    set(|source, locator| source.locator = locator))}
                {one_of(format!("source-footing-{id}"), words::FOOTING, options,
                    part(|source| wording::footing(source.footing).to_owned()),
                    set(|source, called| {
                        let all = [Footing::Read, Footing::Secondary, Footing::Memory, Footing::CommonPractice];
                        let chosen = all.into_iter().find(|one| wording::footing(*one) == called);
                        source.footing = chosen.unwrap_or(source.footing);
                    }))}
            </div>
            <div class="row">
                <button type="button" class="button plain" on:click=remove>{words::REMOVE}</button>
            </div>
        </div>
    }
}
