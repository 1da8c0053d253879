//! What is true, and since when it is known: the one fold over entries.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use uuid::Uuid;

use crate::{
    Author, Body, CertificateIssued, DemonstrationSealed, Digest, Entry, FacilityCreated, ObserverAppointed,
    OutsideEvidenceAccepted, PersonId, ProcedureId, ProcedurePublished, RequirementSet, UnitId,
};

/// What a set of entries says. Two dates are kept apart: when a thing was true (a civil date in the
/// entry's body), and when it was known (the day its entry was written).
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Facts {
    /// The facility, with its id.
    pub facility: Option<(Uuid, FacilityCreated)>,
    /// The units, by id, with their names.
    pub units: BTreeMap<UnitId, String>,
    /// The people.
    pub people: BTreeMap<PersonId, PersonFacts>,
    /// Every requirement ever set, in the order of their entries; a later one for the same procedure,
    /// unit and role takes the place of an earlier one from its date on.
    pub requirements: Vec<RequirementSet>,
    /// The versions of each procedure, in the order of their entries.
    pub procedures: BTreeMap<ProcedureId, Vec<PublishedVersion>>,
    /// What was taken back, by the id of the entry that no longer counts. Conflicting ones all stand.
    pub voided: BTreeMap<Uuid, Vec<Voided>>,
    /// How many entries are of a kind that this program does not know. Where it is not 0, whatever is
    /// computed from these facts may be incomplete, and must say so.
    pub unknown: u32,
}

/// What is known of one person.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PersonFacts {
    /// Where they belong, in the order of the entries.
    pub memberships: Vec<Membership>,
    /// Binds their name, which is not here.
    pub name_digest: Option<Digest>,
    /// Their appointments as an observer.
    pub appointments: Vec<ObserverAppointed>,
    /// Their certificates.
    pub certificates: Vec<CertificateIssued>,
    /// Their sealed demonstrations, those that no longer count included.
    pub attempts: Vec<Attempt>,
    /// Validations accepted from elsewhere, with the id of their entry.
    pub outside: Vec<(Uuid, OutsideEvidenceAccepted)>,
}

/// Where a person belongs from a civil date on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Membership {
    /// Their unit; `None` when they have left.
    pub unit: Option<UnitId>,
    /// Their role.
    pub role: String,
    /// From this date.
    pub from: NaiveDate,
}

/// A procedure in one version.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PublishedVersion {
    /// What was published.
    pub published: ProcedurePublished,
    /// The day it was known.
    pub known_on: NaiveDate,
}

/// A sealed demonstration.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attempt {
    /// Id of its entry.
    pub entry: Uuid,
    /// What was sealed.
    pub sealed: DemonstrationSealed,
    /// Who sealed it.
    pub author: Author,
    /// The day it was known.
    pub known_on: NaiveDate,
}

/// Why something no longer counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Voided {
    /// Why.
    pub reason: String,
    /// Who says so.
    pub author: Author,
    /// The day it was known.
    pub known_on: NaiveDate,
}

impl Facts {
    /// Folds entries, in whatever order they arrive, leaving out what was not known by the end of
    /// `known_at` where that is asked for.
    pub fn fold(entries: impl IntoIterator<Item = Entry>, known_at: Option<NaiveDate>) -> Facts {
        let mut entries: Vec<Entry> = entries
            .into_iter()
            .filter(|entry| known_at.is_none_or(|known_at| entry.known_on() <= known_at))
            .collect();
        entries.sort_by_key(Entry::order);
        // The same entry may reach a device by two ways.
        entries.dedup_by_key(|entry| entry.order());
        let mut facts = Facts::default();
        for entry in entries {
            facts.take(entry);
        }
        facts
    }

