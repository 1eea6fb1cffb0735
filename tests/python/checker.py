"""A second checker of what `limits` and `programme` print, written from the rules and not from the first one.

Reads JSON lines of {"seed", "case", "limits", "programme"}, the exercise files and nothing else. Prints one JSON object:
how many chains and rungs were seen, the faults, and which of the answers broken on purpose it did not notice.
Standard library and numpy only.
"""

import copy
import datetime
import glob
import json
import math
import sys
import tomllib

import numpy

# Printed numbers carry three decimals of METs and two of bpm.
MET, BPM = 0.0012, 0.03
STATIONS = ("cardiovascular", "active-recovery")


def ways():
    """Every way of every exercise by its two names, the exercise's facts beside the variant's."""
    found = {}
    for path in glob.glob("data/exercises/*.toml"):
        with open(path, "rb") as file:
            exercise = tomllib.load(file)
        for variant in exercise["variant"]:
            found[exercise["id"], variant["id"]] = {**exercise, **variant}
    return found


class Person:
    """What the rules ask of a case, on the day of its answer."""

    def __init__(self, case, limits):
        self.case, self.limits = case, limits
        self.on = datetime.date.fromisoformat(limits["on"])
        history = case.get("history", {})
        self.has = set(history.get("present", []))
        self.heart = case.get("heart", {})
        self.events = [e for e in case.get("event", []) if (self.ago(e) or 0) >= 0]
        self.kinds = {e["kind"] for e in self.events}
        seen = [e for e in case.get("examination", []) if self.ago(e) >= 0]
        self.examination = max(seen, key=lambda e: e["date"]) if seen else {}
        for other in seen:  # the later written of one day
            if other["date"] == self.examination["date"]:
                self.examination = other
        rates = [(e["date"], i, e["resting_hr_bpm"]) for i, e in enumerate(seen) if "resting_hr_bpm" in e]
        self.rest = max(rates)[2] if rates else None
        self.high_risk = limits["risk"]["class"] == "high"

    def ago(self, entry, key="date"):
        day = entry.get(key)
        return None if day is None else (self.on - datetime.date.fromisoformat(day)).days

    def heals(self, kinds, procedures, weeks):
        """Whether an operation is not yet so many weeks ago; one without a day always is not."""
        for event in self.events:
            done = [p for p in event.get("procedures", []) if p["kind"] in procedures]
            if event["kind"] == "catheter-valve":
                done = [p for p in done if p["kind"] != "valve"]
            days = [self.ago(event) if p.get("date") is None else self.ago(p) for p in done]
            if event["kind"] in kinds and not done:
                days.append(self.ago(event))
            if any(day is None or day < 7 * weeks for day in days):
                return True
        return False

    def sternum(self, weeks):
        surgery = {"bypass-surgery", "valve-surgery", "transplant", "aneurysm-repair"}
        return "sternum-unstable" in self.has or self.heals(surgery, {"sternotomy", "bypass", "valve"}, weeks)

    def device_arm(self, weeks):
        if self.heals({"device-implant"}, {"pacemaker", "icd"}, weeks):
            return True
        told = any(p["kind"] in ("pacemaker", "icd") for e in self.events for p in e.get("procedures", []))
        told = told or "device-implant" in self.kinds
        return not told and ("device" in self.heart or "pacemaker" in self.heart)

    def falls_in_pressure(self):
        down, up = self.examination.get("resting_bp_mmhg"), self.examination.get("standing_bp_mmhg")
        fall = bool(down and up) and (down[0] - up[0] >= 20 or down[1] - up[1] >= 10)
        dizzy = "dizziness-on-standing" in self.examination.get("symptoms", [])
        return fall or dizzy or "orthostatic-hypotension" in self.has or bool(down) and down[0] < 100

    def forbidden(self, restriction, way):
        """Whether this body surely has the reason of a restriction that excludes."""
        if restriction["effect"] != "exclude" or "above_weight_g" in restriction:
            return False
        reason, weeks = restriction["reason"], restriction.get("weeks")
        pressure = self.examination.get("resting_bp_mmhg", [0, 0])
        usual = {one["kind"] for one in self.case.get("usual_symptom", [])}
        table = {
            "sternotomy": lambda: self.sternum(12 if weeks is None else weeks),
            "device-arm": lambda: self.device_arm(6 if weeks is None else weeks),
            "shoulder-pain": lambda: "shoulder-pain" in self.has | usual,
            "knee-pain": lambda: "knee-osteoarthritis" in self.has or "knee-pain" in usual,
            "hip-pain": lambda: "hip-osteoarthritis" in self.has or "hip-pain" in usual,
            "back-pain": lambda: "back-pain" in self.has | usual,
            "wrist-pain": lambda: "wrist-pain" in self.has,
            "osteoporosis": lambda: bool({"osteoporosis", "vertebral-fracture"} & self.has),
            "foot-neuropathy": lambda: "foot-neuropathy" in self.has,
            "low-vision": lambda: "low-vision" in self.has,
            "vertigo": lambda: "vertigo" in self.has,
            "high-risk": lambda: self.high_risk,
            "high-pressure": lambda: pressure[0] >= 160 or pressure[1] >= 100,
            "orthostatic-hypotension": self.falls_in_pressure,
            "poor-balance": lambda: "poor-balance" in self.has or self.case.get("function", {}).get("aid") == "frame",
        }
        return table.get(reason, lambda: False)()

    def pulse_says_nothing(self):
        rhythm = self.heart.get("rhythm")
        return rhythm in (None, "atrial-fibrillation", "atrial-flutter") or "transplant" in self.kinds


