"""What the scripts beside this file do with the file that our tests read."""

import pathlib
import re
import sys


def show_or_check(text, rows, within):
    """Prints the file, or holds the one named as argument against what the libraries say now: the same to the
    letter, but numbers with a point may be off by `within`, the last digit that another processor rounds."""
    if len(sys.argv) == 1:
        sys.stdout.write(text)
        return
    path = pathlib.Path(sys.argv[1])
    kept = path.read_text(encoding="utf-8")
    number = re.compile(r"-?\d+\.\d+")
    assert number.sub("#", kept) == number.sub("#", text), f"{path.name} has other rows"
    pairs = zip(number.findall(kept), number.findall(text), strict=True)
    most = max(abs(float(one) - float(other)) for one, other in pairs)
    assert most <= within, f"{path.name} is off by {most}"
    print(f"{path.name}: {rows} are what the libraries say, to {most:.1g}")
