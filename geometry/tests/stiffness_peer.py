"""Three notched ribs by a general-purpose finite-element library.

    python3 -m venv /tmp/fe && /tmp/fe/bin/pip install scikit-fem triangle
    /tmp/fe/bin/python geometry/tests/stiffness_peer.py > geometry/tests/data/stiffness_peer.csv
    /tmp/fe/bin/python geometry/tests/stiffness_peer.py --factors
    /tmp/fe/bin/python geometry/tests/stiffness_peer.py --times

The first writes deflections in mm: in the plane by quadratic triangles in plane
stress, out of it by Morley triangles; each on two meshes, to show how settled
it is. The second prints the rise of stress at opposed U-notches. The third prints how long the library takes for a rib of 5,000 and of
20,000 bilinear quadrilaterals, assembled and solved.
Made with scikit-fem 12.0.2, triangle 20250106, SciPy 1.17.1.
"""

import sys
import time

import numpy as np
import triangle
from skfem import (Basis, BilinearForm, ElementQuad1, ElementTriMorley, ElementTriP2, ElementVector,
                   FacetBasis, LinearForm, MeshQuad, MeshTri, condense, solve)
from skfem.helpers import dd, ddot, eye, sym_grad, trace

ARC = 24  # chords of a quarter circle; their corners raise stress a little
FINE_ARC = 240


class Rib:
    """An outline counter-clockwise, notches (edge's two corners, x of the feet, depth, radius)."""

    def __init__(self, name, outline, notches, thickness, modulus, poisson, held, loads, chords=ARC):
        self.chords = chords
        self.name, self.outline, self.notches = name, np.array(outline, float), notches
        self.t, self.e, self.nu = thickness, modulus, poisson
        self.held, self.loads = held, loads


def wall(start, end, along, depth, radius, chords):
    """A notch's wall, in the direction from an edge's start to its end."""
    start, end = np.array(start, float), np.array(end, float)
    feet = [start + (end - start) * (x - start[0]) / (end[0] - start[0]) for x in along]
    run = feet[1] - feet[0]
    width = np.hypot(*run)
    run /= width
    inward = np.array([-run[1], run[0]])
    point = lambda a, d: feet[0] + run * a + inward * d
    angles = np.linspace(0, np.pi / 2, chords + 1)
    arc = [(radius * (1 - np.cos(w)), depth - radius * (1 - np.sin(w))) for w in angles]
    corners = [(0, 0)] + arc + [(width - a, d) for a, d in reversed(arc)] + [(width, 0)]
    found = []
    for a, d in corners:
        p = point(a, d)
        if not found or np.hypot(*(p - found[-1])) > 1e-9:
            found.append(p)
    return found


def outline(rib, cut):
    """The corners of the rib, whole or as cut."""
    points = []
    count = len(rib.outline)
    for i in range(count):
        start, end = rib.outline[i], rib.outline[(i + 1) % count]
        points.append(start)
        for edge, along, depth, radius in rib.notches if cut else []:
            if edge == i:
                feet = along if end[0] > start[0] else along[::-1]
                points += wall(start, end, feet, depth, radius, rib.chords)
    return np.array(points)


def mesh(rib, cut, x, size):
    """Triangles that respect the outline and the line across the rib at x."""
    corners = outline(rib, cut)
    count = len(corners)
    points, sides = [], []
    meets = []
    for i in range(count):
        a, b = corners[i], corners[(i + 1) % count]
        points.append(a)
        if (a[0] - x) * (b[0] - x) < -1e-12:
            share = (x - a[0]) / (b[0] - a[0])
            meets.append(len(points))
            points.append([x, a[1] + share * (b[1] - a[1])])
        elif abs(a[0] - x) < 1e-12:
            meets.append(len(points) - 1)
    total = len(points)
    sides = [(i, (i + 1) % total) for i in range(total)]
    on_line = sorted(meets, key=lambda i: points[i][1])
    for low, high in zip(on_line, on_line[1:]):
        sides.append((low, high))
    # A point in the middle of the line, for what is pushed there.
    low, high = points[on_line[0]], points[on_line[-1]]
    points.append([x, 0.5 * (low[1] + high[1])])
    raw = triangle.triangulate(
        dict(vertices=np.array(points), segments=np.array(sides)), f"pq30a{0.43 * size * size:.9f}"
    )
    return MeshTri(raw["vertices"].T.copy(), raw["triangles"].T.copy())


