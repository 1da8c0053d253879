//! Who may go in: the facts gathered for [`competency::clearance`].

use chrono::NaiveDate;
use competency::{
    clearance::{
        Accepted, Clearance, FitTest, Medical, Question, Wearer, clearance, factor_passes, prerequisites,
    },
    procedure::{Phase, Precaution},
};

use super::{Facts, Stated};
use crate::FitResult;

impl Facts {
    /// Whether a person may go in under these precautions on a date, with every procedure that is in force
    /// for them then.
    ///
    /// What the facts do not cover, they cannot say: see [`Facts::unknown`], and until tablets exchange their
    /// entries, what was sealed on another one is not among them.
    pub fn clearance(&self, person: &str, precaution: Precaution, on: NaiveDate) -> Clearance {
        let in_force = self.procedures.keys().filter_map(|id| self.in_force(id, on));
        let accepted = in_force
            .map(|published| &published.procedure)
            .filter(|one| one.precautions.contains(&precaution) && one.phase != Phase::Other)
            .map(|procedure| Accepted { procedure, standing: self.standing(person, &procedure.id, on) })
            .collect();
        clearance(&Question {
            precaution,
            accepted,
            wearer: self.wearer(person, on),
            suspended: self.suspension_from_all(person, on),
            as_of: on,
        })
    }

    /// What a person lacks before they may demonstrate a procedure on a date, in sentences that say what to do;
    /// empty where nothing is missing, and where the procedure is not in force.
    pub fn prerequisites(&self, person: &str, procedure: &str, on: NaiveDate) -> Vec<String> {
        let published = self.in_force(procedure, on);
        published.map_or_else(Vec::new, |one| prerequisites(&one.procedure, &self.wearer(person, on), on))
    }

    /// Whether medical clearance is asked for on a date: where the facility never chose, it is.
    pub fn asks_medical_clearance(&self, on: NaiveDate) -> bool {
        self.facility_rules(on).is_none_or(|rules| rules.medical_clearance)
    }

    /// A person as a wearer of respirators.
    fn wearer(&self, person: &str, on: NaiveDate) -> Wearer {
        let rules = self.facility_rules(on);
        Wearer {
            fit_tests: self.fit_tests(person),
            medical: self.medical(person),
            medical_required: self.asks_medical_clearance(on),
            strict_year: rules.is_some_and(|rules| rules.strict_year),
        }
    }

    /// The fit tests of a person that still count, in the order of their dates.
    fn fit_tests(&self, person: &str) -> Vec<FitTest> {
        let stated = self.people.get(person).map(|facts| facts.fit_tests.as_slice()).unwrap_or_default();
        let mut tests: Vec<FitTest> = self
            .counting(stated)
            .map(|test| FitTest {
                model: test.model.clone(),
                size: test.size.clone(),
                on: test.on,
                passed: match test.result {
                    FitResult::Qualitative { passed } => passed,
                    FitResult::Quantitative { fit_factor, full_facepiece } => {
                        factor_passes(fit_factor, full_facepiece)
                    }
                },
            })
            .collect();
        tests.sort_by_key(|test| test.on);
        tests
    }

    /// What occupational health said of a person that still counts, in the order of the dates.
    fn medical(&self, person: &str) -> Vec<Medical> {
        let stated = self.people.get(person).map(|facts| facts.medical.as_slice()).unwrap_or_default();
        let mut medical: Vec<Medical> = self
            .counting(stated)
            .map(|one| Medical { on: one.on, cleared: one.cleared, until: one.until })
            .collect();
        medical.sort_by_key(|one| one.on);
        medical
    }

    fn counting<'f, T>(&'f self, stated: &'f [Stated<T>]) -> impl Iterator<Item = &'f T> {
        stated.iter().filter(|one| self.counts(one.entry)).map(|one| &one.what)
    }
}

#[cfg(test)]
mod tests {
    use competency::{procedure::Product, report::Outcome};
    use uuid::Uuid;

