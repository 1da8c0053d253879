//! The notation of the tests: a procedure and a log, each in one line.
//!
//! A procedure is its steps, parted by blanks: `name<pred,!danger` with marks after the name, `*`
//! critical, `?` optional, `+` by the assistant, `[act|act]` its acts (its name where none are given),
//! `@condition`, `^pred` immediately after. `~act` is a free act, `#act` a forbidden one and
//! `#act:step` one that is forbidden until the step.
//!
//! A log is its observations, parted by blanks, one every ten seconds: `act`, with `!` prompted, `%code`
//! a fault, `+` by the assistant, `=3` over after three seconds, `&` entered late; `:condition`,
//! `$site` contamination recognised by the wearer, `$$site` recognised by nobody, `-step` not seen. A
//! last word `.exposure`, `.safety` or `.abandoned` says how it ended.

pub(crate) mod chance;

use std::collections::BTreeMap;

use crate::log::{Contamination, Ended, HowEnded, Log, Observation, What};
use crate::model::Model;
use crate::procedure::{
    Ask, By, Condition, Equipment, ForbiddenAct, Mode, PassRule, Phase, Precedence, Predecessor, Procedure,
    Step, TechniqueFault,
};

/// Splits at the first of the marks; the rest keeps its mark.
fn split<'a>(text: &'a str, marks: &str) -> (&'a str, &'a str) {
    text.split_at(text.find(|c| marks.contains(c)).unwrap_or(text.len()))
}

/// The mark at the front, what stands after it, and the rest.
fn next_mark<'a>(text: &'a str, marks: &str) -> Option<(char, &'a str, &'a str)> {
    let mut rest = text.chars();
    let mark = rest.next()?;
    let (value, next) = split(rest.as_str(), marks);
    Some((mark, value, next))
}

pub(crate) fn procedure(text: &str) -> Procedure {
    let mut procedure = Procedure {
        schema: None,
        id: "test".to_owned(),
        version: "1.0.0".to_owned(),
        title: "Test".to_owned(),
        phase: Phase::Doffing,
        family: None,
        accepts_family: false,
        precautions: Vec::new(),
        ensemble: Vec::new(),
        validates_in: vec![Mode::Assessed],
        valid_months: 12,
        pass: PassRule::default(),
        equipment: Equipment::default(),
        sources: Vec::new(),
        acts: BTreeMap::new(),
        combined_acts: BTreeMap::new(),
        conditions: Vec::new(),
        steps: Vec::new(),
        responses: Vec::new(),
        contamination_response: Vec::new(),
        free_acts: Vec::new(),
        forbidden_acts: Vec::new(),
    };
    for word in text.split_whitespace() {
        if let Some(free) = word.strip_prefix('~') {
            procedure.free_acts.push(free.to_owned());
        } else if let Some(forbidden) = word.strip_prefix('#') {
            let (act, until) = split(forbidden, ":");
            procedure.forbidden_acts.push(ForbiddenAct {
                act: act.to_owned(),
                until: until.strip_prefix(':').map(str::to_owned),
                why: None,
            });
        } else {
            let step = step(word);
            if let Some(condition) = step.applies().condition()
                && !procedure.conditions.iter().any(|known| known.id == condition)
            {
                let text = format!("{condition} holds");
                procedure.conditions.push(Condition { id: condition.to_owned(), ask: Ask::Start, text });
            }
            procedure.steps.push(step);
        }
    }
    let acts = procedure.steps.iter().flat_map(|step| &step.acts).chain(&procedure.free_acts);
    let acts = acts.chain(procedure.forbidden_acts.iter().map(|forbidden| &forbidden.act));
    procedure.acts = acts.map(|act| (act.clone(), act.clone())).collect();
    procedure
}

