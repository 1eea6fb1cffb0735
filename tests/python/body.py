"""Every pose of the body in mujoco: where its segments are, and its centre of mass.

The model is built here from the printed tables and from what each way to move is called, not from the program. Reads JSON lines, prints
how many poses and placed limbs were compared and the largest differences: metres between points and centres, and the largest between
the parts of two rotations.
"""

import json
import sys

import mujoco
import numpy as np

# Source: Drillis and Contini 1966 for lengths, Winter 2009 for masses and centres, as fractions of stature, mass and length.
# Centres of the trunk are printed from the upper end; that of head and neck lies at the ear, half-way up.
ANKLE, HIP, SHOULDER, COLLAR = 0.039, 0.0955, 0.1295, 0.015
FOOT, HEEL_SHARE, BALL_SHARE = 0.152, 0.25, 0.72
PELVIS = 0.074925
UPPER = (0.288 - PELVIS) / 2
TRUNK = {"pelvis": (PELVIS, 0.142, 0.895), "abdomen": (UPPER, 0.139, 0.56), "thorax": (UPPER, 0.216, 0.18), "head": (0.182, 0.081, 0.5)}
LIMBS = {
    "upper-arm": (0.186, 0.028, 0.436),
    "forearm": (0.146, 0.016, 0.430),
    "hand": (0.108, 0.006, 0.506),
    "thigh": (0.245, 0.100, 0.433),
    "shank": (0.246, 0.0465, 0.433),
    "foot": (FOOT, 0.0145, 0.5),
}
# How the axis of a way to move lies, for a limb on the left: x forwards, y to the left, z up. The second number: its sign turns over
# on the right.
FORWARDS, OUTWARDS, INWARDS = ((0, -1, 0), 1), ((1, 0, 0), -1), ((0, 0, -1), -1)
BACKWARDS, PALMWARDS = ((0, 1, 0), 1), ((-1, 0, 0), -1)
JOINTS = {
    "thigh": [("hip-flexion", FORWARDS), ("hip-abduction", OUTWARDS), ("hip-rotation", INWARDS)],
    "shank": [("knee-flexion", BACKWARDS)],
    "foot": [("ankle-flexion", FORWARDS), ("ankle-inversion", PALMWARDS)],
    "upper-arm": [("shoulder-flexion", FORWARDS), ("shoulder-abduction", OUTWARDS), ("shoulder-rotation", INWARDS)],
    "forearm": [("elbow-flexion", FORWARDS), ("forearm-pronation", INWARDS)],
    "hand": [("wrist-flexion", PALMWARDS), ("wrist-deviation", FORWARDS)],
}
# The collar bone carries the shoulder: forwards about the upright, then upwards. The arm itself is not turned by it.
GIRDLE = [("shoulder-forward", (0, 0, -1)), ("shoulder-raise", (1, 0, 0))]
UNDONE = " undone"
MIDDLE = [("flexion", (0, 1, 0)), ("side-bend", (-1, 0, 0)), ("turn", (0, 0, 1))]


def add(parent, name, at, mass, centre, joints):
    """A segment with its joints, the outermost first. Its inertia plays no part."""
    body = parent.add_body(name=name, pos=at, mass=mass, ipos=centre, inertia=[1e-3] * 3, explicitinertial=True)
    for joint, axis in joints:
        body.add_joint(name=joint, type=mujoco.mjtJoint.mjJNT_HINGE, axis=axis, pos=[0, 0, 0])
    return body


def add_limb(parent, side, at, chain, h):
    sign = 1 if side == "left" else -1
    for name in chain:
        length, mass, share = LIMBS[name]
        centre = [0, 0, -length * share * h]
        if name == "foot":
            toe = (1 - HEEL_SHARE) * FOOT * h
            centre = [toe / 2, 0, -ANKLE * h / 2]
        joints = [
            (f"{side} {joint}", [part * (sign if turns_over == -1 else 1) for part in axis])
            for joint, (axis, turns_over) in JOINTS[name]
        ]
        parent = add(parent, f"{side} {name}", at, mass, centre, joints)
        at = [0, 0, -length * h]
    if chain[-1] == "foot":
        ball = [(BALL_SHARE - HEEL_SHARE) * FOOT * h, 0, -ANKLE * h]
        toes = add(parent, f"{side} toes", ball, 1e-12, [0, 0, 0], [(f"{side} toe-extension", [0, -1, 0])])
        toes.add_site(name=f"{side} foot end", pos=[(1 - BALL_SHARE) * FOOT * h, 0, 0])
    else:
        parent.add_site(name=f"{side} hand end", pos=at)


