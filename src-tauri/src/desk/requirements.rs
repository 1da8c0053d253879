//! What the facility asks of whom, and what it chose where the rules leave it the choice.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use competency::validity::LEAD_DAYS;
use contract::{
    AskAgain, FacilityRules, Fault, Next, OpenRequirements, RequiredProcedure, RequirementLine, Requirements,
    SetFacilityRules, SetRequirement, Unit,
};
use evidence::{ActingAs, Cause, FacilityRulesSet, Facts, RequirementSet, RevalidationAsked};
use ledger::{Deed, Moment};

use super::{
    Desk, absent, author, civil_date,
    facility::{count, units},
    procedures::title,
    typed::filled,
};
use crate::fault::ledger_fault;

/// Longest time between two validations that can be asked for, in months: ten years.
const MOST_MONTHS: u32 = 120;
/// Longest lead time, in days: two years.
pub(super) const MOST_DAYS: u32 = 730;

impl Desk {
    /// What the facility asks of whom, today.
    pub(crate) fn open_requirements(
        &self,
        _request: &OpenRequirements,
        now: &Moment,
    ) -> Result<Requirements, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let mut lines: Vec<RequirementLine> =
            facts.requirements_on(today, |_| true).into_iter().map(|set| line(&facts, set, today)).collect();
        lines.sort_by(|one, other| {
            let key = |line: &RequirementLine| {
                let unit = line.unit.as_ref().map(|unit| unit.name.clone());
                (line.title.clone(), unit, line.role.clone())
            };
            key(one).cmp(&key(other))
        });
        let in_force = facts.procedures.keys().filter_map(|id| facts.in_force(id, today));
        let mut procedures: Vec<RequiredProcedure> = in_force
            .map(|published| RequiredProcedure {
                id: published.procedure.id.clone(),
                title: published.procedure.title.clone(),
                months: published.procedure.valid_months,
            })
            .collect();
        procedures.sort_by(|one, other| one.title.cmp(&other.title));
        Ok(Requirements {
            today,
            lines,
            units: units(&facts),
            roles: roles(&facts, today),
            procedures,
            rules: rules(&facts, today),
        })
    }

    /// Sets or takes back a requirement, from today on.
    pub(crate) fn set_requirement(
        &self,
        request: &SetRequirement,
        now: &Moment,
    ) -> Result<Requirements, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        if request.required && facts.in_force(&request.procedure, today).is_none() {
            return Err(absent("procedure"));
        }
        if request.unit.as_ref().is_some_and(|unit| !facts.units.contains_key(unit)) {
            return Err(absent("unit"));
        }
        if request.months.is_some_and(|months| !(1..=MOST_MONTHS).contains(&months)) {
            return Err(Fault::new(
                Next::MendInput,
                format!(
                    "A validation can be asked for every 1 to {MOST_MONTHS} months; enter another number."
                ),
            ));
        }
        let mut lead_days = request.lead_days.clone();
        lead_days.sort_unstable_by(|one, other| other.cmp(one));
        lead_days.dedup();
        if lead_days.first().is_some_and(|most| *most > MOST_DAYS) {
            return Err(Fault::new(
                Next::MendInput,
                format!("A reminder can come at most {MOST_DAYS} days ahead; enter a smaller number."),
            ));
        }
        if lead_days.is_empty() {
            lead_days = LEAD_DAYS.to_vec();
        }
        let role = request.role.as_deref().map(str::trim).filter(|role| !role.is_empty());
        let set = RequirementSet {
            procedure: request.procedure.clone(),
            unit: request.unit.clone(),
            role: role.map(str::to_owned),
            required: request.required,
            months: request.months,
            lead_days,
            from: today,
        };
        self.write(&[Deed::new(author(ActingAs::Manager), set)], now)?;
        self.open_requirements(&OpenRequirements {}, now)
    }

    /// Sets what the facility chose, from today on.
    pub(crate) fn set_facility_rules(
        &self,
        request: &SetFacilityRules,
        now: &Moment,
    ) -> Result<Requirements, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let FacilityRules { leave_limit_days, strict_year, medical_clearance } = request.rules;
        if leave_limit_days == Some(0) {
            return Err(Fault::new(
                Next::MendInput,
                "A limit of no days would end every validation with the first day away; enter 1 or more, or leave it empty.",
            ));
        }
        let from = civil_date(&facts, now);
        let set = FacilityRulesSet { leave_limit_days, strict_year, medical_clearance, from };
        self.write(&[Deed::new(author(ActingAs::Manager), set)], now)?;
        self.open_requirements(&OpenRequirements {}, now)
    }

    /// Asks for an early re-validation, since other equipment came into use.
    pub(crate) fn ask_again(&self, request: &AskAgain, now: &Moment) -> Result<Requirements, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let on = civil_date(&facts, now);
        let what = filled(&request.what, "name of the equipment")?.to_owned();
        if request.by < on {
            return Err(Fault::new(
                Next::MendInput,
                "The date for the re-validation has passed; enter today or a later date.",
            ));
        }
        if request.procedures.is_empty() {
            return Err(Fault::new(
                Next::MendInput,
                "No procedure is chosen; choose those that it is used in.",
            ));
        }
        let asked = RevalidationAsked {
            person: None,
            unit: request.unit.clone(),
            procedures: Some(request.procedures.clone()),
            on,
            by: request.by,
            cause: Cause::Equipment { what },
        };
        self.write(&[Deed::new(author(ActingAs::Educator), asked)], now)?;
        self.open_requirements(&OpenRequirements {}, now)
    }
}

fn line(facts: &Facts, set: &RequirementSet, today: NaiveDate) -> RequirementLine {
    let members = facts.members(set.unit.as_deref(), today);
    let meant: Vec<_> = members
        .into_iter()
        .filter(|person| {
            let role = facts.membership(person, today).map(|membership| &membership.role);
            set.role.as_ref().is_none_or(|meant| role == Some(meant))
        })
        .collect();
    let hold = meant.iter().filter(|person| facts.standing(person, &set.procedure, today).state.holds());
    RequirementLine {
        procedure: set.procedure.clone(),
        title: title(facts, &set.procedure),
        unit: set
            .unit
            .as_ref()
            .map(|id| Unit { id: id.clone(), name: facts.units.get(id).cloned().unwrap_or_default() }),
        role: set.role.clone(),
        months: set.months,
        lead_days: set.lead_days.clone(),
        from: set.from,
        hold: count(hold.count()),
        means: count(meant.len()),
    }
}

/// The roles that people have on a date.
pub(super) fn roles(facts: &Facts, on: NaiveDate) -> Vec<String> {
    let members = facts.members(None, on).into_iter();
    let roles: BTreeSet<&String> = members
        .filter_map(|person| facts.membership(person, on))
        .map(|membership| &membership.role)
        .collect();
    roles.into_iter().filter(|role| !role.is_empty()).cloned().collect()
}

/// What the facility chose; where it never did, what holds then.
fn rules(facts: &Facts, today: NaiveDate) -> FacilityRules {
    let set = facts.facility_rules(today);
    FacilityRules {
        leave_limit_days: set.and_then(|set| set.leave_limit_days),
        strict_year: set.is_some_and(|set| set.strict_year),
        medical_clearance: facts.asks_medical_clearance(today),
    }
}
