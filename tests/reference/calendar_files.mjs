// Calendar files, read by a library that is not ours and compared with what was meant; the folder is
// the same as for calendar_files.py. How it comes about is said in README.md beside this file.

import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const modules = process.env.EBBLINE_REFERENCE_MODULES;
const found = createRequire(join(modules, "from.js")).resolve("ical.js");
const { default: ICAL } = await import(pathToFileURL(found).href);
const version = JSON.parse(readFileSync(join(modules, "ical.js", "package.json"), "utf8")).version;

// In which day and minute an instant falls in a zone, told by the machine's own tables.
function local(instant, zone) {
  const parts = new Intl.DateTimeFormat("en-GB", {
    timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit", hourCycle: "h23",
  }).formatToParts(instant);
  const part = (type) => parts.find((one) => one.type === type).value;
  return `${part("year")}-${part("month")}-${part("day")} ${part("hour")}:${part("minute")}`;
}

function read(component, zones) {
  const value = (name) => component.getFirstPropertyValue(name);
  const start = value("dtstart");
  if (!start.isDate) assert.equal(start.zone.tzid, "UTC");
  return {
    uid: value("uid"),
    sequence: value("sequence"),
    modified: value("last-modified").toString(),
    start: start.toString(),
    end: value("dtend")?.toString() ?? null,
    local: start.isDate ? null : Object.fromEntries(zones.map((zone) => [zone, local(start.toJSDate(), zone)])),
    summary: value("summary") ?? "",
    description: value("description") ?? "",
    location: value("location") ?? "",
  };
}

const folder = process.argv[2];
let count = 0;
for (const name of readdirSync(folder).filter((name) => name.endsWith(".ics")).sort()) {
  const calendar = new ICAL.Component(ICAL.parse(readFileSync(join(folder, name), "utf8")));
  const meant = JSON.parse(readFileSync(join(folder, name.replace(".ics", ".json")), "utf8"));
  const events = calendar.getAllSubcomponents("vevent");
  assert.equal(events.length, meant.length, name);
  events.forEach((event, place) => {
    assert.deepEqual(read(event, Object.keys(meant[place].local ?? {})), meant[place], name);
  });
  count += events.length;
}
console.log(`ical.js ${version}: ${count} events as meant`);
