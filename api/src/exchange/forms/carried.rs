//! What each form can carry, as one table. The page `openapi/FORMATS.md` and the notes of task data are
//! written from it, and tests hold it against what is really written.

use super::task_data::Ddi;

/// What is carried.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Object {
    /// A settings sheet.
    Sheet,
    /// A dig check.
    Dig,
    /// A planting.
    Planting,
    /// A stand count.
    Stand,
    /// A field.
    Field,
}

/// Whether something is set, and by whom.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Set {
    /// It is no setting.
    Not,
    /// On the planter or the tractor by hand, where a terminal is not told.
    ByHand,
}

/// One thing that may be carried.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// Of what.
    pub object: Object,
    /// What.
    pub what: &'static str,
    /// Its places in a data set of ADAPT; empty where there is none.
    pub adapt: &'static [&'static str],
    /// Its place in task data: an entry of the dictionary as hexadecimal digits, or words.
    pub task_data: Option<&'static str>,
    /// Its table and column in a Data Package.
    pub package: Option<(&'static str, &'static str)>,
    /// Whether GeoJSON of the field says it.
    pub geojson: bool,
    /// Whether the PDF of the sheet, or of the season's report, says it.
    pub pdf: bool,
    /// Whether the calendar says it.
    pub calendar: bool,
    /// Who sets it.
    pub set: Set,
}

const fn row(object: Object, what: &'static str) -> Row {
    Row {
        object,
        what,
        adapt: &[],
        task_data: None,
        package: None,
        geojson: false,
        pdf: false,
        calendar: false,
        set: Set::Not,
    }
}

impl Row {
    const fn adapt(self, places: &'static [&'static str]) -> Self {
        Self { adapt: places, ..self }
    }

    const fn task_data(self, place: &'static str) -> Self {
        Self { task_data: Some(place), ..self }
    }

    const fn package(self, table: &'static str, column: &'static str) -> Self {
        Self { package: Some((table, column)), ..self }
    }

    const fn geojson(self) -> Self {
        Self { geojson: true, ..self }
    }

    const fn pdf(self) -> Self {
        Self { pdf: true, ..self }
    }

    const fn calendar(self) -> Self {
        Self { calendar: true, ..self }
    }

    const fn by_hand(self) -> Self {
        Self { set: Set::ByHand, ..self }
    }
}

use Object::{Dig, Field, Planting, Sheet, Stand};

/// In words only.
const NOTES: &[&str] = &["notes"];

