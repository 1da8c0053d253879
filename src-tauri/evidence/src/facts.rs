//! What is true, and since when it is known: the one fold over entries.

mod amended;
mod asking;
mod clearing;
#[cfg(test)]
mod corrections;
mod early;
#[cfg(test)]
mod families;
mod index;
#[cfg(test)]
mod indexed;
mod often;
mod put_right;
#[cfg(test)]
mod revocations;
#[cfg(test)]
mod standings;
#[cfg(test)]
mod tests;
mod touched;
#[cfg(test)]
mod triggers;

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset, NaiveDate};
use uuid::Uuid;

pub use amended::Dates;
pub use index::{Held, Index};
pub use put_right::PutRight;
pub use touched::Touched;

use crate::{
    Author, AuthorityRolledOver, Body, CertificateIssued, CertificateRevoked, Correction, DemonstrationId,
    DemonstrationSealed, Digest, Entry, FacilityCreated, FacilityRulesSet, FitTested, LeaveStated,
    MedicallyEvaluated, ObserverAppointed, OutsideEvidenceAccepted, PersonId, PersonSuspended, Place,
    PlaceGiven, ProcedureId, ProcedurePublished, ProcedureRetired, RecordCountersigned, ReminderSent,
    RequirementSet, RevalidationAsked, SessionId, SessionSet, SuspensionLifted, UnitId,
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
    /// What was taken out of force, by procedure, in the order of their entries.
    pub retired: BTreeMap<ProcedureId, Vec<Retired>>,
    /// What was taken back, by the id of the entry that no longer counts. Conflicting ones all stand.
    pub voided: BTreeMap<Uuid, Vec<Voided>>,
    /// What was corrected, by the id of the entry that says something wrong, in the order of the entries.
    /// Conflicting ones all stand; see [`Facts::disputed`].
    pub corrected: BTreeMap<Uuid, Vec<Corrected>>,
    /// Second signatures, by the demonstration; the first one there was counts.
    pub countersigned: BTreeMap<DemonstrationId, Stated<RecordCountersigned>>,
    /// Certificates that hold no longer, in the order of the entries; each carries the authority's list.
    pub revoked: Vec<CertificateRevoked>,
    /// How the authority was rolled over, in the order of the entries.
    pub rolled_over: Vec<AuthorityRolledOver>,
    /// What the facility chose, in the order of the entries; the latest that has begun holds.
    pub rules: Vec<FacilityRulesSet>,
    /// Where something must be shown again early, with the entry that says so.
    pub asked: Vec<Stated<RevalidationAsked>>,
    /// The sessions, by id, each as often as it was set; the last one holds.
    pub sessions: BTreeMap<SessionId, Vec<SessionSet>>,
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
    /// Validations accepted from elsewhere.
    pub outside: Vec<Stated<OutsideEvidenceAccepted>>,
    /// Their suspensions, lifted ones included.
    pub suspensions: Vec<Stated<PersonSuspended>>,
    /// What lifts a suspension.
    pub lifted: Vec<Stated<SuspensionLifted>>,
    /// When they are away, those that are over included.
    pub leaves: Vec<Stated<LeaveStated>>,
    /// Their fit tests.
    pub fit_tests: Vec<Stated<FitTested>>,
    /// What occupational health said.
    pub medical: Vec<Stated<MedicallyEvaluated>>,
    /// Their places in sessions, those that were replaced or taken back included.
    pub places: Vec<PlaceGiven>,
    /// How often they were reminded of what, and when.
    pub reminders: Vec<ReminderSent>,
}

/// What an entry states, with who states it and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stated<T> {
    /// Id of its entry.
    pub entry: Uuid,
    /// What it states.
    pub what: T,
    /// Who states it.
    pub author: Author,
    /// Wall clock of the device when it was written.
    pub at: DateTime<FixedOffset>,
    /// The day it was known.
    pub known_on: NaiveDate,
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

/// A procedure was taken out of force.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Retired {
    /// What was stated.
    pub retired: ProcedureRetired,
    /// How many versions had been published before: those are out of force, later ones are not.
    pub versions: usize,
}

/// A sealed demonstration.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attempt {
    /// Id of its entry.
    pub entry: Uuid,
    /// Where its entry stands.
    pub place: Place,
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
    /// Id of the entry that says so.
    pub entry: Uuid,
    /// Why.
    pub reason: String,
    /// Who says so.
    pub author: Author,
    /// When they said so, by the clock of the device.
    pub at: DateTime<FixedOffset>,
    /// The day it was known.
    pub known_on: NaiveDate,
}

