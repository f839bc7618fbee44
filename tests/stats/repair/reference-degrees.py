"""Writes small-histories.csv (units drawn at random) and reference-degrees.csv (degrees of repair by another program) beside this file.

Run on 2026-11-26 with Python 3.11.7, NumPy 2.4.6 and SciPy 1.17.1 (some four minutes): python3 tests/stats/repair/reference-degrees.py
The likelihood is written down gap by gap from its definition. The top is looked for on 201 degrees, 2,001 in small sets, then by bounded search; limits by
brentq between the outermost degrees (shapes, scales) inside and the next ones outside, every likelihood maximised over all else.
"""

import csv
from pathlib import Path

import numpy as np
from scipy.optimize import brentq, minimize_scalar
from scipy.stats import chi2

HERE = Path(__file__).parent
PUBLISHED = HERE.parents[1] / "reference" / "published"
CUT = chi2.ppf(0.95, 1) / 2


def published(name):
    """Units of a published case: list of (entry, end, [(age, failed)])."""
    units = {}
    with open(PUBLISHED / f"{name}.csv") as file:
        for row in csv.DictReader(file):
            events = units.setdefault(row["unit"], [0.0, 0.0, []])
            events[1] = float(row["age_start"]) + float(row["gap"])
            if row["failed"] == "1":
                events[2].append((events[1], 1))
    return list(units.values())


def late(units):
    return [[0.3 * end, end, events] for _, end, events in units]


def planned(units):
    """Every fifth repair, over all units in order, came before a failure."""
    count = 0
    changed = []
    for entry, end, events in units:
        marked = []
        for age, _ in events:
            marked.append((age, 0 if count % 5 == 0 else 1))
            count += 1
        changed.append([entry, end, marked])
    return changed


class Likelihood:
    def __init__(self, units, model):
        self.units, self.model = units, model
        self.known = {}

    def ages(self, q):
        """Virtual ages from which and to which gaps are watched, and whether they ended by a failure."""
        if q not in self.known:
            rows = []
            for entry, end, events in self.units:
                last, virtual = 0.0, 0.0
                for age, failed in [*events, (end, 0)]:
                    if age > last:
                        start = virtual + max(0.0, min(entry, age) - last)
                        rows.append((start, virtual + age - last, failed if age > entry else 0))
                        virtual = q * age if self.model == "I" else q * (virtual + age - last)
                    last = age
            self.known = {q: np.array(rows).T}
        return self.known[q]

    def at(self, q, log_shape, log_scale):
        start, to, failed = self.ages(q)
        shape, scale = np.exp(log_shape), np.exp(log_scale)
        hazard = np.where(failed == 1, log_shape - log_scale + (shape - 1) * (np.log(to) - log_scale), 0)
        return float(np.sum(hazard) - np.sum((to / scale) ** shape - (start / scale) ** shape))

    def scale(self, q, log_shape):
        start, to, failed = self.ages(q)
        shape = np.exp(log_shape)
        return float(np.log(np.sum(to**shape - start**shape) / failed.sum()) / shape)

    def best_scale(self, q, log_shape):
        return self.at(q, log_shape, self.scale(q, log_shape))


def highest(function, low, high, parts=60):
    """Highest value of a function on an interval and where: a grid, then a bounded search about the best point and both ends."""
    grid = np.linspace(low, high, parts + 1)
    values = [function(x) for x in grid]
    best = int(np.argmax(values))
    found = minimize_scalar(
        lambda x: -function(x),
        bounds=(grid[max(best - 1, 0)], grid[min(best + 1, parts)]),
        method="bounded",
        options={"xatol": 1e-11},
    )
    candidates = [(-found.fun, float(found.x)), (values[0], low), (values[-1], high)]
    return max(candidates)


SHAPES = (-2.5, 3.5)


def profile(like, q):
    return highest(lambda e: like.best_scale(q, e), *SHAPES)


def limits(function, top, grid):
    """Outermost crossings of top - CUT."""
    inside = [function(x) >= top - CUT for x in grid]
    first, last = inside.index(True), len(grid) - 1 - inside[::-1].index(True)
    cross = lambda a, b: brentq(lambda x: function(x) - (top - CUT), a, b, xtol=1e-12, rtol=1e-12)
    low = grid[0] if first == 0 else cross(grid[first - 1], grid[first])
    high = grid[-1] if last == len(grid) - 1 else cross(grid[last], grid[last + 1])
    return low, high


