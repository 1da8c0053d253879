use serde::{Deserialize, Serialize};

/// How a person stands with one procedure on one date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// A validation holds, with more than the lead time left.
    Current,
    /// A validation holds, but not for longer than the lead time.
    DueSoon,
    /// The last validation has run out.
    Overdue,
    /// The latest completed validation attempt was not yet competent.
    NotYetCompetent,
    /// No validation attempt was ever completed.
    NeverValidated,
    /// Suspended by a signed entry.
    Suspended,
    /// Nothing requires it of this person, and nothing was demonstrated.
    NotRequired,
}

impl State {
    /// Every state, in the order in which a roster counts them.
    pub const ALL: [State; 7] = [
        State::Current,
        State::DueSoon,
        State::Overdue,
        State::NotYetCompetent,
        State::NeverValidated,
        State::Suspended,
        State::NotRequired,
    ];

    /// Whether a validation holds.
    pub fn holds(self) -> bool {
        matches!(self, State::Current | State::DueSoon)
    }

    /// Whether somebody who must hold it does not.
    pub fn lapsed(self) -> bool {
        matches!(self, State::Overdue | State::NotYetCompetent | State::NeverValidated)
    }

    /// Whether somebody who must hold it does not, and has no last day that tells: not yet competent, or never
    /// validated.
    pub fn lacks(self) -> bool {
        matches!(self, State::NotYetCompetent | State::NeverValidated)
    }

    /// Whether a validation runs out, or has run out, on a day that people are reminded of.
    pub fn runs_out(self) -> bool {
        matches!(self, State::Current | State::DueSoon | State::Overdue)
    }

    /// Whether a day for the next one is near or has passed: what people are told of as due.
    pub fn falls_due(self) -> bool {
        matches!(self, State::DueSoon | State::Overdue)
    }

    /// The state in words, as screens and papers show it.
    pub fn words(self) -> &'static str {
        match self {
            State::Current => "current",
            State::DueSoon => "due soon",
            State::Overdue => "overdue",
            State::NotYetCompetent => "not yet competent",
            State::NeverValidated => "never validated",
            State::Suspended => "suspended",
            State::NotRequired => "not required",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::State;

    /// Who is told of as due has a day, near or passed; nobody else is.
    #[test]
    fn what_falls_due_runs_out_soon_or_has() {
        let due: Vec<State> = State::ALL.into_iter().filter(|state| state.falls_due()).collect();
        assert_eq!(due, [State::DueSoon, State::Overdue]);
        assert!(due.into_iter().all(State::runs_out));
    }
}
