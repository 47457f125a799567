#!/usr/bin/env python3
"""Reference values with 50 digits, printed to 20, for the accuracy checks.

Run `python3 make_reference.py` with mpmath 1.3 installed; it writes the .csv files beside itself and always the same ones.

Every input is a single-precision number printed exactly, so the library is asked the very question answered here. A column
ending in _term is the largest term of the formula before it: the accuracy promised is one millionth of that term.
"""

import csv
import pathlib
import random
import struct
from decimal import Decimal

from mpmath import asin, atan2, besselj, cos, findroot, fresnelc, fresnels, gammainc, log10, mp, mpf, nstr, pi, sin, sqrt, tan

mp.dps = 50
HERE = pathlib.Path(__file__).parent
DEGREE = pi / 180


def single(value):
    """The nearest single-precision number."""
    return struct.unpack("f", struct.pack("f", value))[0]


def exact(number):
    """Every digit of a float."""
    return format(Decimal(number), "f")


class Inputs:
    """Seeded random inputs: coarse ones that a person could type, and ones that use the whole mantissa."""

    def __init__(self, seed):
        self.random = random.Random(seed)

    def draw(self, low, high):
        value = self.random.uniform(low, high)
        if self.random.random() < 0.7:
            step = 1024 if high < 10000 else 64
            value = round(value * step) / step
        return single(min(max(value, low), high))

    def draw_over_decades(self, low, high):
        value = low * (high / low) ** self.random.random()
        return self.draw(value, value) if self.random.random() < 0.3 else single(round(value * 256) / 256 or low)


def write(name, header, rows):
    with open(HERE / f"{name}.csv", "w", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header)
        for row in rows:
            out.writerow([exact(v) if isinstance(v, float) else nstr(v, 20) if isinstance(v, mpf) else v for v in row])


def largest(*terms):
    return max(abs(mpf(term)) for term in terms)


def flat_path():
    """Leg n = ceil(u / t) with u = s cos a; depth u - (n - 1) t on odd legs and n t - u on even ones."""

    def row(t, a, s, skew, standoff, side, n=None, clear="1e-5"):
        angle = mpf(a) * DEGREE
        u, reach = s * cos(angle), s * sin(angle)
        if n is None:
            n = int(mp.ceil(u / t))
            if abs(u - mp.nint(u / t) * t) <= mpf(clear) * u:
                return None  # too near a face for single precision to be sure of the leg
        depth = u - (n - 1) * t if n % 2 else n * t - u
        if abs(depth) < mpf("1e-30"):
            depth = mpf(0)
        across, along = reach * cos(mpf(skew) * DEGREE), reach * sin(mpf(skew) * DEGREE)
        y = across - standoff if side == "a" else standoff - across
        return [t, a, s, skew, standoff, side, n, u, depth, largest(u, n * mpf(t)), reach, across, along, y, largest(standoff, reach)]

    inputs, rows = Inputs(1), []
    while len(rows) < 700:
        t = inputs.draw_over_decades(0.5, 1000.0)
        a = inputs.draw(1.0, 89.0)
        legs = inputs.random.choice([0.5, 1, 2, 3, 6, 20])
        s = min(10000.0, t / float(cos(mpf(a) * DEGREE)) * inputs.random.uniform(0, legs))
        s = single(max(0.01, round(s * 256) / 256)) if inputs.random.random() < 0.7 else single(max(0.01, s))
        skew = inputs.draw(-89.0, 89.0) if inputs.random.random() < 0.5 else 0.0
        standoff = inputs.draw(0.0, 2000.0) if inputs.random.random() < 0.5 else single(round(s))
        found = row(t, a, s, skew, standoff, inputs.random.choice("ab"))
        if found:
            rows.append(found)
    while len(rows) < 760:  # thin plates and long paths: hundreds and thousands of legs
        t, a, s = inputs.draw(0.5, 4.0), inputs.draw(1.0, 89.0), inputs.draw(1000.0, 10000.0)
        found = row(t, a, s, 0.0, single(round(s)), "b")
        if found:
            rows.append(found)
    while len(rows) < 860:  # a few millionths before or past a face: not at it
        t, a, n = inputs.draw_over_decades(0.5, 300.0), inputs.draw(5.0, 85.0), inputs.random.randint(1, 6)
        off = inputs.random.uniform(2e-6, 8e-6) * inputs.random.choice([-1, 1])
        s = single(float(n * mpf(t) / cos(mpf(a) * DEGREE) * (1 + off)))
        found = row(t, a, s, 0.0, 30.0, "a", clear="1.5e-6") if s <= 10000 else None
        if found:
            rows.append(found)
    # A path that ends on a face belongs to the leg that comes to it: 60 degrees, where the cosine is one half.
    for t in (5.0, 20.0, 12.5, 0.5, 1000.0):
        for n in (1, 2, 3, 4, 5):
            if 2 * n * t <= 10000:
                rows.append(row(t, 60.0, 2 * n * t, 0.0, 30.0, "a", n))
    write("flat_path", ["thickness_mm", "angle_deg", "path_mm", "skew_deg", "standoff_mm", "side", "leg", "unfolded_mm", "depth_mm",
                        "depth_term", "surface_mm", "across_mm", "along_mm", "y_mm", "y_term"], rows)


