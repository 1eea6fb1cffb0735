"""A second checker of what `limits` and `programme` print, written from the rules and not from the first one.

Reads JSON lines of {"seed", "service", "case", "limits", "programme"} (the service as the text of its file), the exercise
files and nothing else. `checker_run.py` is run with it.
Standard library and numpy only.
"""

import datetime
import glob
import json
import math
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


CAUTIOUS = {
    "effort_scale": "0-10",
    "gentle_days": 14,
    "screening_set": "cautious",
    "hr_max_policy": "by-condition",
    "hr_band_pct": [40, 70],
    "icd_margin_bpm": 20,
    "ischaemia_margin_bpm": 10,
    "warm_up_s": 900,
    "cool_down_s": 600,
    "session_max_s": 3600,
    "changeover_s": 15,
    "warm_up_within_bpm": 20,
    "cool_down_within_bpm": 10,
    "examination_valid_days": 14,
    "growth_cap_pct": 15,
    "mets_without_capacity": 3,
    "station_of_estimated_peak_pct": 85,
    "cardiovascular_s": {"least_s": 30, "most_s": 180},
    "active_recovery_s": {"least_s": 30, "most_s": 60},
}
EFFORTS = {
    "0-10": {"effort_band": [3, 4], "effort_band_gentle": [2, 3]},
    "6-20": {"effort_band": [11, 13], "effort_band_gentle": [10, 12]},
}
CLASSES = {
    "low": {"home": "yes", "reserve_high_pct": 70, "watched_sessions": 1},
    "moderate": {"home": "yes", "reserve_high_pct": 70, "watched_sessions": 2},
    "high": {"home": "after-agreement", "reserve_high_pct": 60, "watched_sessions": 3},
}
# Systolic, diastolic and rate that hold the day, and whether the value itself does already. Where a set has another
# number that an agreement opens, only what holds in every case stands here.
CUTS = {
    "cautious": ((180, True), (100, True), (100, True)),
    "uk-phase-iv": ((180, False), (100, False), (100, False)),
    "heart-failure-review-2023": ((180, True), (110, True), (120, False)),
    "acsm-aacvpr": ((180, False), (110, False), (120, False)),
    "uk-teaching-deck": ((200, True), (110, True), (100, True)),
    "aacvpr-2004-sheets": ((200, False), (110, False), (120, False)),
    "australian-heart-failure": (None, None, (120, False)),
}


def settings(line):
    """The settings of a line's service file, with the cautious ones where it says nothing."""
    file = line.get("settings") or tomllib.loads(line["service"])
    found = {**CAUTIOUS, **EFFORTS[file.get("effort_scale", "0-10")], **file}
    given = file.get("risk_consequences", {})
    found["risk"] = {name: {**usual, **given.get(name, {})} for name, usual in CLASSES.items()}
    return found


