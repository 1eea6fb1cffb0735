"""The heart-rate equation of each rung solved by scipy, against what is printed.

Reads the same JSON lines as checker.py; prints how many segments were compared and the largest difference in bpm.
"""

import json
import sys

from scipy.integrate import solve_ivp


def ends(person_rest, stage):
    """Rates at every segment's end: dr/dt = (slope x load - r) / tau, and the drift of 0.15 bpm a minute after 10 minutes."""
    reasons = {one["id"]: one["value"] for one in stage["because"]}
    slope, tau = reasons["response/slope"], reasons["response/time-constant"]
    rise, clock = 0.0, 0.0
    for segment in stage["segments"]:
        target = slope * (segment["mets"] - 1) * segment["hr_gain"]
        span = (clock, clock + segment["seconds"])
        solved = solve_ivp(lambda _, r: (target - r) / tau, span, [rise], method="DOP853", rtol=1e-10, atol=1e-10)
        assert solved.success, solved.message
        rise, clock = float(solved.y[0, -1]), span[1]
        yield person_rest + rise + 0.15 * max(0.0, clock - 600) / 60


def main():
    compared, largest, chains = 0, 0.0, 0
    with open(sys.argv[1], encoding="utf-8") as file:
        for text in file:
            line = json.loads(text)
            rest = line["limits"]["limits"]["resting_hr"]
            stages = [s for s in line["programme"]["stages"] if s["predicted"]["peak_hr"] is not None]
            if not stages or chains == int(sys.argv[2]):
                continue
            chains += 1
            for stage in stages:
                for rate, segment in zip(ends(rest, stage), stage["segments"], strict=True):
                    largest = max(largest, abs(rate - segment["predicted_hr"]))
                    compared += 1
    print(json.dumps({"chains": chains, "segments": compared, "largest_bpm": largest}))


main()