/// The table.
pub const CARRIED: &[Row] = &[
    row(Sheet, "seeding rate")
        .by_hand()
        .adapt(&["AppliedCountPerAreaTarget"])
        .task_data("000B")
        .package("sheets", "seeds_m2")
        .pdf(),
    row(Sheet, "liquid in the furrow")
        .by_hand()
        .adapt(&["AppliedVolumePerAreaTarget"])
        .task_data("0001")
        .pdf(),
    row(Sheet, "depth of the seed")
        .by_hand()
        .adapt(&["SeedingDepthTarget"])
        .task_data("0038")
        .package("sheets", "depth_mm")
        .pdf(),
    row(Sheet, "down force on each row")
        .by_hand()
        .adapt(&["DownforceAppliedTarget"])
        .task_data("01AA")
        .package("sheets", "down_force_n")
        .pdf(),
    row(Sheet, "speed")
        .by_hand()
        .adapt(&["Speed"])
        .task_data("018C")
        .package("sheets", "speed_m_s")
        .pdf(),
    row(Sheet, "pressure that gives the down force")
        .by_hand()
        .adapt(&["DIBBLE_DownForcePressure"])
        .pdf(),
    row(Sheet, "spring notch, up-lift").by_hand().adapt(NOTES).pdf(),
    row(Sheet, "window of the load on the gauge wheels")
        .adapt(&["DownforceMargin", "DIBBLE_GaugeWheelLoadLow", "DIBBLE_GaugeWheelLoadHigh"])
        .pdf(),
    row(Sheet, "what the depth lever must say")
        .by_hand()
        .adapt(&["DIBBLE_DepthLeverSetting"])
        .pdf(),
    row(Sheet, "height of the coulter").by_hand().adapt(&["DIBBLE_CoulterAboveOpener"]).pdf(),
    row(Sheet, "row cleaner, closing wheels, spring of the closing wheels")
        .by_hand()
        .adapt(NOTES)
        .pdf(),
    row(Sheet, "distance from seed to seed").adapt(&["SeedSpacingTarget"]).pdf(),
    row(Sheet, "distance between rows")
        .adapt(&["DIBBLE_RowSpacing"])
        .package("planters", "row_spacing_cm")
        .pdf(),
    row(Sheet, "whether to plant today, and why each setting").adapt(NOTES).pdf(),
    row(Sheet, "what else the advisor asks for").adapt(NOTES).pdf(),
    row(Sheet, "who advises whom").adapt(&["CROP_ADVISOR", "GROWER"]).pdf(),
    row(Sheet, "cautions, and what was assumed").pdf(),
    row(Sheet, "the calculation, step by step"),
    row(Sheet, "crop").adapt(&["cropIds"]).task_data("CTP").package("sheets", "crop").pdf(),
    row(Sheet, "when it was issued").adapt(&["APPROVAL"]).package("sheets", "issued_at").pdf(),
    row(Dig, "mean depth, spread, share within tolerance")
        .adapt(&[
            "SeedingDepthActual",
            "DIBBLE_SeedingDepthDeviation",
            "DIBBLE_SeedingDepthTolerance",
            "DIBBLE_SeedsWithinTolerance",
            "DIBBLE_SeedsMeasured",
        ])
        .package("digs", "depth_off_mm")
        .pdf(),
    row(Dig, "mean distance, singles, skips, multiples, coefficient of variation").adapt(&[
        "SeedSpacingActual",
        "SeedSingulation",
        "SeedSkips",
        "SeedDoubles",
        "DIBBLE_SeedSpacingVariationCoefficient",
    ]),
    row(Dig, "speed, down force and pressure while the rows were planted")
        .adapt(&["Speed", "DownforceAppliedActual", "DIBBLE_DownForcePressure"])
        .package("digs", "speed_m_s"),
    row(Dig, "change that it proposes, and why")
        .adapt(NOTES)
        .package("adjustments", "changes")
        .pdf(),
    row(Dig, "when it was dug, when it is due")
        .adapt(&["PHENOMENON_TIME"])
        .package("digs", "dug_at")
        .calendar(),
    row(Dig, "reading by reading"),
    row(Planting, "day").adapt(&["ACTUAL"]).package("plantings", "planted_on"),
    row(Planting, "seeds, depth, hours")
        .adapt(&["AppliedCountPerAreaActual", "SeedingDepthActual", "DIBBLE_PlantingTime"])
        .package("plantings", "seeds_m2"),
    row(Planting, "land that was planted").adapt(&["AppliedArea"]).package("plantings", "area_m2"),
    row(Planting, "the sheet that it followed").adapt(&["CAUSAL"]).package("plantings", "sheet_id"),
    row(Stand, "plants, with limits")
        .adapt(&["DIBBLE_PlantsPerArea", "DIBBLE_PlantsPerAreaLow", "DIBBLE_PlantsPerAreaHigh"])
        .package("stands", "plants_m2")
        .pdf(),
    row(Stand, "share of the seeds that became plants")
        .adapt(&["DIBBLE_Emergence"])
        .package("stands", "emergence_pct")
        .pdf(),
    row(Stand, "day of the count, day on which it is due")
        .adapt(&["PHENOMENON_TIME"])
        .package("stands", "counted_on")
        .calendar(),
    row(Stand, "gaps, unevenness, keep or replant"),
    row(Field, "name")
        .adapt(&["fields"])
        .task_data("PFD")
        .package("fields", "name")
        .geojson()
        .pdf()
        .calendar(),
    row(Field, "farm and grower")
        .adapt(&["farms", "growers"])
        .task_data("FRM, CTR")
        .package("fields", "farm")
        .geojson()
        .pdf(),
    row(Field, "boundary").adapt(&["fieldBoundaries"]).task_data("PLN").geojson(),
    row(Field, "area")
        .adapt(&["arableArea"])
        .task_data("PFD")
        .package("fields", "area_m2")
        .geojson()
        .pdf(),
    row(Field, "texture class").package("fields", "texture_usda").geojson(),
    row(Field, "our id")
        .adapt(&["uniqueIds"])
        .task_data("LNK")
        .package("fields", "field_id")
        .geojson(),
    row(Field, "ids in records systems").adapt(&["uniqueIds"]).geojson(),
];

/// What a sheet says and a file with these setpoints does not: to be set by hand.
pub fn left_out(setpoints: impl Iterator<Item = Ddi>) -> Vec<&'static str> {
    let there: Vec<&str> = setpoints.map(|it| it.hex).collect();
    let by_hand = CARRIED.iter().filter(|row| row.set == Set::ByHand);
    let out = by_hand.filter(|row| row.task_data.is_none_or(|place| !there.contains(&place)));
    out.map(|row| row.what).collect()
}

/// The table as a page.
pub fn page() -> String {
    let mut page = HEAD.to_owned();
    for (object, title) in [
        (Sheet, "A settings sheet"),
        (Dig, "A dig check"),
        (Planting, "A planting"),
        (Stand, "A stand count"),
        (Field, "A field"),
    ] {
        page.extend(["\n## ", title, "\n\n"]);
        page.push_str(
            "| what | ADAPT 2.0.2 | task data | Data Package | GeoJSON | PDF | iCalendar |\n",
        );
        page.push_str("|---|---|---|---|---|---|---|\n");
        for row in CARRIED.iter().filter(|row| row.object == object) {
            page.push_str(&line(row));
        }
    }
    page.push_str(FOOT);
    page
}

