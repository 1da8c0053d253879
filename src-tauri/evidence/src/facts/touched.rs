//! Facts grow by entries that come later, and say whose standings those may change.

use std::collections::BTreeSet;

use uuid::Uuid;

use super::Facts;
use crate::{Body, Digest, Entry, PersonId};

/// Whose standings entries may have changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Touched {
    /// Those of these people at most.
    People(BTreeSet<PersonId>),
    /// Perhaps everybody's.
    Everyone,
}

impl Facts {
    /// Folds entries in that come after all those that were folded, by [`Entry::order`]. Earlier ones need
    /// [`Facts::fold`] anew.
    pub fn grow(&mut self, mut entries: Vec<Entry>) -> Touched {
        entries.sort_by_key(Entry::order);
        entries.dedup_by_key(|entry| entry.order());
        let mut people = Some(BTreeSet::new());
        for entry in entries {
            let touched = self.touched_by(&entry.body);
            self.take(entry);
            people = match (people, touched) {
                (Some(mut people), Touched::People(more)) => {
                    people.extend(more);
                    Some(people)
                }
                (None, _) | (_, Touched::Everyone) => None,
            };
        }
        people.map_or(Touched::Everyone, Touched::People)
    }

    /// Whose standings an entry may change by way of what an index holds; what ends a validation early is
    /// asked of the facts themselves.
    fn touched_by(&self, body: &Body) -> Touched {
        let one = |person: &PersonId| Touched::People(BTreeSet::from([person.clone()]));
        match body {
            Body::PersonAdded(body) => one(&body.person),
            Body::PersonMoved(body) => one(&body.person),
            Body::PersonSuspended(body) => one(&body.person),
            Body::LeaveStated(body) => one(&body.person),
            Body::DemonstrationSealed(body) => one(&body.person),
            Body::OutsideEvidenceAccepted(body) => one(&body.person),
            Body::RecordVoided(body) if self.has(&body.person, body.entry) => one(&body.person),
            Body::RecordCorrected(body) if self.has(&body.person, body.entry) => one(&body.person),
            Body::CertificateRevoked(body) => Touched::People(self.sealed_with(body.fingerprint)),
            // Another version may change what an attempt was; a void may take a correction back.
            Body::ProcedurePublished(_) | Body::RecordVoided(_) | Body::RecordCorrected(_) => {
                Touched::Everyone
            }
            Body::FacilityCreated(_)
            | Body::UnitAdded(_)
            | Body::RequirementSet(_)
            | Body::ObserverAppointed(_)
            | Body::CertificateIssued(_)
            | Body::AuthorityRolledOver(_)
            | Body::ProcedureRetired(_)
            | Body::RecordCountersigned(_)
            | Body::FacilityRulesSet(_)
            | Body::PersonRenamed(_)
            | Body::SessionSet(_)
            | Body::PlaceGiven(_)
            | Body::ReminderSent(_)
            | Body::RevalidationAsked(_)
            | Body::SuspensionLifted(_)
            | Body::FitTested(_)
            | Body::MedicallyEvaluated(_)
            | Body::Unknown { .. } => Touched::People(BTreeSet::new()),
        }
    }

    /// Whether an entry is a validation of this very person.
    fn has(&self, person: &str, entry: Uuid) -> bool {
        self.people.get(person).is_some_and(|known| {
            known.attempts.iter().any(|attempt| attempt.entry == entry)
                || known.outside.iter().any(|one| one.entry == entry)
        })
    }

    fn sealed_with(&self, certificate: Digest) -> BTreeSet<PersonId> {
        let with = |attempt: &super::Attempt| attempt.author.certificate == Some(certificate);
        let people = self.people.iter().filter(|(_, known)| known.attempts.iter().any(with));
        people.map(|(id, _)| id.clone()).collect()
    }
}
