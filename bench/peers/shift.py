"""A day of the press: the stated hopper (docs/benchmark.md) through steps and stops, by SUNDIALS CVODE.

Run: cargo build --release --package bench-ours --bin shift_speed
     python3 bench/peers/shift.py [path of the binary]   times both sides and prints the ratios
     python3 bench/peers/shift.py table                  the numbers frozen in tests/src/peers/shift.rs; minutes
Needs: numpy, SciPy and scikit-sundae from the Python package index; the last brings SUNDIALS with it.

The day begins with a cold, moist bed, as the case does, and goes on as DAY says; while the press stands
the air stays on. The question: moisture of what leaves at HOURS, which lie between the jumps.

Pellets move as a plug, so what they are is told best at the dry resin fed before them: in that frame they
stand still, however the rate changes. What entered on either side of a stop differs by a jump, for one
has stood in hot air for hours. So the bed is cut where those labels are: pieces between two of them move
with the pellets; the lowest shrinks as it leaves, the one on top grows as resin is fed. Each piece is cut
into elements of set shares of it, nodal discontinuous Galerkin within, upwind between; at each part of the
day, when a piece has left and at some times between, they are cut anew and their polynomials read off.
Radius by orthogonal collocation, air with a store worth LAG seconds of passage; what happens at one height
is that of hopper_scipy.py. CVODE's BDF with its banded solver, the Jacobian by its own differences.

What is not the same:
- The peer's right-hand side is NumPy, ours is compiled; hopper.py shows what that is worth (CVODE in C
  against SciPy on the same mesh: a factor of three to eight). What is told is a Python user's cost.
- Each side comes in the cheapest mesh found by hand that answers the question, its error printed.
- The peer controls the error of each step; ours takes a minute, or less where a parcel ends.
- Ours tells means over parcels, read off by a cubic; the peer the moisture in the plane itself.
- Ours closes water and energy to rounding; the peer to its tolerance.
- Processor time on both sides: the least of three on the peer's, the median of eleven on ours.
"""

import os
import subprocess
import sys
import time
from importlib.metadata import version

import numpy as np
from scipy.interpolate import BarycentricInterpolator
from sksundae.cvode import CVODE

from hopper_scipy import MASS, RATE, T_AIR, T_FEED, X_FEED, Y_AIR, Nodes

HERE = os.path.dirname(os.path.abspath(__file__))
TARGET = os.environ.get("CARGO_TARGET_DIR", os.path.join(HERE, "..", "..", "target"))

# Hours at which a part begins, rate over that of the case, air temperature above that of the case in K.
DAY = ((0.0, 1.0, 0.0), (5.0, 1.5, 0.0), (8.0, 0.4, 0.0), (13.0, 0.0, 0.0), (16.0, 1.0, 0.0),
       (20.0, 0.0, -30.0), (22.0, 1.0, 0.0))
END = 27.0
HOURS = (3.0, 4.8, 5.5, 6.5, 7.8, 8.5, 10.0, 12.5, 16.5, 18.0, 19.2, 19.8, 22.5, 23.5, 24.5, 25.2, 25.8, 26.5)
# Hours after the begin of a part at which the bed is cut anew, besides every hour.
ANEW = (0.02, 0.06, 0.2, 0.5)
SEED = 5e-3  # kg; thickness at which a piece begins and ends
FINE = ((5, 48, 8, 1e-6), (4, 72, 7, 1e-6))  # degree, elements, points, tolerance
COARSE = ((3, 12, 4, 3e-4), (3, 16, 4, 1e-4))


