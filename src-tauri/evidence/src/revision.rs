//! How often what a calendar shows was changed: the SEQUENCE of its entry (RFC 5545, 3.8.7.4). A calendar keeps the
//! entry with the higher one, so it may never fall, on whatever device a file is made.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::{Facts, PlaceGiven, SessionId};

/// Of a reminder that tells the last valid day, and of one that takes it back.
///
/// It is twice the number of that day since 1970-01-01, which grows as a re-validation moves the day on; taking it
/// back adds one, and is overtaken by a renewal for even one day more. It needs no count of what was sent.
pub fn of_due(valid_until: NaiveDate, taken_back: bool) -> i64 {
    let days = valid_until.signed_duration_since(NaiveDate::default()).num_days().max(0);
    2 * days + i64::from(taken_back)
}

impl Facts {
    /// Of the invitation of a person for a procedure: how often it changed, with each place given after the first and
    /// with each change of a session that it was ever for.
    pub fn invitation_revision(&self, person: &str, procedure: &str) -> u32 {
        let places = self.people.get(person).map(|known| known.places.as_slice()).unwrap_or_default();
        let own: Vec<&PlaceGiven> = places.iter().filter(|one| one.procedure == procedure).collect();
        let sessions: BTreeSet<&SessionId> = own.iter().filter_map(|one| one.session.as_ref()).collect();
        let sets = |id: &&SessionId| self.sessions.get(*id).map_or(0, |sets| sets.len().saturating_sub(1));
        let changes = own.len().saturating_sub(1) + sessions.iter().map(sets).sum::<usize>();
        u32::try_from(changes).unwrap_or(u32::MAX)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Body, Hlc, SessionSet, entry::tests::entry};

    fn day(n: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 11, n).unwrap()
    }

    /// RFC 5545, 3.8.7.4: "monotonically incremented"; that it is the day is ours.
    #[test]
    fn a_renewal_overtakes_what_took_the_day_before_back() {
        let mut told = Vec::new();
        for on in (1..29).map(day) {
            told.extend([of_due(on, false), of_due(on, true)]);
        }
        assert!(told.is_sorted_by(|one, other| one < other), "{told:?}");
        assert_eq!(of_due(NaiveDate::MIN, false), 0, "never below what RFC 5545 begins with");
    }

    #[test]
    fn an_invitation_s_sequence_never_falls() {
        let set = |session: &str, place: &str| -> Body {
            SessionSet {
                session: session.to_owned(),
                on: day(20),
                at: None,
                place: place.to_owned(),
                observer: "o".to_owned(),
                places: 4,
                procedures: None,
                held: true,
            }
            .into()
        };
        let given = |session: Option<&str>| -> Body {
            PlaceGiven {
                person: "p".to_owned(),
                procedure: "doffing".to_owned(),
                session: session.map(str::to_owned),
                by_hand: false,
                because: String::new(),
            }
            .into()
        };
        let acts = [
            (set("a", "room 1"), 0),
            (set("b", "room 1"), 0),
            (given(Some("a")), 0),
            (set("b", "room 2"), 0),
            (set("a", "room 2"), 1),
            // Session b was changed before this invitation was for it; that it counts does no harm.
            (given(Some("b")), 3),
            (set("a", "room 3"), 4),
            (given(None), 5),
            (given(Some("a")), 6),
        ];
        let mut facts = Facts::default();
        for (n, (body, expected)) in (1..).zip(acts) {
            let mut entry = entry(body);
            entry.hlc = Hlc { ms: n, n: 0 };
            facts.grow(vec![entry]);
            assert_eq!(facts.invitation_revision("p", "doffing"), expected, "after act {n}");
        }
        assert_eq!(facts.invitation_revision("p", "donning"), 0);
    }
}
