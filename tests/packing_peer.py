#!/usr/bin/env python3
"""Packings beside a general-purpose circle packing library, in one table.

    python3 -m venv /tmp/peer && /tmp/peer/bin/pip install circlify
    cargo build --release -p geometry --example pack
    /tmp/peer/bin/python tests/packing_peer.py target/release/examples/pack

Not part of the test suite. `circlify` places circles one after another and
does not look for the smallest circle around them; there was no library found
that does. Gaps are above the best known radius (see
geometry/tests/packing_against_published.rs); without one, above ours.
"""

import math
import subprocess
import sys
import time

import circlify

BEST = {
    "7 equal": 3.0,
    "19 equal": 4.8637033052,
    "37 equal": 6.7587704831,
    "61 equal": 8.6612975755,
    "radii 1 to 10": 22.00019301,
    "radii 1 to 15": 38.83799550,
    "radii 1 to 20": 58.40056747,
}
WIRES = [1.2, 1.6, 1.9, 2.8, 4.95]


def lists():
    """Radii by name."""
    for n in (7, 19, 37, 61):
        yield f"{n} equal", [1.0] * n
    for n in (10, 15, 20):
        yield f"radii 1 to {n}", [float(r) for r in range(1, n + 1)]
    for n in (20, 40, 60):
        yield f"{n} wires of five sizes", [0.5 * WIRES[(i * i + i // 7) % 5] for i in range(n)]


def ours(program, radii):
    """Radius found and seconds taken."""
    diameters = [repr(2.0 * r) for r in radii]
    run = subprocess.run([program, *diameters], capture_output=True, check=True, text=True)
    diameter, milliseconds = map(float, run.stdout.split())
    return 0.5 * diameter, 1e-3 * milliseconds


def theirs(radii):
    """Radius found and seconds taken; it scales circles into one of radius 1."""
    begin = time.perf_counter()
    placed = circlify.circlify([r * r for r in radii], show_enclosure=False)
    taken = time.perf_counter() - begin
    scale = max(radii) / max(circle.r for circle in placed)
    return scale * max(math.hypot(c.x, c.y) + c.r for c in placed), taken


def main():
    """Prints the table."""
    program = sys.argv[1]
    print(f"{'circles':<24}{'ours':>10}{'gap %':>8}{'ms':>8}{'circlify':>12}{'gap %':>8}{'ms':>8}")
    for name, radii in lists():
        radius, taken = ours(program, radii)
        peer, peer_taken = theirs(radii)
        best = BEST.get(name, radius)
        gap, peer_gap = (100.0 * (found / best - 1.0) for found in (radius, peer))
        print(
            f"{name:<24}{radius:>10.4f}{gap:>8.3f}{1e3 * taken:>8.1f}"
            f"{peer:>12.4f}{peer_gap:>8.3f}{1e3 * peer_taken:>8.1f}"
        )


if __name__ == "__main__":
    main()
