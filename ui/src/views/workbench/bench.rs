//! The draft on the workbench: edits go through the rules, and what they make is kept at once.

use chrono::{Datelike, NaiveDate};
use competency::procedure::{Edit, Procedure, Step, compare, edit, kept_in_order};
use contract::{Fault, KeepDraft, OpenedDraft};
use leptos::{prelude::*, task::spawn_local};

use crate::{call::call, widgets::announcer::Announcer};

/// Whether what is on the screen is on the disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Keeping {
    /// It is.
    Kept,
    /// It is being written; `again` where it changed meanwhile.
    UnderWay { again: bool },
    /// It is not; the next edit tries once more.
    Failed(Fault),
}

/// A draft being worked on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bench {
    draft: StoredValue<String>,
    published: StoredValue<Option<Procedure>>,
    today: NaiveDate,
    /// The draft as it is now.
    pub(super) procedure: RwSignal<Procedure>,
    /// Whether it is on the disk.
    pub(super) keeping: RwSignal<Keeping>,
    /// What the last edit did besides what was asked.
    pub(super) noted: RwSignal<Option<String>>,
    /// Why the last edit was not made.
    pub(super) refused: RwSignal<Option<String>>,
    announcer: Announcer,
}

impl Bench {
    /// Puts a draft on the workbench.
    pub(super) fn new(opened: OpenedDraft) -> Self {
        Bench {
            draft: StoredValue::new(opened.draft),
            published: StoredValue::new(opened.published),
            today: opened.today,
            procedure: RwSignal::new(opened.procedure),
            keeping: RwSignal::new(Keeping::Kept),
            noted: RwSignal::new(None),
            refused: RwSignal::new(None),
            announcer: Announcer::here(),
        }
    }

    /// Names the draft.
    pub(super) fn draft(self) -> String {
        self.draft.get_value()
    }

    /// The latest published version, where there is one.
    pub(super) fn published(self) -> Option<Procedure> {
        self.published.get_value()
    }

    /// The year it is.
    pub(super) fn year(self) -> i32 {
        self.today.year()
    }

    /// A part of the draft that changes with it.
    pub(super) fn read<T: PartialEq + Send + Sync + 'static>(
        self,
        part: impl Fn(&Procedure) -> T + Send + Sync + 'static,
    ) -> Memo<T> {
        Memo::new(move |_| self.procedure.with(&part))
    }

    /// A part of one step; the default where the step is gone.
    pub(super) fn read_step<T: PartialEq + Default + Send + Sync + 'static>(
        self,
        id: String,
        part: impl Fn(&Step) -> T + Send + Sync + 'static,
    ) -> Memo<T> {
        self.read(move |draft| draft.steps.iter().find(|step| step.id == id).map(&part).unwrap_or_default())
    }

    /// Makes an edit, and keeps what it made; `false` where the rules refuse it.
    pub(super) fn edit(self, change: &Edit) -> bool {
        let made = self.procedure.with_untracked(|draft| {
            edit(draft, change).map(|changed| (kept_in_order(draft, change, &changed), changed))
        });
        match made {
            Ok((noted, changed)) => {
                if let Some(noted) = &noted {
                    self.announcer.say(noted.clone());
                }
                self.noted.set(noted);
                self.refused.set(None);
                let changed = self.published.with_value(|published| versioned(published.as_ref(), changed));
                self.procedure.set(changed);
                self.keep();
                true
            }
            Err(refusal) => {
                self.announcer.warn(refusal.to_string());
                self.noted.set(None);
                self.refused.set(Some(refusal.to_string()));
                false
            }
        }
    }

    /// Changes something of a step that is not its order.
    pub(super) fn edit_step(self, id: &str, change: impl FnOnce(&mut Step)) -> bool {
        let step =
            self.procedure.with_untracked(|draft| draft.steps.iter().find(|step| step.id == id).cloned());
        let Some(mut step) = step else { return false };
        change(&mut step);
        self.edit(&Edit::ChangeStep(step))
    }

    /// Writes the draft as it is; one write at a time, the last state last.
    fn keep(self) {
        if matches!(self.keeping.get_untracked(), Keeping::UnderWay { .. }) {
            self.keeping.set(Keeping::UnderWay { again: true });
            return;
        }
        self.keeping.set(Keeping::UnderWay { again: false });
        spawn_local(async move {
            loop {
                let request = KeepDraft { draft: self.draft(), procedure: self.procedure.get_untracked() };
                let answer = call(request).await;
                // The view may be gone by now, and with it its signals.
                match (self.keeping.try_get_untracked(), answer) {
                    (Some(Keeping::UnderWay { again: true }), Ok(_)) => {
                        self.keeping.set(Keeping::UnderWay { again: false });
                    }
                    (Some(_), Ok(_)) => return self.keeping.set(Keeping::Kept),
                    (Some(_), Err(fault)) => return self.keeping.set(Keeping::Failed(fault)),
                    (None, _) => return,
                }
            }
        });
    }
}

/// A draft with the version that follows from what changed since the published one.
pub(super) fn versioned(published: Option<&Procedure>, mut draft: Procedure) -> Procedure {
    let proposed =
        published.and_then(|published| compare(published, &draft).next_version(&published.version));
    if let Some(version) = proposed {
        draft.version = version;
    }
    draft
}