def spread(m, element, x, component):
    """A force of 1 spread over the line at x; None for a scalar element."""
    facets = m.facets_satisfying(lambda p: np.abs(p[0] - x) < 1e-9, boundaries_only=False)
    basis = FacetBasis(m, element, facets=facets, intorder=4)
    length = sum(np.hypot(*(m.p[:, m.facets[0, f]] - m.p[:, m.facets[1, f]])) for f in facets)

    @LinearForm
    def push(v, _):
        return (v if component is None else v[component]) / length

    return push.assemble(basis)


def ends(m, rib, how):
    """Vertices and facets of the held sides of one kind."""
    nodes, facets = [], []
    for side, kind in rib.held:
        if kind == how:
            a, b = rib.outline[side], rib.outline[(side + 1) % len(rib.outline)]
            run = (b - a) / np.hypot(*(b - a))
            off = lambda p: np.abs(run[0] * (p[1] - a[1]) - run[1] * (p[0] - a[0]))
            nodes.append(np.nonzero(off(m.p) < 1e-9)[0])
            facets.append(m.facets_satisfying(lambda p: off(p) < 1e-9, boundaries_only=True))
    return (np.unique(np.concatenate(nodes)), np.unique(np.concatenate(facets))) if nodes else ([], [])


def in_plane(rib, cut, x, size):
    m = mesh(rib, cut, x, size)
    element = ElementVector(ElementTriP2())
    basis = Basis(m, element, intorder=4)

    @BilinearForm
    def stiffness(u, v, _):
        s = sym_grad(u)
        stress = rib.e / (1 - rib.nu**2) * ((1 - rib.nu) * s + rib.nu * eye(trace(s), 2))
        return rib.t * ddot(stress, sym_grad(v))

    held = []
    nodes, facets = ends(m, rib, "simple")
    if len(facets):
        # Held sides of these ribs are upright.
        held.append(basis.get_dofs(facets).all(["u^2"]))
        middle = nodes[np.argmin(np.abs(m.p[1, nodes] - m.p[1, nodes].mean()) + 1e3 * (m.p[0, nodes] > m.p[0].min() + 1e-9))]
        held.append(basis.nodal_dofs[:, middle])
    _, facets = ends(m, rib, "clamped")
    if len(facets):
        held.append(basis.get_dofs(facets).all())
    load = spread(m, element, x, 1)
    u = solve(*condense(stiffness.assemble(basis), load, D=np.unique(np.concatenate(held))))
    return load @ u


def out_of_plane(rib, cut, x, size):
    m = mesh(rib, cut, x, size)
    element = ElementTriMorley()
    basis = Basis(m, element, intorder=4)
    bend = rib.e * rib.t**3 / 12 / (1 - rib.nu**2)

    @BilinearForm
    def stiffness(u, v, _):
        k = dd(u)
        return bend * ddot((1 - rib.nu) * k + rib.nu * eye(trace(k), 2), dd(v))

    held = []
    nodes, _ = ends(m, rib, "simple")
    if len(nodes):
        held.append(basis.nodal_dofs[0, nodes])
    nodes, facets = ends(m, rib, "clamped")
    if len(nodes):
        held += [basis.nodal_dofs[0, nodes], basis.facet_dofs[0, facets]]
    load = spread(m, element, x, None)
    w = solve(*condense(stiffness.assemble(basis), load, D=np.unique(np.concatenate(held))))
    return load @ w


RIBS = [
    Rib("post van", [(-98, -12), (98, -12), (98, 26), (-98, 26)], [(0, (30, 58), 12.5, 4)],
        2.5, 2500, 0.38, [(3, "simple"), (1, "simple")], [0, 44]),
    Rib("clamped, one notch from each edge", [(0, 0), (120, 0), (120, 30), (0, 30)],
        [(0, (42, 54), 9, 6), (2, (70, 88), 8, 3)],
        3, 2300, 0.35, [(3, "clamped"), (1, "clamped")], [60, 48]),
    Rib("tapered, from one wall", [(0, 0), (80, 6), (80, 26), (0, 34)], [(2, (24, 44), 9, 2)],
        2, 2400, 0.30, [(3, "clamped")], [80, 34]),
]


