// Reads calendar files with ical.js: every component has what RFC 5545 asks of it.
//   calendar.mjs FILE...
import { readFileSync } from "node:fs";
import ICAL from "ical.js";

const files = process.argv.slice(2);
if (files.length === 0) throw new Error("no file to read");
for (const file of files) {
    const calendar = new ICAL.Component(ICAL.parse(readFileSync(file, "utf8")));
    const events = calendar.getAllSubcomponents("vevent");
    if (events.length === 0) throw new Error(`${file}: no event`);
    const ids = new Set();
    for (const component of events) {
        const event = new ICAL.Event(component);
        for (const name of ["uid", "dtstamp", "dtstart", "summary"]) {
            if (!component.hasProperty(name)) throw new Error(`${file}: an event without ${name}`);
        }
        if (!event.startDate.isDate) throw new Error(`${file}: ${event.uid} is not a whole day`);
        ids.add(event.uid);
    }
    if (ids.size !== events.length) throw new Error(`${file}: a UID is used twice`);
    console.log(`ical.js: ${events.length} events`);
}
