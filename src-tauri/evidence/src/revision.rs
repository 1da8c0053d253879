//! How often what a calendar shows was changed: the SEQUENCE of its entry (RFC 5545, 3.8.7.4). A calendar keeps the
//! entry with the higher one, so it may never fall, on whatever device a file is made.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use competency::validity::State;

use crate::{Facts, PlaceGiven, ReminderForm, SessionId};

impl Facts {
    /// Of the reminder of a person for a procedure, if it now tells this last valid day, or takes it back. Telling the
    /// same again changes nothing, and anything else is one more than was ever told: it rises whichever way a day
    /// moves, and however often a reminder is taken back. What was told is written down with what was sent.
    pub fn reminder_revision(
        &self,
        person: &str,
        procedure: &str,
        until: NaiveDate,
        taken_back: bool,
    ) -> u32 {
        let sent = self.people.get(person).map(|known| known.reminders.as_slice()).unwrap_or_default();
        let own = sent.iter().filter(|one| one.form == ReminderForm::Calendar && one.procedure == procedure);
        let Some(last) = own.clone().next_back() else { return 0 };
        let most = own.filter_map(|one| one.sequence).max().unwrap_or_default();
        let same = (last.valid_until, last.cancels) == (Some(until), taken_back);
        most.saturating_add(u32::from(!same))
    }

    /// Whether a reminder still tells the truth on a date: the validation runs out on the day that was told, is required
    /// of them, and nobody is suspended.
    pub fn reminder_holds(&self, person: &str, procedure: &str, told: NaiveDate, on: NaiveDate) -> bool {
        let standing = self.standing(person, procedure, on);
        standing.state != State::Suspended
            && standing.valid_until == Some(told)
            && self.requirement(person, procedure, on).is_some()
    }

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
    use crate::{Body, Entry, Hlc, ReminderSent, SessionSet, entry::tests::entry};

    fn day(n: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 11, n).unwrap()
    }

    /// RFC 5545, 3.8.7.4: "monotonically incremented" with each significant change.
    #[test]
    fn a_reminder_s_sequence_rises_with_each_change_and_never_falls() {
        let sent = |valid_until, form, cancels, sequence| -> Body {
            let valid_until = Some(valid_until);
            let (person, procedure) = ("p".to_owned(), "doffing".to_owned());
            ReminderSent { person, procedure, valid_until, form, on: day(1), cancels, sequence }.into()
        };
        let calendar = ReminderForm::Calendar;
        let acts = [
            (day(20), calendar, false, 0),
            (day(20), calendar, false, 0),
            // An early trigger moves the day to the front, and a renewal back.
            (day(9), calendar, false, 1),
            (day(9), ReminderForm::Notice, false, 1),
            (day(20), calendar, false, 2),
            // Suspended, and lifted again.
            (day(20), calendar, true, 3),
            (day(20), calendar, false, 4),
        ];
        let mut facts = Facts::default();
        for (n, (until, form, cancels, expected)) in (1..).zip(acts) {
            let told = facts.reminder_revision("p", "doffing", until, cancels);
            assert_eq!(
                told, expected,
                "before act {n}: a file that nobody sent has the number it would have"
            );
            let sequence = (form == calendar).then_some(told);
            let mut entry = entry(sent(until, form, cancels, sequence));
            entry.hlc = Hlc { ms: n, n: 0 };
            facts.grow(vec![entry]);
            assert_eq!(facts.reminder_revision("p", "doffing", until, cancels), expected, "after act {n}");
        }
        assert_eq!(facts.reminder_revision("p", "donning", day(9), false), 0);
        // An earlier program told twice the day, and began higher.
        facts.grow(vec![Entry {
            hlc: Hlc { ms: 99, n: 0 },
            ..entry(sent(day(20), calendar, false, Some(41_552)))
        }]);
        assert_eq!(facts.reminder_revision("p", "doffing", day(20), false), 41_552);
        assert_eq!(facts.reminder_revision("p", "doffing", day(9), false), 41_553);
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
