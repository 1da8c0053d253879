# Wilson score intervals at 95 % by SciPy (BSD): scipy.stats.binomtest(...).proportion_ci(method="wilson"), of every
# count of every group up to the size asked for, in millionths.
import json
import sys

from scipy.stats import binomtest

question = json.load(sys.stdin)
answer = []
for of in range(1, question["most"] + 1):
    for count in range(of + 1):
        interval = binomtest(count, of).proportion_ci(confidence_level=0.95, method="wilson")
        answer.append([float(interval.low) * 1e6, float(interval.high) * 1e6])
json.dump(answer, sys.stdout)
