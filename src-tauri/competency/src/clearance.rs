//! "Who may go in tonight?": a clearance for a person and precautions, and what is missing otherwise.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::{
    procedure::{Phase, Precaution, Procedure},
    validity::{Standing, State, Suspension, long_date, strict_year, valid_until},
};

/// What keeps the air out that a procedure is done in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Breathing {
    /// Nothing, or a mask: nothing to fit.
    Mask,
    /// A respirator that seals against the face.
    Tight,
    /// A powered respirator with a loose-fitting hood: no fit test, 29 CFR 1910.134(f)(1) (from memory).
    LooseHood,
}

impl Breathing {
    /// Every kind.
    pub const ALL: [Breathing; 3] = [Breathing::Mask, Breathing::Tight, Breathing::LooseHood];

    /// Whether a procedure is done in it under these precautions. The ensemble is in words, and these are
    /// read so that in doubt a fit test is needed: only a powered respirator with a hood is without. Where a
    /// mask or a respirator will do, airborne precautions and those for high consequence take the respirator.
    pub fn worn_in(self, procedure: &Procedure, precaution: Precaution) -> bool {
        let items: Vec<String> = procedure.ensemble.iter().map(|item| item.to_lowercase()).collect();
        let mut respirators = items.iter().filter(|item| item.contains("respirator")).peekable();
        if respirators.peek().is_none() {
            return self == Breathing::Mask;
        }
        let airborne = matches!(precaution, Precaution::Airborne | Precaution::HighConsequence);
        respirators.any(|item| match self {
            Breathing::Mask => !airborne && item.contains("mask"),
            Breathing::Tight => !hood(item),
            Breathing::LooseHood => hood(item),
        })
    }
}

fn hood(item: &str) -> bool {
    item.contains("powered") && item.contains("hood")
}

/// A fit test of one person with one model.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FitTest {
    /// Make and model, as the procedure's list of respirator models names it; the very model counts.
    pub model: String,
    /// Size, or what else tells apart what was worn.
    pub size: String,
    /// The civil date of the test.
    pub on: NaiveDate,
    /// Whether it was passed.
    pub passed: bool,
}

/// Whether a fit test with a measured fit factor is passed: at least 100 with a half mask, filtering
/// facepieces included, and 500 with a full one, 29 CFR 1910.134(f)(7) (from memory).
pub fn factor_passes(fit_factor: u32, full_facepiece: bool) -> bool {
    fit_factor >= if full_facepiece { 500 } else { 100 }
}

/// What occupational health said about wearing a respirator; never why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Medical {
    /// The civil date.
    pub on: NaiveDate,
    /// Whether the person is cleared.
    pub cleared: bool,
    /// Through this date; open where it is `None`.
    pub until: Option<NaiveDate>,
}

/// How a person stands with one accepted procedure.
#[derive(Debug, Clone)]
pub struct Accepted<'p> {
    /// The procedure, as it is in force.
    pub procedure: &'p Procedure,
    /// How the person stands with it.
    pub standing: Standing,
}

/// Everything that a clearance is made of.
#[derive(Debug, Clone)]
pub struct Question<'p> {
    /// The precautions in force at the door.
    pub precaution: Precaution,
    /// The accepted procedures for them, donning and doffing, in any order; others are passed over.
    pub accepted: Vec<Accepted<'p>>,
    /// The person's fit tests, in the order of their dates.
    pub fit_tests: Vec<FitTest>,
    /// What occupational health said, in the order of the dates.
    pub medical: Vec<Medical>,
    /// Whether the facility asks for medical clearance of whoever wears a respirator.
    pub medical_required: bool,
    /// The facility counts a year as 365 days at most.
    pub strict_year: bool,
    /// A suspension from everything.
    pub suspended: Option<Suspension>,
    /// As of this date.
    pub as_of: NaiveDate,
}

/// Whether a person may go in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Clearance {
    /// They may.
    Cleared {
        /// Through this date.
        until: NaiveDate,
        /// With these respirator models, where a tight-fitting one is worn; the first lasts longest.
        models: Vec<String>,
        /// One sentence that says until when, and what runs out then.
        because: String,
    },
    /// They may not, for each of these sentences.
    Missing(Vec<String>),
}

impl Clearance {
    /// Whether they may go in.
    pub fn is_cleared(&self) -> bool {
        matches!(self, Clearance::Cleared { .. })
    }
}

/// One thing needed: what it is and through when it holds, or what is missing.
type Need = Result<(NaiveDate, String), String>;

/// Answers for one person. Donning and doffing must be for the same kind of breathing protection: whoever
/// can only take off a hood is not cleared to put on a facepiece. Of several kinds the one that lasts
/// longest answers, and where none is complete the one that lacks least.
pub fn clearance(question: &Question<'_>) -> Clearance {
    if let Some(suspension) = question.suspended.as_ref().filter(|one| one.since <= question.as_of) {
        return Clearance::Missing(vec![suspension.words()]);
    }
    Breathing::ALL
        .into_iter()
        .filter_map(|breathing| with(question, breathing))
        .min_by_key(|answer| match answer {
            Clearance::Cleared { until, .. } => (0, std::cmp::Reverse(Some(*until))),
            Clearance::Missing(missing) => (missing.len(), std::cmp::Reverse(None)),
        })
        .unwrap_or_else(|| {
            Clearance::Missing(vec!["No accepted procedure is for these precautions.".to_owned()])
        })
}

