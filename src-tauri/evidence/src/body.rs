mod needs;
mod planned;
mod records;
mod roster;

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset, NaiveDate};
use competency::procedure::Procedure;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use uuid::Uuid;

pub use needs::Needs;
pub use planned::*;
pub use records::*;

use crate::{Digest, EvidenceError, PersonId, ProcedureId, Seen, UnitId, upcast::to_latest};

pub use roster::*;

macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident = $kind:literal, version $version:literal;)*) => {
        /// What an entry states, by kind.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Body {
            $($(#[$doc])* $name(Box<$name>),)*
            /// A kind, or a version of a kind, that this program does not know; kept as it is.
            Unknown {
                /// Its kind.
                kind: String,
                /// The version of its kind.
                kind_version: u32,
                /// The body as it stands.
                body: Value,
            },
        }

        impl Body {
            /// The kind, as it is written.
            pub fn kind(&self) -> &str {
                match self {
                    $(Body::$name(_) => $kind,)*
                    Body::Unknown { kind, .. } => kind,
                }
            }

            /// The version of the kind.
            pub fn kind_version(&self) -> u32 {
                match self {
                    $(Body::$name(_) => $version,)*
                    Body::Unknown { kind_version, .. } => *kind_version,
                }
            }

            pub(crate) fn to_value(&self) -> Result<Value, EvidenceError> {
                match self {
                    $(Body::$name(body) => serde_json::to_value(body).map_err(EvidenceError::Write),)*
                    Body::Unknown { body, .. } => Ok(body.clone()),
                }
            }

            pub(crate) fn read(kind: String, kind_version: u32, body: Value) -> Result<Body, EvidenceError> {
                let (kind_version, body) = to_latest(&kind, kind_version, body);
                match (kind.as_str(), kind_version) {
                    $(($kind, $version) => serde_json::from_value(body).map(|body: $name| body.into()).map_err(|source| {
                        EvidenceError::Shape { what: concat!("body of ", $kind).to_owned(), source }
                    }),)*
                    _ => Ok(Body::Unknown { kind, kind_version, body }),
                }
            }
        }

        $(impl From<$name> for Body {
            fn from(body: $name) -> Self {
                Body::$name(Box::new(body))
            }
        })*
    };
}

kinds! {
    /// The facility begins.
    FacilityCreated = "facility-created", version 1;
    /// A unit begins, or is renamed.
    UnitAdded = "unit-added", version 1;
    /// A person joins a unit.
    PersonAdded = "person-added", version 1;
    /// A person changes unit or role, or leaves.
    PersonMoved = "person-moved", version 1;
    /// A person is called otherwise.
    PersonRenamed = "person-renamed", version 1;
    /// Who must hold a procedure.
    RequirementSet = "requirement-set", version 2;
    /// A person may observe.
    ObserverAppointed = "observer-appointed", version 1;
    /// A person holds a certificate to sign with.
    CertificateIssued = "certificate-issued", version 1;
    /// A certificate holds no longer.
    CertificateRevoked = "certificate-revoked", version 1;
    /// The facility's authority has another key and certificate.
    AuthorityRolledOver = "authority-rolled-over", version 1;
    /// A procedure is in force in a version.
    ProcedurePublished = "procedure-published", version 2;
    /// A procedure is no longer in force, in any version so far.
    ProcedureRetired = "procedure-retired", version 1;
    /// A demonstration is sealed.
    DemonstrationSealed = "demonstration-sealed", version 1;
    /// A validation from elsewhere is accepted.
    OutsideEvidenceAccepted = "outside-evidence-accepted", version 1;
    /// A sealed demonstration, a correction or a statement no longer counts.
    RecordVoided = "record-voided", version 1;
    /// A sealed demonstration or an accepted evidence says something wrong, and what is right.
    RecordCorrected = "record-corrected", version 1;
    /// The person observed has seen a record, or declined to sign it.
    RecordCountersigned = "record-countersigned", version 1;
    /// What the facility chose where the rules leave it the choice.
    FacilityRulesSet = "facility-rules-set", version 1;
    /// A person may not be sent in for now.
    PersonSuspended = "person-suspended", version 1;
    /// A suspension ends.
    SuspensionLifted = "suspension-lifted", version 1;
    /// A person is away, or is back.
    LeaveStated = "leave-stated", version 1;
    /// What was shown so far must be shown again early.
    RevalidationAsked = "revalidation-asked", version 1;
    /// A person was fit tested with a respirator.
    FitTested = "fit-tested", version 1;
    /// Occupational health says whether a person may wear a respirator.
    MedicallyEvaluated = "medically-evaluated", version 1;
    /// An observer's session, as it is planned from now on.
    SessionSet = "session-set", version 1;
    /// A person's place in a session.
    PlaceGiven = "place-given", version 1;
    /// A person was reminded.
    ReminderSent = "reminder-sent", version 2;
}

