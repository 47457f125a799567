"""What mathematics itself answers. `make_reference.py` has this written with the rest.

A double holds some 16 digits, so that a column ending in _rest has what the double of the column before it leaves: what is
computed in double precision is held against both.
"""

from mpmath import acos, asin, atan2, cos, log10, mpf, sin, sqrt, tan

from make_reference import DEGREE, Inputs, single, write


def with_rest(value):
    return [float(value), value - mpf(float(value))]


def mathematics():
    inputs, rows = Inputs(31), []
    draw, random = inputs.draw, inputs.random

    def signed(value):
        return value if random.random() < 0.5 else -value

    def near(places, far, decades):
        """Anywhere within `far`, or close to one of the places where a result is small or steep."""
        if random.random() < 0.6:
            return draw(-far, far)
        return single(random.choice(places) + signed(10.0 ** -random.uniform(*decades)))

    while len(rows) < 600:
        a = near([-360, -270, -180, -90, 0, 90, 180, 270, 360], 360.0, (0, 5))
        ratio = near([-0.999, 0, 0.999], 1.0, (3, 7))
        opposite, adjacent = signed(inputs.draw_over_decades(1e-3, 1e5)), signed(inputs.draw_over_decades(1e-3, 1e5))
        arc, radius = signed(inputs.draw_over_decades(0.01, 1000.0)), inputs.draw_over_decades(200.0, 1000.0)
        power, value = draw(-37.9, 38.5), single(10.0 ** random.uniform(-37, 38))
        if a % 90 == 0:
            continue
        angle, turn = mpf(a) * DEGREE, atan2(opposite, adjacent)
        rows.append([a, *with_rest(sin(angle)), *with_rest(cos(angle)), tan(angle), ratio, asin(ratio) / DEGREE, acos(ratio) / DEGREE,
                     opposite, adjacent, turn / DEGREE, *with_rest(turn), arc, radius, *with_rest(sin(mpf(arc) / radius)),
                     *with_rest(cos(mpf(arc) / radius)), power, mpf(10) ** power, value, *with_rest(sqrt(value)), log10(value)])
    write("mathematics", ["angle_deg", "sine", "sine_rest", "cosine", "cosine_rest", "tangent", "ratio", "asin_deg", "acos_deg",
                          "opposite", "adjacent", "atan2_deg", "turn", "turn_rest", "arc_mm", "radius_mm", "arc_sine", "arc_sine_rest",
                          "arc_cosine", "arc_cosine_rest", "exponent", "power", "value", "root", "root_rest", "log"], rows)
