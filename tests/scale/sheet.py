"""Times LibreOffice Calc recalculating a sheet, through its own interface.

Usage: sheet.py SHEET. Prints the number of formulas and the middle of seven full recalculations, in
milliseconds. Needs `soffice` and the Python that Debian's python3-uno belongs to.
"""

import os
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException
from com.sun.star.sheet.CellFlags import FORMULA


def connected(pipe: str):
    """The office that listens on a pipe; it takes a while to start."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(300):
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except NoConnectException:
            time.sleep(0.1)
    sys.exit("LibreOffice does not answer")


def main(path: str) -> None:
    pipe = f"ebbline-{os.getpid()}"
    with tempfile.TemporaryDirectory() as profile:
        office = subprocess.Popen(
            ["soffice", "--headless", "--norestore", f"--accept=pipe,name={pipe};urp;",
             f"-env:UserInstallation={pathlib.Path(profile).as_uri()}"]
        )
        try:
            context = connected(pipe)
            desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
            hidden = PropertyValue(Name="Hidden", Value=True)
            document = desktop.loadComponentFromURL(pathlib.Path(path).resolve().as_uri(), "_blank", 0, (hidden,))
            sheet = document.Sheets.getByIndex(0)
            formulas = sum(
                (area.EndRow - area.StartRow + 1) * (area.EndColumn - area.StartColumn + 1)
                for area in sheet.queryContentCells(FORMULA).RangeAddresses
            )
            took = []
            for _ in range(7):
                begun = time.perf_counter()
                document.calculateAll()
                took.append((time.perf_counter() - begun) * 1000)
            planned = sheet.getCellRangeByName("N1").Value
            wrong = sheet.queryFormulaCells(4).RangeAddresses  # 4: errors
            if wrong:
                sys.exit(f"the sheet has formulas that fail, the first in row {wrong[0].StartRow + 1}")
            print(formulas, statistics.median(took), planned)
            document.close(True)
            desktop.terminate()
            office.wait(timeout=30)
        finally:
            office.kill()


main(sys.argv[1])