def skips():
    """Half skip t tan a, leg t / cos a, and the path and surface distance of a depth z on leg n."""
    inputs, rows = Inputs(2), []
    for _ in range(300):
        t, a = inputs.draw_over_decades(0.5, 1000.0), inputs.draw(1.0, 89.0)
        n = inputs.random.choice([1, 2, 3, 4, 5])
        z = single(t * inputs.random.randint(1, 63) / 64)
        u = (n - 1) * mpf(t) + z if n % 2 else n * mpf(t) - z
        angle = mpf(a) * DEGREE
        rows.append([t, a, n, z, t * tan(angle), t / cos(angle), u / cos(angle), u * tan(angle), largest(n * mpf(t) / cos(angle)),
                     largest(n * mpf(t) * tan(angle))])
    write("skips", ["thickness_mm", "angle_deg", "leg", "depth_mm", "half_skip_mm", "leg_mm", "path_mm", "surface_mm", "path_term",
                    "surface_term"], rows)


def snell():
    """sin b = sin a c2 / c1, its angle, and the critical angle where c2 is the larger."""
    inputs, rows = Inputs(3), []
    while len(rows) < 500:
        c1, c2, a = inputs.draw(0.8, 7.0), inputs.draw(0.8, 7.0), inputs.draw(1.0, 89.0)
        sine = sin(mpf(a) * DEGREE) * c2 / c1
        if sine > sin(mpf(89) * DEGREE):
            continue
        critical = asin(mpf(c1) / c2) / DEGREE if c2 > c1 else ""
        rows.append([c1, c2, a, sine, asin(sine) / DEGREE, critical])
    write("snell", ["first_mm_per_us", "second_mm_per_us", "incident_deg", "refracted_sine", "refracted_deg", "critical_deg"], rows)


def beam():
    """Wavelength c / f, near field (D^2 - lambda^2) / (4 lambda), spread asin(k lambda / D)."""
    inputs, rows = Inputs(4), []
    while len(rows) < 400:
        d, f, c = inputs.draw(2.0, 40.0), inputs.draw(0.5, 15.0), inputs.draw(1.0, 7.0)
        k = inputs.draw(0.3, 1.25)
        wave = mpf(c) / f
        if d <= wave or k * wave / d > sin(mpf(80) * DEGREE):
            continue
        near = (mpf(d) ** 2 - wave**2) / (4 * wave)
        rows.append([d, f, c, k, wave, near, mpf(d) ** 2 / (4 * wave), asin(k * wave / d) / DEGREE])
    write("beam", ["element_mm", "frequency_mhz", "speed_mm_per_us", "k", "wavelength_mm", "near_field_mm", "near_field_term",
                   "spread_deg"], rows)


