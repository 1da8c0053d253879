//! "Who may go in tonight?": a clearance for a person and precautions, and what is missing otherwise.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::{
    procedure::{Phase, Precaution, Procedure},
    validity::{Standing, Suspension, long_date},
};

mod wearer;

pub use wearer::{FitTest, Medical, Wearer, factor_passes};

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
    /// What is known of the person as a wearer of respirators.
    pub wearer: Wearer,
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

/// One thing needed: through when it holds and what it is, or what is missing.
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

/// What a person lacks before they may put on what a procedure is demonstrated in, a respirator that is, with
/// what to do; empty where nothing is missing. Whatever can be demonstrated with a mask needs nothing.
///
/// A fit test and a medical evaluation come before a respirator is first used, 29 CFR 1910.134(e)(1) and (f)(2)
/// (from memory), and so before a demonstration too; a seal check is a step of the procedure.
pub fn prerequisites(procedure: &Procedure, wearer: &Wearer, as_of: NaiveDate) -> Vec<String> {
    let worn = |kind: Breathing| procedure.precautions.iter().any(|one| kind.worn_in(procedure, *one));
    let mut missing = Vec::new();
    if worn(Breathing::Mask) || !worn(Breathing::Tight) && !worn(Breathing::LooseHood) {
        return missing;
    }
    if worn(Breathing::Tight)
        && let Err(why) = wearer.fitted([procedure], as_of)
    {
        missing.push(format!("{why} Arrange the fit test first, or wear a model that was fitted."));
    }
    if wearer.medical_required
        && let Err(why) = wearer.medically(as_of)
    {
        missing.push(format!("{why} Ask occupational health before a respirator is put on."));
    }
    missing
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
    let (wearer, as_of) = (&question.wearer, question.as_of);
    if breathing == Breathing::Tight {
        let donning = accepted.iter().map(|one| one.procedure).filter(|one| one.phase == Phase::Donning);
        match wearer.fitted(donning, as_of) {
            Ok(fitted) => {
                needs.extend(
                    fitted.first().map(|(until, model)| Ok((*until, format!("the fit test with {model}")))),
                );
                models = fitted.into_iter().map(|(_, model)| model).collect();
            }
            Err(missing) => needs.push(Err(missing)),
        }
    }
    if breathing != Breathing::Mask && wearer.medical_required {
        needs.push(wearer.medically(as_of));
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
    let holds = |one: &&&Accepted<'_>| one.standing.state.holds();
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

#[cfg(test)]
mod tests;
