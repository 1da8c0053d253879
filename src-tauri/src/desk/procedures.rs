//! The procedures in force.

use competency::procedure::{Footing, Procedure};
use contract::{
    Fault, ListProcedures, OpenProcedure, OpenedProcedure, ProcedureLine, Revalidate, SaveForm,
    SaveProcedure, Shown, VersionLine,
};
use evidence::{Facts, ProcedurePublished};
use ledger::Moment;

use super::{Desk, absent, civil_date, facility::count, names::shown_name};
use crate::{fault::ledger_fault, saved};

impl Desk {
    /// The procedures in force, or those retired, by title.
    pub(crate) fn list_procedures(
        &self,
        request: &ListProcedures,
        now: &Moment,
    ) -> Result<Vec<ProcedureLine>, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let listed = |id: &String| {
            if request.retired {
                let last = facts.procedures.get(id)?.last().map(|version| &version.published);
                last.filter(|_| facts.is_retired(id, today))
            } else {
                facts.in_force(id, today)
            }
        };
        let mut lines: Vec<ProcedureLine> = facts.procedures.keys().filter_map(listed).map(line).collect();
        lines.sort_by(|one, other| one.title.cmp(&other.title));
        Ok(lines)
    }

    /// One procedure, whole, with every version there was.
    pub(crate) fn open_procedure(
        &self,
        request: &OpenProcedure,
        now: &Moment,
    ) -> Result<OpenedProcedure, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let versions = facts.procedures.get(&request.id).ok_or_else(|| absent("procedure"))?;
        let published = match &request.version {
            Some(version) => versions
                .iter()
                .map(|known| &known.published)
                .find(|published| published.procedure.version == *version)
                .ok_or_else(|| absent("version of the procedure"))?,
            None => facts
                .in_force(&request.id, today)
                .or_else(|| versions.last().map(|known| &known.published))
                .ok_or_else(|| absent("procedure"))?,
        };
        let mut lines =
            versions.iter().map(|known| self.version(&known.published)).collect::<Result<Vec<_>, Fault>>()?;
        lines.reverse();
        let retired = facts
            .is_retired(&request.id, today)
            .then(|| facts.retired.get(&request.id)?.last())
            .flatten()
            .map(|last| (last.retired.from, last.retired.why.clone()));
        Ok(OpenedProcedure {
            procedure: published.procedure.clone(),
            hash: published.hash.to_string(),
            versions: lines,
            retired,
        })
    }

    /// Saves a procedure as a file in the folder of exports, in the version in force.
    pub(crate) fn save_procedure(&self, request: &SaveProcedure, now: &Moment) -> Result<Shown, Fault> {
        let request = OpenProcedure { id: request.procedure.clone(), version: None };
        let procedure = self.open_procedure(&request, now)?.procedure;
        let text = serde_json::to_vec_pretty(&procedure).map_err(|_never| absent("procedure"))?;
        self.save(&format!("{}-{}.json", procedure.id, procedure.version), &text)
    }

    /// Saves a procedure as a form to observe with on paper, in the folder of exports.
    pub(crate) fn save_form(&self, request: &SaveForm, now: &Moment) -> Result<Shown, Fault> {
        let opened =
            self.open_procedure(&OpenProcedure { id: request.procedure.clone(), version: None }, now)?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let facility = facts.facility.as_ref().map_or("", |(_id, facility)| facility.name.as_str());
        let form = saved::form_pdf(&opened, facility, now)?;
        let Procedure { id, version, .. } = &opened.procedure;
        self.save(&format!("form-{id}-{version}.pdf"), &form)
    }

    fn version(&self, published: &ProcedurePublished) -> Result<VersionLine, Fault> {
        let approved = match &published.approved {
            Some(approval) => {
                let name = self.reader().name(&approval.by).map_err(ledger_fault)?;
                Some((shown_name(name.as_ref()), approval.on))
            }
            None => None,
        };
        Ok(VersionLine {
            version: published.procedure.version.clone(),
            from: published.from,
            approved,
            revalidate: published
                .revalidate
                .as_ref()
                .map(|asked| Revalidate { by: asked.by, why: asked.why.clone() }),
        })
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