/// The answer with one kind of protection; `None` where no accepted procedure has it.
fn with(question: &Question<'_>, breathing: Breathing) -> Option<Clearance> {
    let of_kind = |one: &&Accepted<'_>| {
        let procedure = one.procedure;
        matches!(procedure.phase, Phase::Donning | Phase::Doffing)
            && procedure.precautions.contains(&question.precaution)
            && breathing.worn_in(procedure, question.precaution)
    };
    let accepted: Vec<&Accepted<'_>> = question.accepted.iter().filter(of_kind).collect();
    if accepted.is_empty() {
        return None;
    }
    let mut needs = vec![shown(&accepted, Phase::Donning), shown(&accepted, Phase::Doffing)];
    let mut models = Vec::new();
    if breathing == Breathing::Tight {
        match fitted(question, &accepted) {
            Ok(fitted) => {
                needs.extend(
                    fitted.first().map(|(until, model)| Ok((*until, format!("the fit test with {model}")))),
                );
                models = fitted.into_iter().map(|(_, model)| model).collect();
            }
            Err(missing) => needs.push(Err(missing)),
        }
    }
    if breathing != Breathing::Mask && question.medical_required {
        needs.push(medically(question));
    }
    let missing: Vec<String> = needs.iter().filter_map(|need| need.as_ref().err().cloned()).collect();
    if !missing.is_empty() {
        return Some(Clearance::Missing(missing));
    }
    let (until, first) = needs.into_iter().flatten().min_by_key(|(until, _)| *until)?;
    let because = match until {
        NaiveDate::MAX => "Cleared.".to_owned(),
        until => format!("Cleared through {}: {first} runs out then.", long_date(until)),
    };
    Some(Clearance::Cleared { until, models, because })
}

/// The accepted procedure of a phase that the person holds longest.
fn shown(accepted: &[&Accepted<'_>], phase: Phase) -> Need {
    let what = if phase == Phase::Donning { "putting on" } else { "taking off" };
    let of_phase = || accepted.iter().filter(|one| one.procedure.phase == phase);
    let holds = |one: &&&Accepted<'_>| matches!(one.standing.state, State::Current | State::DueSoon);
    let longest = of_phase().filter(holds).max_by_key(|one| one.standing.valid_until);
    if let Some(one) = longest {
        return Ok((
            one.standing.valid_until.unwrap_or(NaiveDate::MAX),
            format!("\"{}\"", one.procedure.title),
        ));
    }
    // What was shown last tells most about what is to be done.
    match of_phase().max_by_key(|one| one.standing.decided_on) {
        Some(one) if one.standing.decided_on.is_some() || of_phase().count() == 1 => {
            Err(format!("{}: {}", one.procedure.title, one.standing.because))
        }
        Some(_) => Err(format!("No accepted procedure for {what} was ever validated.")),
        None => Err(format!("No procedure for {what} is accepted for these precautions.")),
    }
}

/// The models in use for which a fit test holds, with its last day, the longest first.
fn fitted(question: &Question<'_>, accepted: &[&Accepted<'_>]) -> Result<Vec<(NaiveDate, String)>, String> {
    let mut models: Vec<&str> = accepted
        .iter()
        .filter(|one| one.procedure.phase == Phase::Donning)
        .flat_map(|one| &one.procedure.equipment.respirator_models)
        .map(|model| model.name.as_str())
        .collect();
    models.sort_unstable();
    models.dedup();
    if models.is_empty() {
        return Err(
            "No respirator model is set in the procedure, so that no fit test can be for it.".to_owned()
        );
    }
    let mut holding = Vec::new();
    let mut missing = Vec::new();
    for model in models {
        match fit(question, model) {
            Ok(until) => holding.push((until, model.to_owned())),
            Err(sentence) => missing.push(sentence),
        }
    }
    holding.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
    if holding.is_empty() { Err(missing.join(" ")) } else { Ok(holding) }
}

/// Through when the fit test with one model holds: a year, on or before the anniversary (29 CFR
/// 1910.134(f)(2), and OSHA's letter of 23 December 1998). The latest test of a size decides, so that a
/// failed one ends an earlier one of that size.
fn fit(question: &Question<'_>, model: &str) -> Result<NaiveDate, String> {
    let own =
        || question.fit_tests.iter().filter(|test| same(&test.model, model) && test.on <= question.as_of);
    let decides = own().filter(|test| {
        let later = |other: &&FitTest| same(&other.size, &test.size) && other.on >= test.on;
        own().rfind(later).is_some_and(|last| std::ptr::eq(last, *test))
    });
    let passed = decides.filter(|test| test.passed);
    let Some(last) = passed.max_by_key(|test| test.on) else {
        return Err(match own().next_back() {
            Some(failed) => {
                format!("The fit test with {model} on {} was not passed.", long_date(failed.on))
            }
            None => format!("No fit test with {model}."),
        });
    };
    let until = valid_until(last.on, 12).unwrap_or(NaiveDate::MAX);
    let strict = question.strict_year.then(|| strict_year(last.on, until)).flatten();
    let until = strict.map_or(until, |cut| cut.by);
    if until < question.as_of {
        Err(format!("The fit test with {model} ran out on {}.", long_date(until)))
    } else {
        Ok(until)
    }
}

/// Names are typed by people: neither case nor space around them tells two models apart.
fn same(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

fn medically(question: &Question<'_>) -> Need {
    match question.medical.iter().rfind(|one| one.on <= question.as_of) {
        None => Err("No medical clearance for a respirator.".to_owned()),
        Some(one) if !one.cleared => {
            Err(format!("Not medically cleared for a respirator on {}.", long_date(one.on)))
        }
        Some(one) => match one.until {
            Some(until) if until < question.as_of => {
                Err(format!("The medical clearance ran out on {}.", long_date(until)))
            }
            until => Ok((until.unwrap_or(NaiveDate::MAX), "the medical clearance".to_owned())),
        },
    }
}

#[cfg(test)]
mod tests;