fn line(row: &Row) -> String {
    let code = |text: &str| format!("`{text}`");
    let adapt = row.adapt.iter().map(|it| code(it)).collect::<Vec<_>>().join(", ");
    let task_data = row.task_data.map(code).unwrap_or_default();
    let package =
        row.package.map(|(table, column)| code(&format!("{table}.{column}"))).unwrap_or_default();
    let flag = |there: bool| if there { "yes" } else { "" };
    format!(
        "| {} | {adapt} | {task_data} | {package} | {} | {} | {} |\n",
        row.what,
        flag(row.geojson),
        flag(row.pdf),
        flag(row.calendar)
    )
}

const HEAD: &str = "\
# What each form can carry

Written by `dibble openapi --formats openapi/FORMATS.md` from one table
(`api/src/exchange/forms/carried.rs`); tests hold the table against what is written.

Our own JSON carries everything, as entered and with units, and is what to read if you can. The other forms:

| form | one settings sheet | more than one |
|---|---|---|
| JSON | `GET /v1/recommendations/{id}` | `GET /v1/recommendations` and its neighbours |
| ADAPT Standard 2.0.2 | `GET /v1/recommendations/{id}/adapt` | `GET /v1/seasons/{season}/adapt` |
| ISO 11783-10 task data, 4.3 or 3.3 | `GET /v1/recommendations/{id}/task-data` | `GET /v1/growers/{id}/task-data` |
| Data Package 2.0 | `GET /v1/recommendations/{id}/data-package` | `GET /v1/seasons/{season}/data-package` |
| GeoJSON (RFC 7946) | `GET /v1/fields/{id}/geojson` | `GET /v1/field-features` |
| PDF | `GET /v1/recommendations/{id}/sheet/pdf` | `GET /v1/seasons/{season}/report/pdf` |
| iCalendar | | `POST /v1/calendar-feeds` gives the address |

Each form has a path of its own, so that an address says what comes back; `Accept` must allow it. ADAPT, task
data and GeoJSON that are made at once have a strong `ETag` of their content. Drafts are answered to whoever
may see drafts; nobody else finds them.

An empty cell means that the form has no place for it, or that nothing is written there.
";

const FOOT: &str = "
## What they can't carry

**ADAPT.** `notes` are words. Codes that begin with `DIBBLE_` are ours, defined in the catalog of each data
set. `DownforceMargin` is the load on the gauge wheels: the wanted load of a sheet. `SeedSpacingVariation`
of the standard is not a coefficient of variation, so ours has its own code. A grower is a party of unknown
type; seed and liquids are named by crop and kind, since a sheet knows no varieties or trade names. Figures
are in the unit of the definition, with ten digits: what was entered, in which unit, is in our JSON. Rates
by zone do not exist.

**Task data.** Whole numbers of the standard's steps: 1.75 in come back as 1.732 in. Depth, down force and
speed are written only when asked for by name (`depth_setpoint`, `down_force_setpoint`, `speed_setpoint`):
few terminals obey them. ISO 11783 has no entry for row width, gauge-wheel load, closing wheels, row
cleaners or coulters. There is no description of a machine, and so no row spacing. Names are cut to 32
characters, and kept apart where that makes two alike. `NOTES.txt` in the zip says all this of the file at
hand. Version 3.3 keeps no ids of ours.

**Data Package.** SI only, no boundaries, no words but names. **GeoJSON.** Fields only; longitude first,
outer rings against the clock; `geometry` is null where nobody drew a boundary. **PDF.** For people.
**iCalendar.** What is due, not what was found.
";

#[cfg(test)]
mod tests {
    use super::{CARRIED, Object, left_out};
    use crate::exchange::forms::adapt::DEFINITIONS;
    use crate::exchange::forms::task_data::DDIS;
    use crate::reports::tables::SOURCES;

    #[test]
    fn every_definition_and_entry_that_is_written_stands_in_the_table() {
        for definition in DEFINITIONS {
            let there = CARRIED.iter().any(|row| row.adapt.contains(&definition.code));
            assert!(there, "{} is not in the table", definition.code);
        }
        for ddi in DDIS {
            let row = CARRIED.iter().find(|row| row.task_data == Some(ddi.hex));
            assert!(row.is_some_and(|row| row.object == Object::Sheet), "{}", ddi.hex);
        }
    }

    #[test]
    fn what_the_table_says_of_codes_and_columns_is_there() {
        let known = |code: &str| DEFINITIONS.iter().any(|it| it.code == code);
        for row in CARRIED {
            let ours = row.adapt.iter().filter(|code| code.starts_with("DIBBLE_"));
            ours.for_each(|code| assert!(known(code), "{code} is not written"));
            if let Some((table, column)) = row.package {
                let found = SOURCES.iter().map(|it| it.table()).find(|it| it.name == table);
                let columns = found.expect("a table").columns;
                assert!(columns.iter().any(|it| it.name == column), "{table}.{column}");
            }
        }
    }

    #[test]
    fn what_a_file_does_not_carry_is_named() {
        let rate = DDIS.into_iter().take(1);
        let out = left_out(rate);
        assert!(!out.contains(&"seeding rate") && !out.contains(&"crop"), "{out:?}");
        for what in ["depth of the seed", "down force on each row", "height of the coulter"] {
            assert!(out.contains(&what), "{what}");
        }
        assert!(!left_out(DDIS.into_iter()).contains(&"depth of the seed"));
    }
}