class Person:
    """What the rules ask of a case, on the day of its answer and under the settings of its service."""

    def __init__(self, case, limits, service):
        self.case, self.limits, self.set = case, limits, service
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
        taken = [e for e in seen if "resting_hr_bpm" in e or "resting_bp_mmhg" in e]
        self.examined = max(taken, key=lambda e: e["date"]) if taken else None
        rates = [(e["date"], i, e["resting_hr_bpm"]) for i, e in enumerate(seen) if "resting_hr_bpm" in e]
        self.rest = max(rates)[2] if rates else None
        self.high_risk = limits["risk"]["class"] == "high"
        self.of_class = service["risk"][limits["risk"]["class"]]
        self.share_low = service["hr_band_pct"][0] / 100
        self.share_high = min(service["hr_band_pct"][1], self.of_class["reserve_high_pct"]) / 100
        days = {self.ago(one) for one in case.get("watched", [])}
        days -= {self.ago(one) for one in case.get("watched", []) if self.was_ended(one, seen)}
        event = self.newest_event()
        self.watched = {day for day in days if day >= 0 and (event is None or day < event)}
        beginning = not self.watched or max(self.watched) < service["gentle_days"]
        failing = "heart-failure" in self.has | self.kinds
        self.gentle = beginning or failing or self.high_risk

    def was_ended(self, watched, examinations):
        """Whether something ended a watched session: a symptom, a pressure or an effort."""
        felt = set(watched.get("symptoms", []))
        usual = {one["kind"] for one in self.case.get("usual_symptom", [])}
        if felt & {"chest-discomfort", "faint", "palpitations", "device-shock"}:
            return True
        failing = "heart-failure" not in self.case.get("history", {}).get("absent", []) or "heart-failure" in self.kinds
        if "breathlessness" in felt and ("breathlessness" not in usual or failing):
            return True
        effort = watched.get("effort", {"scale": "0-10", "value": 0})
        if effort["value"] >= (17 if effort["scale"] == "6-20" else 8):
            return True
        if "bp_mmhg" not in watched:
            return False
        high, low = watched["bp_mmhg"]
        before = [
            (e["date"], i, e["resting_bp_mmhg"][0])
            for i, e in enumerate(examinations)
            if "resting_bp_mmhg" in e and e["date"] <= watched["date"]
        ]
        return high >= 240 or low >= 110 or (bool(before) and max(before)[2] - high >= 20)

    def ago(self, entry, key="date"):
        day = entry.get(key)
        return None if day is None else (self.on - datetime.date.fromisoformat(day)).days

    def newest_event(self):
        """Days since the newest event, procedure or shock."""
        days = [self.ago(event) for event in self.events]
        days += [self.ago(one) for event in self.events for one in event.get("procedures", [])]
        days.append(self.ago(self.heart.get("device", {}), "last_shock"))
        return min((day for day in days if day is not None and day >= 0), default=None)

    def predicted_peak(self):
        """What the policy predicts, or None: by the equations of the policies that stand in the files that are checked."""
        policy, born = self.set["hr_max_policy"], self.case.get("person", {}).get("born")
        if born is None or policy == "none":
            return None
        born = datetime.date.fromisoformat(born)
        age = self.on.year - born.year - ((self.on.month, self.on.day) < (born.month, born.day))
        slowed = self.limits["limits"]["rate_slowed"] != "absent"
        if policy == "fox-1971":
            return 220 - age
        if policy == "tanaka-2001":
            return 208 - 0.7 * age
        inbar = 205.8 - 0.685 * age
        failing = "heart-failure" in self.has | self.kinds
        fraction = self.heart.get("ejection_fraction_pct")
        weak = failing if fraction is None or 40 <= fraction < 50 else fraction < 40
        if policy == "by-condition":
            kept = inbar if not slowed and self.no_coronary_disease() else 164 - 0.7 * age
        elif policy == "uk-practice":
            kept = (220 - age if age < 45 else inbar) - (30 if slowed else 0)
            weak = weak or failing
        else:
            raise ValueError(policy)
        own = 168 - 0.76 * age if self.rest is None else 119 + 0.5 * self.rest - 0.5 * age
        return min(kept, own) if weak else kept

    def no_coronary_disease(self):
        looked_at = {"valve-surgery", "catheter-valve", "stress-cardiomyopathy"}
        procedures = {p["kind"] for event in self.events for p in event.get("procedures", [])}
        residual = any(event.get("residual_disease") for event in self.events)
        told = self.has & {"unstable-angina", "ischaemia-at-low-load", "post-event-ischaemia"}
        usual = any(one["kind"] == "chest-discomfort" for one in self.case.get("usual_symptom", []))
        tests = [t for t in self.case.get("test", []) if t["kind"] == "exercise-test" and (self.ago(t) or 0) >= 0]
        found = any(
            "angina" in t.get("symptoms", []) or "ischaemia_hr_bpm" in t or t.get("st_depression_mm", 0) >= 1
            for t in tests
        )
        clear = bool(self.kinds) and self.kinds <= looked_at and not procedures & {"stent", "bypass"}
        return clear and not (residual or told or usual or found)

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

    def pressure_answers(self):
        """What pressure did in the exercise tests of the newest day that tells it, and in those without a day."""
        tests = [t for t in self.case.get("test", []) if t["kind"] == "exercise-test" and "bp_response" in t]
        told = [(self.ago(t), t["bp_response"]) for t in tests if (self.ago(t) or 0) >= 0]
        newest = min((day for day, _ in told if day is not None), default=None)
        return {answer for day, answer in told if day in (None, newest)}

    def falls_in_pressure(self):
        down, up = self.examination.get("resting_bp_mmhg"), self.examination.get("standing_bp_mmhg")
        fall = bool(down and up) and (down[0] - up[0] >= 20 or down[1] - up[1] >= 10)
        dizzy = "dizziness-on-standing" in self.examination.get("symptoms", [])
        dizzy = dizzy or "fall-after" in self.pressure_answers()
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
    limits, printed, service = person.limits, person.limits["limits"], person.set
    if limits["service"] != service["name"]:
        yield "name of the service"
    margin = service["ischaemia_margin_bpm"]
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
    if unknown and (not limits["signing_blocked"] or ceiling is not None and not (found and ceiling <= max(found) - margin)):
        yield "device without its rate"
    if zone is not None and not (kind == "hard" and ceiling <= zone - service["icd_margin_bpm"]):
        yield "device zone"
    tests = [t for t in person.case.get("test", []) if t["kind"] == "exercise-test"]
    if len(tests) == 1 and "ischaemia_hr_bpm" in tests[0] and not unknown:
        if not (kind == "hard" and ceiling <= tests[0]["ischaemia_hr_bpm"] - margin):
            yield "ischaemic rate"
    if band and person.rest is not None:
        reserve = printed["peak_hr"] - person.rest
        low, high = person.rest + person.share_low * reserve, person.rest + person.share_high * reserve
        if not (low - 0.05 <= band["low"] < low + 1.05 and band["high"] <= high + 0.05):
            yield "share of the reserve"
    if printed["peak_hr"] is not None and not printed["peak_hr_measured"]:
        measured = [t["peak_hr_bpm"] for t in tests if "peak_hr_bpm" in t]
        own = person.predicted_peak()
        open_to = measured if own is None or any(one < own for one in measured) else measured + [own]
        if own is not None and not measured:
            open_to = [own]
        if not any(abs(one - printed["peak_hr"]) <= 0.051 for one in open_to):
            yield "peak of the policy"
    peak = limits["capacity"]["mets"]
    most = service["mets_without_capacity"] if peak is None else 1 + person.share_high * (peak - 1)
    of_peak = service["station_of_estimated_peak_pct"] / 100
    station = most if peak is None or limits["capacity"]["measured"] else max(1, of_peak * peak)
    if printed["mets"]["high"] > most + MET or printed["mets_station_high"] > station + MET:
        yield "METs of the capacity"
    effort, own = printed["effort"], service["effort_band_gentle" if person.gentle else "effort_band"]
    if effort["scale"] != service["effort_scale"] or [effort["low"], effort["high"]] != own:
        yield "effort"
    home = limits["eligibility"]
    if (home["home"], home["watched_needed"]) != (person.of_class["home"], person.of_class["watched_sessions"]):
        yield "what the class leads to"
    if home["alone_now"] and len(person.watched) < person.of_class["watched_sessions"]:
        yield "alone too early"
    if any(not one["source"] for one in printed["because"]):
        yield "reason without a source"
    fraction = person.heart.get("ejection_fraction_pct")
    if fraction is not None and fraction < 40 and not person.high_risk:
        yield "low fraction and no high risk"
    if person.pressure_answers() - {"normal"} and not person.high_risk:
        yield "abnormal pressure in the test and no high risk"
    if exercise:
        yield from check_today(person)


