# Plans of sessions by SciPy (BSD): scipy.optimize.linear_sum_assignment, the sessions' places as columns of their
# own, and scipy.optimize.milp (HiGHS) as a whole-number program. Whoever is left out costs more than all others
# together, so that the fewest lapse first; the days of validity given away come second.
import json
import sys

import numpy
from scipy.optimize import Bounds, LinearConstraint, linear_sum_assignment, milp

question = json.load(sys.stdin)


def costs_of(case):
    """Days given away of each person in each session; None where it is not theirs."""
    return [
        [
            person["until"] - session["on"]
            if person["opens"] <= session["on"] <= person["until"]
            and person["id"] != session["observer"]
            and (session["procedures"] is None or person["procedure"] in session["procedures"])
            else None
            for session in case["sessions"]
        ]
        for person in case["people"]
    ]


def told(costs, chosen):
    """How many lapse, and the days given away by the others."""
    seen = [costs[person][session] for person, session in chosen]
    return [len(costs) - len(seen), int(sum(seen))]


def by_assignment(case):
    costs = costs_of(case)
    columns = [at for at, session in enumerate(case["sessions"]) for _ in range(session["places"])]
    if not costs:
        return [0, 0]
    out = 1 + sum(cost for row in costs for cost in row if cost is not None)
    matrix = numpy.full((len(costs), len(columns) + len(costs)), float(out))
    for person, row in enumerate(costs):
        for column, session in enumerate(columns):
            matrix[person, column] = out * 2 if row[session] is None else row[session]
    people, places = linear_sum_assignment(matrix)
    chosen = [
        (person, columns[place])
        for person, place in zip(people, places)
        if place < len(columns) and costs[person][columns[place]] is not None
    ]
    return told(costs, chosen)


def by_milp(case):
    costs = costs_of(case)
    pairs = [(p, s) for p, row in enumerate(costs) for s, cost in enumerate(row) if cost is not None]
    if not pairs:
        return [len(costs), 0]
    out = 1 + sum(costs[p][s] for p, s in pairs)
    people = numpy.zeros((len(costs), len(pairs)))
    sessions = numpy.zeros((len(case["sessions"]), len(pairs)))
    for at, (p, s) in enumerate(pairs):
        people[p, at] = sessions[s, at] = 1
    places = [session["places"] for session in case["sessions"]]
    answer = milp(
        numpy.array([costs[p][s] - out for p, s in pairs], dtype=float),
        integrality=numpy.ones(len(pairs)),
        bounds=Bounds(0, 1),
        constraints=[LinearConstraint(people, -numpy.inf, 1), LinearConstraint(sessions, -numpy.inf, places)],
    )
    assert answer.success, answer.message
    return told(costs, [pair for pair, taken in zip(pairs, answer.x) if taken > 0.5])


way = {"assignment": by_assignment, "milp": by_milp}[question["by"]]
json.dump([way(case) for case in question["cases"]], sys.stdout)