def model(h):
    spec = mujoco.MjSpec()
    spec.compiler.degree = True
    length, mass, share = TRUNK["pelvis"]
    pelvis = spec.worldbody.add_body(
        name="pelvis", mass=mass, ipos=[0, 0, length * share * h], inertia=[1e-3] * 3, explicitinertial=True
    )
    pelvis.add_freejoint()
    parent, at = pelvis, [0, 0, length * h]
    for name, word in [("abdomen", "trunk lower"), ("thorax", "trunk upper"), ("head", "neck")]:
        length, mass, share = TRUNK[name]
        joints = [(f"{word} {way}", axis) for way, axis in MIDDLE]
        parent = add(parent, name, at, mass, [0, 0, length * share * h], joints)
        if name == "thorax":
            for side, sign in [("left", 1), ("right", -1)]:
                inner = [0, sign * COLLAR * h, length * h]
                turns = [(f"{side} {joint}", [part * sign for part in axis]) for joint, axis in GIRDLE]
                collar = add(parent, f"{side} collar", inner, 1e-12, [0, 0, 0], turns)
                outer = [0, sign * (SHOULDER - COLLAR) * h, 0]
                back = [(joint + UNDONE, axis) for joint, axis in reversed(turns)]
                upright = add(collar, f"{side} shoulder", outer, 1e-12, [0, 0, 0], back)
                add_limb(upright, side, [0, 0, 0], ["upper-arm", "forearm", "hand"], h)
        at = [0, 0, length * h]
    parent.add_site(name="head end", pos=at)
    for side, sign in [("left", 1), ("right", -1)]:
        add_limb(pelvis, side, [0, sign * HIP * h, 0], ["thigh", "shank", "foot"], h)
    return spec.compile()


def place(compiled, data, pelvis, angles_deg):
    """Sets every joint; the spine shares its angles equally between its two bends."""
    data.qpos[:3] = pelvis["at"]
    quaternion = np.zeros(4)
    mujoco.mju_mat2Quat(quaternion, np.array(pelvis["turned"]).reshape(-1))
    data.qpos[3:7] = quaternion
    used = set()
    for name, angle_deg in angles_deg.items():
        part, _, way = name.partition("-")
        halves = [f"trunk lower {way}", f"trunk upper {way}"] if part == "trunk" else [name]
        if part == "neck":
            halves = [f"neck {way}"]
        for joint in halves:
            address = compiled.joint(joint).qposadr[0]
            data.qpos[address] = np.radians(angle_deg) / len(halves)
            used.add(joint)
        if any(name.endswith(joint) for joint, _ in GIRDLE):
            address = compiled.joint(name + UNDONE).qposadr[0]
            data.qpos[address] = -np.radians(angle_deg)
            used.add(name + UNDONE)
    assert len(used) == compiled.njnt - 1, "every joint has its angle"
    mujoco.mj_kinematics(compiled, data)
    mujoco.mj_comPos(compiled, data)


def apart(compiled, data, frame, name):
    """How far a segment is from where the program says, and the largest difference between the two rotations."""
    body = compiled.body(name).id
    point = float(np.linalg.norm(data.xpos[body] - np.array(frame["at"])))
    turned = float(np.abs(data.xmat[body].reshape(3, 3) - np.array(frame["turned"])).max())
    return point, turned


def main():
    models, poses, points, placed = {}, 0, 0, 0
    most = {"point_m": 0.0, "rotation": 0.0, "centre_m": 0.0, "placed_m": 0.0, "placed_rotation": 0.0}
    for text in open(sys.argv[1], encoding="utf-8"):
        line = json.loads(text)
        stature = line["stature_m"]
        if stature not in models:
            compiled = model(stature)
            models[stature] = (compiled, mujoco.MjData(compiled))
        compiled, data = models[stature]
        place(compiled, data, line["pelvis"], line["angles_deg"])
        if "placed" in line:
            for name, frame in line["placed"].items():
                point, turned = apart(compiled, data, frame, name)
                most["placed_m"] = max(most["placed_m"], point)
                most["placed_rotation"] = max(most["placed_rotation"], turned)
                placed += 1
            continue
        poses += 1
        for name, frame in line["segments"].items():
            point, turned = apart(compiled, data, frame, name)
            most["point_m"] = max(most["point_m"], point)
            most["rotation"] = max(most["rotation"], turned)
            points += 1
        for name, end in line["ends"].items():
            point = float(np.linalg.norm(data.site(name).xpos - np.array(end)))
            most["point_m"] = max(most["point_m"], point)
            points += 1
        centre = data.subtree_com[compiled.body("pelvis").id]
        most["centre_m"] = max(most["centre_m"], float(np.linalg.norm(centre - np.array(line["centre_of_mass"]))))
    print(json.dumps({"poses": poses, "points": points, "placed": placed, **most}))


main()
