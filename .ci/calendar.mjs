// Reads calendar files with ical.js and prints what it found, as JSON.
// node calendar.mjs FILE...
import { readFileSync } from "node:fs";
import ICAL from "ical.js";

const out = [];
for (const file of process.argv.slice(2)) {
  const root = new ICAL.Component(ICAL.parse(readFileSync(file, "utf8")));
  const events = root.getAllSubcomponents("vevent").map((v) => {
    const e = new ICAL.Event(v);
    return {
      uid: e.uid,
      start: e.startDate.toString(),
      end: e.endDate.toString(),
      days: e.startDate.isDate && e.endDate.isDate,
      summary: e.summary,
      about: e.description,
      sequence: e.sequence,
      status: v.getFirstPropertyValue("status"),
      stamp: v.getFirstPropertyValue("dtstamp").toString(),
      busy: v.getFirstPropertyValue("transp"),
    };
  });
  out.push({ file, version: root.getFirstPropertyValue("version"), events });
}
console.log(JSON.stringify(out));
