#!/usr/bin/env python3
"""The distance transform beside two general-purpose libraries, on one volume.

    pip install numpy scipy edt
    python3 tests/distance_transform_peer.py          # the table
    python3 tests/distance_transform_peer.py --write  # the figures for geometry/tests/free_space.rs

Ours is measured by `cargo bench -p geometry --bench space` before and after
the others and the better median is shown, as is the better of theirs.
"""

import json
import subprocess
import sys
import time
from pathlib import Path

import edt
import numpy
import scipy.ndimage

ROOT = Path(__file__).resolve().parent.parent
FIGURES = ROOT / "geometry/tests/data/squared_distances.txt"
SIZE, COUNT, SHELL = (170, 110, 140), 160, 3
SMALL, FEW = (31, 23, 27), 2
RUNS = 15


def drawn():
    """SplitMix64 from seed 1, as in geometry/tests/random_volume."""
    mask, state = (1 << 64) - 1, 1
    while True:
        state = (state + 0x9E3779B97F4A7C15) & mask
        z = state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & mask
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & mask
        yield z ^ (z >> 31)


def volume(size, count, shell):
    """The volume of geometry/tests/random_volume, indexed [up, depth, across]."""
    numbers = drawn()
    taken = numpy.zeros(size[::-1], dtype=bool)
    k, j, i = numpy.ogrid[: size[2], : size[1], : size[0]]
    for number in range(count):
        centre = [next(numbers) % extent for extent in size]
        half = [3 + next(numbers) % 14 for _ in size]
        apart = [i - centre[0], j - centre[1], k - centre[2]]
        if number % 2 == 1:
            taken |= sum(a * a for a in apart) <= half[0] ** 2
        else:
            inside = [abs(a) <= h for a, h in zip(apart, half)]
            taken |= inside[0] & inside[1] & inside[2]
    for cells, extent in zip((i, j, k), size):
        taken |= (cells < shell) | (cells >= extent - shell)
    return taken


def squared_by_scipy(taken):
    distances = scipy.ndimage.distance_transform_edt(~taken)
    return numpy.rint(distances**2).astype(numpy.int64)


def write():
    squares = squared_by_scipy(volume(SMALL, FEW, 0))
    rows = squares.reshape(-1, SMALL[0])
    FIGURES.parent.mkdir(exist_ok=True)
    with FIGURES.open("w") as out:
        out.write("# Squared distances in cells to the nearest taken one, across running fastest,\n")
        out.write(f"# of the volume of geometry/tests/random_volume, {SMALL}, {FEW} solids, no shell.\n")
        out.write(f"# scipy.ndimage.distance_transform_edt of SciPy {scipy.__version__}, squared and rounded:\n")
        out.write("# python3 tests/distance_transform_peer.py --write\n")
        for row in rows:
            out.write(" ".join(map(str, row)) + "\n")


def best(work):
    """Least and median of some runs, ms."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        times.append(1e3 * (time.perf_counter() - start))
    times.sort()
    return times[0], times[len(times) // 2]


def ours(threads):
    """Least and median of the bench, ms."""
    name = f"transform, threads {threads}"
    command = ["cargo", "bench", "-q", "-p", "geometry", "--bench", "space", "--", name]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    target = ROOT / "target/criterion" / name / "new"
    sample = json.loads((target / "sample.json").read_text())
    times = sorted(t / n / 1e6 for t, n in zip(sample["times"], sample["iters"]))
    return times[0], times[len(times) // 2]


def table():
    taken = volume(SIZE, COUNT, SHELL)
    free = numpy.ascontiguousarray(~taken)
    squares = squared_by_scipy(taken)
    assert (edt.edtsq(free) == squares).all(), "the two libraries differ"
    print(f"{SIZE}: {taken.size} cells, {100 * taken.mean():.1f} % taken, largest square {squares.max()}")
    rows = []
    for threads in (1, 2):
        first = ours(threads)
        theirs = best(lambda: edt.edtsq(free, parallel=threads))
        again = ours(threads)
        rows.append((f"ours, threads {threads}", tuple(map(min, first, again))))
        rows.append((f"edt, threads {threads}", theirs))
    rows.append(("scipy", best(lambda: scipy.ndimage.distance_transform_edt(free))))
    print(f"{'':18}{'least, ms':>12}{'median, ms':>12}")
    for name, (least, median) in rows:
        print(f"{name:18}{least:12.2f}{median:12.2f}")
    figures = dict(rows)
    for threads in (1, 2):
        one, other = figures[f"ours, threads {threads}"], figures[f"edt, threads {threads}"]
        print(f"threads {threads}: {other[0] / one[0]:.1f} times as fast as edt by the least, {other[1] / one[1]:.1f} by the median")


if __name__ == "__main__":
    write() if "--write" in sys.argv else table()
