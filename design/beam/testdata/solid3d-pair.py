"""How solid3d-pair.json was made: the flat 8 x 10 mm loop and the same with its third bend 3 degrees further, both in
one seat, as solids.

python3 solid3d-pair.py deck     writes pair-90.inp and pair-93.inp, the wires as 20-node bricks
ccx -i pair-90; ccx -i pair-93   CalculiX 2.20, some minutes each on one core
python3 solid3d-pair.py loads    prints the loads on the tooth at the moved end
python3 solid3d-pair.py shape    prints the first wire's middle line as it lies then: solid3d-shape.json
"""
import json, math, sys
import numpy as np

WIDTH, THICK = 0.635, 0.4318
E, NU = 65000.0, 0.3
def path(third):
    return [("s", 4.0), ("b", 90, 0.6), ("s", 8), ("b", -90, 0.6), ("s", 10), ("b", -third, 0.6), ("s", 8), ("b", -90, 0.6), ("s", 5.0)]
NW = NT = 4
STRAIGHT, TURN = 0.4, 15.0
THIRDS = (90, 93)
DOWN = np.array([0, 0, -3.0])  # the seat, from where the end of the first lies free

def poses(third):
    """Half-step frames along the centreline: place, d1, d2, d3."""
    at, d1, d2, d3 = np.zeros(3), np.array([1., 0, 0]), np.array([0, 1., 0]), np.array([0, 0, 1.])
    out = [(at, d1, d2, d3)]
    for step in path(third):
        if step[0] == "s":
            n = max(1, round(step[1] / STRAIGHT))
            for k in range(1, 2 * n + 1):
                out.append((at + d1 * step[1] * k / (2 * n), d1, d2, d3))
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
                out.append((centre - sense * radius * e3, e1, d2, e3))
            at, d1, d3 = out[-1][0], e1, e3
    return out

def mesh(third):
    frames = poses(third)
    number, nodes = {}, []
    for k, (at, d1, d2, d3) in enumerate(frames):
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
    line = [number[NW, NT, k] for k in range(0, len(frames), 2)]
    return nodes, elements, base, end, frames[-1], line

def listed(ids):
    return ",\n".join(", ".join(map(str, ids[i:i + 8])) for i in range(0, len(ids), 8))

def seat():
    return poses(THIRDS[0])[-1][0] + DOWN, np.column_stack(poses(THIRDS[0])[-1][1:])

def deck():
    at, turned = seat()
    for third in THIRDS:
        nodes, elements, base, end, last, line = mesh(third)
        turn = turned @ np.column_stack(last[1:]).T
        with open(f"pair-{third}.inp", "w") as f:
            print("*NODE, NSET=ALL", file=f)
            for n, p in enumerate(nodes, 1):
                print(f"{n}, {p[0]:.12g}, {p[1]:.12g}, {p[2]:.12g}", file=f)
            print("*ELEMENT, TYPE=C3D20R, ELSET=WIRE", file=f)
            for n, e in enumerate(elements, 1):
                print(f"{n}, " + ", ".join(map(str, e[:10])) + ",", file=f)
                print(", ".join(map(str, e[10:])), file=f)
            print("*NSET, NSET=BASE\n" + listed(base), file=f)
            print("*NSET, NSET=END\n" + listed(end), file=f)
            print("*NSET, NSET=LINE\n" + listed(line), file=f)
            print(f"*MATERIAL, NAME=M\n*ELASTIC\n{E}, {NU}", file=f)
            print("*SOLID SECTION, ELSET=WIRE, MATERIAL=M\n*BOUNDARY\nBASE, 1, 3", file=f)
            print("*STEP, NLGEOM, INC=200\n*STATIC\n0.25, 1, 1e-4, 0.25\n*BOUNDARY", file=f)
            for n in end:
                u = at + turn @ (nodes[n - 1] - last[0]) - nodes[n - 1]
                for k in range(3):
                    print(f"{n}, {k + 1}, {k + 1}, {u[k]:.12g}", file=f)
            print("*NODE PRINT, NSET=END, FREQUENCY=1000\nRF\n*NODE PRINT, NSET=BASE, FREQUENCY=1000\nRF\n*NODE PRINT, NSET=LINE, FREQUENCY=1000\nU\n*END STEP", file=f)

def loads():
    at, turned = seat()
    out = []
    for third in THIRDS:
        nodes, _, base, end, last, _ = mesh(third)
        turn = turned @ np.column_stack(last[1:]).T
        sets, now = {}, None
        for line in open(f"pair-{third}.dat"):
            w = line.split()
            if "for set" in line:
                now = sets[line.split("set")[1].split()[0]] = []
            elif now is not None and len(w) == 4:
                now.append((int(w[0]), np.array([float(x) for x in w[1:]])))
        load = {"third_bend_deg": -third}
        for name, where, centre in (("END", "tooth", at), ("BASE", "anchor", np.zeros(3))):
            force, couple = np.zeros(3), np.zeros(3)
            for n, rf in sets[name]:
                p = at + turn @ (nodes[n - 1] - last[0]) if name == "END" else nodes[n - 1]
                force -= rf
                couple -= np.cross(p - centre, rf)
            load[f"force_on_{where}_n"] = [round(x, 5) + 0.0 for x in force]
            load[f"couple_on_{where}_nmm"] = [round(x, 5) + 0.0 for x in couple]
        out.append(load)
    print(json.dumps(out, indent=1))

def shape():
    nodes, _, _, _, _, line = mesh(THIRDS[0])
    moved, now = {}, False
    for text in open(f"pair-{THIRDS[0]}.dat"):
        w = text.split()
        if "for set" in text:
            now = "set LINE" in text
        elif now and len(w) == 4:
            moved[int(w[0])] = np.array([float(x) for x in w[1:]])
    rows = [[round(x, 4) + 0.0 for x in nodes[n - 1] + moved[n]] for n in line]
    print(json.dumps({"source": "middle line of the first wire of solid3d-pair.json where it is loaded, by CalculiX 2.20; made by solid3d-pair.py", "line_mm": rows}))

{"deck": deck, "loads": loads, "shape": shape}[sys.argv[1]]()
