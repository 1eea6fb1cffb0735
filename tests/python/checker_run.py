"""The second checker's own proof: good answers broken on purpose, and settings changed under them; and the run itself.

Appended to `checker.py`, whose rules it uses. Standard library and numpy only.
"""


import copy
import sys


def breaks():
    """Ways of breaking a good line; each must be noticed."""
    stage = lambda line: line["programme"]["stages"][-1]
    parts = lambda line, kind: [s for s in stage(line)["segments"] if kind in (s["phase"], s["kind"])]
    newest = lambda line: max(line["case"]["examination"], key=lambda e: e["date"])
    limits = lambda line: line["limits"]["limits"]
    return {
        "contraindication": lambda l: l["case"]["history"].update(present=["endocarditis"]),
        "reading of the day": lambda l: newest(l).update(resting_bp_mmhg=[185, 80]),
        "symptom of the day": lambda l: newest(l).update(symptoms=["faint"]),
        "examination too old": lambda l: l["case"].update(examination=[]),
        "pulse target without a pulse": lambda l: l["case"]["heart"].update(rhythm="atrial-fibrillation"),
        "pulse target": lambda l: l["case"]["heart"].pop("rhythm"),
        "prediction without a pulse": lambda l: l["case"]["heart"].update(rhythm="atrial-flutter"),
        "band out of order": lambda l: limits(l)["hr"].update(low=limits(l)["hr"]["high"] + 1),
        "share of the reserve": lambda l: limits(l)["hr"].update(low=limits(l)["hr"]["low"] - 3),
        "device zone": lambda l: l["case"]["heart"].update(device={"kind": "icd", "lowest_treated_bpm": 100}),
        "device without its rate": lambda l: l["case"]["heart"].update(device={"kind": "icd"}),
        "ischaemic rate": lambda l: l["case"].update(test=[{"kind": "exercise-test", "ischaemia_hr_bpm": 60}]),
        "METs of the capacity": lambda l: limits(l)["mets"].update(high=limits(l)["mets"]["high"] + 3),
        "effort": lambda l: limits(l)["effort"].update(high=5),
        "effort ": lambda l: limits(l)["effort"].update(scale="6-20", low=20, high=20),
        "name of the service": lambda l: l["limits"].update(service="Another"),
        "reason without a source": lambda l: limits(l)["because"][0].update(source=""),
        "low fraction and no high risk": lambda l: l["case"]["heart"].update(ejection_fraction_pct=30)
        or l["limits"]["risk"].update({"class": "moderate"}),
        "abnormal pressure in the test and no high risk": lambda l: l["case"].update(
            test=[{"kind": "exercise-test", "bp_response": "fall-after"}]
        )
        or l["limits"]["risk"].update({"class": "moderate"}),
        "class of risk not let home": lambda l: (l["case"].pop("agreement", 0), l["limits"]["risk"].update({"class": "high"})),
        "what the class leads to": lambda l: l["limits"]["eligibility"].update(watched_needed=0),
        "alone too early": lambda l: l["case"].update(watched=[]) or l["limits"]["eligibility"].update(alone_now=True),
        "peak of the policy": lambda l: limits(l).update(peak_hr=220, peak_hr_measured=False),
        "too many times a week": lambda l: stage(l).update(sessions_per_week=6),
        "time between stations": lambda l: [s.update(seconds=s["seconds"] - 4) for s in stage(l)["segments"] if not s["exercise"]],
        "stages without the decision": lambda l: l["programme"]["screening"].update(decision="not-today"),
        "nothing and no reason": lambda l: l["programme"].update(stages=[], findings=[]),
        "order of the parts": lambda l: stage(l)["segments"].reverse(),
        "warm-up too short": lambda l: parts(l, "warm-up")[0].update(seconds=-5000),
        "cool-down too short": lambda l: parts(l, "cool-down")[0].update(seconds=-5000),
        "session too long": lambda l: parts(l, "warm-up")[0].update(seconds=3600),
        "stations without a capacity": lambda l: l["limits"]["capacity"].update(mets=None),
        "no turns": lambda l: parts(l, "active-recovery")[0].update(kind="cardiovascular"),
        "a muscle group twice running": lambda l: [s.update(exercise="heel-raises", variant="one-hand") for s in both(l)],
        "arms above the shoulder twice running": lambda l: [
            s.update(exercise="overhead-press", variant="seated") for s in both(l)
        ],
        "posture changes twice running": lambda l: limits(l).update(hypotensive=True)
        or [s.update(exercise="seated-march", variant="steady-slow") for s in parts(l, "cardiovascular")]
        and [s.update(exercise="heel-raises", variant="one-hand") for s in parts(l, "active-recovery")],
        "mean METs of a round": lambda l: [s.update(mets=s["mets"] + 6) for s in both(l)],
        "time of a station": lambda l: parts(l, "active-recovery")[0].update(seconds=61),
        "unknown": lambda l: parts(l, "warm-up")[0].update(exercise="cartwheels"),
        "cost of": lambda l: parts(l, "warm-up")[0].update(mets=1.01),
        "too dear": lambda l: limits(l).update(mets_station_high=1.1),
        "balance of": lambda l: limits(l).update(balance_max=-1),
        "contraindicated": lambda l: l["case"]["history"].update(present=["shoulder-pain"])
        or parts(l, "warm-up")[0].update(exercise="overhead-press", variant="seated"),
        "arms above the shoulder in healing weeks": lambda l: l["case"].update(event=[{"kind": "bypass-surgery"}])
        or parts(l, "warm-up")[0].update(exercise="overhead-press", variant="seated"),
        "no place for": lambda l: l["case"]["home"].update(place=[{"name": "loft", "kind": "stairs"}]),
        "no weights for": lambda l: l["case"]["wishes"].update(weights_g=[])
        or parts(l, "warm-up")[0].update(exercise="overhead-press", variant="standing-1kg"),
        "no walking stick for": lambda l: l["case"].update(function={"aid": "none"})
        or l["case"]["home"].update(props=[])
        or parts(l, "warm-up")[0].update(exercise="walk", variant="with-aid"),
        "growth": lambda l: stage(l).update(sessions_per_week=2 * stage(l)["sessions_per_week"]),
        "prediction": lambda l: parts(l, "warm-up")[3].update(predicted_hr=parts(l, "warm-up")[3]["predicted_hr"] + 0.2),
        "peak": lambda l: stage(l)["predicted"].update(peak_hr=stage(l)["predicted"]["peak_hr"] - 1),
        "warm-up ends far from the band": lambda l: l["programme"].update(findings=[])
        or limits(l)["hr"].update(low=parts(l, "warm-up")[-1]["predicted_hr"] + 21),
        "ceiling passed": lambda l: hard(l).update(hr_ceiling=60),
        "band top passed": lambda l: hard(l).update(hr={"low": 50, "high": 60}),
        "chance of passing": lambda l: hard(l) and stage(l)["predicted"].update(ceiling_probability=0.06),
    }