def check_limits(person):
    """Faults of the limits: ceilings, band, METs, decision, signing."""
    limits, printed = person.limits, person.limits["limits"]
    band, ceiling, kind = printed["hr"], printed["hr_ceiling"], printed["hr_ceiling_kind"]
    exercise = limits["screening"]["decision"] == "exercise"
    if person.pulse_says_nothing() and (band or kind == "guiding"):
        yield "pulse target without a pulse"
    if band and not (band["low"] <= band["high"] <= ceiling):
        yield "band out of order"
    device = person.heart.get("device")
    zone = None if device is None else device.get("lowest_treated_bpm")
    unknown = device is not None and zone is None
    found = [t["ischaemia_hr_bpm"] for t in person.case.get("test", []) if "ischaemia_hr_bpm" in t]
    if unknown and (not limits["signing_blocked"] or ceiling is not None and not (found and ceiling <= max(found) - 10)):
        yield "device without its rate"
    if zone is not None and not (kind == "hard" and ceiling <= zone - 20):
        yield "device zone"
    tests = [t for t in person.case.get("test", []) if t["kind"] == "exercise-test"]
    if len(tests) == 1 and "ischaemia_hr_bpm" in tests[0] and not unknown:
        if not (kind == "hard" and ceiling <= tests[0]["ischaemia_hr_bpm"] - 10):
            yield "ischaemic rate"
    if band and person.rest is not None:
        peak, share = printed["peak_hr"], 0.6 if person.high_risk else 0.7
        low, high = person.rest + 0.4 * (peak - person.rest), person.rest + share * (peak - person.rest)
        if not (low - 0.05 <= band["low"] < low + 1.05 and band["high"] <= high + 0.05):
            yield "share of the reserve"
    peak = limits["capacity"]["mets"]
    share = 0.6 if person.high_risk else 0.7
    most = 3.0 if peak is None else 1 + share * (peak - 1)
    station = most if peak is None or limits["capacity"]["measured"] else max(1, 0.85 * peak)
    if printed["mets"]["high"] > most + MET or printed["mets_station_high"] > station + MET:
        yield "METs of the capacity"
    if printed["effort"]["high"] > (3 if person.high_risk else 4):
        yield "effort"
    if any(not one["source"] for one in printed["because"]):
        yield "reason without a source"
    fraction = person.heart.get("ejection_fraction_pct")
    if fraction is not None and fraction < 40 and not person.high_risk:
        yield "low fraction and no high risk"
    if exercise:
        yield from check_today(person)