def solve(case, units, model, degrees=201, held=20, reach=0.6, parts=12):
    """@param degrees, held: how many degrees are tried, and how many where shape or scale is held
    @param reach, parts: how far from the top, and at how many places, limits of log shape and log scale are looked for"""
    like = Likelihood(units, model)
    grid = np.linspace(0, 1, degrees)
    values = [profile(like, q)[0] for q in grid]
    tops = sum(
        (i == 0 or values[i] > values[i - 1]) and (i == len(values) - 1 or values[i] > values[i + 1])
        for i in range(len(values))
    )
    best = int(np.argmax(values))
    around = (grid[max(best - 1, 0)], grid[min(best + 1, len(grid) - 1)])
    top, q = highest(lambda x: profile(like, x)[0], *around, parts=4)
    e = profile(like, q)[1]
    log_scale = like.scale(q, e)
    out = {"case": case, "model": model, "tops": tops, "q": q, "shape": np.exp(e), "scale": np.exp(log_scale), "logLikelihood": top}
    out["q.low"], out["q.high"] = limits(lambda x: profile(like, x)[0], top, list(grid))
    by_shape = lambda x: highest(lambda y: like.best_scale(y, x), 0, 1, held)[0]
    by_scale = lambda x: highest(lambda y: highest(lambda z: like.at(y, z, x), *SHAPES, 16)[0], 0, 1, held)[0]
    for name, by, middle in ("shape", by_shape, e), ("scale", by_scale, log_scale):
        low, high = limits(by, top, list(np.linspace(middle - reach, middle + reach, parts + 1)))
        out[f"{name}.low"], out[f"{name}.high"] = np.exp(low), np.exp(high)
    return out


def drawn(seed):
    """A few units with gaps of any length, which no degree of repair made."""
    random = np.random.default_rng(seed)
    units = []
    for _ in range(int(random.integers(2, 6))):
        ages = np.cumsum(np.round(100 * random.weibull(random.choice([0.6, 1.5, 4]), int(random.integers(1, 5))), 1) + 0.1)
        end = round(float(ages[-1] + 50 * random.uniform()), 1)
        units.append([0.0, end, [(round(float(age), 1), 1) for age in ages]])
    return units


def main():
    rows = []
    simulated, seats = published("15a_kijima_simulated"), published("15b_kijima_valve_seats")
    for model in "I", "II":
        rows.append(solve("simulated", simulated, model))
        rows.append(solve("late", late(simulated), model))
        rows.append(solve("planned", planned(simulated), model))
        rows.append(solve("seats", seats, model))
    small = {}
    for seed in range(400):
        units = drawn(seed)
        if sum(len(events) for _, _, events in units) < 5 or len(small) == 8:
            continue
        for model in "I", "II":
            like = Likelihood(units, model)
            coarse = [profile(like, q)[0] for q in np.linspace(0, 1, 41)]
            inner = sum(coarse[i] > coarse[i - 1] and coarse[i] > coarse[i + 1] for i in range(1, 40))
            if inner + (coarse[0] > coarse[1]) + (coarse[-1] > coarse[-2]) > 1:
                small.setdefault(f"two tops {seed}", units)
    for case, units in small.items():
        for model in "I", "II":
            rows.append(solve(case, units, model, degrees=2001, held=80, reach=3, parts=24))
    with open(HERE / "reference-degrees.csv", "w") as file:
        names = list(rows[0])
        file.write(",".join(names) + "\n")
        for row in rows:
            file.write(",".join(f"{row[name]:.12g}" if isinstance(row.get(name), float) else str(row.get(name, "")) for name in names) + "\n")
    with open(HERE / "small-histories.csv", "w") as file:
        file.write("case,unit,age,failed\n")
        for case, units in small.items():
            for number, (_, end, events) in enumerate(units):
                for age, _ in [*events]:
                    file.write(f"{case},{number},{age},1\n")
                file.write(f"{case},{number},{end},0\n")


main()
