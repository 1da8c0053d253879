//! The types of a procedure file, field by field.

use std::collections::BTreeMap;
use std::fmt;

use serde::de::value::MapAccessDeserializer;
use serde::de::{Deserializer, Error, MapAccess, Visitor};
use serde::{Deserialize, Serialize};

use super::facility::Equipment;

/// Names an act, such as `hand-hygiene`.
pub type ActId = String;
/// Names a step within one procedure.
pub type StepId = String;
/// Names a condition within one procedure.
pub type ConditionId = String;
/// Names a source within one procedure.
pub type SourceId = String;

/// What a semantic version looks like, as semver.org gives it.
#[cfg(feature = "schema")]
const SEMANTIC: &str = r"^(0|[1-9]\d*)\.(0|[1-9]\d*)\.(0|[1-9]\d*)(?:-((?:0|[1-9]\d*|\d*[a-zA-Z-][0-9a-zA-Z-]*)(?:\.(?:0|[1-9]\d*|\d*[a-zA-Z-][0-9a-zA-Z-]*))*))?(?:\+([0-9a-zA-Z-]+(?:\.[0-9a-zA-Z-]+)*))?$";

/// One procedure in one version: how one ensemble is put on or taken off under one set of precautions.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Procedure {
    /// Where the schema of this file is, for editors.
    #[serde(rename = "$schema", default, skip_serializing_if = "Option::is_none")]
    pub schema: Option<String>,
    /// Stable name, the same in every version: small letters, digits and hyphens.
    pub id: String,
    /// Semantic version, such as `1.0.0`.
    #[cfg_attr(feature = "schema", schemars(regex(pattern = SEMANTIC)))]
    pub version: String,
    /// What people call it.
    pub title: String,
    /// Putting on or taking off.
    pub phase: Phase,
    /// Procedures that are accepted alternatives of one another share a family.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub family: Option<String>,
    /// The other sequences of its family that are in force are accepted too: a demonstration is scored
    /// against each, and the best is kept and named. The facility's to set.
    #[serde(default, skip_serializing_if = "is_false")]
    pub accepts_family: bool,
    /// The precautions it belongs to.
    pub precautions: Vec<Precaution>,
    /// The equipment, item by item.
    pub ensemble: Vec<String>,
    /// The modes in which a demonstration of it may grant a validation.
    #[serde(default = "assessed_only")]
    pub validates_in: Vec<Mode>,
    /// How many calendar months a validation holds.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 120)))]
    #[serde(default = "twelve")]
    pub valid_months: u32,
    /// The facility's pass rule; guidance publishes none.
    #[serde(default)]
    pub pass: PassRule,
    /// The products and models that the facility uses; the facility's to set.
    #[serde(default, skip_serializing_if = "Equipment::is_empty")]
    pub equipment: Equipment,
    /// The published guidance it is written from.
    pub sources: Vec<Source>,
    /// What the observer sees, by id, with the label to show.
    pub acts: BTreeMap<ActId, String>,
    /// Acts that stand for several acts done in one.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub combined_acts: BTreeMap<ActId, CombinedAct>,
    /// What may hold at the start, or may happen at any time.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub conditions: Vec<Condition>,
    /// The steps, in printed order. The order that counts is in [`Step::after`].
    pub steps: Vec<Step>,
    /// What must come next when a condition is observed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub responses: Vec<Response>,
    /// What must come next after a contamination event: each group in turn, any act of a group.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub contamination_response: Vec<Vec<ActId>>,
    /// Acts that may be repeated anywhere at no cost.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub free_acts: Vec<ActId>,
    /// Acts that must not happen, until a step is done or throughout.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub forbidden_acts: Vec<ForbiddenAct>,
}

fn assessed_only() -> Vec<Mode> {
    vec![Mode::Assessed]
}

fn twelve() -> u32 {
    12
}

/// Donning or doffing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Phase {
    /// Putting on.
    Donning,
    /// Taking off.
    Doffing,
    /// Neither: hand hygiene, re-processing.
    Other,
}

/// The precautions a procedure belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Precaution {
    /// Standard precautions, with every patient.
    Standard,
    /// Contact precautions.
    Contact,
    /// Droplet precautions.
    Droplet,
    /// Airborne precautions.
    Airborne,
    /// High-consequence infectious disease.
    HighConsequence,
}

/// The two ways to observe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Mode {
    /// The observer reads every step aloud and confirms it; a prompt is the method.
    Guided,
    /// The person works unaided; a prompt is counted.
    Assessed,
}

/// When a demonstration is good enough; the facility's to set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PassRule {
    /// More findings of severity `other` than this are not yet competent.
    #[serde(default = "two")]
    pub max_other_findings: u32,
    /// Least share of the score in percent, 0 to 100; none where no share is asked for.
    #[cfg_attr(feature = "schema", schemars(range(min = 0, max = 100)))]
    #[serde(default)]
    pub min_percent: Option<u32>,
}

fn two() -> u32 {
    2
}

impl Default for PassRule {
    fn default() -> Self {
        PassRule { max_other_findings: two(), min_percent: None }
    }
}

/// A published source.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// How steps name it.
    pub id: SourceId,
    /// Its title.
    pub title: String,
    /// Who publishes it.
    pub publisher: String,
    /// Year of publication.
    pub year: i32,
    /// Where in it, or where to find it.
    pub locator: String,
    /// How it was consulted.
    pub footing: Footing,
}