def changed_settings():
    """Settings changed under a good line, and what must then be told of it: only who reads the file can notice."""
    return {
        "effort": "effort_scale = '6-20'",
        "effort ": "effort_band = [2, 4]\neffort_band_gentle = [1, 3]",
        "device zone": "icd_margin_bpm = 60",
        "ischaemic rate": "ischaemia_margin_bpm = 60",
        "share of the reserve": "hr_band_pct = [39, 70]",
        "share of the reserve ": "risk_consequences = { high = { reserve_high_pct = 20 }, moderate = { reserve_high_pct = 20 } }",
        "peak of the policy": "hr_max_policy = 'tanaka-2001'",
        "METs of the capacity": "hr_band_pct = [20, 30]",
        "METs of the capacity ": "station_of_estimated_peak_pct = 40",
        "METs of the capacity  ": "mets_without_capacity = 1.5",
        "warm-up too short": "warm_up_s = 1800",
        "cool-down too short": "cool_down_s = 1800",
        "session too long": "session_max_s = 600",
        "time of a station": "cardiovascular_s = { least_s = 5, most_s = 20 }",
        "time of a station ": "active_recovery_s = { least_s = 5, most_s = 20 }",
        "time between stations": "changeover_s = 60",
        "warm-up ends far from the band": "warm_up_within_bpm = 5",
        "cool-down ends far from rest": "cool_down_within_bpm = 5",
        "examination too old": "examination_valid_days = 1",
        "growth": "growth_cap_pct = 1",
        "too many times a week": "gentle_days = 90",
        "class of risk not let home": "risk_consequences = { moderate = { home = 'no' } }",
        "what the class leads to": "risk_consequences = { high = { watched_sessions = 30 } }",
        "alone too early": "risk_consequences = { moderate = { watched_sessions = 30 } }",
        "reading of the day": "screening_set = 'cautious'",
        "name of the service": "name = 'Another'",
    }


def unread(lines, library):
    """The changed settings that were told of no line."""
    told = set()
    for line in lines:
        line = copy.deepcopy(line)
        line["programme"]["findings"] = [{"id": "taken away"}]
        before = {what for _, what in check([line], library)[0]}
        original = tomllib.loads(line["service"])
        for name, text in changed_settings().items():
            if name in told:
                continue
            whole = {**original, **tomllib.loads(text)}
            found = {what for _, what in check([{**line, "settings": whole}], library)[0]}
            if name.strip() in found - before:
                told.add(name)
    return sorted(set(changed_settings()) - told)


def hard(line):
    limits = line["limits"]["limits"]
    limits.update(hr_ceiling_kind="hard")
    return limits


def both(line):
    return [s for s in line["programme"]["stages"][-1]["segments"] if s["kind"] in STATIONS]


def unnoticed(lines, library):
    """Names of breaks that were not noticed on the first line that has all they need."""
    whole = [
        line
        for line in lines
        if len(line["programme"]["stages"]) > 1
        and "cautious" in line["service"]
        and line["limits"]["limits"]["hr"]
        and len(both(line)) >= 4
        and all(key in line["case"] for key in ("heart", "history", "wishes"))
    ]
    missed = []
    for name, change in breaks().items():
        line = copy.deepcopy(whole[0])
        change(line)
        told = [what for _, what in check([line], library)[0]]
        if not any(what.startswith(name.strip()) for what in told):
            missed.append([name, told])
    return missed


def main():
    """Prints how many chains and rungs were seen, the faults, and what was broken on purpose and not noticed."""
    library = ways()
    with open(sys.argv[1], encoding="utf-8") as file:
        lines = [json.loads(line) for line in file]
    faults, predicted = check(lines, library)
    result = {
        "chains": len(lines),
        "rungs": sum(len(line["programme"]["stages"]) for line in lines),
        "rungs_with_pulse": predicted,
        "faults": faults[:50],
        "broken": len(breaks()),
        "unnoticed": unnoticed(lines, library),
        "settings": len(changed_settings()),
        "unread": unread(lines[:400], library),
    }
    print(json.dumps(result))


main()
