"""Probabilities that centres of wires, off by jointly normal deviations, lie in a hexagon.

Reads a JSON list of cases from standard input and writes the list of their
probabilities. A case has the room's size across its flats, two of which run
along the row; how far the two wires of a pair lie to each side of their centre;
and the covariance of the deviations. With two deviations (along, across) the
density is integrated over the hexagon. With three (along at the first hole, at
the last, across) the distribution of the first two, given the third, is SciPy's.
"""

import json
import math
import sys

import numpy
from scipy import integrate, stats


def half_width(case, y):
    """How far along the row the centre may be off where it is off by y across."""
    return (case["flats"] - abs(y)) / math.sqrt(3) - case["apart"]


def highest(case):
    return min(case["flats"] / 2, case["flats"] - case["apart"] * math.sqrt(3))


def one_hole(case):
    (xx, xy), (_, yy) = case["covariance"]
    det = xx * yy - xy * xy

    def density(x, y):
        return math.exp(-(yy * x * x - 2 * xy * x * y + xx * y * y) / (2 * det)) / (2 * math.pi * math.sqrt(det))

    total = 0.0
    for low, high in ((-highest(case), 0.0), (0.0, highest(case))):
        part, _ = integrate.dblquad(
            density, low, high,
            lambda y: -half_width(case, y), lambda y: half_width(case, y),
            epsabs=1e-10, epsrel=1e-10)
        total += part
    return total


def row(case):
    cov = numpy.array(case["covariance"])
    slope = cov[:2, 2] / cov[2, 2]
    rest = cov[:2, :2] - numpy.outer(slope, slope) * cov[2, 2]

    def given(y):
        reach, mean = half_width(case, y), slope * y

        def below(first, last):
            return stats.multivariate_normal.cdf([first, last], mean, rest, abseps=1e-12, releps=1e-12)

        inside = below(reach, reach) - below(-reach, reach) - below(reach, -reach) + below(-reach, -reach)
        return stats.norm.pdf(y, scale=math.sqrt(cov[2, 2])) * inside

    return sum(integrate.quad(given, low, high, epsabs=1e-8, epsrel=1e-8)[0]
               for low, high in ((-highest(case), 0.0), (0.0, highest(case))))


json.dump([one_hole(c) if len(c["covariance"]) == 2 else row(c) for c in json.load(sys.stdin)], sys.stdout)
