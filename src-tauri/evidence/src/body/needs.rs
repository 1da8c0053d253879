use super::Body;

/// Whose signature an entry needs beside its device's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needs {
    /// Nobody's.
    Nobody,
    /// Its author's, by the certificate that the entry names.
    Author,
    /// Its author's, where it names one.
    AuthorIfNamed,
    /// That of the facility's authority.
    Authority,
}

impl Body {
    /// What grants or takes away is signed by whoever may do so.
    pub fn needs(&self) -> Needs {
        match self {
            Body::FacilityCreated(_)
            | Body::ObserverAppointed(_)
            | Body::CertificateIssued(_)
            | Body::CertificateRevoked(_)
            | Body::AuthorityRolledOver(_)
            | Body::ProcedurePublished(_)
            | Body::ProcedureRetired(_) => Needs::Authority,
            Body::DemonstrationSealed(_)
            | Body::RecordCorrected(_)
            | Body::RecordVoided(_)
            | Body::RecordCountersigned(_)
            | Body::OutsideEvidenceAccepted(_)
            | Body::PersonSuspended(_)
            | Body::SuspensionLifted(_) => Needs::Author,
            // New equipment asks for it without anybody's judgement.
            Body::RevalidationAsked(_) => Needs::AuthorIfNamed,
            Body::UnitAdded(_)
            | Body::PersonAdded(_)
            | Body::PersonMoved(_)
            | Body::PersonRenamed(_)
            | Body::RequirementSet(_)
            | Body::FacilityRulesSet(_)
            | Body::LeaveStated(_)
            | Body::FitTested(_)
            | Body::MedicallyEvaluated(_)
            | Body::SessionSet(_)
            | Body::PlaceGiven(_)
            | Body::ReminderSent(_)
            | Body::Unknown { .. } => Needs::Nobody,
        }
    }
}
