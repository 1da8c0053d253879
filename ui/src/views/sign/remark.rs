//! Remarks that are being written: whoever looks at the review once more finds theirs again.

use std::collections::BTreeMap;

use leptos::prelude::*;

/// The remark of each demonstration that is not sealed yet, while the window is open.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Remarks {
    written: StoredValue<BTreeMap<String, String>>,
}

impl Remarks {
    /// Puts them into the context of the whole window.
    pub(crate) fn provide() {
        provide_context(Remarks { written: StoredValue::new(BTreeMap::new()) });
    }

    /// Those of this window.
    pub(super) fn here() -> Remarks {
        expect_context()
    }

    /// What was written so far.
    pub(super) fn of(self, demonstration: &str) -> String {
        self.written.with_value(|written| written.get(demonstration).cloned().unwrap_or_default())
    }

    /// Keeps what is written.
    pub(super) fn keep(self, demonstration: &str, remark: String) {
        self.written.update_value(|written| {
            written.insert(demonstration.to_owned(), remark);
        });
    }

    /// It stands in the record now.
    pub(super) fn forget(self, demonstration: &str) {
        self.written.update_value(|written| {
            written.remove(demonstration);
        });
    }
}