class Shift(Nodes):
    """The bed on moving pieces: `pieces` holds the heights of their ends, from the air inlet up."""

    def __init__(self, energy, degree, elements, points, rtol):
        super().__init__(energy, degree, points)
        self.wanted, self.rtol = elements, rtol
        self.feed = np.append(np.full(points, X_FEED), T_FEED)
        self.pieces = np.array([0.0, MASS])
        self.cut()
        self.y = np.tile(np.append(self.feed, [T_FEED, Y_AIR]), (len(self.edges) - 1, degree + 1, 1))

    def cut(self):
        """Edges of the elements, as rows of weights on the ends of the pieces."""
        rows, ends = [], np.eye(len(self.pieces))
        for k, length in enumerate(np.diff(self.pieces)):
            share = np.linspace(0.0, 1.0, max(4, round(self.wanted * length / MASS)) + 1)
            if k + 2 == len(self.pieces):  # fresh pellets heat up in a thin layer on top
                thin = min(1.0, 1.0 / length)
                share = 1.0 - (1.0 - share) * (1.0 - share * (1.0 - thin))
            rows += [(1.0 - x) * ends[k] + x * ends[k + 1] for x in share[:-1]]
        self.edges = np.array(rows + [ends[-1]])

    def ends(self, seconds):
        """Heights of the ends of pieces so long after they were cut: inner ones sink."""
        now = self.pieces.copy()
        now[1:-1] -= self.rate * seconds
        return now

    def rates(self, seconds, y, f):
        thick = np.diff(self.edges @ self.ends(seconds))[:, None]
        # Pellets through the mesh: the whole rate at inlet and top, nothing at ends that sink with them.
        speed = self.edges[:, [0, -1]].sum(axis=1) * self.rate
        y = y.reshape(-1, self.degree + 1, self.nv)
        g = self.local(y)
        along = np.matmul(self.diff, y)
        k, share = self.nr + 1, 0.5 * (1.0 + self.place)
        through = speed[:-1, None] * (1.0 - share) + speed[1:, None] * share
        up = 2.0 * MASS / self.lag / thick
        g[..., :k] += (2.0 * through / thick)[..., None] * along[..., :k]
        g[..., k:] -= up[..., None] * along[..., k:]
        above = np.vstack([y[1:, 0, :k], self.feed])
        g[:, -1, :k] += 2.0 * speed[1:, None] / thick / self.end * (above - y[:, -1, :k])
        below = np.vstack([[self.t_air, Y_AIR], y[:-1, -1, k:]])
        g[:, 0, k:] += up / self.end * (below - y[:, 0, k:])
        f[:] = g.ravel()

    def anew(self):
        """Cuts the pieces anew and reads the polynomials that were there."""
        old, was = self.edges @ self.pieces, self.y
        self.cut()
        edge = self.edges @ self.pieces
        self.y = np.empty((len(edge) - 1, self.degree + 1, self.nv))
        reader = BarycentricInterpolator(self.place)
        for e, (low, high) in enumerate(zip(edge[:-1], edge[1:])):
            # A hair within, so that a node on an edge is read on the side of its own element.
            s = 0.5 * (low + high) + 0.5 * (1.0 - 1e-9) * (high - low) * self.place
            at = np.clip(np.searchsorted(old, s, side="right") - 1, 0, len(old) - 2)
            for i, (place, element) in enumerate(zip(s, at)):
                reader.set_yi(was[element])
                self.y[e, i] = reader(2.0 * (place - old[element]) / (old[element + 1] - old[element]) - 1.0)

    def go(self, seconds):
        """Moisture of what leaves at these times from now; the last is where it stops."""
        floor = np.full(self.y.shape, self.rtol * 1e-3)
        floor[..., -3:-1] = self.rtol * 100.0
        band = self.degree * self.nv
        solver = CVODE(self.rates, method="BDF", rtol=1e-12, atol=floor.ravel(), linsolver="band",
                       lband=band, uband=band, max_num_steps=100000)
        # Two times alone would be answered with every step between.
        found = solver.solve(np.array([0.0, 0.5 * seconds[0], *seconds]), self.y.ravel())
        if not found.success:
            raise RuntimeError(found.message)
        self.pieces = self.ends(seconds[-1])
        self.y = found.y[-1].reshape(self.y.shape)
        return found.y[2:, :self.nr] @ self.mean

    def begin(self, rate, t_air):
        """A part of the day: where resin is fed, a new piece begins on top, fresh, in the air that leaves."""
        self.rate, self.t_air = rate * RATE, T_AIR + t_air
        if rate > 0.0:
            fresh = np.append(self.feed, self.y[-1, -1, -2:])
            rows = np.array([[1.0 - x, x] for x in np.linspace(0.25, 1.0, 4)])
            self.edges = np.block([[self.edges, np.zeros((len(self.edges), 1))],
                                   [np.zeros((4, len(self.pieces) - 1)), rows]])
            self.pieces = np.append(self.pieces[:-1], [MASS - SEED, MASS])
            self.y = np.concatenate([self.y, np.tile(fresh, (4, self.degree + 1, 1))])

    def leave(self):
        """Drops the lowest piece when it has left."""
        while len(self.pieces) > 2 and self.pieces[1] < 1.5 * SEED:
            first = int(np.argmax(self.edges[:, 0] == 0.0))
            self.y, self.edges = self.y[first:], self.edges[first:, 1:]
            self.pieces = np.append(0.0, self.pieces[2:])


