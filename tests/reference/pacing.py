"""Times on made-up hilly courses, by numpy and scipy in steps of a metre.

Prints pacing.csv, which our tests read; with the path of that file as argument it checks instead that the
file holds what comes out now. Written from what our doc comments define and nothing else: what stands here in
other words than there is meant to. Why, is said in README.md beside this file.
"""

import numpy
from numpy.polynomial import Polynomial
from scipy.integrate import cumulative_trapezoid, quad
from scipy.optimize import brentq

from kept import show_or_check

# Numbers of the legacy generator are promised to stay the same in every version.
CHANCE = numpy.random.RandomState(20270509)

# Lengths in metres, and the steepest parts: of roads, and of paths steeper than the cost was ever measured.
COURSES = {
    "road": ([5_000, 10_000, 21_097.5, 42_195, 100_000], 0.15),
    "path": ([6_400, 8_047, 15_300, 30_000, 66_700], 0.55),
}

# The second half slower by, the part of the savings of descents, the first kilometres easier by: tenths of a per
# cent, per cent, tenths of a per cent.
STRATEGIES = [(0, 50, 0), (0, 100, 0), (-20, 50, 20), (34, 0, 0), (100, 75, 100), (-100, 25, 50)]

# Seconds for a kilometre.
GOALS = [205, 310, 480]

# Minetti 2002: joules for each kilogram and metre, by grade.
MINETTI = Polynomial([3.6, 19.5, 46.3, -43.3, -30.4, 155.4])


def course(official, steepest):
    """Places and heights as a watch might have them: waves of three lengths, steep parts, some heights missing,
    and all of it up to 3 % too short or too long."""
    along = numpy.cumsum(CHANCE.uniform(60, 260, size=int(official / 110)))
    along = numpy.concatenate(([0], along[along < official - 30], [official]))
    height = numpy.full(along.shape, 240.0)
    for wave, grade in [(official / 2.3, 0.03), (3_100, 0.04), (900, 0.05)]:
        # The steepest grade of a sine is its height times 2 pi through its length.
        rise = CHANCE.uniform(0.3, 1) * grade * wave / (2 * numpy.pi)
        height += rise * numpy.sin(2 * numpy.pi * (along / wave + CHANCE.uniform()))
    for start in CHANCE.uniform(0, official - 1_000, size=2 + int(official / 12_000)):
        grade = CHANCE.choice([-1, 1]) * CHANCE.uniform(0.08, steepest)
        height += grade * numpy.clip(along - start, 0, CHANCE.uniform(250, 700))
    missing = CHANCE.uniform(size=along.shape) < 0.03
    return numpy.round(along * CHANCE.uniform(0.97, 1.03), 1), numpy.round(height, 1), missing


def smoothed(places, heights, official):
    """Heights at every metre: the mean over 100 m to either side, near an end the best line over 200 m."""
    metres = numpy.linspace(0, official, int(official) + 1)
    raw = numpy.interp(metres, places, heights)
    under = cumulative_trapezoid(raw, metres, initial=0)
    sides = [numpy.interp(metres + side, metres, under) for side in (100, -100)]
    smooth = (sides[0] - sides[1]) / 200
    for near, window in [(metres < 100, (0, 200)), (metres > official - 100, (official - 200, official))]:
        inside = numpy.linspace(*window, 2_001)
        line = Polynomial.fit(inside, numpy.interp(inside, metres, raw), 1)
        smooth[near] = line(metres[near])
    return metres, smooth


def times(metres, smooth, strategy, goal):
    """Seconds since the start at every metre."""
    slower, descent, easier = strategy[0] / 1000, strategy[1] / 100, strategy[2] / 1000
    official = metres[-1]
    step = numpy.diff(metres)
    cost = MINETTI(numpy.clip(numpy.diff(smooth) / step, -0.45, 0.45)) / MINETTI(0)
    cost = numpy.where(cost < 1, 1 - descent * (1 - cost), cost)
    # The slope of the straight line for which the second half of the flat takes longer by the part that is set.
    half = lambda slope, *ends: quad(lambda part: 1 + slope * (part - 0.5), *ends)[0]
    slope = brentq(lambda slope: half(slope, 0.5, 1) - (1 + slower) * half(slope, 0, 0.5), -1, 1, xtol=1e-15)
    middle = metres[:-1] + step / 2
    drift = 1 + slope * (middle / official - 0.5)
    average = goal / numpy.dot(cost, step)
    slowest_start = numpy.where(middle < min(5_000, official / 3), average * (1 + easier), 0)
    seconds = lambda level: cost * numpy.maximum(level * drift, slowest_start) * step
    level = brentq(lambda level: seconds(level).sum() - goal, average / 4, average * 4, xtol=1e-15)
    return numpy.concatenate(([0], numpy.cumsum(seconds(level))))


def rows(kind, official, steepest):
    along, height, missing = course(official, steepest)
    yield f"course,{kind},{official * 1000:.0f}"
    for place, high, gone in zip(along, height, missing):
        yield f"point,{place:.1f},{'' if gone else f'{high:.1f}'}"
    places = along * (official / along[-1])
    metres, smooth = smoothed(places[~missing], height[~missing], official)
    kilometres = numpy.arange(1_000, official + 1, 1_000)
    for strategy in STRATEGIES:
        for pace in GOALS:
            goal = round(official / 1000 * pace)
            at = numpy.interp(kilometres, metres, times(metres, smooth, strategy, goal))
            yield ",".join(["times", str(goal), *map(str, strategy), *(f"{seconds:.2f}" for seconds in at)])


def main():
    courses = [(kind, official, steepest) for kind, (lengths, steepest) in COURSES.items() for official in lengths]
    lines = [row for course in courses for row in rows(*course)]
    show_or_check("\n".join(lines) + "\n", f"times on {len(courses)} courses", 0.011)


main()
