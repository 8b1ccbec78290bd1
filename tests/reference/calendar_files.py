"""Calendar files, read by a library that is not ours and compared with what was meant.

Takes a folder of pairs: NAME.ics as written, NAME.json with the events that it must hold.
How they come about is said in README.md beside this file.
"""

import datetime
import json
import pathlib
import sys
import zoneinfo

import icalendar


def moment(value):
    if isinstance(value, datetime.datetime):
        assert value.utcoffset() == datetime.timedelta(0), f"{value} is not in UTC"
        return value.strftime("%Y-%m-%dT%H:%M:%SZ")
    return value.isoformat()


def read(event):
    start = event["DTSTART"].dt
    end = event["DTEND"].dt if "DTEND" in event else None
    expected = {}
    expected["uid"] = str(event["UID"])
    expected["sequence"] = int(event["SEQUENCE"])
    expected["modified"] = moment(event["LAST-MODIFIED"].dt)
    assert event["DTSTAMP"].dt == event["LAST-MODIFIED"].dt
    expected["start"] = moment(start)
    expected["end"] = end and moment(end)
    timed = isinstance(start, datetime.datetime)
    expected["local"] = timed and (lambda zone: start.astimezone(zoneinfo.ZoneInfo(zone)).strftime("%Y-%m-%d %H:%M"))
    assert str(event["TRANSP"]) == ("OPAQUE" if timed else "TRANSPARENT")
    for name in ["summary", "description", "location"]:
        expected[name] = str(event.get(name, ""))
    return expected


def main():
    count = 0
    for path in sorted(pathlib.Path(sys.argv[1]).glob("*.ics")):
        calendar = icalendar.Calendar.from_ical(path.read_bytes())
        assert not calendar.errors and all(not event.errors for event in calendar.events), path.name
        meant = json.loads(path.with_suffix(".json").read_text(encoding="utf-8"))
        found = [read(event) for event in calendar.events]
        assert len(found) == len(meant), f"{path.name}: {len(found)} events, not {len(meant)}"
        for event, wanted in zip(found, meant):
            local = event["local"]
            event["local"] = local and wanted["local"] and {zone: local(zone) for zone in wanted["local"]} or None
            assert event == wanted, f"{path.name}: read {event}, meant {wanted}"
        count += len(found)
    print(f"icalendar {icalendar.__version__}: {count} events as meant")


main()
