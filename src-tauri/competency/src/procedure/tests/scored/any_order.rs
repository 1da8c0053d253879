//! What guidance leaves free is free: every procedure of the library, done in chance orders that it
//! allows, with chance alternatives, is competent with nothing found.

use proptest::prelude::*;

use crate::log::Log;
use crate::model::Model;
use crate::procedure::{Ask, By, Mode, Procedure, Step, library, read};
use crate::report::{Outcome, Report};
use crate::score::{score, score_family};
use crate::testing::chance::Chance;
use crate::testing::log_in;

/// A log of every step that applies, each by one of its acts for as long as it should take.
fn some_right_log(chance: &mut Chance, procedure: &Procedure, holding: &[&str]) -> String {
    let applies = |step: &&Step| step.applies().with(|condition| holding.contains(&condition));
    let model = Model::new(procedure.clone());
    let number = |step: &Step| model.step_number(&step.id).unwrap();
    let mut open: Vec<&Step> = procedure.steps.iter().filter(applies).collect();
    let mut words = Vec::new();
    let mut last: Option<&Step> = None;
    while !open.is_empty() {
        let ready = |step: &&&Step| !open.iter().any(|other| model.must_precede(number(other), number(step)));
        let ready: Vec<&Step> = open.iter().filter(ready).copied().collect();
        // What must come right after the step before does.
        let at_once = ready.iter().find(|step| {
            step.immediately_after.is_some() && step.immediately_after.as_ref() == last.map(|last| &last.id)
        });
        let step = at_once.copied().unwrap_or_else(|| ready[chance.below(ready.len())]);
        open.retain(|other| other.id != step.id);
        last = Some(step);
        let act = &step.acts[chance.below(step.acts.len())];
        let lasts = procedure.least_seconds(step, act).map_or_else(String::new, |least| format!("={least}"));
        let by = if step.by == By::Wearer { "" } else { "+" };
        words.push(format!("{act}{lasts}{by}"));
    }
    words.join(" ")
}

fn in_its_mode(model: &Model, holding: &[&str], log: &str) -> (Log, Report) {
    let mode = model.procedure().validates_in.first().copied().unwrap_or(Mode::Assessed);
    let log = log_in(mode, holding, log);
    let report = score(model, &log);
    (log, report)
}

fn procedures() -> Vec<Procedure> {
    library().iter().map(|(_, text)| read(text).expect("it reads")).collect()
}

fn some_conditions<'p>(chance: &mut Chance, procedure: &'p Procedure) -> Vec<&'p str> {
    let start = procedure.conditions.iter().filter(|condition| condition.ask == Ask::Start);
    start.filter(|_| chance.one_in(2)).map(|condition| &*condition.id).collect()
}

proptest! {
    // Each case scores the whole library.
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn every_allowed_order_of_the_library_is_competent(seed in any::<u64>()) {
        let mut chance = Chance(seed);
        for procedure in procedures() {
            let holding = some_conditions(&mut chance, &procedure);
            let text = some_right_log(&mut chance, &procedure, &holding);
            let (_, report) = in_its_mode(&Model::new(procedure.clone()), &holding, &text);
            let told: Vec<&str> = report.findings.iter().map(|finding| &*finding.text).collect();
            prop_assert_eq!(report.outcome, Outcome::Competent, "{} {}: {:#?}", procedure.id, text, told);
            prop_assert!(told.is_empty(), "{} {}: {:#?}", procedure.id, text, told);
        }
    }

    /// Whatever goes wrong is told in one plain sentence each: nothing has a full stop before its end.
    #[test]
    fn whatever_goes_wrong_is_one_sentence(seed in any::<u64>()) {
        let mut chance = Chance(seed);
        for procedure in procedures() {
            let holding = some_conditions(&mut chance, &procedure);
            let text = some_right_log(&mut chance, &procedure, &holding);
            let mut words: Vec<&str> = text.split_whitespace().collect();
            for _ in 0..=chance.below(3) {
                let (from, to) = (chance.below(words.len()), chance.below(words.len()));
                let moved = words.remove(from);
                if chance.one_in(2) {
                    words.insert(to.min(words.len()), moved);
                }
            }
            words.insert(chance.below(words.len()), "$$face");
            let (_, report) = in_its_mode(&Model::new(procedure.clone()), &holding, &words.join(" "));
            for finding in &report.findings {
                let inside = finding.text.trim_end_matches('.');
                prop_assert!(!inside.contains(". ") && inside.len() + 1 == finding.text.len(), "{}", finding.text);
            }
        }
    }

    /// Whoever does it by any one sequence of a family is right, whichever stands first in the list.
    #[test]
    fn any_sequence_of_a_family_is_kept_and_named(seed in any::<u64>()) {
        let mut chance = Chance(seed);
        let all = procedures();
        let mut families: Vec<&String> = all.iter().filter_map(|procedure| procedure.family.as_ref()).collect();
        families.sort();
        families.dedup();
        let mut several = 0;
        for family in families {
            let mut models: Vec<Model> =
                all.iter().filter(|one| one.family.as_ref() == Some(family)).cloned().map(Model::new).collect();
            several += usize::from(models.len() > 1);
            chance.shuffle(&mut models);
            for model in &models {
                let holding = some_conditions(&mut chance, model.procedure());
                let text = some_right_log(&mut chance, model.procedure(), &holding);
                let (log, own) = in_its_mode(model, &holding, &text);
                let (kept, report) = score_family(&models, &log).expect("there are models");
                prop_assert_eq!(report.outcome, Outcome::Competent, "{}", text);
                prop_assert_eq!(report.alignment_cost, own.alignment_cost);
                prop_assert_eq!(&score(&models[kept], &log), &report, "the one that is named gave the report");
            }
        }
        prop_assert!(several > 0, "some family has several sequences");
    }
}
