"""How loopinslots.json was made: a plane loop in two slots with clearance, as a solid.

python3 loopinslots.py deck      writes loopinslots.inp, the wire as 20-node bricks
ccx -i loopinslots               CalculiX 2.20, a few minutes on one core
python3 loopinslots.py loads     prints the positions: forces of the slots' edges on the wire

The wire goes on through each slot, as elastic there as outside. At both mouths of a slot a spring
between the wire's middle and the slot does not feel anything within the clearance and is very
stiff beyond: that is the gap. A stiff spring holds the wire along the slot at its centre, as
cinched. The middle plane of the wire stays in its plane.
"""
import json, math, sys
import numpy as np

WIDTH, THICK, HEIGHT = 0.635, 0.4318, 0.5588
E, NU = 65000.0, 0.3
LAST = -math.degrees(math.pi / 2 - 0.1)
PATH = [("s", 4.0), ("b", 90, 0.97), ("s", 5), ("b", -90, 0.97), ("s", 3), ("b", LAST, 0.97), ("s", 5), ("b", 90, 0.97), ("s", 4.0)]
ANCHOR, ACTIVE = 4.0, 3.5           # lengths of the slots
SEATS = [(15.5, 0.9 - 1.4 * k / 3, 0.05 * k / 3) for k in (1, 2, 3)]  # entry x, z, tip in rad
NW, NT, STRAIGHT, TURN = 2, 2, 0.5, 15.0
STIFF = 2e4                         # N/mm of a wall: 0.05 µm under a newton
FAR = 100.0                         # the slot's end of such a spring lies so far above, so that it pulls upright
CLEAR = (HEIGHT - THICK) / 2

def poses():
    at, d1, d2, d3 = np.array([-ANCHOR, 0, 0]), np.array([1., 0, 0]), np.array([0, 1., 0]), np.array([0, 0, 1.])
    out = [(at, d1, d2, d3)]
    # Both halves of a slot are whole numbers of elements.
    for step in [("s", ANCHOR / 2)] * 2 + PATH + [("s", ACTIVE / 2)] * 2:
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

def deck():
    frames = poses()
    number, nodes = {}, []
    for k, (at, _, d2, d3) in enumerate(frames):
        for i in range(2 * NW + 1):
            for j in range(2 * NT + 1):
                if (i % 2) + (j % 2) + (k % 2) > 1:
                    continue
                number[i, j, k] = len(nodes) + 1
                nodes.append(at + d2 * WIDTH * (i / (2 * NW) - .5) + d3 * THICK * (j / (2 * NT) - .5))
    elements = []
    for k in range(0, len(frames) - 1, 2):
        for i in range(0, 2 * NW, 2):
            for j in range(0, 2 * NT, 2):
                corner = [(0, 0), (2, 0), (2, 2), (0, 2)]
                edge = [(1, 0), (2, 1), (1, 2), (0, 1)]
                e = [(a, b, 0) for a, b in corner] + [(a, b, 2) for a, b in corner]
                e += [(a, b, 0) for a, b in edge] + [(a, b, 2) for a, b in edge] + [(a, b, 1) for a, b in corner]
                elements.append([number[i + a, j + b, k + c] for a, b, c in e])
    def node(at):
        nodes.append(np.array(at, float))
        return len(nodes)
    d1 = frames[-1][1]
    end = frames[-1][0] - ACTIVE * d1
    wire, slot = {}, {}
    where = {("anchor", "back"): (-ANCHOR, 0), ("anchor", "centre"): (-ANCHOR / 2, 0), ("anchor", "front"): (0, 0),
             ("active", "front"): (0, 1), ("active", "centre"): (ACTIVE / 2, 1), ("active", "back"): (ACTIVE, 1)}
    for key, (s, far) in where.items():
        at = end + s * d1 if far else np.array([s, 0, 0])
        section = min(range(0, len(frames), 2), key=lambda k: np.linalg.norm(frames[k][0] - at))
        wire[key] = number[NW, NT, section]
        slot[key] = node(at if key[1] == "centre" else at + np.array([0, 0, FAR]))
    out = ["*NODE, NSET=ALL"] + ["%d, %.9f, %.9f, %.9f" % (i + 1, *p) for i, p in enumerate(nodes)]
    out.append("*ELEMENT, TYPE=C3D20R, ELSET=WIRE")
    for i, e in enumerate(elements):
        out.append("%d, " % (i + 1) + ", ".join(map(str, e[:10])) + ",")
        out.append(", ".join(map(str, e[10:])))
    count = len(elements)
    edges, along = [], []
    for key in where:
        count += 1
        kind = along if key[1] == "centre" else edges
        kind.append((count, wire[key], slot[key]))
    for name, group in (("A, ELSET=EDGES", edges), ("2, ELSET=ALONG", along)):
        out.append("*ELEMENT, TYPE=SPRING" + name)
        out += ["%d, %d, %d" % g for g in group]
    out += ["*SPRING, ELSET=EDGES, NONLINEAR"]
    out += ["%.6f, %.9f" % pair for pair in ((-STIFF, -CLEAR - 1), (0, -CLEAR), (0, CLEAR), (STIFF, CLEAR + 1))]
    out += ["*SPRING, ELSET=ALONG", "1, 1", "%.6f" % STIFF]
    out += ["*MATERIAL, NAME=M", "*ELASTIC", "%g, %g" % (E, NU), "*SOLID SECTION, ELSET=WIRE, MATERIAL=M"]
    out.append("*NSET, NSET=SLOTS")
    out += ["%d," % slot[key] for key in where]
    out.append("*BOUNDARY")
    out += ["%d, 2, 2" % n for key, n in number.items() if key[0] == NW]
    for seat in SEATS:
        out += ["*STEP, NLGEOM, INC=400", "*STATIC", "0.05, 1., 1e-6, 0.1", "*BOUNDARY"]
        x, z, tip = seat
        heading = np.array([math.cos(tip), 0, -math.sin(tip)])
        for key, (s, far) in where.items():
            move = np.zeros(3)
            if far:
                move = np.array([x, 0, z]) + s * heading - (end + s * d1)
            out += ["%d, %d, %d, %.9f" % (slot[key], k + 1, k + 1, move[k]) for k in range(3)]
        out += ["*NODE PRINT, NSET=SLOTS, FREQUENCY=1000", "RF", "*NODE PRINT, NSET=SLOTS, FREQUENCY=1000", "U", "*END STEP"]
    open("loopinslots.inp", "w").write("\n".join(out) + "\n")
    json.dump({"%s %s" % key: slot[key] for key in where}, open("loopinslots.nodes", "w"))

def loads():
    nodes = json.load(open("loopinslots.nodes"))
    names = {v: k for k, v in nodes.items()}
    blocks, block = [], None
    for line in open("loopinslots.dat"):
        if "forces (fx,fy,fz)" in line:
            block = {}
            blocks.append(block)
        elif "displacements" in line:
            block = None
        elif block is not None and line.split() and line.split()[0].isdigit():
            v = line.split()
            block[names[int(v[0])]] = [float(a) for a in v[1:]]
    for seat, b in zip(SEATS, blocks):
        # The reaction of a prescribed slot is the force that the slot puts on the wire.
        print(json.dumps({"at_mm": [seat[0], 0, seat[1]], "tip_rad": seat[2], "on_wire_n": {k: [round(v[0], 5), round(v[2], 5)] for k, v in b.items()}}))

{"deck": deck, "loads": loads}[sys.argv[1]]()
