//! Who may be who in one demonstration.

/// Why these people cannot carry out a demonstration together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RoleFault {
    /// Nobody observes themselves.
    ObservesThemselves,
    /// The observer gives no help while somebody takes equipment off.
    ObserverAssists,
    /// Nobody assists themselves.
    AssistsThemselves,
}

impl RoleFault {
    /// One plain sentence: what is wrong, and what to do.
    pub fn sentence(self) -> &'static str {
        match self {
            RoleFault::ObservesThemselves => "Nobody observes themselves; choose another observer.",
            RoleFault::ObserverAssists => "The observer only watches; choose somebody else as the assistant.",
            RoleFault::AssistsThemselves => {
                "Nobody assists themselves; choose somebody else as the assistant."
            }
        }
    }
}

/// Whether these people, by their ids, may take these roles: the observer is neither the wearer nor the
/// assistant. That the observer gives no physical help while there is an assistant is CDC's guidance for
/// high-consequence care.
pub fn check(wearer: &str, observer: &str, assistant: Option<&str>) -> Result<(), RoleFault> {
    match assistant {
        _ if wearer == observer => Err(RoleFault::ObservesThemselves),
        Some(assistant) if assistant == observer => Err(RoleFault::ObserverAssists),
        Some(assistant) if assistant == wearer => Err(RoleFault::AssistsThemselves),
        Some(_) | None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_people_are_three_people() {
        assert_eq!(check("a", "b", None), Ok(()));
        assert_eq!(check("a", "b", Some("c")), Ok(()));
        assert_eq!(check("a", "a", None), Err(RoleFault::ObservesThemselves));
        assert_eq!(check("a", "b", Some("b")), Err(RoleFault::ObserverAssists));
        assert_eq!(check("a", "b", Some("a")), Err(RoleFault::AssistsThemselves));
    }
}