    fn take(&mut self, entry: Entry) {
        let known_on = entry.known_on();
        match entry.body {
            Body::FacilityCreated(body) => self.facility = Some((entry.facility, *body)),
            Body::UnitAdded(body) => {
                self.units.insert(body.unit, body.name);
            }
            Body::PersonAdded(body) => {
                let person = self.people.entry(body.person).or_default();
                person.name_digest = Some(body.name_digest);
                person.memberships.push(Membership {
                    unit: Some(body.unit),
                    role: body.role,
                    from: body.from,
                });
            }
            Body::PersonMoved(body) => self
                .people
                .entry(body.person)
                .or_default()
                .memberships
                .push(Membership { unit: body.unit, role: body.role, from: body.from }),
            Body::RequirementSet(body) => self.requirements.push(*body),
            Body::ObserverAppointed(body) => {
                self.people.entry(body.person.clone()).or_default().appointments.push(*body);
            }
            Body::CertificateIssued(body) => {
                self.people.entry(body.person.clone()).or_default().certificates.push(*body);
            }
            Body::ProcedurePublished(published) => self
                .procedures
                .entry(published.procedure.id.clone())
                .or_default()
                .push(PublishedVersion { published: *published, known_on }),
            Body::DemonstrationSealed(sealed) => {
                self.people.entry(sealed.person.clone()).or_default().attempts.push(Attempt {
                    entry: entry.id,
                    sealed: *sealed,
                    author: entry.author,
                    known_on,
                });
            }
            Body::OutsideEvidenceAccepted(body) => {
                self.people.entry(body.person.clone()).or_default().outside.push((entry.id, *body));
            }
            Body::RecordVoided(body) => self.voided.entry(body.entry).or_default().push(Voided {
                reason: body.reason,
                author: entry.author,
                known_on,
            }),
            Body::Unknown { .. } => self.unknown += 1,
        }
    }

    /// Where a person belongs on a date; `None` before they joined and after they left.
    pub fn membership(&self, person: &str, on: NaiveDate) -> Option<&Membership> {
        self.people.get(person)?.membership(on).filter(|membership| membership.unit.is_some())
    }

    /// The people of a unit on a date, or of all units.
    pub fn members(&self, unit: Option<&str>, on: NaiveDate) -> Vec<&PersonId> {
        let belongs = |person: &PersonId| {
            self.membership(person, on)
                .is_some_and(|membership| unit.is_none_or(|unit| membership.unit.as_deref() == Some(unit)))
        };
        self.people.keys().filter(|person| belongs(person)).collect()
    }

    /// The version of a procedure that is in force on a date.
    pub fn in_force(&self, procedure: &str, on: NaiveDate) -> Option<&ProcedurePublished> {
        let versions = self.procedures.get(procedure)?;
        latest_from(versions, on, |version| version.published.from).map(|version| &version.published)
    }

    /// The requirement that a person is under for a procedure on a date: the one with the longest lead
    /// time where several hold.
    pub fn requirement(&self, person: &str, procedure: &str, on: NaiveDate) -> Option<&RequirementSet> {
        let membership = self.membership(person, on)?;
        let mut holding: BTreeMap<_, Vec<&RequirementSet>> = BTreeMap::new();
        for set in &self.requirements {
            let meant = set.procedure == procedure
                && set.unit.as_ref().is_none_or(|unit| membership.unit.as_ref() == Some(unit))
                && set.role.as_ref().is_none_or(|role| membership.role == *role);
            if meant {
                holding.entry((&set.unit, &set.role)).or_default().push(set);
            }
        }
        holding
            .values()
            .filter_map(|sets| latest_from(sets, on, |set| set.from))
            .filter(|set| set.required)
            .max_by_key(|set| set.lead_days)
            .copied()
    }

    /// Every procedure that somebody must hold on a date.
    pub fn required_procedures(&self, on: NaiveDate) -> Vec<&ProcedureId> {
        let mut procedures: Vec<_> = self
            .requirements
            .iter()
            .filter(|set| set.required && set.from <= on)
            .map(|set| &set.procedure)
            .collect();
        procedures.sort();
        procedures.dedup();
        procedures
    }

    /// Whether an entry still counts.
    pub fn counts(&self, entry: Uuid) -> bool {
        !self.voided.contains_key(&entry)
    }

