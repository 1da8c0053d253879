# The last day of a validation by python-dateutil's relativedelta (BSD or Apache-2.0), for every day from the
# first to the last and every number of months, as day numbers of the proleptic Gregorian calendar.
import json
import sys
from datetime import date

from dateutil.relativedelta import relativedelta

question = json.load(sys.stdin)
first, last = (date.fromisoformat(question[end]).toordinal() for end in ("first", "last"))
answer = [
    [(date.fromordinal(day) + relativedelta(months=months)).toordinal() for day in range(first, last + 1)]
    for months in question["months"]
]
json.dump(answer, sys.stdout)