def edge_drops():
    """k = x / pi where 2 J1(x) / x (round) or sin x / x (rectangular side) has fallen by so many dB, one way."""
    rows = []
    for drop in (1.5, 3.0, 6.0, 10.0, 12.0, 20.0):
        pressure = mpf(10) ** (-mpf(drop) / 20)
        round_k = findroot(lambda k: 2 * besselj(1, pi * k) / (pi * k) - pressure, (mpf("0.1"), mpf("1.2")), solver="anderson")
        side_k = findroot(lambda k: sin(pi * k) / (pi * k) - pressure, (mpf("0.1"), mpf("0.99")), solver="anderson")
        rows.append([drop, round_k, side_k])
    null = findroot(lambda k: besselj(1, pi * k), mpf("1.22"))
    rows.append(["null", null, mpf(1)])
    write("edge_drops", ["one_way_db", "round_k", "rectangular_k"], rows)


def rectangles():
    """Near field K L^2 / (4 lambda) of a rectangle: the farthest maximum on the axis of |F(w1)| |F(w2)|, F the Fresnel integral."""

    def pressure(zeta, ratio):
        w = sqrt(2 / zeta)
        square = lambda x: fresnelc(x) ** 2 + fresnels(x) ** 2
        return square(w) * square(ratio * w)

    rows = []
    with mp.workdps(25):
        for percent in range(5, 101, 5):
            ratio, zeta = mpf(percent) / 100, mpf("1.6")
            while pressure(zeta - mpf("0.01"), ratio) > pressure(zeta, ratio):
                zeta -= mpf("0.01")
            slope = lambda z: pressure(z + mpf("1e-9"), ratio) - pressure(z - mpf("1e-9"), ratio)
            rows.append([percent / 5, 20.0, findroot(slope, (zeta - mpf("0.01"), zeta + mpf("0.01")), solver="anderson")])
    write("rectangles", ["short_mm", "long_mm", "k"], [row[:2] + [mpf(nstr(row[2], 9))] for row in rows])


def beam_edges():
    """Edges in the plane of incidence: the axis in the wedge, the spread in the wedge to either side, each refracted."""
    inputs, rows = Inputs(13), []
    while len(rows) < 300:
        wedge, part = inputs.draw(2.2, 2.9), inputs.draw(3.0, 3.4)
        axis, f, d = inputs.draw(35.0, 72.0), inputs.draw(1.0, 6.0), inputs.draw(5.0, 25.0)
        k = mpf("0.51366977654654444366")  # 6 dB there and back
        spread = k * mpf(wedge) / f / d
        if spread > mpf("0.5"):
            continue
        incident, half = asin(sin(mpf(axis) * DEGREE) * wedge / part), asin(spread)
        sines = [sin(incident + sign * half) * part / wedge for sign in (-1, 1)]
        if sines[1] > mpf("0.9998"):
            continue
        rows.append([wedge, part, axis, f, d, asin(sines[0]) / DEGREE, asin(sines[1]) / DEGREE])
    write("beam_edges", ["wedge_mm_per_us", "part_mm_per_us", "axis_deg", "frequency_mhz", "element_mm", "lower_deg", "upper_deg"], rows)


def near_field_left():
    """(D q)^2 / (4 lambda) of the foreshortened element less the wedge path in the part's measure, never below zero."""
    inputs, rows = Inputs(5), []
    while len(rows) < 300:
        d, f = inputs.draw(4.0, 30.0), inputs.draw(1.0, 10.0)
        wedge, part, a = inputs.draw(2.2, 2.8), inputs.draw(3.0, 3.4), inputs.draw(35.0, 75.0)
        length = inputs.draw(1.0, 40.0)
        wave = mpf(part) / f
        incident = asin(sin(mpf(a) * DEGREE) * wedge / part)
        q = cos(mpf(a) * DEGREE) / cos(incident)
        if d * q <= 1.1 * wave:
            continue
        def left(ratio):
            near = (d * ratio) ** 2 / (4 * wave)
            used = length * mpf(wedge) / part * ratio**2
            return max(mpf(0), near - used), largest(near, used)
        in_plane, across = left(q), left(mpf(1))
        rows.append([d, f, wedge, part, a, length, incident / DEGREE, in_plane[0], in_plane[1], across[0], across[1]])
    write("near_field_left", ["element_mm", "frequency_mhz", "wedge_mm_per_us", "part_mm_per_us", "refracted_deg", "wedge_path_mm",
                              "incident_deg", "in_plane_mm", "in_plane_term", "across_mm", "across_term"], rows)