def table():
    print("rib,notched,push_at_mm,way,deflection_mm,coarser_mesh_mm")
    for rib in RIBS:
        for cut in (False, True):
            for x in rib.loads:
                for name, way, sizes in (("in plane", in_plane, (2.4, 1.2)),
                                         ("out of plane", out_of_plane, (1.8, 0.9))):
                    coarse, fine = (way(rib, cut, x, size) for size in sizes)
                    print(f"{rib.name},{int(cut)},{x},{name},{fine:.8g},{coarse:.8g}".replace(
                        "clamped, one", "clamped; one").replace("tapered, from", "tapered; from"))
                    sys.stdout.flush()


def stretch(m, basis, u, depth, radius, long):
    """The most a notch's wall stretches about its root; modulus times that is the stress there."""
    root = lambda p: np.hypot(p[0] - long / 2, p[1] - depth)
    walls = m.boundary_facets()
    a, b = m.p[:, m.facets[0, walls]], m.p[:, m.facets[1, walls]]
    near = np.maximum(root(a), root(b)) < 0.9 * radius
    walls, a, b = walls[near], a[:, near], b[:, near]
    moved = [u[basis.nodal_dofs[:, m.facets[i, walls]]] for i in (0, 1)]
    return np.abs(((moved[1] - moved[0]) * (b - a)).sum(axis=0) / ((b - a) ** 2).sum(axis=0)).max()


def factors():
    """Two opposed U-notches: depth, radius, rise of stress on the net section pulled and bent."""
    long, high = 240.0, 40.0
    for depth, radius in ((4, 4), (6, 6), (8, 8), (8, 4), (8, 2), (4, 1)):
        feet = (long / 2 - radius, long / 2 + radius)
        rib = Rib("", [(0, 0), (long, 0), (long, high), (0, high)],
                  [(0, feet, depth, radius), (2, feet, depth, radius)], 1, 1000, 0.35, [], [], FINE_ARC)
        m = mesh(rib, True, long / 2, 3.0)
        basis = Basis(m, ElementVector(ElementTriP2()), intorder=4)

        @BilinearForm
        def stiffness(u, v, _):
            s = sym_grad(u)
            stress = rib.e / (1 - rib.nu**2) * ((1 - rib.nu) * s + rib.nu * eye(trace(s), 2))
            return ddot(stress, sym_grad(v))

        ends = m.facets_satisfying(lambda p: np.abs(p[0] - long) < 1e-9, boundaries_only=True)
        left = m.facets_satisfying(lambda p: np.abs(p[0]) < 1e-9, boundaries_only=True)

        @LinearForm
        def pull(v, w):  # a force of 1
            return v[0] / high

        @LinearForm
        def bend(v, w):  # a moment of 1 as a linear stress
            return -(w.x[1] - high / 2) * 12 / high**3 * v[0]

        net = high - 2 * depth
        end = FacetBasis(m, basis.elem, facets=ends, intorder=4)
        matrix = stiffness.assemble(basis)
        found = []
        for load, scale in ((pull, net), (bend, net**2 / 6)):
            u = solve(*condense(matrix, load.assemble(end), D=basis.get_dofs(left).all()))
            found.append(rib.e * stretch(m, basis, u, depth, radius, long) * scale)
        print(depth, radius, *(f"{factor:.4f}" for factor in found))
        sys.stdout.flush()


def times():
    for columns, rows in ((160, 32), (320, 63)):
        m = MeshQuad.init_tensor(np.linspace(-98, 98, columns + 1), np.linspace(-12, 26, rows + 1))
        best = np.inf
        for _ in range(5):
            began = time.process_time()
            basis = Basis(m, ElementVector(ElementQuad1()))

            @BilinearForm
            def stiffness(u, v, _):
                s = sym_grad(u)
                stress = 2500 / (1 - 0.38**2) * (0.62 * s + 0.38 * eye(trace(s), 2))
                return 2.5 * ddot(stress, sym_grad(v))

            held = basis.get_dofs(m.facets_satisfying(lambda p: np.abs(p[0]) > 98 - 1e-9)).all()
            load = np.zeros(basis.N)
            load[basis.nodal_dofs[1, m.nvertices // 2]] = 1
            solve(*condense(stiffness.assemble(basis), load, D=held))
            best = min(best, time.process_time() - began)
        print(f"{m.nelements} quadrilaterals: {1e3 * best:.0f} ms of processor time, SciPy's SuperLU")


if __name__ == "__main__":
    if "--times" in sys.argv:
        times()
    elif "--factors" in sys.argv:
        factors()
    else:
        table()
