"""Prints family-values.csv: values and derivatives of the families of distributions reckoned with 110 or 700 digits, rounded to 17.

Run with mpmath 1.3.0 (some three minutes): python3 tests/stats/distribution/family-values.py > tests/stats/distribution/family-values.csv
Each row is f(w, e) and its derivatives (by mpmath.diff) at the doubles w and e.
"""

import sys
from mpmath import mp, mpf, exp, log, log1p, expm1, erfc, sqrt, pi, loggamma, gammainc, diff



def tail(x):
    """The upper tail of the standard normal distribution."""
    return erfc(x / sqrt(2)) / 2


def log_less(small):
    """log(1 - small)."""
    return log1p(-small)


def lower_gamma(a, x):
    """P(a, x) by the series of its power, which is positive in every term."""
    term = total = 1 / a
    n = 0
    while term > total * mpf(10) ** (-mp.dps - 5) or n < x - a:
        n += 1
        term *= x / (a + n)
        total += term
    return total, a * log(x) - x - loggamma(a)


def log_lower_gamma(a, x):
    if x > a:
        return log_less(gammainc(a, x, mp.inf, regularized=True))
    total, front = lower_gamma(a, x)
    return log(total) + front


def log_upper_gamma(a, x):
    if x > a:
        return log(gammainc(a, x, mp.inf, regularized=True))
    total, front = lower_gamma(a, x)
    return log_less(total * exp(front))


FAMILIES = {
    "weibull": {
        "logDensity": lambda w, e: e + exp(e) * w - exp(exp(e) * w),
        "logSurvival": lambda w, e: -exp(exp(e) * w),
        "logFailed": lambda w, e: log(-expm1(-exp(exp(e) * w))),
    },
    "lognormal": {
        "logDensity": lambda w, e: e - (exp(e) * w) ** 2 / 2 - log(2 * pi) / 2,
        "logSurvival": lambda w, e: log_less(tail(-exp(e) * w)) if w < 0 else log(tail(exp(e) * w)),
        "logFailed": lambda w, e: log_less(tail(exp(e) * w)) if w > 0 else log(tail(-exp(e) * w)),
    },
    "log-logistic": {
        "logDensity": lambda w, e: e + exp(e) * w - 2 * log1p(exp(exp(e) * w)),
        "logSurvival": lambda w, e: -log1p(exp(exp(e) * w)),
        "logFailed": lambda w, e: -log1p(exp(-exp(e) * w)),
    },
    "gamma": {
        "logDensity": lambda w, e: exp(e) * w - exp(w) - loggamma(exp(e)),
        "logSurvival": lambda w, e: log_upper_gamma(exp(e), exp(w)),
        "logFailed": lambda w, e: log_lower_gamma(exp(e), exp(w)),
    },
}
ORDERS = [(0, 0), (1, 0), (0, 1), (2, 0), (1, 1), (0, 2)]
SHAPES = [-7, -2.25, -0.40625, 0, 0.703125, 2.125, 7]
PLACES = [-690, -40.5, -38, -12, -3.3, -0.7, -0.001, 0.1, 0.45, 0.55, 1.2, 3, 5.7, 6.2, 8, 38, 690]


def scaled_points():
    """(w, e) at which k w runs through the places, thinned to every third."""
    points = [(z / float(exp(e)), e) for e in SHAPES for z in PLACES]
    return [point for at, point in enumerate(points) if abs(point[0]) <= 7.7e5 and at % 3 == 0]


def gamma_points():
    """(w, e) from far below to far above the mean, in standard deviations and in powers."""
    points = []
    for e in SHAPES:
        a = float(exp(e))
        for x in [a * 1e-30, a * 1e-9, a / 30, a / 3, a * 0.9, a, a * 1.1, a + 3 * a**0.5, a * 4, a + 50, a + 600]:
            points.append((float(log(x)), e))
    return points


def main():
    print("family,function,w,e,value,by_w,by_e,by_ww,by_we,by_ee")
    for family in sys.argv[1:] or FAMILIES:
        mp.dps = 110 if family == "gamma" else 700
        for w, e in gamma_points() if family == "gamma" else scaled_points():
            for name, function in FAMILIES[family].items():
                terms = [diff(function, (mpf(w), mpf(e)), order) for order in ORDERS]
                print(family, name, repr(w), repr(e), *(mp.nstr(term, 17) for term in terms), sep=",", flush=True)


main()
