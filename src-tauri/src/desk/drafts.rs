//! The workbench: drafts of procedures, publishing and retiring them.

use competency::{
    flaw::{Flaw, locate},
    procedure::{self, Procedure, compare},
};
use contract::{
    BeginDraft, DraftFrom, DraftLine, DropDraft, Fault, KeepDraft, Kept, ListDrafts, ListProcedures, Next,
    OpenDraft, OpenProcedure, OpenedDraft, OpenedProcedure, ProcedureLine, PublishDraft, RetireProcedure,
};
use evidence::{
    ActingAs, Approval, Author, Facts, ProcedurePublished, ProcedureRetired, Revalidation, procedure_hash,
};
use ledger::{Deed, KeptDraft, Moment};

use super::{Desk, Keys, absent, author, civil_date, typed::filled};
use crate::{fault::ledger_fault, printing::unprintable};

impl Desk {
    /// The drafts, the last one kept first.
    pub(crate) fn list_drafts(&self, _request: &ListDrafts) -> Result<Vec<DraftLine>, Fault> {
        self.reader().drafts().map_err(ledger_fault)?.iter().map(line).collect()
    }

    /// Begins a draft; the same id again is answered with the draft that is there.
    pub(crate) fn begin_draft(&self, request: &BeginDraft, now: &Moment) -> Result<OpenedDraft, Fault> {
        if self.reader().draft(&request.draft).map_err(ledger_fault)?.is_none() {
            let facts = self.reader().facts(None).map_err(ledger_fault)?;
            let published = |id: &String| latest(&facts, id).cloned().ok_or_else(|| absent("procedure"));
            let procedure = match &request.from {
                DraftFrom::NextVersion { procedure } => published(procedure)?,
                DraftFrom::Copy { procedure } => {
                    let taken = |id: &str| facts.procedures.contains_key(id);
                    procedure::copied(&published(procedure)?, taken)
                }
                DraftFrom::File { text } => from_file(text)?,
            };
            self.keep(&request.draft, &procedure, now)?;
        }
        self.open_draft(&OpenDraft { draft: request.draft.clone() }, now)
    }

    /// A draft, whole.
    pub(crate) fn open_draft(&self, request: &OpenDraft, now: &Moment) -> Result<OpenedDraft, Fault> {
        let kept =
            self.reader().draft(&request.draft).map_err(ledger_fault)?.ok_or_else(|| absent("draft"))?;
        let procedure = read_kept(&kept)?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let published = latest(&facts, &procedure.id).cloned();
        let today = civil_date(&facts, now);
        Ok(OpenedDraft { draft: kept.id, procedure, published, today })
    }

    /// Keeps a draft; it is on the disk when this answers.
    pub(crate) fn keep_draft(&self, request: &KeepDraft, now: &Moment) -> Result<Kept, Fault> {
        self.keep(&request.draft, &request.procedure, now)?;
        Ok(Kept {})
    }

    /// Throws a draft away.
    pub(crate) fn drop_draft(&self, request: &DropDraft) -> Result<Vec<DraftLine>, Fault> {
        self.ledger.drop_draft(&request.draft).map_err(ledger_fault)?;
        self.list_drafts(&ListDrafts {})
    }

    /// Publishes a draft: from today on it is in force, and what was published never changes again.
    pub(crate) fn publish_draft(
        &self,
        request: &PublishDraft,
        now: &Moment,
    ) -> Result<OpenedProcedure, Fault> {
        let OpenedDraft { procedure, published, .. } =
            self.open_draft(&OpenDraft { draft: request.draft.clone() }, now)?;
        let flaws = procedure::check(&procedure);
        if !flaws.is_empty() {
            return Err(unusable(&flaws));
        }
        let unprintable = unprintable(&procedure)?;
        if !unprintable.is_empty() {
            return Err(unusable(&unprintable));
        }
        if let Some(published) = &published {
            check_later(published, &procedure)?;
        }
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        if facts.membership(&request.approved_by, today).is_none() {
            return Err(Fault::new(
                Next::MendInput,
                "Nobody who works here has approved it; choose the person who approves it, then publish.",
            ));
        }
        let revalidate = match &request.revalidate {
            Some(asked) => {
                let why = filled(&asked.why, "reason for the re-validation")?.to_owned();
                if asked.by < today {
                    return Err(Fault::new(
                        Next::MendInput,
                        "The date for the re-validation has passed; enter today or a later date.",
                    ));
                }
                Some(Revalidation { by: asked.by, why })
            }
            None => None,
        };
        let authority = self.authority(&request.passphrase)?;
        let id = procedure.id.clone();
        let published = ProcedurePublished {
            hash: procedure_hash(&procedure).map_err(|error| {
                Fault::new(Next::AskForHelp, format!("The procedure cannot be sealed: {error}."))
            })?,
            procedure,
            from: today,
            approved: Some(Approval { by: request.approved_by.clone(), on: today }),
            revalidate,
        };
        let approver = Author { person: Some(request.approved_by.clone()), ..author(ActingAs::Educator) };
        let keys = Keys { authority: Some(&authority), ..Keys::default() };
        self.write_with(keys, &[Deed::new(approver, published)], now)?;
        // Only now: a draft that was published and still lies there can be thrown away, the other way
        // round it would be lost.
        self.ledger.drop_draft(&request.draft).map_err(ledger_fault)?;
        self.open_procedure(&OpenProcedure { id, version: None }, now)
    }