fn step(word: &str) -> Step {
    const MARKS: &str = "<*?+[@^";
    let (name, mut rest) = split(word, MARKS);
    let mut step = Step {
        id: name.to_owned(),
        section: "All".to_owned(),
        acts: vec![name.to_owned()],
        text: format!("Do {name}."),
        look_for: Vec::new(),
        after: Vec::new(),
        immediately_after: None,
        critical: false,
        optional: false,
        when: None,
        unless: None,
        by: By::Wearer,
        min_seconds: BTreeMap::new(),
        technique_faults: vec![
            TechniqueFault { code: "clumsy".to_owned(), text: "clumsy".to_owned(), contaminates: false },
            TechniqueFault { code: "dirty".to_owned(), text: "dirty".to_owned(), contaminates: true },
        ],
        why: None,
        source: None,
    };
    while let Some((mark, value, next)) = next_mark(rest, MARKS) {
        rest = next;
        match mark {
            '*' => step.critical = true,
            '?' => step.optional = true,
            '+' => step.by = By::Assistant,
            '[' => step.acts = value.trim_end_matches(']').split('|').map(str::to_owned).collect(),
            '@' => match value.strip_prefix('!') {
                Some(condition) => step.unless = Some(condition.to_owned()),
                None => step.when = Some(value.to_owned()),
            },
            '^' => step.immediately_after = Some(value.to_owned()),
            '<' => step.after = value.split(',').map(predecessor).collect(),
            other => panic!("{word}: {other}?"),
        }
    }
    step
}

fn predecessor(text: &str) -> Predecessor {
    match text.strip_prefix('!') {
        Some(step) => Predecessor::Explained(Precedence {
            step: step.to_owned(),
            danger: true,
            why: Some("It carries what is on it".to_owned()),
        }),
        None => Predecessor::Plain(text.to_owned()),
    }
}

pub(crate) fn model(text: &str) -> Model {
    Model::new(procedure(text))
}

pub(crate) fn log(text: &str) -> Log {
    log_in(Mode::Assessed, &[], text)
}

pub(crate) fn log_in(mode: Mode, conditions: &[&str], text: &str) -> Log {
    let mut log = Log {
        mode,
        conditions: conditions.iter().map(|&id| id.to_owned()).collect(),
        ended: Ended::default(),
        held: Vec::new(),
        transcribed: false,
        observations: Vec::new(),
    };
    let mut at_ms = 0;
    for word in text.split_whitespace() {
        match word {
            ".exposure" => log.ended.how = HowEnded::StoppedExposure,
            ".safety" => log.ended.how = HowEnded::StoppedSafety,
            ".abandoned" => log.ended.how = HowEnded::Abandoned,
            word => {
                log.observations.push(observation(word, at_ms));
                at_ms += 10_000;
            }
        }
    }
    log
}

fn observation(word: &str, at_ms: i64) -> Observation {
    const MARKS: &str = "!%+=&";
    let contamination = |site: &str, recognised_by| {
        What::Contamination(Contamination { site: site.to_owned(), from: "gloves".to_owned(), recognised_by })
    };
    let (name, mut rest) = split(word, MARKS);
    let what = if let Some(condition) = name.strip_prefix(':') {
        What::Condition(condition.to_owned())
    } else if let Some(site) = name.strip_prefix("$$") {
        contamination(site, None)
    } else if let Some(site) = name.strip_prefix('$') {
        contamination(site, Some(By::Wearer))
    } else if let Some(step) = name.strip_prefix('-') {
        What::NotSeen(step.to_owned())
    } else {
        What::Act(name.to_owned())
    };
    let mut observation = Observation {
        at_ms: Some(at_ms),
        until_ms: None,
        lasted_ms: None,
        what,
        prompted: false,
        faults: Vec::new(),
        by: By::Wearer,
        late: false,
        call: None,
    };
    while let Some((mark, value, next)) = next_mark(rest, MARKS) {
        rest = next;
        match mark {
            '!' => observation.prompted = true,
            '%' => observation.faults.push(value.to_owned()),
            '+' => observation.by = By::Assistant,
            '=' => observation.until_ms = Some(at_ms + 1000 * value.parse::<i64>().unwrap()),
            '&' => {
                observation.late = true;
                observation.at_ms = None;
            }
            other => panic!("{word}: {other}?"),
        }
    }
    observation
}