/// The facility begins.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FacilityCreated {
    /// Its name.
    pub name: String,
    /// IANA name of its time zone.
    pub zone: String,
    /// SHA-256 of its authority's certificate (DER).
    pub authority: Option<Digest>,
}

/// A unit begins, or is renamed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnitAdded {
    /// The unit.
    pub unit: UnitId,
    /// What people call it.
    pub name: String,
}

/// A person joins a unit. Their name is not here: it lies beside, bound by its digest, and can be erased.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PersonAdded {
    /// The person.
    pub person: PersonId,
    /// Their unit.
    pub unit: UnitId,
    /// Their role, such as `Nurse`.
    pub role: String,
    /// From this civil date.
    pub from: NaiveDate,
    /// [`crate::name_digest`] of their name and number.
    pub name_digest: Digest,
}

/// A person changes unit or role, or leaves.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PersonMoved {
    /// The person.
    pub person: PersonId,
    /// Their new unit; `None` when they leave.
    pub unit: Option<UnitId>,
    /// Their role from then on.
    pub role: String,
    /// From this civil date.
    pub from: NaiveDate,
}

/// Who must hold a procedure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RequirementSet {
    /// The procedure.
    pub procedure: ProcedureId,
    /// Of the people of this unit; of every unit where it is `None`.
    pub unit: Option<UnitId>,
    /// Of the people in this role; in every role where it is `None`.
    pub role: Option<String>,
    /// `false` takes back the requirement for the same procedure, unit and role.
    pub required: bool,
    /// At least every so many calendar months; as often as the procedure says where it is `None`.
    pub months: Option<u32>,
    /// How many days before it runs out to remind, the most first; from the first on a validation counts as
    /// due soon.
    pub lead_days: Vec<u32>,
    /// From this civil date.
    pub from: NaiveDate,
}

impl RequirementSet {
    /// How many days before it runs out a validation counts as due soon.
    pub fn due_soon_days(&self) -> u32 {
        self.lead_days.iter().copied().max().unwrap_or(0)
    }
}

/// A person is called otherwise. The name lies beside, as that of [`PersonAdded`] does.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PersonRenamed {
    /// The person.
    pub person: PersonId,
    /// [`crate::name_digest`] of their new name and their number.
    pub name_digest: Digest,
}

/// A person may observe. The first observers cannot have been observed here, so it rests on outside evidence.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ObserverAppointed {
    /// The person.
    pub person: PersonId,
    /// The procedures they may observe; every one where it is `None`.
    pub procedures: Option<Vec<ProcedureId>>,
    /// What the appointment rests on.
    pub evidence: String,
    /// From this civil date.
    pub from: NaiveDate,
    /// Through this civil date; open where it is `None`.
    pub until: Option<NaiveDate>,
}

/// A person holds a certificate to sign with, or a device does for what it seals without anybody's PIN.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CertificateIssued {
    /// The person; for a device, its name in the entries.
    pub person: PersonId,
    /// The certificate, as PEM text.
    pub certificate: String,
    /// SHA-256 of the certificate (DER).
    pub fingerprint: Digest,
    /// Valid from.
    pub not_before: DateTime<FixedOffset>,
    /// Valid until.
    pub not_after: DateTime<FixedOffset>,
}

