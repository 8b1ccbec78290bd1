"""What results are worth over other distances, and training over the marathon, by scipy.

Prints equivalents.csv, which our tests read; with the path of that file as argument it checks instead that the
file holds what comes out now. Written from what our doc comments define and nothing else. Why, is said in README.md
beside this file.
"""

import numpy
from scipy.optimize import brentq

from kept import show_or_check

# Numbers of the legacy generator are promised to stay the same in every version.
CHANCE = numpy.random.RandomState(20270509)


def riegel(minutes, from_km, to_km):
    return numpy.exp(numpy.log(minutes) + 1.06 * numpy.log(to_km / from_km))


def daniels_gilbert(minutes, from_km, to_km):
    """The root of the difference of both capacities, rather than halving."""

    def capacity(minutes, km):
        cost = numpy.polyval([0.000104, 0.182258, -4.60], 1000 * km / minutes)
        lasting = 0.8 + 0.1894393 * numpy.exp(-0.012778 * minutes) + 0.2989558 * numpy.exp(-0.1932605 * minutes)
        return cost / lasting

    shown = capacity(minutes, from_km)
    return brentq(lambda other: capacity(other, to_km) - shown, 1.5 * to_km, 30 * to_km, xtol=1e-12)


def cameron(minutes, from_km, to_km):
    factor = lambda metres: 13.49681 - 0.000030363 * metres + 835.7114 * metres**-0.7905
    speed = 1000 * from_km / minutes * factor(1000 * to_km) / factor(1000 * from_km)
    return 1000 * to_km / speed


def tanda(km_a_week, pace):
    return 42.195 * (17.1 + 140.0 * numpy.exp(-0.0053 * km_a_week) + 0.55 * pace) / 60


def main():
    lines = ["result,km,to km,seconds,riegel,daniels and gilbert,cameron", "training,km a week,seconds a km,tanda"]
    for _ in range(30):
        from_km, times = round(10 ** CHANCE.uniform(0.2, 1.625), 3), 4.25 ** CHANCE.uniform(-1, 1)
        to_km = round(min(max(from_km * times, 1.0), 42.195), 3)
        seconds = round(from_km * CHANCE.uniform(160, 480))
        found = [formula(seconds / 60, from_km, to_km) * 60 for formula in (riegel, daniels_gilbert, cameron)]
        lines.append(f"result,{from_km:.3f},{to_km:.3f},{seconds}," + ",".join(f"{one:.4f}" for one in found))
    for _ in range(30):
        km, pace = CHANCE.randint(20, 160), CHANCE.randint(210, 420)
        lines.append(f"training,{km},{pace},{tanda(km, pace) * 60:.4f}")
    show_or_check("\n".join(lines) + "\n", "120 times", 0.00011)


main()
