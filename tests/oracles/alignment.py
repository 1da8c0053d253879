# Alignment costs by r4pm (Rust4PM, MIT or Apache-2.0): the optimal alignment of Adriansyah, van Dongen and
# van der Aalst (2011) of a trace with a Petri net, at unit costs.
#
# A case is the steps with their acts, whether they are optional, and everything that must come before
# them; the acts that are free; and the trace. A step is one transition for each of its acts, and a silent
# one where it is optional; an order is a place between two steps; a free act is a transition that is
# always ready and changes nothing.
import json
import sys
import uuid

from r4pm.bindings import align_trace

UNIT_COSTS = {"log_move_cost": 1, "model_move_cost": 1, "silent_move_cost": 0, "sync_move_cost": 0}


def cost(case):
    places, transitions, arcs = {}, {}, []
    initial, final = {}, {}

    def place(marking=None):
        name = str(uuid.uuid4())
        places[name] = {"id": name}
        if marking is not None:
            marking[name] = 1
        return name

    def transition(label, inputs, outputs):
        name = str(uuid.uuid4())
        transitions[name] = {"id": name, "label": label}
        for before in inputs:
            arcs.append({"from_to": {"type": "PlaceTransition", "nodes": [before, name]}, "weight": 1})
        for after in outputs:
            arcs.append({"from_to": {"type": "TransitionPlace", "nodes": [name, after]}, "weight": 1})

    inputs = [[place(initial)] for _ in case["steps"]]
    outputs = [[place(final)] for _ in case["steps"]]
    for number, step in enumerate(case["steps"]):
        for before in step["before"]:
            between = place()
            outputs[before].append(between)
            inputs[number].append(between)
    for number, step in enumerate(case["steps"]):
        labels = list(step["acts"]) + ([None] if step["optional"] else [])
        for label in labels:
            transition(label, inputs[number], outputs[number])
    for act in case["free"]:
        ready = place(initial)
        final[ready] = 1
        transition(act, [ready], [ready])
    net = {
        "places": places,
        "transitions": transitions,
        "arcs": arcs,
        "initial_marking": initial,
        "final_markings": [final],
    }
    return align_trace(net, case["trace"], {"cost_fn": UNIT_COSTS})["cost"]


json.dump([cost(case) for case in json.load(sys.stdin)], sys.stdout)