/// A certificate holds no longer: its observer left, or a tablet was lost.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CertificateRevoked {
    /// Whose it is.
    pub person: PersonId,
    /// SHA-256 of the certificate (DER).
    pub fingerprint: Digest,
    /// Since when.
    pub at: DateTime<FixedOffset>,
    /// Why.
    pub reason: String,
    /// The last entry of each stream that is accepted from its holder. What stands after it, or in a
    /// stream that is not named, was written with a key that may have been in other hands, whatever
    /// moment it claims.
    pub last_accepted: BTreeMap<Uuid, Seen>,
    /// The revocation list that the authority signed, as PEM text; new records carry it.
    pub list: String,
}

/// The facility's authority has another key and certificate: the one before ran out, or its passphrase is lost
/// or known to others. Whoever trusts records of the facility must trust the new certificate as well.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AuthorityRolledOver {
    /// The certificate before, as PEM text; records that were signed under it stay as good as they were.
    pub before: String,
    /// The certificate from now on, as PEM text.
    pub certificate: String,
    /// SHA-256 of it (DER).
    pub fingerprint: Digest,
    /// Why.
    pub reason: String,
}

/// A procedure is in force in a version.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProcedurePublished {
    /// The procedure, whole.
    pub procedure: Procedure,
    /// [`crate::procedure_hash`] of it.
    pub hash: Digest,
    /// From this civil date.
    pub from: NaiveDate,
    /// Who approved it; `None` where it came with the program.
    pub approved: Option<Approval>,
    /// Whether people must be validated again on it; `None` where earlier validations hold on.
    pub revalidate: Option<Revalidation>,
}

/// Who approved a procedure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Approval {
    /// The person.
    pub by: PersonId,
    /// On this civil date.
    pub on: NaiveDate,
}

/// That people must be validated again on a version, and until when.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Revalidation {
    /// Validations on earlier versions hold through this civil date at most.
    pub by: NaiveDate,
    /// Why, as the educator decided it.
    pub why: String,
}

/// A procedure is no longer in force, in any version published before this.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProcedureRetired {
    /// The procedure.
    pub procedure: ProcedureId,
    /// Why.
    pub why: String,
    /// From this civil date.
    pub from: NaiveDate,
}

impl Body {
    /// The person whose standing the entry may change; `None` where it is about the facility.
    pub fn person(&self) -> Option<&PersonId> {
        match self {
            Body::PersonAdded(body) => Some(&body.person),
            Body::PersonMoved(body) => Some(&body.person),
            Body::ObserverAppointed(body) => Some(&body.person),
            Body::CertificateIssued(body) => Some(&body.person),
            Body::DemonstrationSealed(body) => Some(&body.person),
            Body::OutsideEvidenceAccepted(body) => Some(&body.person),
            Body::RecordVoided(body) => Some(&body.person),
            Body::RecordCorrected(body) => Some(&body.person),
            Body::RecordCountersigned(body) => Some(&body.person),
            Body::PersonSuspended(body) => Some(&body.person),
            Body::SuspensionLifted(body) => Some(&body.person),
            Body::LeaveStated(body) => Some(&body.person),
            Body::RevalidationAsked(body) => body.person.as_ref(),
            Body::FitTested(body) => Some(&body.person),
            Body::MedicallyEvaluated(body) => Some(&body.person),
            Body::PersonRenamed(body) => Some(&body.person),
            Body::PlaceGiven(body) => Some(&body.person),
            Body::ReminderSent(body) => Some(&body.person),
            Body::FacilityCreated(_)
            | Body::UnitAdded(_)
            | Body::RequirementSet(_)
            // It may touch whoever its holder observed, so it belongs to everyone's facts.
            | Body::CertificateRevoked(_)
            | Body::AuthorityRolledOver(_)
            | Body::ProcedurePublished(_)
            | Body::ProcedureRetired(_)
            | Body::FacilityRulesSet(_)
            | Body::SessionSet(_)
            | Body::Unknown { .. } => None,
        }
    }
}
