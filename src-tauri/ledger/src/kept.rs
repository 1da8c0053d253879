//! Facts and their index, kept from one question to the next and grown by the entries written since.

use std::sync::Arc;

use chrono::NaiveDate;
use evidence::{Entry, Facts, Hlc, Index};
use uuid::Uuid;

/// What is kept of the entries up to a row of the file.
#[derive(Debug)]
pub(crate) struct Kept {
    /// The last row whose entry is in it.
    pub(crate) last: i64,
    /// Leaves out what was not known by the end of this date.
    known_at: Option<NaiveDate>,
    /// The order of the latest entry.
    latest: Option<(Hlc, Uuid, u64)>,
    facts: Arc<Facts>,
    /// Made when a roster asks for it.
    index: Option<Arc<Index>>,
}

impl Kept {
    /// Folds all entries, those up to the row `last`.
    pub(crate) fn of(entries: Vec<Entry>, known_at: Option<NaiveDate>, last: i64) -> Kept {
        let latest = entries.iter().map(Entry::order).max();
        Kept { last, known_at, latest, facts: Arc::new(Facts::fold(entries, known_at)), index: None }
    }

    /// Whether it answers as of what was known then.
    pub(crate) fn is_known_at(&self, known_at: Option<NaiveDate>) -> bool {
        self.known_at == known_at
    }

    /// Takes the entries in that came since, those up to the row `last`; where one of them comes before what is
    /// in it already, as from another device, it says no, and everything has to be folded anew.
    pub(crate) fn grow(&mut self, mut entries: Vec<Entry>, last: i64) -> bool {
        if entries.iter().any(|entry| Some(entry.order()) <= self.latest) {
            return false;
        }
        self.latest = entries.iter().map(Entry::order).max().or(self.latest);
        entries.retain(|entry| self.known_at.is_none_or(|known_at| entry.known_on() <= known_at));
        self.last = last;
        // Whoever still reads the facts of before keeps them: they are then copied once.
        let touched = Arc::make_mut(&mut self.facts).grow(entries);
        if let Some(index) = &mut self.index {
            Arc::make_mut(index).renew(&self.facts, &touched);
        }
        true
    }

    /// The facts.
    pub(crate) fn facts(&self) -> Arc<Facts> {
        Arc::clone(&self.facts)
    }

    /// The index of them.
    pub(crate) fn index(&mut self) -> Arc<Index> {
        Arc::clone(self.index.get_or_insert_with(|| Arc::new(Index::of(&self.facts))))
    }
}
