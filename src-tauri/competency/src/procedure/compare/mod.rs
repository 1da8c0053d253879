//! What changed between two versions of a procedure, in the trade's words, and what follows from it.
//!
//! Whether a change asks for a new demonstration is common practice, no source, save for new equipment:
//! 29 CFR 1910.132(f)(3) and 1910.134(k)(5) ask for retraining when it changes (from memory). It is a
//! proposal; the educator decides.

mod change;
mod happenings;
mod head;
mod order;
mod steps;

use semver::{BuildMetadata, Prerelease, Version};
use serde::{Deserialize, Serialize};

pub use change::{Asks, Change, Reworded, Subject, Turn};

use super::Procedure;
use crate::model::Model;

/// Everything that changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Comparison {
    /// The changes, what asks most first; then in the order of the procedure.
    pub changes: Vec<Change>,
}

/// Whether people should show the procedure again; the educator decides.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Proposal {
    /// Whether re-validation is proposed.
    pub revalidate: bool,
    /// Why, in plain sentences.
    pub reason: String,
}

/// Compares two versions of a procedure. Version and `$schema` are not compared: they say nothing of
/// what people do. Nothing else can differ without a change being told.
pub fn compare(old: &Procedure, new: &Procedure) -> Comparison {
    let (old, new) = (Side::of(old), Side::of(new));
    let mut told = Told(Vec::new());
    head::compare(&old, &new, &mut told);
    steps::compare(&old, &new, &mut told);
    order::compare(&old, &new, &mut told);
    happenings::compare(&old, &new, &mut told);
    let mut changes = told.0;
    if changes.is_empty() && !same_but_for_version(old.procedure, new.procedure) {
        changes.push(Change {
            subject: Subject::Arrangement,
            turn: Turn::Other,
            step: None,
            text: "Only the arrangement of the file changed; what it says is the same.".to_owned(),
            words: Vec::new(),
        });
    }
    changes.sort_by_key(|change| std::cmp::Reverse(change.asks()));
    Comparison { changes }
}

fn same_but_for_version(old: &Procedure, new: &Procedure) -> bool {
    let bare =
        |procedure: &Procedure| Procedure { schema: None, version: String::new(), ..procedure.clone() };
    bare(old) == bare(new)
}

impl Comparison {
    /// Whether nothing changed.
    pub fn is_empty(&self) -> bool {
        self.changes.is_empty()
    }

    /// What the changes ask for together.
    pub fn asks(&self) -> Asks {
        self.changes.iter().map(Change::asks).max().unwrap_or(Asks::Nothing)
    }

    /// Whether people should show the procedure again, and why.
    pub fn proposal(&self) -> Proposal {
        let reason = match self.asks() {
            Asks::Demonstration => {
                let reasons: Vec<&Change> =
                    self.changes.iter().filter(|change| change.asks() == Asks::Demonstration).collect();
                let first = reasons.iter().min_by_key(|change| change.subject.gravity());
                let first = first.map_or("", |change| &*change.text);
                let more = match reasons.len() {
                    0 | 1 => String::new(),
                    2 => " One more change asks for it too.".to_owned(),
                    count => format!(" {} more changes ask for it too.", count - 1),
                };
                format!("Who learnt the version before would no longer do it as it should be: {first}{more}")
            }
            Asks::Telling => {
                "Who does it as in the version before still does it safely; people should be told what changed."
                    .to_owned()
            }
            Asks::Nothing if self.is_empty() => "Nothing changed.".to_owned(),
            Asks::Nothing => "Only words changed; what people do stays the same.".to_owned(),
        };
        Proposal { revalidate: self.asks() == Asks::Demonstration, reason }
    }

    /// The version that the new one should have, after the old one's: a new first number where people
    /// should show it again, a new second one where they should be told, else a new third one; the same
    /// version where nothing changed. `None` where the old one is no semantic version.
    pub fn next_version(&self, old: &str) -> Option<String> {
        let old = Version::parse(old).ok()?;
        if self.is_empty() {
            return Some(old.to_string());
        }
        let (major, minor, patch) = match self.asks() {
            Asks::Demonstration => (old.major.checked_add(1)?, 0, 0),
            Asks::Telling => (old.major, old.minor.checked_add(1)?, 0),
            Asks::Nothing => (old.major, old.minor, old.patch.checked_add(1)?),
        };
        let (pre, build) = (Prerelease::EMPTY, BuildMetadata::EMPTY);
        Some(Version { major, minor, patch, pre, build }.to_string())
    }
}

/// One of the two versions.
struct Side<'p> {
    procedure: &'p Procedure,
    model: Model,
}

impl<'p> Side<'p> {
    fn of(procedure: &'p Procedure) -> Self {
        Side { procedure, model: Model::new(procedure.clone()) }
    }

    fn has(&self, step: &str) -> bool {
        self.model.step_number(step).is_some()
    }

    fn name(&self, step: &str) -> String {
        self.model.step_name(step)
    }

    fn act(&self, act: &str) -> String {
        format!("“{}”", self.model.act_label(act))
    }

    fn condition(&self, id: &str) -> String {
        format!("“{}”", self.procedure.condition_text(id).trim_end_matches('.'))
    }
}

/// The changes told so far.
struct Told(Vec<Change>);

impl Told {
    fn add(&mut self, subject: Subject, turn: Turn, step: Option<&str>, text: String) {
        self.0.push(Change { subject, turn, step: step.map(str::to_owned), text, words: Vec::new() });
    }

    /// What is in one list and not in the other.
    fn lists<T: PartialEq>(
        &mut self,
        (old, new): (&[T], &[T]),
        subject: Subject,
        step: Option<&str>,
        text: impl Fn(&T, Turn) -> String,
    ) {
        for (list, other, turn) in [(new, old, Turn::More), (old, new, Turn::Less)] {
            for item in list.iter().filter(|item| !other.contains(item)) {
                self.add(subject, turn, step, text(item, turn));
            }
        }
    }

    /// Words that changed, told once for all of them, with the passages where they can be shown; `other`
    /// says that something changed besides.
    fn words(&mut self, other: bool, step: Option<&str>, of: &str, passages: &[(&str, &str)]) {
        let words = Reworded::among(passages);
        if other || !words.is_empty() {
            let (step, text) = (step.map(str::to_owned), format!("Only words changed in {of}."));
            self.0.push(Change { subject: Subject::Words, turn: Turn::Other, step, text, words });
        }
    }
}