    use super::*;
    use crate::{
        Body, DemonstrationSealed, FacilityRulesSet, FitTested, MedicallyEvaluated, ProcedurePublished,
        RecordVoided,
        facts::{
            standings::{facts, procedure, sealed},
            tests::day,
        },
        procedure_hash,
    };

    fn published(id: &str, phase: Phase) -> ProcedurePublished {
        let mut procedure = procedure();
        procedure.id = id.to_owned();
        procedure.phase = phase;
        procedure.precautions = vec![Precaution::Airborne];
        procedure.ensemble = vec!["N95 respirator".to_owned()];
        let model = Product { name: "Acme 9".to_owned(), acts: Vec::new() };
        procedure.equipment.respirator_models = vec![model];
        let hash = procedure_hash(&procedure).unwrap();
        ProcedurePublished { procedure, hash, from: day(3), approved: None, revalidate: None }
    }

    fn fit(result: FitResult) -> Body {
        let text = |text: &str| text.to_owned();
        FitTested {
            person: text("p"),
            model: text("Acme 9"),
            style: text("half facepiece"),
            size: text("M"),
            result,
            on: day(4),
            tester: text("t"),
        }
        .into()
    }

    /// Someone who was competent in donning on day 5 and in doffing on day 6.
    fn shown() -> Vec<(u32, Body)> {
        let (on, off) = (published("don", Phase::Donning), published("doff", Phase::Doffing));
        let of = |published: &ProcedurePublished, on| DemonstrationSealed {
            procedure: published.procedure.id.clone(),
            procedure_hash: published.hash,
            ..sealed(on, Outcome::Competent)
        };
        let (donned, doffed) = (of(&on, 5), of(&off, 6));
        vec![(3, on.into()), (3, off.into()), (5, donned.into()), (6, doffed.into())]
    }

    #[test]
    fn a_clearance_is_made_of_entries() {
        let ask = |more: Vec<(u32, Body)>| {
            let entries = shown().into_iter().chain(more).collect();
            match Facts::fold(facts(entries), None).clearance("p", Precaution::Airborne, day(7)) {
                Clearance::Cleared { because, .. } => because,
                Clearance::Missing(missing) => missing.join(" "),
            }
        };
        let passed = || (7, fit(FitResult::Qualitative { passed: true }));
        let measured = |fit_factor| (7, fit(FitResult::Quantitative { fit_factor, full_facepiece: false }));
        let medical = MedicallyEvaluated {
            person: "p".to_owned(),
            cleared: true,
            on: day(1),
            until: Some(day(20)),
            source: "occupational health".to_owned(),
        };
        let rules = FacilityRulesSet {
            leave_limit_days: None,
            strict_year: false,
            medical_clearance: false,
            from: day(1),
        };
        let none = "No fit test with Acme 9. No medical clearance for a respirator.";
        assert_eq!(ask(vec![]), none);
        assert_eq!(ask(vec![passed()]), "No medical clearance for a respirator.");
        let until = "Cleared through 20 November 2026: the medical clearance runs out then.";
        assert_eq!(ask(vec![passed(), (7, medical.into())]), until);
        let until = "Cleared through 4 November 2027: the fit test with Acme 9 runs out then.";
        assert_eq!(ask(vec![measured(100), (7, rules.clone().into())]), until);
        let failed = "The fit test with Acme 9 on 4 November 2026 was not passed.";
        assert_eq!(ask(vec![measured(99), (7, rules.clone().into())]), failed);
        // The fit test is entry number 14: the tenth and the four before it come first.
        let entry = Uuid::from_u128(14);
        let voided = RecordVoided { entry, person: "p".to_owned(), reason: "another".to_owned() };
        let ran = ask(vec![passed(), (7, rules.into()), (7, voided.into())]);
        assert_eq!(ran, "No fit test with Acme 9.");
        let before = |id| Facts::fold(facts(shown()), None).prerequisites("p", id, day(7));
        assert_eq!((before("don").len(), before("no-such").len()), (2, 0));
    }
}