def check_today(person):
    """Why somebody who may exercise should not."""
    newest = person.examination
    pressure = newest.get("resting_bp_mmhg", [0, 0])
    absolute = {"unstable-angina", "endocarditis", "aortic-dissection", "decompensated-heart-failure", "thrombophlebitis"}
    absolute |= {"recent-embolism", "myocarditis-or-pericarditis", "severe-aortic-stenosis", "uncontrolled-diabetes"}
    if absolute & person.has:
        yield "contraindication"
    if not newest or person.ago(newest) > 14:
        yield "examination too old"
    if pressure[0] >= 180 or newest.get("resting_hr_bpm", 0) > 120 or newest.get("temperature_c", 0) >= 38:
        yield "reading of the day"
    if {"chest-pain-at-rest", "faint", "fever", "new-breathlessness", "device-shock"} & set(newest.get("symptoms", [])):
        yield "symptom of the day"
    if person.high_risk and "agreement" not in person.case:
        yield "high risk without agreement"


def check_stage(person, stage, library):
    """Faults of one rung but its pulse."""
    segments = stage["segments"]
    phases = [s["phase"] for s in segments]
    if phases != sorted(phases, key=["warm-up", "conditioning", "cool-down"].index):
        yield "order of the parts"
    length = {p: sum(s["seconds"] for s in segments if s["phase"] == p) for p in set(phases)}
    if length.get("warm-up", 0) < 900 - 1e-6 or length.get("cool-down", 0) < 600 - 1e-6:
        yield "warm-up or cool-down too short"
    if sum(length.values()) > 3600 + 1e-6:
        yield "session too long"
    yield from check_offered(person, segments, library)
    stations = [s for s in segments if s["kind"] in STATIONS]
    limits = person.limits["limits"]
    if stations and person.limits["capacity"]["mets"] is None:
        yield "stations without a capacity"
    for one, two in zip(stations, stations[1:]):
        first, second = (library[s["exercise"], s["variant"]] for s in (one, two))
        if one["kind"] == two["kind"]:
            yield "no turns"
        if set(first["muscles"]) & set(second["muscles"]) - {"whole-body"}:
            yield "a muscle group twice running"
        if first["arms"] == second["arms"] == "above-shoulder":
            yield "arms above the shoulder twice running"
    if person.falls_in_pressure() or limits["hypotensive"]:
        group = {"seated": 0, "standing": 1, "walking": 1, "rising": 2}
        place = [group[library[s["exercise"], s["variant"]]["posture"]] for s in stations]
        if any(a != b != c for a, b, c in zip(place, place[1:], place[2:])):
            yield "posture changes twice running"
    for number in {s["round"] for s in stations}:
        these = [s for s in stations if s["round"] == number]
        mean = sum(s["mets"] * s["seconds"] for s in these) / sum(s["seconds"] for s in these)
        if mean > limits["mets"]["high"] + MET:
            yield "mean METs of a round"
    if any(s["kind"] == "active-recovery" and s["seconds"] > 60 for s in stations):
        yield "recovery over a minute"