    /// Takes a procedure out of force from today on.
    pub(crate) fn retire_procedure(
        &self,
        request: &RetireProcedure,
        now: &Moment,
    ) -> Result<Vec<ProcedureLine>, Fault> {
        let why = filled(&request.why, "reason for retiring it")?.to_owned();
        let authority = self.authority(&request.passphrase)?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let from = civil_date(&facts, now);
        if facts.in_force(&request.procedure, from).is_some() {
            let retired = ProcedureRetired { procedure: request.procedure.clone(), why, from };
            let keys = Keys { authority: Some(&authority), ..Keys::default() };
            self.write_with(keys, &[Deed::new(author(ActingAs::Educator), retired)], now)?;
        }
        self.list_procedures(&ListProcedures { retired: false }, now)
    }

    fn keep(&self, draft: &str, procedure: &Procedure, now: &Moment) -> Result<(), Fault> {
        let text = serde_json::to_string(procedure).map_err(|_never| unreadable())?;
        self.ledger.keep_draft(draft, &text, now).map_err(ledger_fault)
    }
}

/// What a file says, where it can be used and printed.
fn from_file(text: &str) -> Result<Procedure, Fault> {
    let procedure = procedure::read(text).map_err(|flaws| unusable(&flaws))?;
    let mut flaws = unprintable(&procedure)?;
    locate(text, &mut flaws);
    if flaws.is_empty() { Ok(procedure) } else { Err(unusable(&flaws)) }
}

/// The latest version ever published, in force or not.
fn latest<'f>(facts: &'f Facts, procedure: &str) -> Option<&'f Procedure> {
    facts.procedures.get(procedure)?.last().map(|version| &version.published.procedure)
}

/// What was published never changes: the next one has a later version, and says something else.
fn check_later(published: &Procedure, draft: &Procedure) -> Result<(), Fault> {
    let comparison = compare(published, draft);
    if comparison.is_empty() {
        return Err(Fault::new(
            Next::MendInput,
            "Nothing differs from the version that is published; change something, or throw the draft away.",
        ));
    }
    if procedure::is_later(&draft.version, &published.version) {
        return Ok(());
    }
    let proposed = comparison.next_version(&published.version).unwrap_or_default();
    Err(Fault::new(
        Next::MendInput,
        format!(
            "Version {} does not come after {}, which is published and never changes; use {proposed} or a later one.",
            draft.version, published.version
        ),
    ))
}

fn line(kept: &KeptDraft) -> Result<DraftLine, Fault> {
    let procedure = read_kept(kept)?;
    // RFC 3339: date and minutes are its first 16 characters.
    let at: String = kept.kept.chars().take(16).collect();
    Ok(DraftLine {
        draft: kept.id.clone(),
        title: procedure.title,
        version: procedure.version,
        kept: at.replace('T', " "),
    })
}

/// A kept draft may have flaws of sense, never of form: it was written from the types.
fn read_kept(kept: &KeptDraft) -> Result<Procedure, Fault> {
    serde_json::from_str(&kept.procedure).map_err(|_damaged| unreadable())
}

fn unreadable() -> Fault {
    Fault::new(
        Next::AskForHelp,
        "The draft cannot be read by this version of the program; install the newer one, or throw the draft away.",
    )
}

/// How many flaws are told in one sentence; the workbench and `doorside procedure check` tell them all.
const MOST_TOLD: usize = 3;

/// A flaw with its place begins with a small letter, which does not stand after a full stop.
fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

fn unusable(flaws: &[Flaw]) -> Fault {
    let told: Vec<String> = flaws.iter().take(MOST_TOLD).map(|flaw| capital(&flaw.to_string())).collect();
    let more = match flaws.len().saturating_sub(MOST_TOLD) {
        0 => String::new(),
        more => format!(" And {more} more."),
    };
    Fault::new(Next::MendInput, format!("The procedure cannot be used as it is. {}{more}", told.join(" ")))
}
