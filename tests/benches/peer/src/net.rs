//! A case as a Petri net, as small as it can be: a step is one transition for each of its acts, and a
//! silent one where it is optional; a direct precedence is a place between two steps; a free act is a
//! transition that is always ready and changes nothing.

use process_mining::PetriNet;
use process_mining::conformance::alignments::{AlignmentOptions, align_trace};
use process_mining::core::process_models::case_centric::petri_net::{ArcType, Marking, PlaceID};

use crate::cases::Case;

pub fn of(case: &Case) -> PetriNet {
    let mut net = PetriNet::new();
    let (mut initial, mut last) = (Marking::new(), Marking::new());
    let marked = |net: &mut PetriNet, marking: &mut Marking| {
        let place = net.add_place(None);
        marking.insert(place, 1);
        vec![place]
    };
    let mut inputs: Vec<Vec<PlaceID>> = case.steps.iter().map(|_| marked(&mut net, &mut initial)).collect();
    let mut outputs: Vec<Vec<PlaceID>> = case.steps.iter().map(|_| marked(&mut net, &mut last)).collect();
    for (number, step) in case.steps.iter().enumerate() {
        let implied =
            |first: usize| step.before.iter().any(|&other| case.steps[other].before.contains(&first));
        for &first in step.before.iter().filter(|&&first| !implied(first)) {
            let between = net.add_place(None);
            outputs[first].push(between);
            inputs[number].push(between);
        }
    }
    for (number, step) in case.steps.iter().enumerate() {
        let silent = step.optional.then_some(None);
        for label in step.acts.iter().cloned().map(Some).chain(silent) {
            transition(&mut net, label, &inputs[number], &outputs[number]);
        }
    }
    for act in &case.free {
        let ready = marked(&mut net, &mut initial);
        last.insert(ready[0], 1);
        transition(&mut net, Some(act.clone()), &ready, &ready);
    }
    net.initial_marking = Some(initial);
    net.final_markings = Some(vec![last]);
    net
}

fn transition(net: &mut PetriNet, label: Option<String>, inputs: &[PlaceID], outputs: &[PlaceID]) {
    let transition = net.add_transition(label, None);
    for &place in inputs {
        net.add_arc(ArcType::place_to_transition(place, transition), None);
    }
    for &place in outputs {
        net.add_arc(ArcType::transition_to_place(transition, place), None);
    }
}

/// The cost of the optimal alignment, at unit costs.
pub fn cost(net: &PetriNet, trace: &[&str]) -> Result<u32, String> {
    let options = AlignmentOptions { max_states: None, ..AlignmentOptions::default() };
    align_trace(net, trace, &options).map(|found| found.cost).map_err(|error| error.to_string())
}
