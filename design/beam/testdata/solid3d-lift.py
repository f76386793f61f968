"""How solid3d-lift.json was made: the flat 8 x 10 mm loop lifted 8 mm and let back, as a solid.

python3 solid3d-lift.py deck     writes lift.inp, the wire as 20-node bricks
ccx -i lift                      CalculiX 2.20, about ten minutes on one core
python3 solid3d-lift.py loads    prints the positions: loads on the tooth at the moved end
"""
import json, math, sys
import numpy as np

WIDTH, THICK = 0.635, 0.4318
E, NU, YIELD, TANGENT = 65000.0, 0.3, 900.0, 6500.0
PATH = [("s", 4.0), ("b", 90, 0.6), ("s", 8), ("b", -90, 0.6), ("s", 10), ("b", -90, 0.6), ("s", 8), ("b", -90, 0.6), ("s", 5.0)]
NW = NT = 4
STRAIGHT, TURN = 0.3, 12.0
LIFTS = [1, 2, 3, 4, 5, 6, 7, 8, 7.8, 7.5, 7, 6, 5, 4, 3, 2, 1, 0]

def poses():
    """Half-step frames along the centreline: place, d1, d2, d3."""
    at, d1, d2, d3 = np.zeros(3), np.array([1., 0, 0]), np.array([0, 1., 0]), np.array([0, 0, 1.])
    out = [(at, d2, d3)]
    for step in PATH:
        if step[0] == "s":
            n = max(1, round(step[1] / STRAIGHT))
            for k in range(1, 2 * n + 1):
                out.append((at + d1 * step[1] * k / (2 * n), d2, d3))
            at = at + d1 * step[1]
        else:
            angle, radius = math.radians(step[1]), step[2]
            n = max(1, round(abs(step[1]) / TURN))
            sense = math.copysign(1, angle)
            centre = at + sense * radius * d3
            for k in range(1, 2 * n + 1):
                a = angle * k / (2 * n)
                e1 = d1 * math.cos(a) + d3 * math.sin(a)
                e3 = d3 * math.cos(a) - d1 * math.sin(a)
                out.append((centre - sense * radius * e3, d2, e3))
            at, d1, d3 = out[-1][0], e1, e3
    return out

def mesh():
    frames = poses()
    number, nodes = {}, []
    for k, (at, d2, d3) in enumerate(frames):
        for i in range(2 * NW + 1):
            for j in range(2 * NT + 1):
                odd = (i % 2) + (j % 2) + (k % 2)
                if odd > 1:
                    continue
                number[i, j, k] = len(nodes) + 1
                nodes.append(at + d2 * WIDTH * (i / (2 * NW) - .5) + d3 * THICK * (j / (2 * NT) - .5))
    elements = []
    for k in range(0, len(frames) - 1, 2):
        for i in range(0, 2 * NW, 2):
            for j in range(0, 2 * NT, 2):
                # axes of the brick: width, thickness, length; right-handed would be d2 x d3 = d1
                corner = [(0, 0), (2, 0), (2, 2), (0, 2)]
                edge = [(1, 0), (2, 1), (1, 2), (0, 1)]
                e = [(a, b, 0) for a, b in corner] + [(a, b, 2) for a, b in corner]
                e += [(a, b, 0) for a, b in edge] + [(a, b, 2) for a, b in edge] + [(a, b, 1) for a, b in corner]
                elements.append([number[i + a, j + b, k + c] for a, b, c in e])
    base = [n for (i, j, k), n in number.items() if k == 0]
    end = [n for (i, j, k), n in number.items() if k == len(frames) - 1]
    return nodes, elements, base, end, frames[-1]

def listed(ids):
    return ",\n".join(", ".join(map(str, ids[i:i + 8])) for i in range(0, len(ids), 8))

def deck():
    nodes, elements, base, end, _ = mesh()
    hard = E * TANGENT / (E - TANGENT)
    with open("lift.inp", "w") as f:
        print("*NODE, NSET=ALL", file=f)
        for n, p in enumerate(nodes, 1):
            print(f"{n}, {p[0]:.12g}, {p[1]:.12g}, {p[2]:.12g}", file=f)
        print("*ELEMENT, TYPE=C3D20R, ELSET=WIRE", file=f)
        for n, e in enumerate(elements, 1):
            print(f"{n}, " + ", ".join(map(str, e[:10])) + ",", file=f)
            print(", ".join(map(str, e[10:])), file=f)
        print("*NSET, NSET=BASE\n" + listed(base), file=f)
        print("*NSET, NSET=END\n" + listed(end), file=f)
        print(f"*MATERIAL, NAME=M\n*ELASTIC\n{E}, {NU}\n*PLASTIC, HARDENING=KINEMATIC\n{YIELD}, 0\n{YIELD + hard * 0.3}, 0.3", file=f)
        print("*SOLID SECTION, ELSET=WIRE, MATERIAL=M\n*BOUNDARY\nBASE, 1, 3", file=f)
        for lift in LIFTS:
            print(f"*STEP, NLGEOM, INC=200\n*STATIC\n0.25, 1, 1e-4, 0.25\n*BOUNDARY\nEND, 1, 2\nEND, 3, 3, {lift}", file=f)
            print("*NODE PRINT, NSET=END, FREQUENCY=1000\nRF\n*NODE PRINT, NSET=BASE, FREQUENCY=1000\nRF\n*END STEP", file=f)

def loads():
    nodes, _, base, end, last = mesh()
    blocks, now = [], None
    for line in open("lift.dat"):
        w = line.split()
        if "forces" in line:
            now = {"set": line.split("set")[1].split()[0], "time": float(w[-1]), "rows": []}
            blocks.append(now)
        elif now is not None and len(w) == 4:
            now["rows"].append((int(w[0]), np.array([float(x) for x in w[1:]])))
    out = []
    for b in blocks:
        if b["set"] != "END":
            continue
        force, couple = np.zeros(3), np.zeros(3)
        for n, rf in b["rows"]:
            force -= rf
            couple -= np.cross(nodes[n - 1] - last[0], rf)
        out.append({"time": b["time"], "dz_mm": LIFTS[round(b["time"]) - 1], "force_on_tooth_n": [round(x, 5) + 0.0 for x in force], "couple_on_tooth_nmm": [round(x, 5) + 0.0 for x in couple]})
    print(json.dumps(out, indent=1))

deck() if sys.argv[1] == "deck" else loads()