def day(energy, *mesh):
    """Moisture leaving at HOURS and seconds of processor time."""
    start = time.process_time()
    bed, found = Shift(energy, *mesh), {}
    for (begin, rate, t_air), end in zip(DAY, [part[0] for part in DAY[1:]] + [END]):
        bed.begin(rate, t_air)
        cuts = [begin + x for x in ANEW] + list(np.arange(np.floor(begin) + 1.0, end)) + [end]
        now = begin
        while now < end - 1e-6:
            stop = min(x for x in cuts if x > now + 1e-6)
            if bed.rate > 0.0 and len(bed.pieces) > 2:
                gone = now + (bed.pieces[1] - SEED) / bed.rate / 3600.0
                stop = gone if gone < stop - 1e-6 else stop
            at = [hour for hour in HOURS if now < hour < stop] + [stop]
            found.update(zip(at, bed.go([3600.0 * (hour - now) for hour in at])))
            now = stop
            bed.leave()
            bed.anew()
    return np.array([found[hour] for hour in HOURS]), time.process_time() - start


def table():
    print(f"// scikit-sundae {version('scikit-sundae')}, numpy {version('numpy')}, scipy {version('scipy')}")
    for energy in (0.0, 33100.0):
        (first, _), (second, _) = (day(energy, *mesh) for mesh in FINE)
        print(f"// {energy:.0f} J/mol, two meshes apart by {np.abs(second / first - 1.0).max():.0e}")
        for hour, x in zip(HOURS, first):
            print(f"({hour}, {x:.6e}),", flush=True)


def speed(binary):
    lines = subprocess.run([binary], check=True, capture_output=True, text=True).stdout.splitlines()
    ours = [line.split() for line in lines if not line.startswith("limit")]
    limit = np.array([float(x) for line in lines if line.startswith("limit") for x in line.split()[1:]])
    base = float(ours[0][1])
    print(f"{'a day, 33.1 kJ/mol, within 1 %':32}{'mesh':>22}{'ms':>10}{'error':>10}{'ratio':>8}")
    for mesh, took, error in ours:
        print(f"{'this workspace':32}{mesh:>22}{float(took):10.2f}{float(error):10.1e}{float(took) / base:8.1f}")
    for mesh in COARSE:
        runs = [day(33100.0, *mesh) for _ in range(3)]
        took, error = 1e3 * min(run[1] for run in runs), np.abs(runs[0][0] / limit - 1.0).max()
        print(f"{'CVODE, dg, collocation':32}{' '.join(map(str, mesh)):>22}{took:10.2f}{error:10.1e}{took / base:8.1f}")
    print()
    print(__doc__[__doc__.index("What is not the same"):].rstrip())


if __name__ == "__main__":
    if sys.argv[1:] == ["table"]:
        table()
    else:
        speed(sys.argv[1] if len(sys.argv) > 1 else os.path.join(TARGET, "release", "shift_speed"))