def corner():
    """Surface distance sqrt(s^2 - (n t)^2) of a corner echo."""
    inputs, rows = Inputs(6), []
    while len(rows) < 400:
        t, n = inputs.draw_over_decades(0.5, 1000.0), inputs.random.choice([1, 1, 2, 2, 3, 4])
        a = inputs.random.uniform(10, 85)
        if len(rows) >= 300:  # barely longer than the depth of the face: where a rounded n t would show
            a, n = inputs.random.uniform(2, 10), inputs.random.choice([1, 3, 5, 6, 7])
        s = single(n * t / float(cos(mpf(a) * DEGREE)))
        if not n * t < s <= 10000:
            continue
        rows.append([t, n, s, sqrt(mpf(s) ** 2 - (n * mpf(t)) ** 2), mpf(s)])
    write("corner", ["thickness_mm", "leg", "path_mm", "distance_mm", "distance_term"], rows)


def heights():
    """Heights from tips: each echo peaked on the axis, or corner and tip at one probe position."""
    inputs, rows = Inputs(7), []
    forms = ["peaked", "peaked-leg-2", "near-face-peaked", "together", "together-leg-2", "near-face-together"]
    for form in forms:
        for _ in range(100):
            t, a = inputs.draw_over_decades(2.0, 300.0), inputs.draw(35.0, 75.0)
            h = t * inputs.random.uniform(0.02, 0.6)
            tip = {"peaked": t - h, "peaked-leg-2": t + h, "near-face-peaked": 2 * t - h, "together": t - h, "together-leg-2": t + h,
                   "near-face-together": 2 * t - h}[form]
            face = 2 * t if form.startswith("near-face") else t
            c = float(cos(mpf(a) * DEGREE))
            if "together" in form:
                sc = single(face / c)
                st = single(float(sqrt(mpf(sc) ** 2 - mpf(face) ** 2 + mpf(tip) ** 2)))
                depth = sqrt(mpf(st) ** 2 - (mpf(sc) ** 2 - mpf(face) ** 2))
            else:
                sc, st = single(face / c), single(tip / c)
                depth = st * cos(mpf(a) * DEGREE)
            height = depth - t if form.endswith("leg-2") else mpf(face) - depth
            rows.append([form, t, a, sc, st, height, largest(face, sc, st) if "together" in form else largest(face, depth)])
    write("heights", ["form", "thickness_mm", "angle_deg", "corner_mm", "tip_mm", "height_mm", "height_term"], rows)


def peaked_apart():
    """(s_c - s_t) cos a: by difference the height itself is the largest term."""
    inputs, rows = Inputs(14), []
    while len(rows) < 200:
        a, corner_path, tip_path = inputs.draw(35.0, 75.0), inputs.draw(5.0, 900.0), inputs.draw(5.0, 900.0)
        if tip_path < corner_path:
            rows.append([a, corner_path, tip_path, (mpf(corner_path) - tip_path) * cos(mpf(a) * DEGREE)])
    write("peaked_apart", ["angle_deg", "corner_mm", "tip_mm", "height_mm"], rows)


