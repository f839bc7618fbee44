"""Rebuilds regression-lives.csv and reference-regressions.csv beside this file: python3 reference-regressions.py (half a minute)

Python 3.11, scipy 1.17.1, mpmath 1.3.0. The lives are made up. Each log-likelihood is written out below in numbers of 60 digits, its
derivatives are central differences with steps of 1e-15, and its maximum is found by Newton's method from scipy's.
"""

import csv
import os

import mpmath as mp
import numpy as np
from scipy.optimize import minimize

HERE = os.path.dirname(os.path.abspath(__file__))
mp.mp.dps = 60
INF = float("inf")

# low, high, entry, count, x, g, unit
LIVES = [
    (120, 120, 0, 1, 3.1, 0, 7), (250, 250, 0, 2, 2.4, 1, 7), (310, 310, 100, 1, 4.6, 0, 7), (455, 455, 0, 1, 5.2, 0, 7),
    (520, 520, 400, 1, 1.9, 1, 0), (610, 610, 0, 1, 6.3, 0, 0), (700, 700, 0, 1, 4.4, 1, 0), (810, 810, 0, 1, 3.3, 1, 0),
    (905, 905, 850, 1, 5.9, 0, 3), (1100, 1100, 0, 1, 6.8, 1, 3), (300, INF, 0, 1, 2.2, 0, 3), (500, INF, 0, 1, 4.9, 1, 3),
    (800, INF, 200, 3, 3.7, 1, 9), (1200, INF, 1000, 2, 6.1, 0, 9), (0, 200, 0, 1, 2.7, 0, 9), (0, 450, 0, 2, 3.9, 1, 9),
    (400, 600, 0, 1, 4.1, 0, 11), (700, 900, 500, 2, 5.5, 1, 11), (1000, 1400, 0, 1, 5.1, 1, 11), (650, 651, 0, 1, 4.7, 0, 11),
]
ENDS = [life for life in LIVES if life[0] == life[1] or life[1] == INF]
SETS = {
    "ends": [life[:2] + (0,) + life[3:] for life in ENDS],
    "entered": ENDS,
    "within": [life[:2] + (0,) + life[3:] for life in LIVES],
    "all": LIVES,
}


def log_sf_weibull(z):
    return -mp.exp(z)


def log_sf_lognormal(z):
    return mp.log(mp.erfc(z / mp.sqrt(2)) / 2)


def log_sf_loglogistic(z):
    return -mp.log1p(mp.exp(z))


def log_pdf_weibull(z):
    return z - mp.exp(z)


def log_pdf_lognormal(z):
    return -z * z / 2 - mp.log(2 * mp.pi) / 2


def log_pdf_loglogistic(z):
    return z - 2 * mp.log1p(mp.exp(z))


FAMILIES = {
    "weibull": (log_pdf_weibull, log_sf_weibull, True),
    "exponential": (log_pdf_weibull, log_sf_weibull, False),
    "lognormal": (log_pdf_lognormal, log_sf_lognormal, True),
    "log-logistic": (log_pdf_loglogistic, log_sf_loglogistic, True),
}


def term(family, life, theta):
    log_pdf, log_sf, fits = FAMILIES[family]
    low, high, entry, count, x, g, _ = life
    middle = theta[0] + theta[1] * mp.mpf(repr(x)) + theta[2] * g
    sigma = mp.exp(theta[3]) if fits else mp.mpf(1)

    def z(age):
        return (mp.log(age) - middle) / sigma

    if low == high:
        value = log_pdf(z(low)) - mp.log(sigma) - mp.log(low)
    elif high == INF:
        value = log_sf(z(low))
    elif low == 0:
        value = mp.log(1 - mp.exp(log_sf(z(high))))
    else:
        value = mp.log(mp.exp(log_sf(z(low))) - mp.exp(log_sf(z(high))))
    if entry > 0:
        value -= log_sf(z(entry))
    return count * value


def total(family, lives, theta):
    return mp.fsum(term(family, life, theta) for life in lives)


STEP = mp.mpf(10) ** -15


def shifted(theta, *moves):
    found = list(theta)
    for place, by in moves:
        found[place] += by * STEP
    return found


def gradient(f, theta):
    return [(f(shifted(theta, (i, 1))) - f(shifted(theta, (i, -1)))) / (2 * STEP) for i in range(len(theta))]


def hessian(f, theta):
    n = len(theta)
    found = mp.zeros(n, n)
    for i in range(n):
        for j in range(i, n):
            found[i, j] = found[j, i] = (
                f(shifted(theta, (i, 1), (j, 1))) - f(shifted(theta, (i, 1), (j, -1)))
                - f(shifted(theta, (i, -1), (j, 1))) + f(shifted(theta, (i, -1), (j, -1)))
            ) / (4 * STEP * STEP)
    return found


def fit(family, lives):
    size = 4 if FAMILIES[family][2] else 3
    mp.mp.dps = 20
    start = minimize(lambda t: float(-total(family, lives, [mp.mpf(float(v)) for v in t])), np.array([6.0, 0, 0, 0])[:size],
                     method="Nelder-Mead", options={"xatol": 1e-5, "fatol": 1e-8, "maxiter": 4000}).x
    mp.mp.dps = 60
    theta = [mp.mpf(float(v)) for v in start]
    for _ in range(30):
        f = lambda t: total(family, lives, t)
        step = mp.lu_solve(-hessian(f, theta), mp.matrix(gradient(f, theta)))
        theta = [v + s for v, s in zip(theta, step)]
        if max(abs(s) for s in step) < mp.mpf(10) ** -20:
            return theta
    raise SystemExit(f"no maximum: {family}")


def clusters(lives):
    return list(dict.fromkeys(life[6] for life in lives))


def robust(family, lives, theta, covariance):
    n = len(theta)
    middle = mp.zeros(n, n)
    for unit in clusters(lives):
        own = [life for life in lives if life[6] == unit]
        score = mp.matrix(gradient(lambda t: total(family, own, t), theta))
        middle += score * score.T
    return covariance * middle * covariance


def upper(matrix):
    return [matrix[i, j] for i in range(matrix.rows) for j in range(i, matrix.rows)]


def digits(values):
    return [mp.nstr(value, 15) for value in values]


with open(os.path.join(HERE, "regression-lives.csv"), "w", newline="") as out:
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["set", "low", "high", "entry", "count", "x", "g", "unit"])
    for name, lives in SETS.items():
        for life in lives:
            writer.writerow([name, life[0], "" if life[1] == INF else life[1], *life[2:]])

# what: fit = coefficients and log sigma, log-likelihood; covariance and robust = upper triangle by rows; without UNIT = refit of the others.
with open(os.path.join(HERE, "reference-regressions.csv"), "w", newline="") as out:
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["set", "family", "what", *[f"v{at}" for at in range(1, 11)]])

    def write(name, family, what, values):
        writer.writerow([name, family, what, *digits(values), *[""] * (10 - len(values))])

    for name, lives in SETS.items():
        for family in FAMILIES:
            theta = fit(family, lives)
            covariance = mp.inverse(-hessian(lambda t: total(family, lives, t), theta))
            write(name, family, "fit", [*theta, total(family, lives, theta)])
            write(name, family, "covariance", upper(covariance))
            write(name, family, "robust", upper(robust(family, lives, theta, covariance)))
            if name == "all":
                for unit in clusters(lives):
                    write(name, family, f"without {unit}", fit(family, [life for life in lives if life[6] != unit]))
