//! A procedure made ready for scoring and for watching: names turned into numbers, the order closed.

use std::collections::{BTreeMap, BTreeSet};

use crate::bits::Bits;
use crate::procedure::{Applies, By, Procedure, Step};

mod acts;
mod order;
mod sections;

use acts::Names;

pub(crate) use order::Order;
pub use order::orders_of_shared_acts;
pub use sections::{Section, Tile, TileKind};

/// The most steps a procedure may have.
pub const MAX_STEPS: usize = 128;

/// The most possible orders of unordered steps that share an act.
pub const MAX_SHARED_ORDERS: usize = 64;

/// A procedure made ready. Steps, acts and conditions are numbered in the order of the file; steps
/// beyond [`MAX_STEPS`], which checking refuses, are not seen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Model {
    procedure: Procedure,
    steps: BTreeMap<String, usize>,
    rows: Vec<Row>,
    acts: Names,
    act_rows: Vec<ActRow>,
    conditions: BTreeMap<String, usize>,
    optional: Bits,
    responses: Vec<Expected>,
    contamination_response: Vec<Vec<usize>>,
    sections: Vec<Section>,
}

/// One step's place in the order.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Row {
    /// Every step that must come before it.
    before: Bits,
    /// Every step that must come after it.
    after: Bits,
    /// The declared direct predecessors, those of `immediately_after` included.
    declared: Vec<Edge>,
    immediately_after: Option<usize>,
    optional: bool,
    when: When,
}

/// A declared direct predecessor.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Edge {
    pub(crate) before: usize,
    pub(crate) danger: bool,
    pub(crate) why: Option<String>,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
enum When {
    #[default]
    Always,
    Holds(usize),
    HoldsNot(usize),
    /// The file names a condition it does not have; checking refuses that.
    Never,
}

/// One act.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct ActRow {
    pub(crate) id: String,
    /// The steps that it satisfies, whoever does it.
    pub(crate) steps: Bits,
    /// Those of them that are the wearer's.
    wearers: Bits,
    pub(crate) free: bool,
    /// Index in `forbidden_acts`, and the step until which it is forbidden.
    pub(crate) forbidden: Option<(usize, Option<usize>)>,
    /// What it counts as, in order: itself alone unless it is a combined act.
    pub(crate) parts: Vec<usize>,
}

impl ActRow {
    /// The steps that it satisfies when this person does it: what the assistant or the observer does is never a
    /// step of the wearer's. What the log gives to the wearer, as it does where it does not say, is the
    /// team's where only a step of theirs calls for it.
    pub(crate) fn steps_by(&self, by: By) -> Bits {
        if !by.is_wearer() {
            self.steps.without(self.wearers)
        } else if self.wearers.is_empty() {
            self.steps
        } else {
            self.wearers
        }
    }
}

/// What must come next after a condition.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Expected {
    pub(crate) condition: usize,
    pub(crate) groups: Vec<Vec<usize>>,
}

impl Model {
    /// Makes a checked procedure ready. One that was not checked gives a model that scores without
    /// panicking, but what it says means nothing: names that lead nowhere are passed over.
    pub fn new(procedure: Procedure) -> Model {
        let listed = procedure.steps.get(..MAX_STEPS).unwrap_or(&procedure.steps);
        let steps: BTreeMap<String, usize> =
            listed.iter().enumerate().map(|(index, step)| (step.id.clone(), index)).collect();
        let conditions: BTreeMap<String, usize> =
            procedure.conditions.iter().enumerate().map(|(index, c)| (c.id.clone(), index)).collect();
        let (acts, act_rows) = acts::of(&procedure, &steps);
        let numbers = |groups: &[Vec<String>]| -> Vec<Vec<usize>> {
            groups.iter().map(|group| group.iter().filter_map(|act| acts.number(act)).collect()).collect()
        };
        let responses = procedure
            .responses
            .iter()
            .map(|response| Expected {
                condition: conditions.get(&response.to).copied().unwrap_or(usize::MAX),
                groups: numbers(&response.acts),
            })
            .collect();
        let contamination_response = numbers(&procedure.contamination_response);
        let mut rows: Vec<Row> = listed.iter().map(|step| row_of(step, &steps, &conditions)).collect();
        order::close(&mut rows);
        let optional =
            rows.iter().enumerate().filter(|(_, row)| row.optional).map(|(step, _)| step).collect();
        let sections = sections::of(&procedure);
        Model {
            procedure,
            steps,
            rows,
            acts,
            act_rows,
            conditions,
            optional,
            responses,
            contamination_response,
            sections,
        }
    }

    /// The procedure it was made from.
    pub fn procedure(&self) -> &Procedure {
        &self.procedure
    }

    /// The sections in file order with their acts, each act once at a fixed place; last, with no
    /// title, the acts that belong to no one section.
    pub fn sections(&self) -> &[Section] {
        &self.sections
    }

    /// How many steps there are.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The number of a step.
    pub fn step_number(&self, id: &str) -> Option<usize> {
        self.steps.get(id).copied()
    }

    /// The step of that number.
    pub fn step(&self, number: usize) -> Option<&Step> {
        self.procedure.steps.get(number)
    }

    /// Whether the first step must come before the second, directly or through others.
    pub fn must_precede(&self, first: usize, second: usize) -> bool {
        self.before(second).has(first)
    }

    /// Every declared precedence, those of `immediately_after` included, by numbers: the earlier step,
    /// the later one, and whether breaking it is a danger.
    pub fn precedences(&self) -> impl Iterator<Item = (usize, usize, bool)> {
        self.rows
            .iter()
            .enumerate()
            .flat_map(|(after, row)| row.declared.iter().map(move |edge| (edge.before, after, edge.danger)))
    }

