"""Distances over the ellipsoid, by the library of the author of the method.

Prints geodesic.csv, which our tests read; with the path of that file as argument it checks instead that
the file holds what the library says now. Why, is said in README.md beside this file.
"""

import math
import pathlib
import random
import sys

from geographiclib.geodesic import Geodesic

GLOBE = Geodesic.WGS84


def row(kind, start, end):
    """Coordinates are rounded first, so that both sides measure the same points."""
    metres = GLOBE.Inverse(*start, *end, Geodesic.DISTANCE)["s12"]
    return ",".join([kind, *(f"{value:.7f}" for value in [*start, *end]), f"{metres:.6f}"])


def rounded(latitude, longitude):
    return round(latitude, 7), round((longitude + 180) % 360 - 180, 7)


def pairs(chance):
    """Pairs from a metre apart to the other side of the globe."""
    for number in range(240):
        latitude = math.degrees(math.asin(chance.uniform(-1, 1)))
        start = rounded(latitude, chance.uniform(-180, 180))
        if number % 4 == 3:
            end = rounded(-start[0] + chance.uniform(-1, 1), start[1] + 180 + chance.uniform(-1, 1))
        else:
            metres = 10 ** chance.uniform(0, 7)
            there = GLOBE.Direct(*start, chance.uniform(-180, 180), metres)
            end = rounded(there["lat2"], there["lon2"])
        yield row("pair", start, end)


def course(chance):
    """A made-up winding course of about 42 km, a point every 70 m."""
    here, azimuth = rounded(47.3, 11.9), 30.0
    for _ in range(603):
        azimuth += chance.uniform(-25, 25)
        there = GLOBE.Direct(*here, azimuth, 70)
        end = rounded(there["lat2"], there["lon2"])
        yield row("course", here, end)
        here = end


def main():
    chance = random.Random(20270509)
    text = "\n".join(["kind,latitude,longitude,latitude,longitude,metres", *pairs(chance), *course(chance)]) + "\n"
    if len(sys.argv) == 1:
        print(text, end="")
        return
    kept = pathlib.Path(sys.argv[1]).read_text(encoding="utf-8")
    assert kept == text, "geodesic.csv is not what the library says"
    print(f"{text.count(chr(10)) - 1} distances are what the library says")


main()