/// What should stand in the place of something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Corrected {
    /// Id of the entry that says so.
    pub entry: Uuid,
    /// What is right.
    pub correction: Correction,
    /// Why.
    pub reason: String,
    /// Who says so.
    pub author: Author,
    /// When they said so, by the clock of the device.
    pub at: DateTime<FixedOffset>,
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

    #[expect(clippy::too_many_lines, reason = "one arm for each kind of entry, and none of them is long")]
    fn take(&mut self, entry: Entry) {
        let known_on = entry.known_on();
        let (id, at) = (entry.id, entry.wall);
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
            Body::CertificateRevoked(body) => self.revoked.push(*body),
            Body::AuthorityRolledOver(body) => self.rolled_over.push(*body),
            Body::ProcedurePublished(published) => self
                .procedures
                .entry(published.procedure.id.clone())
                .or_default()
                .push(PublishedVersion { published: *published, known_on }),
            Body::ProcedureRetired(retired) => {
                let versions = self.procedures.get(&retired.procedure).map_or(0, Vec::len);
                self.retired
                    .entry(retired.procedure.clone())
                    .or_default()
                    .push(Retired { retired: *retired, versions });
            }
            Body::DemonstrationSealed(sealed) => {
                self.people.entry(sealed.person.clone()).or_default().attempts.push(Attempt {
                    entry: entry.id,
                    place: entry.place,
                    sealed: *sealed,
                    author: entry.author,
                    known_on,
                });
            }
            Body::OutsideEvidenceAccepted(body) => {
                let outside = &mut self.people.entry(body.person.clone()).or_default().outside;
                outside.push(Stated { entry: id, what: *body, author: entry.author, at, known_on });
            }
            Body::RecordVoided(body) => self.voided.entry(body.entry).or_default().push(Voided {
                entry: entry.id,
                reason: body.reason,
                author: entry.author,
                at: entry.wall,
                known_on,
            }),
            Body::RecordCorrected(body) => self.corrected.entry(body.entry).or_default().push(Corrected {
                entry: entry.id,
                correction: body.correction,
                reason: body.reason,
                author: entry.author,
                at: entry.wall,
                known_on,
            }),
            Body::RecordCountersigned(body) => {
                let demonstration = body.demonstration.clone();
                let stated = Stated { entry: id, what: *body, author: entry.author, at, known_on };
                self.countersigned.entry(demonstration).or_insert(stated);
            }
            Body::FacilityRulesSet(body) => self.rules.push(*body),
            Body::PersonSuspended(body) => {
                let suspensions = &mut self.people.entry(body.person.clone()).or_default().suspensions;
                suspensions.push(Stated { entry: id, what: *body, author: entry.author, at, known_on });
            }
            Body::SuspensionLifted(body) => {
                let lifted = &mut self.people.entry(body.person.clone()).or_default().lifted;
                lifted.push(Stated { entry: id, what: *body, author: entry.author, at, known_on });
            }
            Body::LeaveStated(body) => {
                let leaves = &mut self.people.entry(body.person.clone()).or_default().leaves;
                leaves.push(Stated { entry: id, what: *body, author: entry.author, at, known_on });
            }
            Body::FitTested(body) => {
                let tests = &mut self.people.entry(body.person.clone()).or_default().fit_tests;
                tests.push(Stated { entry: id, what: *body, author: entry.author, at, known_on });
            }
            Body::MedicallyEvaluated(body) => {
                let medical = &mut self.people.entry(body.person.clone()).or_default().medical;
                medical.push(Stated { entry: id, what: *body, author: entry.author, at, known_on });
            }
            Body::RevalidationAsked(body) => {
                self.asked.push(Stated { entry: id, what: *body, author: entry.author, at, known_on });
            }
            Body::PersonRenamed(body) => {
                self.people.entry(body.person).or_default().name_digest = Some(body.name_digest);
            }
            Body::SessionSet(body) => {
                self.sessions.entry(body.session.clone()).or_default().push(*body);
            }
            Body::PlaceGiven(body) => {
                self.people.entry(body.person.clone()).or_default().places.push(*body);
            }
            Body::ReminderSent(body) => {
                self.people.entry(body.person.clone()).or_default().reminders.push(*body);
            }
            Body::Unknown { .. } => self.unknown += 1,
        }
    }
}
