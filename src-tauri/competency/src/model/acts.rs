//! The acts of a procedure and their numbers.

use std::collections::{BTreeMap, BTreeSet};

use super::ActRow;
use crate::procedure::Procedure;

/// Names by rising order; a name's number is its place. Every tap and every observation is looked up
/// here: most are told apart by their first eight bytes alone, three times as fast as in a `BTreeMap`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Names(Vec<(u64, String)>);

impl Names {
    fn new(names: BTreeSet<&String>) -> Names {
        Names(names.into_iter().map(|name| (beginning(name), name.clone())).collect())
    }

    fn all(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(_, name)| name.as_str())
    }

    pub(super) fn number(&self, name: &str) -> Option<usize> {
        let sought = beginning(name);
        self.0.binary_search_by(|(first, held)| first.cmp(&sought).then_with(|| held.as_str().cmp(name))).ok()
    }
}

/// The first eight bytes as a number that is ordered as they are; shorter names are filled up with zeros.
fn beginning(name: &str) -> u64 {
    let mut first = [0; 8];
    for (slot, &byte) in first.iter_mut().zip(name.as_bytes()) {
        *slot = byte;
    }
    u64::from_be_bytes(first)
}

/// Numbers every act that the file names anywhere. A combined act is taken apart unless a step, the
/// free acts or the forbidden acts name it as it is.
pub(super) fn of(procedure: &Procedure, steps: &BTreeMap<String, usize>) -> (Names, Vec<ActRow>) {
    let listed = procedure.steps.iter().flat_map(|step| &step.acts);
    let answers = procedure.responses.iter().flat_map(|response| &response.acts);
    let groups = answers.chain(&procedure.contamination_response).flatten();
    let forbidden = procedure.forbidden_acts.iter().map(|forbidden| &forbidden.act);
    let combined =
        procedure.combined_acts.iter().flat_map(|(id, act)| std::iter::once(id).chain(&act.counts_as));
    let known = procedure.acts.keys().chain(combined).chain(listed);
    let ids: BTreeSet<&String> = known.chain(groups).chain(forbidden).chain(&procedure.free_acts).collect();
    let numbers = Names::new(ids);
    let rows = numbers
        .all()
        .enumerate()
        .map(|(number, id)| {
            let mut row = ActRow { id: id.to_owned(), parts: vec![number], ..ActRow::default() };
            for step in &procedure.steps {
                if let Some(&step_number) = steps.get(&step.id)
                    && step.acts.iter().any(|act| act == id)
                {
                    row.steps.insert(step_number);
                    if step.by.is_wearer() {
                        row.wearers.insert(step_number);
                    }
                }
            }
            row.free = procedure.free_acts.iter().any(|act| act == id);
            row.forbidden = procedure.forbidden_acts.iter().enumerate().find(|(_, f)| f.act == id).map(
                |(index, forbidden)| {
                    (index, forbidden.until.as_ref().and_then(|until| steps.get(until)).copied())
                },
            );
            let plain = row.steps.is_empty() && !row.free && row.forbidden.is_none();
            if let Some(combined) = procedure.combined_acts.get(id)
                && plain
            {
                row.parts = combined.counts_as.iter().filter_map(|act| numbers.number(act)).collect();
            }
            row
        })
        .collect();
    (numbers, rows)
}

#[cfg(test)]
mod tests {
    use super::Names;

    #[test]
    fn every_name_is_found_at_its_place() {
        let names =
            ["", "\0", "a", "a\0", "remove-g", "remove-gloves", "remove-gown", "é", "手"].map(str::to_owned);
        let table = Names::new(names.iter().collect());
        for (number, name) in table.all().enumerate() {
            assert_eq!(table.number(name), Some(number), "{name:?}");
        }
        assert_eq!(table.all().count(), names.len());
        for absent in ["\0\0", "b", "remove-", "remove-goggles"] {
            assert_eq!(table.number(absent), None);
        }
    }
}
