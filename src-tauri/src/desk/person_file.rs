//! What is known of one person, what is stated about them, and who may go in.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use competency::procedure::{Phase, Precaution};
use contract::{
    About, CheckPrerequisites, Fault, MayGoIn, Next, OpenPerson, Person, PersonFile, Prerequisites,
    RosterColumn, SignedBy, StateAbout, SuspensionLine, WhoMayGoIn,
};
use evidence::{
    ActingAs, Author, Body, Cause, Facts, FitTested, LeaveStated, MedicallyEvaluated,
    OutsideEvidenceAccepted, PersonMoved, PersonSuspended, RecordVoided, RevalidationAsked, SuspensionLifted,
};
use ledger::{Deed, Moment, Name};
use uuid::Uuid;

use super::{
    Desk, Keys, absent, author, civil_date,
    demonstration::check_certificate,
    erasing::name_kept,
    facility::{count, units},
    names::{person_view, shown_name, sort_key},
    person_lines::{required_by, stated},
    procedures::title,
    requirements::roles,
    roster_page::{is_called, part},
    standing::covers,
    typed::filled,
};
use crate::fault::ledger_fault;

/// In the order in which they are asked about.
const PRECAUTIONS: [Precaution; 5] = [
    Precaution::Standard,
    Precaution::Contact,
    Precaution::Droplet,
    Precaution::Airborne,
    Precaution::HighConsequence,
];

