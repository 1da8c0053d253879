//! The index says what every attempt, asked anew, says.

use competency::{procedure::Mode, report::Outcome, validity::Purpose};
use proptest::prelude::*;
use uuid::Uuid;

use super::{
    Index,
    standings::{facts, procedure, sealed},
    tests::{accepted, day, joined, required},
};
use crate::{
    Body, Cause, Correction, DemonstrationSealed, Entry, FacilityRulesSet, Facts, LeaveStated,
    OutsideEvidenceAccepted, PersonSuspended, ProcedurePublished, RecordCorrected, RecordVoided,
    RequirementSet, Revalidation, RevalidationAsked, procedure_hash,
};

fn outcome() -> impl Strategy<Value = Outcome> {
    prop_oneof![Just(Outcome::Competent), Just(Outcome::NotYetCompetent), Just(Outcome::NotAssessed)]
}

/// Another sequence of the family, and a later version of the first one that accepts it.
pub(super) fn other(id: &str, accepts_family: bool, from: u32, revalidate: bool) -> ProcedurePublished {
    let mut procedure = procedure();
    procedure.id = id.to_owned();
    procedure.family = Some("sequences".to_owned());
    procedure.accepts_family = accepts_family;
    procedure.version = format!("{from}.0.0");
    let hash = procedure_hash(&procedure).unwrap();
    let revalidate = revalidate.then(|| Revalidation { by: day(from + 3), why: "new gown".to_owned() });
    ProcedurePublished { procedure, hash, from: day(from), approved: None, revalidate }
}

fn attempt() -> impl Strategy<Value = Body> {
    (1_u32..29, outcome(), 0_u32..24, any::<bool>(), any::<bool>(), any::<bool>()).prop_map(
        |(on, outcome, hour, second, practice, guided)| {
            let wall = format!("2026-11-{on:02}T{hour:02}:00:00+01:00");
            let mut sealed = sealed(on, outcome);
            sealed.begun = wall.parse().unwrap();
            if second {
                let published = other("doffing-2", false, 3, false);
                (sealed.procedure, sealed.procedure_hash) = ("doffing-2".to_owned(), published.hash);
            }
            if practice {
                sealed.purpose = Purpose::Practice;
            }
            if guided {
                sealed.mode = Mode::Guided;
            }
            DemonstrationSealed { demonstration: format!("d-{on}-{hour}"), ..sealed }.into()
        },
    )
}

fn anything() -> impl Strategy<Value = Body> {
    let person = || "p".to_owned();
    prop_oneof![
        8 => attempt(),
        1 => (1_u32..20).prop_map(|on| {
            OutsideEvidenceAccepted { on: day(on), valid_until: day(on + 5), ..accepted() }.into()
        }),
        1 => (1_u32..28, any::<bool>()).prop_map(move |(from, all)| {
            let procedures = (!all).then(|| vec!["doffing".to_owned()]);
            PersonSuspended { person: person(), procedures, why: "why".to_owned(), from: day(from) }.into()
        }),
        1 => (1_u32..28).prop_map(move |from| {
            LeaveStated { person: person(), from: day(from), through: None }.into()
        }),
        1 => (3_u32..25, 0_usize..3).prop_map(|(on, of)| {
            let cause = Cause::Equipment { what: "gown".to_owned() };
            let procedures = ["doffing", "doffing-2"].get(of).map(|one| vec![(*one).to_owned()]);
            let (person, unit) = (None, None);
            RevalidationAsked { person, unit, procedures, on: day(on), by: day(on + 2), cause }.into()
        }),
        1 => (any::<bool>(), 1_u32..28).prop_map(|(strict_year, from)| {
            let (leave_limit_days, from) = (Some(4), day(from));
            FacilityRulesSet { leave_limit_days, strict_year, medical_clearance: false, from }.into()
        }),
        1 => (2_u32..28, prop::option::of(2_u32..28), 10_u128..30).prop_map(move |(on, until, entry)| {
            let correction = Correction::Date { on: day(on), valid_until: until.map(day) };
            let (entry, reason) = (Uuid::from_u128(entry), "misread".to_owned());
            RecordCorrected { entry, person: person(), correction, reason }.into()
        }),
        1 => (10_u128..30).prop_map(move |entry| {
            RecordVoided { entry: Uuid::from_u128(entry), person: person(), reason: "wrong".to_owned() }.into()
        }),
        1 => (3_u32..20, any::<bool>(), any::<bool>()).prop_map(|(from, accepts, again)| {
            other("doffing", accepts, from, again).into()
        }),
        1 => (0_u32..2, any::<bool>(), 1_u32..28).prop_map(|(months, all, from)| {
            let months = (months > 0).then_some(months);
            let unit = (!all).then_some("west");
            RequirementSet { months, from: day(from), ..required(unit, true, 7, 4) }.into()
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]
    #[test]
    fn a_roster_by_the_index_is_that_of_every_attempt(
        more in prop::collection::vec((2_u32..28, anything()), 0..14),
        on in 1_u32..30,
        known in prop::option::of(5_u32..28),
        later in 0_usize..8,
    ) {
        let mut entries = vec![
            (2, joined("q", "east", 3).into()),
            (3, other("doffing-2", false, 3, false).into()),
        ];
        entries.extend(more);
        let mut entries = facts(entries);
        entries.retain(|entry| known.is_none_or(|known| entry.known_on() <= day(known)));
        entries.sort_by_key(Entry::order);
        // The last of them come one by one, as they do while the window is open.
        let all = Facts::fold(entries.clone(), None);
        let mut facts = Facts::fold(entries.drain(..entries.len().saturating_sub(later)), None);
        let mut index = Index::of(&facts);
        for entry in entries {
            let touched = facts.grow(vec![entry]);
            index.renew(&facts, &touched);
        }
        prop_assert_eq!(&facts, &all);
        for unit in [None, Some("west")] {
            let rows = index.roster(&facts, unit, day(on));
            let people: Vec<_> = rows.iter().map(|(person, _)| *person).collect();
            prop_assert_eq!(people, facts.members(unit, day(on)));
            for (person, held) in rows {
                for (column, held) in facts.required_procedures(day(on)).into_iter().zip(held) {
                    let required = facts.requirement(person, column, day(on)).is_some();
                    prop_assert_eq!(held.required, required);
                    let standing = facts.standing(person, column, day(on));
                    prop_assert_eq!((held.state, held.valid_until), (standing.state, standing.valid_until), "{}", standing.because);
                }
            }
        }
    }
}
