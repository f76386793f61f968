"""Straight wire through three slots, in the plane, large deflections: a reference for EvaluateStraight.

Shooting on the exact equations of a rod that bends, shears and stretches (scipy), independent of the Go code.
x runs from the middle (anchor) slot to the active one, z up; an angle turns x towards z. In every slot
the wire is rigid, passes through the slot's centre and turns until a wall stops it at the play; through both outer
slots it slides without friction. Usage: python3 threeslots.py > threeslots.json
"""

import json
import math

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, fsolve

E, NU, D = 50000.0, 0.33, 0.3556  # N/mm², -, mm
G, A, I = E / (2 * (1 + NU)), math.pi * D**2 / 4, math.pi * D**4 / 64
EA, EI = E * A, E * I
GA = G * A * 6 * (1 + NU) / (7 + 6 * NU)  # Cowper 1966
HEIGHT = 0.5588
LENGTH = {"anchor": 4.0, "active": 3.5, "next": 3.0}


def play(length):
    """Angle at which a wire of diameter D touches both walls of a slot of that length."""
    return math.acos(D / math.hypot(HEIGHT, length)) - math.atan2(length, HEIGHT)


def shoot(angle, force, moment, length):
    """The end (x, z, angle, moment) of a wire that leaves the origin at an angle, force and moment being
    those of the part ahead on the part behind."""

    def slope(_, y):
        _, _, a, m = y
        c, s = math.cos(a), math.sin(a)
        axial, shear = force[0] * c + force[1] * s, -force[0] * s + force[1] * c
        stretch, slide = 1 + axial / EA, shear / GA
        dx, dz = stretch * c - slide * s, stretch * s + slide * c
        return [dx, dz, m / EI, -(dx * force[1] - dz * force[0])]

    return solve_ivp(slope, (0, length), [0, 0, angle, moment], rtol=1e-11, atol=1e-12, method="DOP853").y[:, -1]


def span(angle, far, at_x, at_z):
    """The wire from the middle slot, turned by angle, to a far slot whose centre is at (x, z) of the middle
    one's centre: force and couple of the middle slot's centre section, and of the far slot on the wire about its centre."""
    half, farhalf, limit = LENGTH["anchor"] / 2, LENGTH[far] / 2, play(LENGTH[far])

    def solve(share, wall, guess):
        turned = angle * share
        start = np.array([half * math.cos(turned), half * math.sin(turned)])

        def end(u):
            x, z, a, m = shoot(turned, u[0:2], u[2], u[3])
            c, s = math.cos(a), math.sin(a)
            return start + [x + farhalf * c, z + farhalf * s], a, m - farhalf * (c * u[1] - s * u[0])

        def miss(u):
            centre, a, couple = end(u)
            turn = couple if wall is None else a - wall
            return [centre[0] - at_x, centre[1] - at_z * share, u[0] * math.cos(a) + u[1] * math.sin(a), turn]

        u, _, ok, text = fsolve(miss, guess, full_output=True, xtol=1e-12)
        assert ok == 1 or np.abs(miss(u)).max() < 1e-9, text
        return u, start[0] * u[1] - start[1] * u[0] + u[2], *end(u)[1:]

    guess = [0, 0, 0, at_x - half - farhalf]
    for share in np.linspace(0, 1, 17)[1:]:  # into its place in steps
        guess, at_middle, a, couple = solve(share, None, guess)
    if abs(a) > limit:
        wall = math.copysign(limit, a)
        for part in np.linspace(a, wall, 9)[1:]:
            guess, at_middle, a, couple = solve(1, part, guess)
        assert couple * a <= 0, "the wall would pull"
    return guess[0:2], at_middle, couple


def three(apart, step, beyond):
    """Loads ON THE TEETH: couples about +y of the product, which turns z towards x, so with the other sign."""
    limit = play(LENGTH["anchor"])

    def both(angle):
        # Beyond the middle slot the wire is seen in a mirror: x the other way.
        return span(angle, "active", apart, step), span(-angle, "next", beyond, 0)

    def couple(angle):  # of the middle slot on the wire
        a, b = both(angle)
        return -a[1] + b[1]

    low, high = couple(-limit), couple(limit)
    if low < 0 < high:
        angle = brentq(couple, -limit, limit, xtol=1e-13)
    else:
        angle = limit if high <= 0 else -limit
        assert couple(angle) * angle <= 0, "the wall would pull"
    a, b = both(angle)
    return {
        "apart_mm": apart, "step_mm": step, "beyond_mm": beyond, "turn_rad": -angle,
        "active_force_z_n": -a[0][1], "active_couple_nmm": a[2],
        "next_force_z_n": -b[0][1], "next_couple_nmm": -b[2],
        "anchor_force_z_n": a[0][1] + b[0][1], "anchor_couple_nmm": -a[1] + b[1],
    }


cases = [three(*c) for c in [(10, -0.3, 7), (10, -1, 7), (10, -2, 7), (13, -3, 8), (12, -0.6, 9)]]
print(json.dumps({"e_mpa": E, "poisson": NU, "diameter_mm": D, "height_mm": HEIGHT, "lengths_mm": LENGTH, "cases": cases}, indent=1))
