//! The procedures in force.

use competency::procedure::Footing;
use contract::{Fault, ListProcedures, OpenProcedure, OpenedProcedure, ProcedureLine};
use evidence::{Facts, ProcedurePublished};
use ledger::Moment;

use super::{Desk, absent, civil_date, facility::count};
use crate::fault::ledger_fault;

impl Desk {
    /// The procedures in force, by title.
    pub(crate) fn list_procedures(
        &self,
        _request: &ListProcedures,
        now: &Moment,
    ) -> Result<Vec<ProcedureLine>, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let mut lines: Vec<ProcedureLine> =
            facts.procedures.keys().filter_map(|id| facts.in_force(id, today)).map(line).collect();
        lines.sort_by(|one, other| one.title.cmp(&other.title));
        Ok(lines)
    }

    /// One procedure, whole, in the version in force.
    pub(crate) fn open_procedure(
        &self,
        request: &OpenProcedure,
        now: &Moment,
    ) -> Result<OpenedProcedure, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let published =
            facts.in_force(&request.id, civil_date(&facts, now)).ok_or_else(|| absent("procedure"))?;
        Ok(OpenedProcedure { procedure: published.procedure.clone(), hash: published.hash.to_string() })
    }
}

fn line(published: &ProcedurePublished) -> ProcedureLine {
    let procedure = &published.procedure;
    ProcedureLine {
        id: procedure.id.clone(),
        version: procedure.version.clone(),
        title: procedure.title.clone(),
        phase: procedure.phase,
        precautions: procedure.precautions.clone(),
        steps: count(procedure.steps.len()),
        critical: count(procedure.steps.iter().filter(|step| step.critical).count()),
        from_memory: procedure.sources.iter().any(|source| source.footing == Footing::Memory),
    }
}

/// What people call a procedure, by its latest version; its id where it was never published here.
pub(super) fn title(facts: &Facts, procedure: &str) -> String {
    facts
        .procedures
        .get(procedure)
        .and_then(|versions| versions.last())
        .map_or_else(|| procedure.to_owned(), |version| version.published.procedure.title.clone())
}
