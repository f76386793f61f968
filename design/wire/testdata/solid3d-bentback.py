"""How solid3d-bentback.json was made: a straight bar bent about a corner's radius, let go and
bent back, as a solid.

python3 solid3d-bentback.py deck     writes bentback.inp, a quarter of the bar as 20-node bricks
ccx -i bentback                      CalculiX 2.20
python3 solid3d-bentback.py curve    prints moment and curvature in the middle of the bar
"""
import json, math, sys
import numpy as np

WIDTH, THICK, HALF = 0.635, 0.4318, 1.25
E, NU, YIELD = 65000.0, 0.3, 900.0
NW, NT, NL = 2, 12, 10      # over half the width, the thickness, half the length
GAUGE = 4                   # elements from the middle over which the curvature is taken
HELD = 0.858                # turn of the end, rad, that bends the middle to a radius of about 0.97 mm
BENDING = [HELD * (k + 1) / 8 for k in range(8)]
BACK = [HELD - 0.0075 * (k + 1) for k in range(32)]
STEPS = BENDING + BACK

def mesh():
    number, nodes = {}, []
    for k in range(2 * NL + 1):
        for i in range(2 * NW + 1):
            for j in range(2 * NT + 1):
                if (i % 2) + (j % 2) + (k % 2) > 1:
                    continue
                number[i, j, k] = len(nodes) + 1
                nodes.append((HALF * k / (2 * NL), WIDTH / 2 * i / (2 * NW), THICK * (j / (2 * NT) - .5)))
    elements = []
    for k in range(0, 2 * NL, 2):
        for i in range(0, 2 * NW, 2):
            for j in range(0, 2 * NT, 2):
                corner = [(0, 0), (2, 0), (2, 2), (0, 2)]
                edge = [(1, 0), (2, 1), (1, 2), (0, 1)]
                e = [(a, b, 0) for a, b in corner] + [(a, b, 2) for a, b in corner]
                e += [(a, b, 0) for a, b in edge] + [(a, b, 2) for a, b in edge] + [(a, b, 1) for a, b in corner]
                elements.append([number[i + a, j + b, k + c] for a, b, c in e])
    return number, nodes, elements

def listed(ids):
    return ",\n".join(", ".join(map(str, ids[i:i + 8])) for i in range(0, len(ids), 8))

def deck():
    number, nodes, elements = mesh()
    last = len(nodes)
    with open("bentback.inp", "w") as f:
        print("*NODE, NSET=ALL", file=f)
        for n, p in enumerate(nodes, 1):
            print(f"{n}, {p[0]:.12g}, {p[1]:.12g}, {p[2]:.12g}", file=f)
        for n in (last + 1, last + 2):
            print(f"{n}, {HALF}, 0, 0", file=f)
        print("*ELEMENT, TYPE=C3D20R, ELSET=WIRE", file=f)
        for n, e in enumerate(elements, 1):
            print(f"{n}, " + ", ".join(map(str, e[:10])) + ",", file=f)
            print(", ".join(map(str, e[10:])), file=f)
        sets = {
            "MIDDLE": [n for (i, j, k), n in number.items() if k == 0],
            "PLANE": [n for (i, j, k), n in number.items() if i == 0 and k < 2 * NL],
            "END": [n for (i, j, k), n in number.items() if k == 2 * NL],
            "GAUGE": [n for (i, j, k), n in number.items() if i == 0 and k == 2 * GAUGE],
            "FOOT": [number[0, NT, 0]], "TURN": [last + 2],
        }
        for name, ids in sets.items():
            print(f"*NSET, NSET={name}\n{listed(ids)}", file=f)
        print(f"*RIGID BODY, NSET=END, REF NODE={last + 1}, ROT NODE={last + 2}", file=f)
        print(f"*MATERIAL, NAME=M\n*ELASTIC\n{E}, {NU}\n*PLASTIC\n{YIELD}, 0\n{YIELD * 1.0001}, 1.0", file=f)
        print("*SOLID SECTION, ELSET=WIRE, MATERIAL=M", file=f)
        print(f"*BOUNDARY\nMIDDLE, 1, 1\nPLANE, 2, 2\nFOOT, 3, 3\n{last + 1}, 2, 2\nTURN, 1, 1\nTURN, 3, 3", file=f)
        for turn in STEPS:
            print(f"*STEP, NLGEOM, INC=500\n*STATIC\n0.5, 1, 1e-5, 0.5\n*BOUNDARY\nTURN, 2, 2, {-turn:.9g}", file=f)
            print("*NODE PRINT, NSET=TURN, FREQUENCY=1000\nRF\n*NODE PRINT, NSET=GAUGE, FREQUENCY=1000\nU\n*END STEP", file=f)

def curve():
    number, nodes, _ = mesh()
    forces, moves, now = {}, {}, None
    for line in open("bentback.dat"):
        w = line.split()
        if "set" in line and "time" in line:
            now = (forces if "forces" in line else moves).setdefault(round(float(w[-1]), 6), {})
        elif now is not None and len(w) == 4:
            now[int(w[0])] = np.array([float(x) for x in w[1:]])
    out = []
    for time in sorted(forces):
        # The section's turn from the line through its nodes.
        at = np.array([nodes[n - 1] + u for n, u in sorted(moves[time].items())])
        z = np.array([nodes[n - 1][2] for n in sorted(moves[time])])
        along = z @ (at - at.mean(axis=0))
        turn = math.atan2(-along[0], along[2])
        moment = 2 * abs(next(iter(forces[time].values()))[1])
        sign = math.copysign(1, -next(iter(forces[time].values()))[1])
        out.append({"curvature_per_mm": round(turn / (HALF * GAUGE / NL), 7), "moment_nmm": round(sign * moment, 5)})
    print(json.dumps(out, indent=1))

deck() if sys.argv[1] == "deck" else curve()