def check_today(person):
    """Why somebody who may exercise should not."""
    newest = person.examination
    pressure = newest.get("resting_bp_mmhg", [0, 0])
    cuts = CUTS[person.set["screening_set"]]
    readings = zip(cuts, (pressure[0], pressure[1], newest.get("resting_hr_bpm", 0)))
    held = any(cut and (value > cut[0] or cut[1] and value == cut[0]) for cut, value in readings)
    absolute = {"unstable-angina", "endocarditis", "aortic-dissection", "decompensated-heart-failure", "thrombophlebitis"}
    absolute |= {"recent-embolism", "myocarditis-or-pericarditis", "severe-aortic-stenosis", "uncontrolled-diabetes"}
    if absolute & person.has:
        yield "contraindication"
    if not person.examined or person.ago(person.examined) > person.set["examination_valid_days"]:
        yield "examination too old"
    if held or newest.get("temperature_c", 0) >= 38:
        yield "reading of the day"
    if {"chest-pain-at-rest", "faint", "fever", "new-breathlessness", "device-shock"} & set(newest.get("symptoms", [])):
        yield "symptom of the day"
    home = person.of_class["home"]
    if home == "no" or home == "after-agreement" and "agreement" not in person.case:
        yield "class of risk not let home"


def check_stage(person, stage, library):
    """Faults of one rung but its pulse."""
    segments = stage["segments"]
    phases = [s["phase"] for s in segments]
    if phases != sorted(phases, key=["warm-up", "conditioning", "cool-down"].index):
        yield "order of the parts"
    length = {p: sum(s["seconds"] for s in segments if s["phase"] == p) for p in set(phases)}
    service = person.set
    if length.get("warm-up", 0) < service["warm_up_s"] - 1e-6:
        yield "warm-up too short"
    if length.get("cool-down", 0) < service["cool_down_s"] - 1e-6:
        yield "cool-down too short"
    if stage["sessions_per_week"] > (3 if person.gentle else 5):
        yield "too many times a week"
    if sum(length.values()) > service["session_max_s"] + 1e-6:
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
    times = {"cardiovascular": service["cardiovascular_s"], "active-recovery": service["active_recovery_s"]}
    if any(not times[s["kind"]]["least_s"] <= s["seconds"] <= times[s["kind"]]["most_s"] for s in stations):
        yield "time of a station"
    slow = person.falls_in_pressure() or limits["hypotensive"]
    between = max(service["changeover_s"], 15 if slow else 0)
    for before, segment in zip(segments, segments[1:]):
        paused = before["seconds"] if before["kind"] in ("march", "walk", "rest") else 0
        if segment["kind"] in STATIONS and abs(paused - between) > 1e-6:
            yield "time between stations"


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
    free = place.get("arms") is False or not way.get("needs_no_arms")
    return place["kind"] in way["places"] and tall and rail and arms and free


