//! What belongs to the procedure as a whole, and what the facility sets.

use super::{Side, Subject, Told, Turn};
use crate::procedure::{ContactTime, Equipment, Phase, Procedure, Product};
use crate::sentence::{footing, mode, precaution};

pub(super) fn compare(old: &Side<'_>, new: &Side<'_>, told: &mut Told) {
    // Taken apart, so that a field that comes later cannot be forgotten here.
    let Procedure {
        schema: _,
        id,
        version: _,
        title,
        phase: now_phase,
        family: now_family,
        accepts_family,
        precautions,
        ensemble,
        validates_in,
        valid_months,
        pass: _,
        sources: _,
        acts,
        equipment,
        // Compared in the modules beside this one.
        combined_acts: _,
        conditions: _,
        steps: _,
        responses: _,
        contamination_response: _,
        free_acts: _,
        forbidden_acts: _,
    } = new.procedure;
    let before = old.procedure;
    told.words(before.id != *id, None, "the title", &[(&before.title, title)]);
    if before.phase != *now_phase {
        let text = format!("It is now about {}.", phase(*now_phase));
        told.add(Subject::Phase, Turn::Other, None, text);
    }
    if before.family != *now_family {
        family(before.family.as_deref(), now_family.as_deref(), told);
    }
    if before.accepts_family != *accepts_family {
        let text = if *accepts_family {
            "The other sequences of its family are now accepted too."
        } else {
            "The other sequences of its family are no longer accepted in its place."
        };
        told.add(Subject::Family, Turn::by(&before.accepts_family, accepts_family), None, text.to_owned());
    }
    told.lists((&before.ensemble, ensemble), Subject::Ensemble, None, |item, turn| match turn {
        Turn::More => format!("“{item}” was added to the ensemble."),
        Turn::Less | Turn::Other => format!("“{item}” was taken out of the ensemble."),
    });
    told.lists((&before.precautions, precautions), Subject::Precautions, None, |one, turn| match turn {
        Turn::More => format!("It now belongs to {} precautions.", precaution(*one)),
        Turn::Less | Turn::Other => format!("It no longer belongs to {} precautions.", precaution(*one)),
    });
    told.lists((&before.validates_in, validates_in), Subject::Mode, None, |one, turn| match turn {
        Turn::More => format!("It now validates in {} mode.", mode(*one)),
        Turn::Less | Turn::Other => format!("It no longer validates in {} mode.", mode(*one)),
    });
    let (was, is) = (before.valid_months, *valid_months);
    if was != is {
        let text = format!(
            "A validation now holds for {is} months instead of {was}; it holds from the next demonstration on."
        );
        told.add(Subject::Months, Turn::by(&was, &is), None, text);
    }
    pass(old, new, told);
    sources(old, new, told);
    let labels = |act: &&String| before.acts.get(*act).is_some_and(|label| acts.get(*act) != Some(label));
    for act in acts.keys().filter(labels) {
        let text = format!("{} is now called {}.", old.act(act), new.act(act));
        told.add(Subject::Words, Turn::Other, None, text);
    }
    facility(&before.equipment, equipment, new, told);
}

fn phase(phase: Phase) -> &'static str {
    match phase {
        Phase::Donning => "putting on",
        Phase::Doffing => "taking off",
        Phase::Other => "neither putting on nor taking off",
    }
}

fn family(was: Option<&str>, is: Option<&str>, told: &mut Told) {
    let (turn, text) = match (was, is) {
        (_, None) => (Turn::Less, "It is no longer an accepted alternative of others.".to_owned()),
        (None, Some(is)) => (Turn::More, format!("It is now one of the accepted alternatives “{is}”.")),
        (Some(was), Some(is)) => {
            (Turn::Other, format!("It is now one of the accepted alternatives “{is}”, no longer of “{was}”."))
        }
    };
    told.add(Subject::Family, turn, None, text);
}

/// More is stricter.
fn pass(old: &Side<'_>, new: &Side<'_>, told: &mut Told) {
    let (was, is) = (old.procedure.pass, new.procedure.pass);
    let (most_was, most_is) = (was.max_other_findings, is.max_other_findings);
    if most_was != most_is {
        let text = format!("The pass rule now allows {most_is} other findings instead of {most_was}.");
        told.add(Subject::PassRule, Turn::by(&most_is, &most_was), None, text);
    }
    let text = match (was.min_percent, is.min_percent) {
        (None, Some(is)) => format!("The pass rule now asks for a score of at least {is} percent."),
        (Some(was), None) => format!("The pass rule no longer asks for a score; it was {was} percent."),
        (Some(was), Some(is)) if was != is => {
            format!("The pass rule now asks for a score of at least {is} percent instead of {was}.")
        }
        (Some(_), Some(_)) | (None, None) => return,
    };
    told.add(Subject::PassRule, Turn::by(&was.min_percent, &is.min_percent), None, text);
}