impl Desk {
    /// What is known of one person today.
    pub(crate) fn open_person(&self, request: &OpenPerson, now: &Moment) -> Result<PersonFile, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let names = self.named()?;
        let id = request.person.as_str();
        let known = facts.people.get(id).ok_or_else(|| absent("person"))?;
        let column = |id: &str| RosterColumn { id: id.to_owned(), title: title(&facts, id) };
        let mut asked: Vec<String> = facts.required_procedures(today).into_iter().cloned().collect();
        asked.retain(|procedure| facts.requirement(id, procedure, today).is_some());
        asked.extend(known.attempts.iter().map(|attempt| attempt.sealed.procedure.clone()));
        asked.extend(known.outside.iter().map(|one| one.what.procedure.clone()));
        asked.sort();
        asked.dedup();
        let standings = asked
            .iter()
            .map(|one| (column(one), facts.standing(id, one, today), required_by(&facts, id, one, today)))
            .collect();
        let precautions = PRECAUTIONS.into_iter().filter(|one| has_procedures(&facts, *one, today));
        let in_force = || facts.procedures.keys().filter_map(|id| facts.in_force(id, today));
        let mut procedures: Vec<RosterColumn> = in_force().map(|one| column(&one.procedure.id)).collect();
        procedures.sort_by(|one, other| one.title.cmp(&other.title));
        let listed = in_force().flat_map(|one| &one.procedure.equipment.respirator_models);
        let mut models: Vec<String> = listed.map(|model| model.name.clone()).collect();
        models.sort();
        models.dedup();
        let suspensions = facts.suspensions(id, today).into_iter().map(|held| SuspensionLine {
            suspension: held.entry.to_string(),
            text: competency::validity::Suspension { since: held.what.from, why: held.what.why.clone() }
                .words(),
        });
        Ok(PersonFile {
            person: person_view(&facts, id, names.get(id), today),
            today,
            standings,
            clearances: precautions.map(|one| (one, facts.clearance(id, one, today))).collect(),
            stated: stated(&facts, id, &names),
            suspensions: suspensions.collect(),
            procedures,
            models,
            units: units(&facts),
            roles: roles(&facts, today),
            observers: observers(&facts, &names, today),
            name_kept: name_kept(&facts, id, names.get(id), today),
        })
    }

    /// States something about a person; what grants or takes away is signed with an observer's key.
    pub(crate) fn state_about(&self, request: &StateAbout, now: &Moment) -> Result<PersonFile, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        if !facts.people.contains_key(&request.person) {
            return Err(absent("person"));
        }
        let body = body(&facts, request, today)?;
        match (&request.signed, request.what.is_signed()) {
            (Some(signed), true) => self.write_signed(&request.person, body, signed, now)?,
            (None, true) => {
                return Err(Fault::new(
                    Next::MendInput,
                    "This has to be signed; choose the observer who signs it, and enter their PIN.",
                ));
            }
            (_, false) => {
                self.write(&[Deed::new(author(ActingAs::Manager), body)], now)?;
            }
        }
        self.open_person(&OpenPerson { person: request.person.clone() }, now)
    }

    fn write_signed(&self, about: &str, body: Body, signed: &SignedBy, now: &Moment) -> Result<(), Fault> {
        if signed.observer == about {
            return Err(Fault::new(
                Next::MendInput,
                "Nobody signs this about themselves; choose another observer.",
            ));
        }
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        check_certificate(&facts, &signed.observer, now)?;
        let signer = self.signer(&signed.observer, &signed.pin, now)?;
        let author = Author {
            person: Some(signed.observer.clone()),
            role: ActingAs::Observer,
            certificate: Some(evidence::digest(signer.certificate().der())),
        };
        let deeds = [Deed::new(author, body)];
        self.stamped(now, Keys { observer: Some(&signer), ..Keys::default() }, |ledger, stamp| {
            ledger.write(&deeds, stamp)
        })
        .map_err(ledger_fault)?;
        Ok(())
    }

    /// Who of a unit may go in under some precautions.
    pub(crate) fn who_may_go_in(&self, request: &WhoMayGoIn, now: &Moment) -> Result<MayGoIn, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let on = request.on.unwrap_or_else(|| civil_date(&facts, now));
        let names = self.named()?;
        let members = facts.members(request.unit.as_deref(), on).into_iter();
        let mut lines: Vec<_> = members
            .map(|id| person_view(&facts, id, names.get(id), on))
            .filter(|person| is_called(person, &request.search))
            .map(|person| {
                let clearance = facts.clearance(&person.id, request.precaution, on);
                (person, clearance)
            })
            .collect();
        lines.sort_by_cached_key(|(person, one): &(Person, competency::clearance::Clearance)| {
            (!one.is_cleared(), sort_key(&person.name), person.number.clone())
        });
        let (found, may) = (count(lines.len()), lines.partition_point(|(_, one)| one.is_cleared()));
        let lines = part(lines, request.first, request.most).collect();
        Ok(MayGoIn { on, lines, found, may: count(may), covers: covers(self.reader(), &facts)? })
    }

    /// What somebody lacks before they may demonstrate a procedure today.
    pub(crate) fn check_prerequisites(
        &self,
        request: &CheckPrerequisites,
        now: &Moment,
    ) -> Result<Prerequisites, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let mut missing: Vec<String> = facts
            .suspension(&request.person, &request.procedure, today)
            .iter()
            .map(competency::validity::Suspension::words)
            .collect();
        missing.extend(facts.prerequisites(&request.person, &request.procedure, today));
        Ok(Prerequisites { missing })
    }

    /// How everyone is called, by id.
    pub(super) fn named(&self) -> Result<BTreeMap<String, Name>, Fault> {
        self.books().names()
    }
}

/// Whether a procedure in force is for these precautions.
fn has_procedures(facts: &Facts, precaution: Precaution, on: NaiveDate) -> bool {
    facts.procedures.keys().filter_map(|id| facts.in_force(id, on)).any(|published| {
        let procedure = &published.procedure;
        procedure.precautions.contains(&precaution) && procedure.phase != Phase::Other
    })
}

/// Who holds a certificate and works here, by id and name.
pub(super) fn observers(
    facts: &Facts,
    names: &BTreeMap<String, Name>,
    on: NaiveDate,
) -> Vec<(String, String)> {
    let members = facts.members(None, on).into_iter();
    let mut observers: Vec<(String, String)> = members
        .filter(|id| facts.people.get(*id).is_some_and(|person| !person.certificates.is_empty()))
        .map(|id| (id.clone(), shown_name(names.get(id))))
        .collect();
    observers.sort_by_cached_key(|one| sort_key(&one.1));
    observers
}

