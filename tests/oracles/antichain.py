# Alignment costs in two other ways, both by SciPy (BSD).
#
# "milp": as a whole-number program (scipy.optimize.milp, HiGHS): choose pairs of a step and an act of the
# trace, each used once, no two of them crossing the order, so that the least stays unmatched.
# "flow": as a maximum antichain of weights, which by Dilworth (1950) is the sum of all weights less a
# maximum flow (scipy.sparse.csgraph.maximum_flow); for cases whose steps that share an act are in order.
import json
import sys

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array
from scipy.sparse.csgraph import maximum_flow


def nodes_of(case):
    """Pairs (step, place in the trace), what each saves, and the cost where nothing is matched."""
    free = set(case["free"])
    nodes, saves = [], []
    for number, step in enumerate(case["steps"]):
        for place, act in enumerate(case["trace"]):
            if act in step["acts"]:
                nodes.append((number, place))
                saves.append((not step["optional"]) + (act not in free))
    nothing = sum(not step["optional"] for step in case["steps"])
    return nodes, saves, nothing + sum(act not in free for act in case["trace"])


def by_milp(case):
    nodes, saves, nothing = nodes_of(case)
    if not nodes:
        return nothing
    before = [set(step["before"]) for step in case["steps"]]
    rows, columns, row = [], [], 0
    for one in range(len(nodes)):
        for other in range(one + 1, len(nodes)):
            (s, i), (t, j) = nodes[one], nodes[other]
            crossing = (s in before[t] and i >= j) or (t in before[s] and j >= i)
            if s == t or i == j or crossing:
                rows += [row, row]
                columns += [one, other]
                row += 1
    bound = Bounds(0, 1)
    constraints = []
    if row:
        matrix = coo_array((numpy.ones(len(rows)), (rows, columns)), shape=(row, len(nodes))).tocsr()
        constraints = [LinearConstraint(matrix, -numpy.inf, 1)]
    answer = milp(-numpy.array(saves, dtype=float), integrality=numpy.ones(len(nodes)), bounds=bound, constraints=constraints)
    assert answer.success, answer.message
    return nothing + round(answer.fun)


def by_flow(case):
    nodes, saves, nothing = nodes_of(case)
    before = [set(step["before"]) for step in case["steps"]]
    size = len(nodes)
    source, sink = 2 * size, 2 * size + 1
    no_limit = sum(saves) + 1
    rows, columns, capacities = [], [], []

    def arc(tail, head, capacity):
        rows.append(tail)
        columns.append(head)
        capacities.append(capacity)

    for number, (s, i) in enumerate(nodes):
        arc(source, number, saves[number])
        arc(size + number, sink, saves[number])
        for other, (t, j) in enumerate(nodes):
            if other != number and (s == t or s in before[t]) and i >= j:
                arc(number, size + other, no_limit)
    graph = coo_array((capacities, (rows, columns)), shape=(sink + 1, sink + 1), dtype=numpy.int32).tocsr()
    flow = maximum_flow(graph, source, sink).flow_value
    return nothing - (sum(saves) - flow)


question = json.load(sys.stdin)
way = {"milp": by_milp, "flow": by_flow}[question["by"]]
json.dump([int(way(case)) for case in question["cases"]], sys.stdout)