def level():
    """20 log10(h / H) + G_ref(s) + transfer - G, with G_ref linear in dB between the points of the curve."""
    inputs, rows = Inputs(8), []
    while len(rows) < 500:
        reference = inputs.random.choice([80.0, 50.0, 40.0, 60.0])
        paths = sorted({inputs.draw(5.0, 400.0) for _ in range(inputs.random.choice([2, 3, 4, 5]))})
        if len(paths) < 2 or min(b - a for a, b in zip(paths, paths[1:])) < 1:
            continue
        points = [(p, inputs.draw(20.0, 100.0), inputs.draw(10.0, 90.0)) for p in paths]
        s = paths[inputs.random.randrange(len(paths))] if inputs.random.random() < 0.1 else inputs.draw(paths[0], paths[-1])
        h, gain, transfer = inputs.draw(2.0, 100.0), inputs.draw(10.0, 100.0), inputs.draw(-6.0, 12.0)
        needed = [(mpf(p), g + 20 * log10(mpf(reference) / height)) for p, height, g in points]
        for (s0, g0), (s1, g1) in zip(needed, needed[1:]):
            if s0 <= s <= s1:
                at = g0 + (g1 - g0) * (s - s0) / (s1 - s0)
                break
        ratio = 20 * log10(mpf(h) / reference)
        curve = " ".join(":".join(exact(v) for v in point) for point in points)
        rows.append([reference, curve, s, h, gain, transfer, at, ratio + at + transfer - gain,
                     largest(ratio, transfer, gain, *(g for _, g in needed))])
    write("level", ["reference_pct", "curve", "path_mm", "height_pct", "gain_db", "transfer_db", "reference_gain_db", "level_db",
                    "level_term"], rows)


def decibels():
    """20 log10 of a ratio of heights, and 10^(dB / 20)."""
    inputs, rows = Inputs(9), []
    for _ in range(400):
        first, second, db = inputs.draw(0.5, 200.0), inputs.draw(0.5, 200.0), inputs.draw(-100.0, 100.0)
        rows.append([first, second, 20 * log10(mpf(first) / second), db, mpf(10) ** (mpf(db) / 20)])
    write("decibels", ["first_pct", "second_pct", "ratio_db", "db", "db_ratio"], rows)


def true_angle():
    """atan2 of surface distance over depth."""
    inputs, rows = Inputs(10), []
    for _ in range(200):
        depth, surface = inputs.draw(1.0, 200.0), inputs.draw(1.0, 500.0)
        rows.append([depth, surface, atan2(mpf(surface), mpf(depth)) / DEGREE])
    write("true_angle", ["depth_mm", "surface_mm", "angle_deg"], rows)


def time_base():
    """s = c (t - t0) / 2, its inverse, and velocity and delay from two echoes."""
    inputs, rows = Inputs(11), []
    while len(rows) < 300:
        c, t0 = inputs.draw(1.0, 7.0), inputs.draw(0.0, 20.0)
        s1, s2, s = inputs.draw(10.0, 60.0), inputs.draw(80.0, 300.0), inputs.draw(5.0, 900.0)
        t1, t2 = (single(float(t0 + 2 * mpf(p) / c)) for p in (s1, s2))
        t = t0 + 2 * mpf(s) / c
        slope = (mpf(t2) - t1) / (mpf(s2) - s1)
        read = single(float(t))
        shown = mpf(c) * (mpf(read) - t0) / 2
        rows.append([c, t0, s, t, read, shown, mpf(c) * read / 2, s1, t1, s2, t2, 2 / slope, t1 - slope * s1, mpf(t1)])
    write("time_base", ["speed_mm_per_us", "delay_us", "path_mm", "time_us", "read_us", "shown_mm", "shown_term", "first_mm", "first_us",
                        "second_mm", "second_us", "velocity_mm_per_us", "fitted_delay_us", "delay_term"], rows)


