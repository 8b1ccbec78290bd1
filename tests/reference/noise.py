"""Heights of a flat course as a watch writes them that is up to 2 m off each second, by numpy.

Prints noise.csv, which our tests read: 10 km in 3,000 seconds, a height for each. With the path of that file as
argument it checks instead that the file holds what comes out now. Why, is said in README.md beside this file.
"""

import numpy

from kept import show_or_check


def main():
    # Numbers of the legacy generator are promised to stay the same in every version.
    off = numpy.random.RandomState(20270509).uniform(-2, 2, size=3_001)
    lines = ["height", *(f"{120 + metres:.3f}" for metres in off)]
    show_or_check("\n".join(lines) + "\n", f"{len(off)} heights", 0.0011)


main()