/// How well a source was consulted; shown on screen and paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Footing {
    /// Read in the issuing body's own text.
    Read,
    /// Read in a secondary copy or summary.
    Secondary,
    /// From memory: check it against the current source before use.
    Memory,
    /// Common practice, no source.
    CommonPractice,
}

/// One act that stands for several done in one, in the order given.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CombinedAct {
    /// The label to show.
    pub label: String,
    /// The acts it counts as, in order; two or more.
    pub counts_as: Vec<ActId>,
}

/// Something that may hold or happen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// How steps and responses name it.
    pub id: ConditionId,
    /// When it is asked for.
    pub ask: Ask,
    /// The statement that may hold.
    pub text: String,
}

/// When a condition is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Ask {
    /// Before the first act.
    Start,
    /// It may be observed at any time.
    Anytime,
}

/// One step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// How other steps name it.
    pub id: StepId,
    /// The part of the procedure it is grouped under, such as `Hands`.
    pub section: String,
    /// Any one of these acts satisfies it.
    pub acts: Vec<ActId>,
    /// The step in one sentence, as it is read aloud.
    pub text: String,
    /// Acceptance points: what the observer looks for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub look_for: Vec<String>,
    /// The steps that must be done directly before it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub after: Vec<Predecessor>,
    /// The step it must directly follow, free acts aside; implies `after`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub immediately_after: Option<StepId>,
    /// It must be done. Says nothing about its order.
    #[serde(default, skip_serializing_if = "is_false")]
    pub critical: bool,
    /// It may be skipped freely.
    #[serde(default, skip_serializing_if = "is_false")]
    pub optional: bool,
    /// It is required only if this condition holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub when: Option<ConditionId>,
    /// It is required only if this condition, which is asked for at the start, does not hold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unless: Option<ConditionId>,
    /// Who carries it out.
    #[serde(default, skip_serializing_if = "By::is_wearer")]
    pub by: By,
    /// Least duration of an act in seconds, where one is published.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub min_seconds: BTreeMap<ActId, u32>,
    /// How it is done badly.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub technique_faults: Vec<TechniqueFault>,
    /// Why it matters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
    /// The source it is taken from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<SourceId>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it with a reference")]
fn is_false(value: &bool) -> bool {
    !*value
}

/// A direct predecessor: its id alone, or with the danger of breaking this very order.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum Predecessor {
    /// The id of the step that comes before.
    Plain(StepId),
    /// The same, with what breaking the order means.
    Explained(Precedence),
}

/// A precedence with its danger and reason.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Precedence {
    /// The step that comes before.
    pub step: StepId,
    /// Breaking this very order exposes the person.
    #[serde(default, skip_serializing_if = "is_false")]
    pub danger: bool,
    /// Why it matters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// Written out, since serde's own reading of an untagged enum loses what is wrong inside it, and where.
impl<'de> Deserialize<'de> for Predecessor {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Either;

        impl<'de> Visitor<'de> for Either {
            type Value = Predecessor;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the id of a step, or an object with \"step\", \"danger\" and \"why\"")
            }

            fn visit_str<E: Error>(self, step: &str) -> Result<Predecessor, E> {
                Ok(Predecessor::Plain(step.to_owned()))
            }

            fn visit_map<A: MapAccess<'de>>(self, fields: A) -> Result<Predecessor, A::Error> {
                Precedence::deserialize(MapAccessDeserializer::new(fields)).map(Predecessor::Explained)
            }
        }

        deserializer.deserialize_any(Either)
    }
}

impl Predecessor {
    /// The step that comes before.
    pub fn step(&self) -> &str {
        match self {
            Predecessor::Plain(step) => step,
            Predecessor::Explained(precedence) => &precedence.step,
        }
    }

    /// Whether breaking this very order exposes the person.
    pub fn danger(&self) -> bool {
        match self {
            Predecessor::Plain(_) => false,
            Predecessor::Explained(precedence) => precedence.danger,
        }
    }

    /// Why the order matters, where the file says so.
    pub fn why(&self) -> Option<&str> {
        match self {
            Predecessor::Plain(_) => None,
            Predecessor::Explained(precedence) => precedence.why.as_deref(),
        }
    }
}

/// Who carries a step or an act out.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum By {
    /// The person observed.
    #[default]
    Wearer,
    /// The assistant.
    Assistant,
    /// The observer.
    Observer,
}

impl By {
    /// Whether it is the wearer.
    pub fn is_wearer(&self) -> bool {
        matches!(self, By::Wearer)
    }
}

/// One way of doing a step badly.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct TechniqueFault {
    /// How logs name it.
    pub code: String,
    /// What was seen, as a short statement.
    pub text: String,
    /// It carries contamination to the person and opens the contamination response.
    #[serde(default, skip_serializing_if = "is_false")]
    pub contaminates: bool,
}

/// What must come next each time a condition is observed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Response {
    /// The condition.
    pub to: ConditionId,
    /// Each group in turn, any act of a group; free acts aside.
    pub acts: Vec<Vec<ActId>>,
    /// Leaving it out is a critical finding.
    #[serde(default, skip_serializing_if = "is_false")]
    pub critical: bool,
    /// Why it matters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
    /// The source it is taken from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<SourceId>,
}

/// An act that must not happen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ForbiddenAct {
    /// The act.
    pub act: ActId,
    /// Forbidden until this step is done; throughout where none is named.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<StepId>,
    /// Why it matters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}