def laws():
    """Disc and side hole against the back wall in dB, the disc equal to a hole, and the fall with distance."""
    inputs, rows = Inputs(12), []
    while len(rows) < 300:
        d, wave, s = inputs.draw(0.5, 8.0), inputs.draw(0.3, 4.0), inputs.draw(20.0, 800.0)
        far = inputs.draw(20.0, 800.0)
        disc = pi * mpf(d) ** 2 / (2 * mpf(wave) * s)
        if disc > mpf("0.99"):
            continue
        equal = sqrt(sqrt(mpf(2)) / pi) * sqrt(wave * sqrt(mpf(d) * s))
        rows.append([d, wave, s, 20 * log10(disc), 10 * log10(mpf(d) / (2 * mpf(s))), equal, far, 20 * log10(mpf(far) / s)])
    write("laws", ["diameter_mm", "wavelength_mm", "path_mm", "disc_db", "hole_db", "equal_disc_mm", "far_mm", "wall_fall_db"], rows)


def chi_square():
    """The value that chi square of k degrees of freedom exceeds in 5 % of cases."""
    rows = []
    for k in [*range(1, 41), 50, 60, 80, 100, 200, 500, 1000]:
        with mp.workdps(25):
            start = k * (1 - mpf(2) / (9 * k) + mpf("1.645") * sqrt(mpf(2) / (9 * k))) ** 3
            found = findroot(lambda x: gammainc(mpf(k) / 2, 0, x / 2, regularized=True) - mpf("0.95"), (start * 0.98, start * 1.02), solver="anderson")
        rows.append([k, found])
    write("chi_square", ["degrees", "quantile_95"], rows)


def curved():
    """Around a pipe: the cosine rule within a leg, the legs after it mirrored; a chord that misses the bore is two legs."""
    inputs, rows = Inputs(18), []
    while len(rows) < 400:
        od, share = inputs.draw_over_decades(20.0, 50000.0), inputs.random.uniform(0.01, 0.45)
        wall, a, inside = single(od * share), inputs.draw(10.0, 85.0), inputs.random.random() < 0.4
        if len(rows) >= 300:  # large radii: where the difference of two radii would show
            wall, od = inputs.draw(3.0, 40.0), inputs.draw_over_decades(5000.0, 100000.0)
        if not 0.5 <= wall <= 1000 or not 5 <= od <= 100000:
            continue
        outer, angle = mpf(od) / 2, mpf(a) * DEGREE
        inner = outer - mpf(wall)
        q, o, k = (inner, outer, 1) if inside else (outer, inner, -1)
        square = o**2 - q**2 * sin(angle) ** 2
        if abs(square) < mpf("1e-3") * q**2 * (wall / outer):
            continue  # grazing the bore
        leg = k * (sqrt(square) - q * cos(angle)) if square > 0 else q * cos(angle)
        s = single(float(leg) * inputs.random.uniform(0.02, 4.9))
        n = int(mp.ceil(s / leg))
        if not 0.01 <= s <= 10000 or abs(s / leg - mp.nint(s / leg)) < mpf("1e-5") * n:
            continue
        turn = lambda path: atan2(path * sin(angle), q + k * path * cos(angle))
        within = s - (n - 1) * leg if n % 2 else n * leg - s
        phi = (n - 1) * turn(leg) + turn(within) if n % 2 else n * turn(leg) - turn(within)
        depth = k * (sqrt(q**2 + within**2 + 2 * k * q * within * cos(angle)) - q)
        half = asin(sqrt((leg**2 - mpf(wall) ** 2) / (4 * q * o))) if square > 0 else mpf(0)
        rows.append([od, wall, "inside" if inside else "outside", a, s, leg, n, depth, mpf(s), q * phi, q * turn(leg), 2 * q * half])
    write("curved", ["od_mm", "wall_mm", "scanned", "angle_deg", "path_mm", "leg_mm", "leg", "depth_mm", "term_mm", "arc_mm", "turn_mm",
                     "corner_arc_mm"], rows)


if __name__ == "__main__":
    for table in (flat_path, skips, snell, beam, edge_drops, rectangles, beam_edges, near_field_left, corner, heights, peaked_apart, level, decibels, true_angle, time_base, laws, chi_square, curved):
        table()
    from mathematics import mathematics

    mathematics()