    /// Whether a step applies where exactly these conditions hold.
    pub fn applies<'a>(&self, step: usize, conditions: impl IntoIterator<Item = &'a str>) -> bool {
        let holding = conditions.into_iter().filter_map(|id| self.condition_number(id)).collect();
        self.applying(&holding).has(step)
    }

    /// How many acts there are, combined ones included.
    pub(crate) fn act_count(&self) -> usize {
        self.act_rows.len()
    }

    /// The label of an act or a combined act; its id where the procedure does not know it.
    pub fn act_label<'a>(&'a self, act: &'a str) -> &'a str {
        let plain = self.procedure.acts.get(act).map(String::as_str);
        let combined = || self.procedure.combined_acts.get(act).map(|combined| combined.label.as_str());
        plain.or_else(combined).unwrap_or(act)
    }

    /// What a step is called in a sentence: by its acts, quoted. Where several steps call for the same
    /// acts, with the step that is printed before it.
    pub fn step_name(&self, id: &str) -> String {
        let Some(number) = self.step_number(id) else { return format!("“{id}”") };
        let listed = &self.procedure.steps;
        let Some(step) = listed.get(number) else { return format!("“{id}”") };
        let name = crate::sentence::acts_of(self, step);
        if listed.iter().filter(|other| other.acts == step.acts).count() < 2 {
            return name;
        }
        match number.checked_sub(1).and_then(|number| listed.get(number)) {
            Some(printed) => format!("{name} (printed after {})", crate::sentence::acts_of(self, printed)),
            None => format!("{name} (printed first)"),
        }
    }

    pub(crate) fn before(&self, step: usize) -> Bits {
        self.rows.get(step).map_or(Bits::EMPTY, |row| row.before)
    }

    pub(crate) fn after(&self, step: usize) -> Bits {
        self.rows.get(step).map_or(Bits::EMPTY, |row| row.after)
    }

    pub(crate) fn declared(&self, step: usize) -> &[Edge] {
        self.rows.get(step).map_or(&[], |row| &row.declared)
    }

    pub(crate) fn immediately_after(&self, step: usize) -> Option<usize> {
        self.rows.get(step).and_then(|row| row.immediately_after)
    }

    /// The number on paper and on screen, from 1 on, of the step that this one must follow at once.
    pub fn right_after(&self, step: &Step) -> Option<usize> {
        self.step_number(step.immediately_after.as_ref()?).map(|number| number + 1)
    }

    pub(crate) fn condition_number(&self, id: &str) -> Option<usize> {
        self.conditions.get(id).copied()
    }

    /// The steps that apply where these conditions, by number, hold.
    pub(crate) fn applying(&self, holding: &BTreeSet<usize>) -> Bits {
        let applies = |row: &Row| match row.when {
            When::Always => true,
            When::Holds(condition) => holding.contains(&condition),
            When::HoldsNot(condition) => !holding.contains(&condition),
            When::Never => false,
        };
        self.rows.iter().enumerate().filter(|(_, row)| applies(row)).map(|(step, _)| step).collect()
    }

    pub(crate) fn optional(&self) -> Bits {
        self.optional
    }

    /// The numbers of the acts that an observed act counts as; none where it is unknown.
    pub(crate) fn parts(&self, act: &str) -> &[usize] {
        self.act_number(act).map_or(&[], |act| self.parts_of(act))
    }

    pub(crate) fn act_number(&self, act: &str) -> Option<usize> {
        self.acts.number(act)
    }

    pub(crate) fn parts_of(&self, act: usize) -> &[usize] {
        self.act(act).map_or(&[], |row| &row.parts)
    }

    pub(crate) fn act(&self, act: usize) -> Option<&ActRow> {
        self.act_rows.get(act)
    }

    pub(crate) fn responses(&self) -> &[Expected] {
        &self.responses
    }

    pub(crate) fn contamination_response(&self) -> &[Vec<usize>] {
        &self.contamination_response
    }

    /// Whether some step that this act satisfies declares the fault as carrying contamination.
    pub(crate) fn fault_contaminates(&self, act: &str, code: &str) -> bool {
        self.parts(act)
            .iter()
            .filter_map(|&part| self.act(part))
            .flat_map(|part| part.steps.iter())
            .filter_map(|step| self.step(step))
            .flat_map(|step| &step.technique_faults)
            .any(|fault| fault.code == code && fault.contaminates)
    }
}

fn row_of(step: &Step, steps: &BTreeMap<String, usize>, conditions: &BTreeMap<String, usize>) -> Row {
    let mut declared: Vec<Edge> = step
        .after
        .iter()
        .filter_map(|predecessor| {
            let before = steps.get(predecessor.step()).copied()?;
            Some(Edge { before, danger: predecessor.danger(), why: predecessor.why().map(str::to_owned) })
        })
        .collect();
    let immediately_after = step.immediately_after.as_ref().and_then(|id| steps.get(id)).copied();
    if let Some(before) = immediately_after
        && !declared.iter().any(|edge| edge.before == before)
    {
        declared.push(Edge { before, danger: false, why: None });
    }
    let known = |id: &str, when: fn(usize) -> When| conditions.get(id).map_or(When::Never, |&it| when(it));
    let when = match step.applies() {
        Applies::Always => When::Always,
        Applies::Where(id) => known(id, When::Holds),
        Applies::NotWhere(id) => known(id, When::HoldsNot),
    };
    Row { declared, immediately_after, optional: step.optional, when, ..Row::default() }
}