    /// A person's sealed demonstrations of a procedure up to a date that still count, earliest first.
    pub fn attempts(&self, person: &str, procedure: &str, on: NaiveDate) -> Vec<&Attempt> {
        let Some(facts) = self.people.get(person) else { return Vec::new() };
        let mut attempts: Vec<_> = facts
            .attempts
            .iter()
            .filter(|attempt| {
                attempt.sealed.procedure == procedure && attempt.sealed.on <= on && self.counts(attempt.entry)
            })
            .collect();
        // A stable sort: attempts that began at the same moment keep the order of their entries.
        attempts.sort_by_key(|attempt| (attempt.sealed.on, attempt.sealed.begun));
        attempts
    }
}

impl PersonFacts {
    fn membership(&self, on: NaiveDate) -> Option<&Membership> {
        latest_from(&self.memberships, on, |membership| membership.from)
    }

    /// Whether an appointment to observe this procedure holds on a date.
    pub fn appointed(&self, procedure: &str, on: NaiveDate) -> bool {
        self.appointments.iter().any(|appointment| {
            appointment.from <= on
                && appointment.until.is_none_or(|until| on <= until)
                && appointment
                    .procedures
                    .as_ref()
                    .is_none_or(|procedures| procedures.iter().any(|one| one == procedure))
        })
    }
}

