#!/usr/bin/env python3
"""Ten million readings by numpy, vectorised, beside the library's own loop: the same formulas, the same columns.

Needs numpy. Run from the top folder: python3 host-tests/benches/columns.py
"""

import subprocess
import time

import numpy as np

READINGS = 10_000_000
POINTS = [(20, 34), (40, 38), (60, 42), (80, 45.5), (100, 49), (130, 53)]


def column(seed, low, high):
    """x -> a x + c modulo 2^32, written out by doubling: x[i + k] = a^k x[i] + c (a^k - 1) / (a - 1)."""
    states = np.empty(READINGS, np.uint32)
    a, c, done = 1664525, 1013904223, 1
    states[0] = (a * seed + c) % 2**32
    while done < READINGS:
        more = min(done, READINGS - done)
        states[done : done + more] = states[:more] * np.uint32(a) + np.uint32(c)
        a, c, done = a * a % 2**32, (a * c + c) % 2**32, done + more
    part = (states >> np.uint32(8)).astype(np.float32) / np.float32(16777216)
    return np.float32(low) + part * np.float32(high - low)


def evaluate(p, s, h, gain):
    f = np.float32
    a, t = np.radians(60.0), f(20)
    sin, cos, degree = f(np.sin(a)), f(np.cos(a)), f(np.pi / 180)
    u = s * cos
    n = np.ceil(u / t)
    odd = n % f(2) == 1
    z = np.where(odd, u - (n - f(1)) * t, n * t - u)
    y = s * sin - p
    # U = 2 sqrt(sum of squares / 3), half widths 2 deg, 0.5 mm of path, 1 mm of index and stand-off, 0.3 mm of thickness
    u_y = f(2) * np.sqrt(((s * (cos * f(2) * degree)) ** 2 + (sin * f(0.5)) ** 2 + f(2)) / f(3))
    of_t = np.where(odd, n - f(1), n)
    u_z = f(2) * np.sqrt(((s * (sin * f(2) * degree)) ** 2 + (cos * f(0.5)) ** 2 + (of_t * f(0.3)) ** 2) / f(3))
    reference = np.interp(s, [s for s, _ in POINTS], [g for _, g in POINTS]).astype(np.float32)
    db = f(20) * np.log10(h / f(80)) + reference - gain
    return y, z, u_y, u_z, db


def main():
    columns = [column(1, 20, 100), column(2, 21, 120), column(3, 10, 90), column(4, 40, 60)]
    best = float("inf")
    for _ in range(5):
        start = time.perf_counter()
        found = evaluate(*columns)
        best = min(best, time.perf_counter() - start)
    total = sum(float(column.sum(dtype=np.float64)) for column in found)
    told = subprocess.run(
        ["cargo", "bench", "-q", "-p", "halfskip-host-tests", "--bench", "columns"],
        check=True, capture_output=True, text=True,
    ).stdout.split()
    own, alone, own_total = (float(word) for word in told[1:])
    print(f"{READINGS} readings: place, its uncertainty, level; one thread, best of five")
    print(f"  halfskip       {own:7.3f} s   {own / READINGS * 1e9:5.1f} ns a reading")
    print(f"  one by one     {alone:7.3f} s   {alone / READINGS * 1e9:5.1f} ns a reading")
    print(f"  numpy {np.__version__:<8} {best:7.3f} s   {best / READINGS * 1e9:5.1f} ns a reading")
    print(f"  numpy / halfskip {best / own:.2f}")
    print(f"  sums of all figures {own_total:.0f} and {total:.0f}, apart by {abs(own_total - total) / abs(total):.1e}")


if __name__ == "__main__":
    main()
