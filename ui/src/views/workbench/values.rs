//! The facility values of a procedure, in one place.

use competency::procedure::{ActId, ContactTime, Edit, Equipment, FacilityValues, Product};
use leptos::prelude::*;

use super::{
    bench::Bench,
    elsewhere::elsewhere,
    inputs::{lines, number, text, tick},
    turns::some_of,
};
use crate::wording::workbench as words;

pub(super) fn values(bench: Bench) -> impl IntoView {
    let set = move |write: &dyn Fn(&mut FacilityValues)| {
        let mut values = bench.procedure.with_untracked(FacilityValues::of);
        write(&mut values);
        bench.edit(&Edit::SetFacilityValues(values))
    };
    let has_family = bench.read(|draft| draft.family.is_some() || draft.accepts_family);
    let acts = bench
        .read(|draft| draft.equipment.contact_times.iter().map(|time| time.act.clone()).collect::<Vec<_>>());
    view! {
        <section class="card stack" aria-label=words::VALUES>
            <p class="quiet-text">{words::VALUES_WHY}</p>
            <div class="columns">
                {number("valid-months".to_owned(), words::MONTHS, bench.read(|draft| Some(draft.valid_months)),
                    move |months: Option<u32>| months.is_some_and(|months| set(&|all| all.valid_months = months)))}
                {number("most-other".to_owned(), words::MOST_OTHER,
                    bench.read(|draft| Some(draft.pass.max_other_findings)),
                    move |most: Option<u32>| most.is_some_and(|most| set(&|all| all.pass.max_other_findings = most)))}
                {number("least-percent".to_owned(), words::LEAST_PERCENT,
                    bench.read(|draft| draft.pass.min_percent),
                    move |least| set(&|all| all.pass.min_percent = least))}
            </div>
            // Without a family there is no other sequence to accept.
            <div hidden=move || !has_family.get()>
                {tick("accepts-family".to_owned(), words::ACCEPTS_FAMILY, bench.read(|draft| draft.accepts_family),
                    move |on| set(&|all| all.accepts_family = on))}
            </div>
        </section>
        {move || (!acts.with(Vec::is_empty)).then(|| view! {
            <section class="card stack" aria-labelledby="contact-times">
                <h2 id="contact-times">{words::CONTACT_TIMES}</h2>
                <For each=move || acts.get() key=Clone::clone children=move |act| contact(bench, act) />
            </section>
        })}
        <section class="card stack" aria-label=words::GLOVES>
            {products(bench, "glove-products", words::GLOVES, |all| &all.glove_products, |all, products| {
                all.glove_products = products;
            })}
            {products(bench, "respirator-models", words::RESPIRATORS, |all| &all.respirator_models, |all, products| {
                all.respirator_models = products;
            })}
        </section>
        {elsewhere(bench)}
    }
}

fn change(bench: Bench, write: impl FnOnce(&mut Equipment)) -> bool {
    let mut values = bench.procedure.with_untracked(FacilityValues::of);
    write(&mut values.equipment);
    bench.edit(&Edit::SetFacilityValues(values))
}

fn contact(bench: Bench, act: ActId) -> impl IntoView {
    let held = {
        let act = act.clone();
        bench.read(move |draft| draft.equipment.contact_times.iter().find(|time| time.act == act).cloned())
    };
    let set = {
        let act = act.clone();
        move |write: &dyn Fn(&mut ContactTime)| {
            change(bench, |all| {
                all.contact_times.iter_mut().filter(|time| time.act == act).for_each(write);
            })
        }
    };
    let set_seconds = set.clone();
    let label = bench.procedure.with_untracked(|draft| draft.acts.get(&act).cloned()).unwrap_or(act.clone());
    let product = Memo::new(move |_| held.with(|time| time.as_ref()?.product.clone()).unwrap_or_default());
    let seconds = Memo::new(move |_| held.with(|time| time.as_ref()?.seconds));
    view! {
        <fieldset class="columns">
            <legend>{label}</legend>
            {text(format!("contact-product-{act}"), words::PRODUCT, product, move |product: String| {
                set(&|time| time.product = (!product.is_empty()).then(|| product.clone()))
            })}
            {number(format!("contact-seconds-{act}"), words::SECONDS, seconds,
                move |seconds| set_seconds(&|time| time.seconds = seconds))}
        </fieldset>
    }
}

/// The products of one sort, one a line, and the acts beside which they are shown.
fn products(
    bench: Bench,
    id: &'static str,
    label: &'static str,
    of: fn(&Equipment) -> &Vec<Product>,
    put: fn(&mut Equipment, Vec<Product>),
) -> impl IntoView {
    let names = bench.read(move |draft| {
        of(&draft.equipment).iter().map(|product| product.name.clone()).collect::<Vec<_>>()
    });
    let set = move |entered: Vec<String>| {
        let known = bench.procedure.with_untracked(|draft| of(&draft.equipment).clone());
        // A new product is shown where the others of its sort are.
        let acts = known.first().map(|product| product.acts.clone()).unwrap_or_default();
        let product = |name: String| {
            let same = known.iter().find(|product| product.name == name).cloned();
            same.unwrap_or_else(|| Product { name, acts: acts.clone() })
        };
        change(bench, |all| put(all, entered.into_iter().map(product).collect()))
    };
    let beside = bench.read(move |draft| {
        of(&draft.equipment).first().map(|product| product.acts.clone()).unwrap_or_default()
    });
    let named = Memo::new(move |_| !names.with(Vec::is_empty));
    let set_beside = move |acts: Vec<ActId>| {
        let all = bench.procedure.with_untracked(|draft| of(&draft.equipment).clone());
        let everywhere = all.into_iter().map(|product| Product { acts: acts.clone(), ..product });
        change(bench, |all| put(all, everywhere.collect()))
    };
    view! {
        <div class="columns">
            {lines(id.to_owned(), label, words::PRODUCTS_HINT, names, set)}
            <fieldset class="stack tight" hidden=move || !named.get()>
                <legend>{words::WHERE_USED}</legend>
                {some_of(bench, format!("{id}-acts"), || words::ADD_BESIDE, beside, set_beside)}
            </fieldset>
        </div>
    }
}