def check_growth(stages, cap):
    """A week's MET-minutes grow by the service's share or by one brisk and one easy station with their change-overs."""
    dose = lambda parts: sum(s["mets_low"] * s["seconds"] / 60 for s in parts)
    most = lambda stage, *kinds: max(
        (dose([s]) for s in stage["segments"] if s["round"] and s["kind"] in kinds), default=0
    )
    pair = lambda stage: sum(most(stage, kind) for kind in STATIONS) + 2 * most(stage, "march", "walk", "rest")
    for before, after in zip(stages, stages[1:]):
        first, second = dose(before["segments"]), dose(after["segments"])
        room = max(cap * first, pair(before), pair(after))
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
        if ends[warm[-1]] < printed["hr"]["low"] - person.set["warm_up_within_bpm"] - BPM:
            yield "warm-up ends far from the band"
    near = person.rest is None or ends[len(segments) - 1] <= person.rest + person.set["cool_down_within_bpm"] + BPM
    if not near and "cool-down/near-rest" not in person.told:
        yield "cool-down ends far from rest"
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
        person = Person(line["case"], line["limits"], settings(line))
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
        told.extend(check_growth(programme["stages"], person.set["growth_cap_pct"] / 100))
        faults.extend((seed, what) for what in told)
    if rungs:
        ends, highest = curves([(person, stage) for _, person, stage in rungs])
        for row, (seed, person, stage) in enumerate(rungs):
            faults.extend((seed, what) for what in check_pulse(person, stage, ends[row], highest[row]))
    return faults, len(rungs)