def check_offered(person, segments, library):
    """Faults of what is offered to this body in this home."""
    home = person.case.get("home", {})
    places = home.get("place", [])
    pieces = person.case.get("wishes", {}).get("weights_g", [])
    watched = {(w["exercise"], w["variant"]) for w in person.case.get("watched", [])}
    limits = person.limits["limits"]
    for segment in segments:
        if segment["exercise"] is None:
            continue
        name = segment["exercise"], segment["variant"]
        way = library.get(name)
        if way is None:
            yield f"unknown {name}"
            continue
        cost = way["cost"]
        best = 1 + (cost.get("response", cost["mets"]) - 1) * way["net_factor"]
        if abs(best - segment["mets"]) > MET or abs(way["hr_gain"] - segment["hr_gain"]) > MET:
            yield f"cost of {name}"
        if segment["mets"] > limits["mets_station_high"] + MET and name not in watched:
            yield f"too dear {name}"
        if way["balance"] > limits["balance_max"]:
            yield f"balance of {name}"
        if any(person.forbidden(one, way) for one in way.get("restrictions", [])):
            yield f"contraindicated {name}"
        if way["arms"] == "above-shoulder" and (person.sternum(12) or person.device_arm(6)):
            yield f"arms above the shoulder in healing weeks: {name}"
        here = [p for p in places if p["name"] == segment["place"]]
        if not places:
            here = [{"kind": "chair"}, {"kind": "floor"}]
        if not any(fits(way, place) for place in here):
            yield f"no place for {name}"
        for prop in way.get("props", []):
            if not (pieces if prop == "weights" else prop in home.get("props", [])):
                yield f"no {prop} for {name}"
        walks_with = person.case.get("function", {}).get("aid") == "stick"
        if way.get("needs_stick") and not walks_with and "stick" not in home.get("props", []):
            yield f"no walking stick for {name}"


def fits(way, place):
    low, high = way.get("step_cm", (-math.inf, math.inf))
    tall = "step_cm" not in way or low <= place.get("height_cm", -1) <= high
    rail = place.get("rail") is True or not way.get("needs_rail")
    arms = place.get("arms") is True or not way.get("needs_arms")
    return place["kind"] in way["places"] and tall and rail and arms


def check_growth(stages):
    """A week's MET-minutes grow by 15 per cent or by one brisk and one easy station with their change-overs."""
    dose = lambda parts: sum(s["mets_low"] * s["seconds"] / 60 for s in parts)
    most = lambda stage, *kinds: max(
        (dose([s]) for s in stage["segments"] if s["round"] and s["kind"] in kinds), default=0
    )
    pair = lambda stage: sum(most(stage, kind) for kind in STATIONS) + 2 * most(stage, "march", "walk", "rest")
    for before, after in zip(stages, stages[1:]):
        first, second = dose(before["segments"]), dose(after["segments"])
        room = max(0.15 * first, pair(before), pair(after))
        if second * after["sessions_per_week"] > (first + room + 0.05) * before["sessions_per_week"]:
            yield "growth"


def curves(rungs):
    """Rates at every segment's end and the highest of each rung, all rungs at once, by Heun steps (65 a segment)."""
    longest = max(len(stage["segments"]) for _, stage in rungs)
    shape = (len(rungs), longest)
    seconds, load = numpy.zeros(shape), numpy.zeros(shape)
    rest, slope, tau = (numpy.zeros(len(rungs)) for _ in range(3))
    for row, (person, stage) in enumerate(rungs):
        reasons = {one["id"]: one["value"] for one in stage["because"]}
        rest[row], slope[row] = person.rest, reasons["response/slope"]
        tau[row] = reasons["response/time-constant"]
        for column, segment in enumerate(stage["segments"]):
            seconds[row, column] = segment["seconds"]
            load[row, column] = (segment["mets"] - 1) * segment["hr_gain"]
    rise, clock = numpy.zeros(len(rungs)), numpy.zeros(len(rungs))
    ends, highest = numpy.zeros(shape), rest.copy()
    for column in range(longest):
        step, target = seconds[:, column] / 65, slope * load[:, column]
        for _ in range(65):
            first = (target - rise) / tau
            second = (target - (rise + step * first)) / tau
            rise = rise + step * (first + second) / 2
            clock = clock + step
            rate = rest + rise + 0.15 / 60 * numpy.maximum(0, clock - 600)
            highest = numpy.maximum(highest, rate)
        ends[:, column] = rate
    return ends, highest


