// Reads zips of task data with the npm library isoxml, and says what it found as JSON.
//   read_tasks.mjs ZIP...
import { readFileSync } from "node:fs";
import { ISOXMLManager } from "isoxml";

const found = [];
for (const file of process.argv.slice(2)) {
    const manager = new ISOXMLManager();
    await manager.parseISOXMLFile(new Uint8Array(readFileSync(file)), "application/zip");
    const { Task = [], Partfield = [] } = manager.rootElement.attributes;
    found.push({
        warnings: manager.getWarnings().map(String),
        tasks: Task.map((task) => {
            const zones = task.attributes.TreatmentZone ?? [];
            const inside = zones.find((zone) => zone.attributes.TreatmentZoneCode === 1);
            const values = inside?.attributes.ProcessDataVariable ?? [];
            return Object.fromEntries(
                values.map((it) => [it.attributes.ProcessDataDDI, it.attributes.ProcessDataValue]),
            );
        }),
        fields: Partfield.map((field) => {
            const polygons = field.attributes.PolygonnonTreatmentZoneonly ?? [];
            const geometry = polygons.length > 0 ? field.toGeoJSON() : null;
            return { name: field.attributes.PartfieldDesignator, geometry };
        }),
    });
}
console.log(JSON.stringify(found));
