# The roster by pandas (BSD): of each person and procedure the attempt that decides, through when it holds, and the
# state, as one would write it with groupby and merge. Data frames are made, typed and sorted before the clock starts.
import json
import sys
import time

import pandas

question = json.load(sys.stdin)
today = pandas.Timestamp(question["today"])
epoch = pandas.Timestamp("1970-01-01")
attempts = pandas.DataFrame(
    {
        "person": pandas.array(question["person"], dtype="int32"),
        "procedure": pandas.array(question["procedure"], dtype="int16"),
        "on": epoch + pandas.to_timedelta(question["on"], unit="D"),
        "competent": question["competent"],
    }
)
# Calendar months, cut to the end of the month: made with the data, as a sealed record carries it too.
attempts["until"] = attempts["on"] + pandas.DateOffset(months=12)
attempts = attempts.sort_values(["person", "procedure", "on"], ignore_index=True)
people = pandas.DataFrame({"person": range(question["people"])}).astype("int32")
people["unit"] = people["person"] // question["unit_size"]
procedures = pandas.DataFrame({"procedure": range(question["procedures"])}).astype("int16")
lead = pandas.Timedelta(days=question["lead_days"])


def roster(unit, today):
    asked, seen = people, attempts
    if unit is not None:
        asked = people[people["unit"] == unit]
        seen = attempts[attempts["person"].isin(asked["person"])]
    decides = seen[seen["on"] <= today].groupby(["person", "procedure"], sort=False).last().reset_index()
    rows = asked.merge(procedures, how="cross").merge(decides, how="left", on=["person", "procedure"])
    state = pandas.Series("current", index=rows.index)
    state[rows["until"] - today <= lead] = "due soon"
    state[rows["until"] < today] = "overdue"
    state[rows["competent"] == False] = "not yet competent"  # noqa: E712
    state[rows["on"].isna()] = "never validated"
    return state.value_counts()


def timed(unit, today):
    times = []
    for _ in range(question["turns"]):
        before = time.perf_counter()
        counts = roster(unit, today)
        times.append((time.perf_counter() - before) * 1000)
    return sorted(times)[len(times) // 2], {state: int(count) for state, count in counts.items()}


hospital_ms, hospital = timed(None, today)
unit_ms, unit = timed(question["unit"], today)
earlier_ms, _ = timed(None, today - pandas.Timedelta(days=400))
json.dump(
    {
        "version": pandas.__version__,
        "hospital_ms": hospital_ms,
        "unit_ms": unit_ms,
        "earlier_ms": earlier_ms,
        "hospital": hospital,
        "unit": unit,
    },
    sys.stdout,
)