/// Of items in the order of their entries, the one that holds on a date: the latest that had begun, and
/// of several from the same date the last stated.
fn latest_from<T>(items: &[T], on: NaiveDate, from: impl Fn(&T) -> NaiveDate) -> Option<&T> {
    items.iter().filter(|item| from(item) <= on).max_by_key(|item| from(item))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::{Hlc, PersonAdded, PersonMoved, RecordVoided, UnitAdded, digest, entry::tests::entry};

    fn day(n: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 11, n).unwrap()
    }

    /// The entry number `n`, written on day `written`.
    fn stated(n: u32, written: u32, body: impl Into<Body>) -> Entry {
        let mut entry = entry(body.into());
        entry.id = Uuid::from_u128(n.into());
        entry.place.seq = n.into();
        entry.hlc = Hlc { ms: n.into(), n: 0 };
        entry.wall = format!("2026-11-{written:02}T23:30:00+01:00").parse().unwrap();
        entry
    }

    fn joined(person: &str, unit: &str, from: u32) -> PersonAdded {
        PersonAdded {
            person: person.to_owned(),
            unit: unit.to_owned(),
            role: "Nurse".to_owned(),
            from: day(from),
            name_digest: digest(b"name"),
        }
    }

    fn moved(person: &str, unit: Option<&str>, from: u32) -> PersonMoved {
        PersonMoved {
            person: person.to_owned(),
            unit: unit.map(str::to_owned),
            role: "Nurse".to_owned(),
            from: day(from),
        }
    }

    fn required(unit: Option<&str>, required: bool, lead_days: u32, from: u32) -> RequirementSet {
        RequirementSet {
            procedure: "doffing".to_owned(),
            unit: unit.map(str::to_owned),
            role: None,
            required,
            lead_days,
            from: day(from),
        }
    }

    fn accepted() -> OutsideEvidenceAccepted {
        OutsideEvidenceAccepted {
            person: "p".to_owned(),
            procedure: "doffing".to_owned(),
            source: "letter".to_owned(),
            on: day(1),
            valid_until: day(30),
        }
    }

    fn history() -> Vec<Entry> {
        let voided = RecordVoided {
            entry: Uuid::from_u128(5),
            person: "p".to_owned(),
            reason: "another person's letter".to_owned(),
        };
        let unknown =
            Body::Unknown { kind: "later".to_owned(), kind_version: 1, body: serde_json::Value::Null };
        vec![
            stated(1, 2, UnitAdded { unit: "west".to_owned(), name: "Ward West".to_owned() }),
            stated(2, 2, joined("p", "west", 3)),
            stated(3, 4, moved("p", Some("east"), 10)),
            stated(4, 5, required(None, true, 30, 4)),
            stated(5, 6, accepted()),
            stated(6, 7, required(Some("east"), true, 60, 12)),
            stated(7, 8, UnitAdded { unit: "west".to_owned(), name: "Ward North".to_owned() }),
            stated(8, 9, voided),
            stated(9, 20, moved("p", None, 20)),
            stated(10, 21, unknown),
        ]
    }

    #[test]
    fn where_a_person_belongs_depends_on_the_date() {
        let facts = Facts::fold(history(), None);
        let unit = |on| facts.membership("p", day(on)).and_then(|membership| membership.unit.as_deref());
        let expected = [
            (2, None),
            (3, Some("west")),
            (9, Some("west")),
            (10, Some("east")),
            (19, Some("east")),
            (20, None),
        ];
        for (on, expected) in expected {
            assert_eq!(unit(on), expected, "on day {on}");
        }
        assert_eq!(facts.members(Some("east"), day(15)), ["p"]);
        assert_eq!(facts.members(Some("west"), day(15)), Vec::<&String>::new());
        assert_eq!(facts.members(None, day(20)), Vec::<&String>::new(), "who has left is not on the roster");
    }

    #[test]
    fn what_is_required_depends_on_the_unit_and_the_date() {
        let facts = Facts::fold(history(), None);
        let lead = |on| facts.requirement("p", "doffing", day(on)).map(|set| set.lead_days);
        assert_eq!(
            [lead(2), lead(3), lead(4), lead(11), lead(12)],
            [None, None, Some(30), Some(30), Some(60)]
        );
        let mut taken_back = history();
        taken_back.push(stated(11, 21, required(None, false, 0, 14)));
        taken_back.push(stated(12, 21, required(Some("east"), false, 0, 15)));
        let facts = Facts::fold(taken_back, None);
        let lead = |on| facts.requirement("p", "doffing", day(on)).map(|set| set.lead_days);
        assert_eq!([lead(13), lead(14), lead(15)], [Some(60), Some(60), None]);
    }

    #[test]
    fn what_was_true_and_what_was_known_are_two_dates() {
        let known = |on| Facts::fold(history(), Some(day(on)));
        assert!(known(1).people.is_empty());
        let unit = |facts: &Facts| facts.membership("p", day(15)).and_then(|one| one.unit.clone());
        assert_eq!(unit(&known(3)).as_deref(), Some("west"), "the move was not known yet");
        assert_eq!(unit(&known(4)).as_deref(), Some("east"));
        assert!(known(8).counts(Uuid::from_u128(5)), "not yet taken back");
        assert!(!known(9).counts(Uuid::from_u128(5)));
        assert_eq!(known(7).units["west"], "Ward West");
        assert_eq!(known(8).units["west"], "Ward North");
        assert_eq!((known(20).unknown, known(21).unknown), (0, 1), "said, not hidden");
    }

    #[test]
    fn an_appointment_holds_from_and_through_its_days() {
        let appointed = ObserverAppointed {
            person: "p".to_owned(),
            procedures: Some(vec!["doffing".to_owned()]),
            evidence: "course".to_owned(),
            from: day(10),
            until: Some(day(12)),
        };
        let facts = Facts::fold([stated(1, 1, appointed)], None);
        let holds = |procedure, on| facts.people["p"].appointed(procedure, day(on));
        let days = [9, 10, 12, 13].map(|on| holds("doffing", on));
        assert_eq!(days, [false, true, true, false]);
        assert!(!holds("donning", 11));
    }

    proptest! {
        #[test]
        fn the_order_of_arrival_does_not_matter(
            entries in Just(history()).prop_shuffle(),
            twice in prop::collection::vec(0_usize..10, 0..4),
        ) {
            let mut arrived = entries.clone();
            arrived.extend(twice.into_iter().map(|n| entries[n].clone()));
            prop_assert_eq!(Facts::fold(arrived, None), Facts::fold(history(), None));
        }
    }
}