fn sources(old: &Side<'_>, new: &Side<'_>, told: &mut Told) {
    let ids = |side: &Side<'_>| -> Vec<String> {
        side.procedure.sources.iter().map(|source| source.id.clone()).collect()
    };
    let of =
        |side: &Side<'_>, id: &str| side.procedure.sources.iter().find(|source| source.id == id).cloned();
    told.lists((&ids(old), &ids(new)), Subject::Source, None, |id, turn| {
        let title = of(new, id).or_else(|| of(old, id)).map_or_else(|| id.clone(), |source| source.title);
        match turn {
            Turn::More => format!("The source “{title}” was added."),
            Turn::Less | Turn::Other => format!("The source “{title}” was taken out."),
        }
    });
    for was in &old.procedure.sources {
        let Some(is) = of(new, &was.id) else { continue };
        if was.footing != is.footing {
            let text = format!(
                "The footing of “{}” is now “{}”; it was “{}”.",
                is.title,
                footing(is.footing),
                footing(was.footing)
            );
            told.add(Subject::Source, Turn::Other, None, text);
        }
        let passages = [
            (was.title.as_str(), is.title.as_str()),
            (&was.publisher, &is.publisher),
            (&was.year.to_string(), &is.year.to_string()),
            (&was.locator, &is.locator),
        ];
        told.words(false, None, &format!("the source “{}”", is.title), &passages);
    }
}

fn facility(was: &Equipment, is: &Equipment, new: &Side<'_>, told: &mut Told) {
    let Equipment { contact_times, glove_products, respirator_models } = is;
    contacts(&was.contact_times, contact_times, new, told);
    let kinds = [
        (Subject::GloveProduct, "glove product", &was.glove_products, glove_products, ""),
        (
            Subject::RespiratorModel,
            "respirator model",
            &was.respirator_models,
            respirator_models,
            " A fit test is for the very model.",
        ),
    ];
    for (subject, what, was, is, more) in kinds {
        let names = |products: &[Product]| -> Vec<String> {
            products.iter().map(|product| product.name.clone()).collect()
        };
        let (before, now) = (names(was), names(is));
        let only = |one: &[String], other: &[String]| -> Vec<String> {
            one.iter().filter(|name| !other.contains(name)).cloned().collect()
        };
        let (gone, new) = (only(&before, &now), only(&now, &before));
        // One product in the place of another is one change.
        for (old, new) in gone.iter().zip(&new) {
            let text = format!("The {what} “{new}” is now in use instead of “{old}”.{more}");
            told.add(subject, Turn::Other, None, text);
        }
        for name in new.iter().skip(gone.len()) {
            told.add(subject, Turn::More, None, format!("The {what} “{name}” is now in use.{more}"));
        }
        for name in gone.iter().skip(new.len()) {
            told.add(subject, Turn::Less, None, format!("The {what} “{name}” is no longer in use."));
        }
        let moved = was.iter().any(|was| is.iter().any(|is| is.name == was.name && is.acts != was.acts));
        told.words(moved, None, &format!("where a {what} is shown"), &[]);
    }
}

fn contacts(was: &[ContactTime], is: &[ContactTime], new: &Side<'_>, told: &mut Told) {
    let acts: std::collections::BTreeSet<&String> = was.iter().chain(is).map(|time| &time.act).collect();
    for act in acts {
        let of = |times: &[ContactTime]| times.iter().find(|time| time.act == *act).cloned();
        let (was, is) = (of(was), of(is));
        let seconds = |time: &Option<ContactTime>| time.as_ref().and_then(|time| time.seconds);
        let product = |time: &Option<ContactTime>| {
            time.as_ref().and_then(|time| time.product.clone()).unwrap_or_default()
        };
        let label = new.act(act);
        let (before, now) = (seconds(&was), seconds(&is));
        if before != now {
            let text = match (before, now) {
                (_, None) => format!("The contact time of {label} is no longer set."),
                (None, Some(now)) => format!("The contact time of {label} is now {now} seconds."),
                (Some(before), Some(now)) => {
                    format!("The contact time of {label} is now {now} seconds instead of {before}.")
                }
            };
            told.add(Subject::ContactTime, Turn::by(&before, &now), None, text);
        }
        told.words(false, None, &format!("the product of {label}"), &[(&product(&was), &product(&is))]);
    }
}
