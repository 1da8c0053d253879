# Plans of sessions by SciPy (BSD): scipy.optimize.linear_sum_assignment, the sessions' places as columns of their
# own, and scipy.optimize.milp (HiGHS) as a whole-number program. Whoever is left out costs more than all others
# together, so that the fewest lapse first; the days of validity given away come second. Those who lapse are then asked
# the same of the places that are left, whoever's turn comes first at the higher cost.
import json
import sys

import numpy
from scipy.optimize import Bounds, LinearConstraint, linear_sum_assignment, milp

question = json.load(sys.stdin)


def observed(person, session):
    return person["id"] != session["observer"] and (
        session["procedures"] is None or person["procedure"] in session["procedures"]
    )


def in_time(person, session):
    """Days given away; None where the session is not in their window."""
    return person["until"] - session["on"] if person["opens"] <= session["on"] <= person["until"] else None


def too_late(person, session):
    """Days without validity; None where the session is not after its end."""
    return session["on"] - person["until"] if person["until"] < session["on"] else None


def costs_of(people, sessions, days):
    return [[days(p, s) if observed(p, s) else None for s in sessions] for p in people]


def by_assignment(costs, places, out):
    """Who is seen where, at the least cost; out is what it costs to leave each of them out."""
    columns = [at for at, free in enumerate(places) for _ in range(free)]
    if not costs:
        return []
    never = 2 * max(out)
    matrix = numpy.full((len(costs), len(columns) + len(costs)), float(never))
    for person, row in enumerate(costs):
        for column, session in enumerate(columns):
            matrix[person, column] = never if row[session] is None else row[session]
        matrix[person, len(columns):] = out[person]
    people, taken = linear_sum_assignment(matrix)
    return [
        (person, columns[place])
        for person, place in zip(people, taken)
        if place < len(columns) and costs[person][columns[place]] is not None
    ]


def by_milp(costs, places, out):
    pairs = [(p, s) for p, row in enumerate(costs) for s, cost in enumerate(row) if cost is not None]
    if not pairs:
        return []
    people = numpy.zeros((len(costs), len(pairs)))
    sessions = numpy.zeros((len(places), len(pairs)))
    for at, (p, s) in enumerate(pairs):
        people[p, at] = sessions[s, at] = 1
    answer = milp(
        numpy.array([costs[p][s] - out[p] for p, s in pairs], dtype=float),
        integrality=numpy.ones(len(pairs)),
        bounds=Bounds(0, 1),
        constraints=[LinearConstraint(people, -numpy.inf, 1), LinearConstraint(sessions, -numpy.inf, places)],
        options={"mip_rel_gap": 0},
    )
    assert answer.success, answer.message
    return [pair for pair, taken in zip(pairs, answer.x) if taken > 0.5]


def all_days(costs):
    return 1 + sum(cost for row in costs for cost in row if cost is not None)


def told(case, way):
    """How many lapse, and the days given away; of those, how many of each turn are seen, and the days in between."""
    people, sessions = case["people"], case["sessions"]
    costs = costs_of(people, sessions, in_time)
    places = [session["places"] for session in sessions]
    seen = way(costs, places, [all_days(costs)] * len(people))
    first = [len(people) - len(seen), int(sum(costs[p][s] for p, s in seen))]
    for session in case["in_time"]:
        if session is not None:
            places[session] -= 1
    late = [person for person, session in zip(people, case["in_time"]) if session is None]
    costs = costs_of(late, sessions, too_late)
    turns = 1 + max((person["turn"] for person in late), default=0)
    seen = way(costs, places, [all_days(costs) * (1 + turns - person["turn"]) for person in late])
    of_turn = {}
    for p, _ in seen:
        of_turn[late[p]["turn"]] = of_turn.get(late[p]["turn"], 0) + 1
    return [first, [sorted(of_turn.items()), int(sum(costs[p][s] for p, s in seen))]]


way = {"assignment": by_assignment, "milp": by_milp}[question["by"]]
json.dump([told(case, way) for case in question["cases"]], sys.stdout)