fn mend(sentence: &str) -> Fault {
    Fault::new(Next::MendInput, sentence)
}

/// The entry for what is stated, where it can be so.
fn body(facts: &Facts, request: &StateAbout, today: NaiveDate) -> Result<Body, Fault> {
    let person = request.person.clone();
    let past = |on: NaiveDate| {
        if on > today { Err(mend("The date lies ahead; enter the day on which it was.")) } else { Ok(on) }
    };
    let in_order = |from: NaiveDate, through: Option<NaiveDate>| {
        if through.is_some_and(|through| through < from) {
            Err(mend("The last day is before the first; enter them in their order."))
        } else {
            Ok(())
        }
    };
    Ok(match &request.what {
        About::FitTest { model, style, size, result, on, tester } => FitTested {
            person,
            model: filled(model, "make and model")?.to_owned(),
            style: filled(style, "style")?.to_owned(),
            size: filled(size, "size")?.to_owned(),
            result: *result,
            on: past(*on)?,
            tester: filled(tester, "name of the tester")?.to_owned(),
        }
        .into(),
        About::Medical { cleared, on, until, source } => {
            in_order(*on, *until)?;
            let source = filled(source, "source")?.to_owned();
            MedicallyEvaluated { person, cleared: *cleared, on: past(*on)?, until: *until, source }.into()
        }
        About::Leave { from, through } => {
            in_order(*from, *through)?;
            LeaveStated { person, from: *from, through: *through }.into()
        }
        About::Moved { unit, role, from } => {
            if unit.as_ref().is_some_and(|unit| !facts.units.contains_key(unit)) {
                return Err(absent("unit"));
            }
            // Whoever is gone has no role any more.
            let role = if unit.is_some() { filled(role, "role")? } else { "" }.to_owned();
            PersonMoved { person, unit: unit.clone(), role, from: *from }.into()
        }
        About::OutsideEvidence { procedure, source, on, valid_until } => {
            in_order(*on, Some(*valid_until))?;
            let source = filled(source, "source")?.to_owned();
            let (on, valid_until) = (past(*on)?, *valid_until);
            if facts.in_force(procedure, today).is_none() {
                return Err(absent("procedure"));
            }
            OutsideEvidenceAccepted { person, procedure: procedure.clone(), source, on, valid_until }.into()
        }
        About::Suspended { procedure, why, from } => {
            let why = filled(why, "reason")?.to_owned();
            let procedures = procedure.clone().map(|one| vec![one]);
            PersonSuspended { person, procedures, why, from: *from }.into()
        }
        About::Lifted { suspension, why } => {
            let why = filled(why, "reason")?.to_owned();
            let suspension: Uuid = suspension.parse().map_err(|_not_an_id| absent("suspension"))?;
            let holds = facts.suspensions(&person, today).into_iter().any(|held| held.entry == suspension);
            if !holds {
                return Err(absent("suspension"));
            }
            SuspensionLifted { suspension, person, why, from: today }.into()
        }
        About::TakenBack { entry, why } => {
            let reason = filled(why, "reason")?.to_owned();
            let standing = stated(facts, &person, &BTreeMap::new());
            let known = standing.iter().any(|line| line.entry == *entry);
            let entry: Option<Uuid> = entry.parse().ok().filter(|_| known);
            RecordVoided { entry: entry.ok_or_else(|| absent("statement"))?, person, reason }.into()
        }
        About::LossOfSkill { procedure, noted } => {
            let noted = filled(noted, "note")?.to_owned();
            let by = today.pred_opt().unwrap_or(today);
            let procedures = procedure.clone().map(|one| vec![one]);
            let cause = Cause::LossOfSkill { noted };
            RevalidationAsked { person: Some(person), unit: None, procedures, on: today, by, cause }.into()
        }
    })
}