def check_pulse(person, stage, ends, highest):
    """Printed predictions against the integrated ones, and against the ceiling."""
    printed = person.limits["limits"]
    segments = stage["segments"]
    found = numpy.array([s["predicted_hr"] for s in segments], dtype=float)
    if numpy.max(numpy.abs(found - ends[: len(segments)])) > BPM:
        yield "prediction"
    if abs(stage["predicted"]["peak_hr"] - highest) > BPM:
        yield "peak"
    warm = [at for at, s in enumerate(segments) if s["phase"] == "warm-up"]
    if printed["hr"] and warm and "warm-up/near-band" not in person.told:
        if ends[warm[-1]] < printed["hr"]["low"] - 20 - BPM:
            yield "warm-up ends far from the band"
    if printed["hr_ceiling_kind"] == "hard":
        if highest > printed["hr_ceiling"] + BPM:
            yield "ceiling passed"
        if printed["hr"] and numpy.max(ends[: len(segments)]) > printed["hr"]["high"] + BPM:
            yield "band top passed"
        chance = stage["predicted"]["ceiling_probability"]
        if chance is None or chance > 0.05:
            yield "chance of passing"


def check(lines, library):
    """Faults of every line, as (seed, what)."""
    faults, rungs = [], []
    for line in lines:
        person = Person(line["case"], line["limits"])
        seed, programme = line["seed"], line["programme"]
        person.told = {one["id"] for one in programme["findings"]}
        told = list(check_limits(person))
        decision = programme["screening"]["decision"]
        if bool(programme["stages"]) and decision != "exercise":
            told.append("stages without the decision")
        if decision == "exercise" and not programme["stages"] and not programme["findings"]:
            told.append("nothing and no reason")
        for stage in programme["stages"]:
            told.extend(check_stage(person, stage, library))
            predicted = [s["predicted_hr"] for s in stage["segments"]]
            if person.pulse_says_nothing() and any(p is not None for p in predicted):
                told.append("prediction without a pulse")
            elif all(p is not None for p in predicted):
                rungs.append((seed, person, stage))
        told.extend(check_growth(programme["stages"]))
        faults.extend((seed, what) for what in told)
    if rungs:
        ends, highest = curves([(person, stage) for _, person, stage in rungs])
        for row, (seed, person, stage) in enumerate(rungs):
            faults.extend((seed, what) for what in check_pulse(person, stage, ends[row], highest[row]))
    return faults, len(rungs)


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
        "reason without a source": lambda l: limits(l)["because"][0].update(source=""),
        "low fraction and no high risk": lambda l: l["case"]["heart"].update(ejection_fraction_pct=30)
        or l["limits"]["risk"].update({"class": "moderate"}),
        "high risk without agreement": lambda l: (l["case"].pop("agreement", 0), l["limits"]["risk"].update({"class": "high"})),
        "stages without the decision": lambda l: l["programme"]["screening"].update(decision="not-today"),
        "nothing and no reason": lambda l: l["programme"].update(stages=[], findings=[]),
        "order of the parts": lambda l: stage(l)["segments"].reverse(),
        "warm-up or cool-down too short": lambda l: parts(l, "cool-down")[0].update(seconds=-5000),
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
        "recovery over a minute": lambda l: parts(l, "active-recovery")[0].update(seconds=61),
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
        and line["limits"]["limits"]["hr"]
        and len(both(line)) >= 4
        and all(key in line["case"] for key in ("heart", "history", "wishes"))
    ]
    missed = []
    for name, change in breaks().items():
        line = copy.deepcopy(whole[0])
        change(line)
        told = [what for _, what in check([line], library)[0]]
        if not any(what.startswith(name) for what in told):
            missed.append([name, told])
    return missed


def main():
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
    }
    print(json.dumps(result))


main()
