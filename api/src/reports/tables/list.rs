//! The tables, from whom a row refers to to what refers.
//!
//! SI throughout, one unit a column. What was entered in other units is in the service itself.

use super::column::{Anonymous, Column, Table};

const SOILS: &[&str] = &["unknown", "coarse", "medium", "fine", "merged"];
const COVERS: &[&str] = &["no_cover", "living", "dead", "merged"];
const CROPS: &[&str] = &["corn", "soybean"];

const GROWER: Column = Column::id("grower_id", "The grower.");
const PLANTER: Column = Column::id("planter_id", "The planter.");
const FIELD: Column = Column::id("field_id", "The field.");
const SHEET: Column = Column::id("sheet_id", "The revision of a settings sheet.");
const CROP: Column = Column::word("crop", "The crop.", CROPS);

/// Growers, those of the planters and fields below.
pub(super) const GROWERS: Table = Table {
    name: "growers",
    what: "Growers in the scope of the export.",
    columns: &[GROWER, Column::text("name", "The name of the grower.")],
    refers: &[],
};

/// Planters.
pub(super) const PLANTERS: Table = Table {
    name: "planters",
    what: "Their planters, as they are now.",
    columns: &[
        PLANTER,
        GROWER,
        Column::text("name", "The name of the planter."),
        Column::whole("rows", "Rows.").without_names(Anonymous::Rounded(8.0)),
        Column::number("row_spacing_cm", "Distance between rows.", "cm")
            .icasa("row_spacing")
            .without_names(Anonymous::Shared),
        Column::word(
            "down_force",
            "What makes the down force.",
            &["weight_only", "spring", "air_bag", "hydraulic"],
        )
        .without_names(Anonymous::Shared),
    ],
    refers: &[("grower_id", "growers")],
};

/// Fields.
pub(super) const FIELDS: Table = Table {
    name: "fields",
    what: "Their fields, as they are now.",
    columns: &[
        FIELD,
        GROWER,
        Column::text("farm", "The name of the farm."),
        Column::text("name", "The name of the field."),
        Column::number("area_m2", "Its area.", "m2")
            .icasa("field_area")
            .without_names(Anonymous::Rounded(200_000.0)),
        Column::word(
            "texture_usda",
            "Texture class of the USDA scheme.",
            &[
                "sand",
                "loamy_sand",
                "sandy_loam",
                "loam",
                "silt_loam",
                "silt",
                "sandy_clay_loam",
                "clay_loam",
                "silty_clay_loam",
                "sandy_clay",
                "silty_clay",
                "clay",
            ],
        )
        .without_names(Anonymous::Shared),
    ],
    refers: &[("grower_id", "growers")],
};

/// Revisions of settings sheets.
pub(super) const SHEETS: Table = Table {
    name: "sheets",
    what: "Revisions of settings sheets that were issued in the season, or that a dig or a planting of it refers to.",
    columns: &[
        SHEET,
        Column::id("series_id", "All revisions of one recommendation have the same."),
        FIELD,
        PLANTER,
        Column::whole("revision", "1 for the first.").always(),
        Column::word(
            "status",
            "What became of it.",
            &["draft", "issued", "acknowledged", "superseded"],
        )
        .always(),
        CROP,
        Column::time("issued_at", "When it was issued."),
        Column::time("seen_at", "When whoever plants confirmed it."),
        Column::number(
            "down_force_n",
            "Down force on a row, half-full hopper; negative is lift.",
            "N",
        ),
        Column::number("depth_mm", "Depth of the seed.", "mm").icasa("planting_depth"),
        Column::number("speed_m_s", "Speed.", "m/s"),
        Column::number("seeds_m2", "Seeding rate.", "/m2").icasa("plant_pop_at_planting"),
    ],
    refers: &[("field_id", "fields"), ("planter_id", "planters")],
};

/// Digs.
pub(super) const DIGS: Table = Table {
    name: "digs",
    what: "Digs of the season.",
    columns: &[
        Column::id("dig_id", "The dig."),
        SHEET,
        FIELD,
        PLANTER,
        Column::time("dug_at", "When somebody dug.").always(),
        Column::word("soil", "Texture group.", SOILS).without_names(Anonymous::Shared),
        Column::word("cover", "Cover crop.", COVERS).without_names(Anonymous::Shared),
        Column::flag(
            "counts",
            "Whether it counts in shares: sent once, after its sheet, units not in doubt.",
        )
        .always(),
        Column::flag("depth_in_window", "Whether the mean depth was within tolerance."),
        Column::flag("load_in_window", "Whether the load on the gauge wheels was in the window."),
        Column::number(
            "depth_off_mm",
            "Mean depth less the depth wanted; negative is too shallow.",
            "mm",
        ),
        Column::number("tolerance_mm", "How far from the depth wanted a seed may lie.", "mm"),
        Column::whole("seeds", "Seeds measured.").always(),
        Column::whole("seeds_in_window", "Those within tolerance.").always(),
        Column::number("load_n", "Load on the gauge wheels of a row, where it was logged.", "N"),
        Column::number("speed_m_s", "Speed, as reported, else as advised.", "m/s"),
        Column::text("cause", "The cause that the dig pointed to first.")
            .without_names(Anonymous::Stays),
    ],
    refers: &[("sheet_id", "sheets"), ("field_id", "fields"), ("planter_id", "planters")],
};

/// Adjustments.
pub(super) const ADJUSTMENTS: Table = Table {
    name: "adjustments",
    what: "Changes that digs of the season proposed.",
    columns: &[
        Column::id("adjustment_id", "The proposed change."),
        Column::id("dig_id", "The dig that proposed it."),
        SHEET,
        Column::word("status", "What the advisor decided.", &["proposed", "accepted", "declined"])
            .always(),
        Column::text("cause", "The cause it deals with.").without_names(Anonymous::Stays),
        Column::text("changes", "What it changes.").without_names(Anonymous::Stays),
        Column::time("decided_at", "When it was decided."),
    ],
    refers: &[("dig_id", "digs"), ("sheet_id", "sheets")],
};

/// Plantings.
pub(super) const PLANTINGS: Table = Table {
    name: "plantings",
    what: "Plantings of the season that were reported.",
    columns: &[
        Column::id("planting_id", "The planting."),
        FIELD,
        PLANTER,
        SHEET.maybe(),
        Column::day("planted_on", "The day.").always().icasa("planting_date"),
        CROP.always(),
        Column::number("area_m2", "Land that was planted.", "m2")
            .without_names(Anonymous::Rounded(200_000.0)),
        Column::number("seeds_m2", "Seeding rate.", "/m2").icasa("plant_pop_at_planting"),
        Column::number("depth_mm", "Depth of the seed.", "mm").icasa("planting_depth"),
        Column::number("hours", "Hours it took.", "h"),
        Column::number("cost", "What it cost: seed, trip and work.", "1")
            .without_names(Anonymous::LeftOut),
        Column::text("currency", "Code of the currency (ISO 4217).")
            .without_names(Anonymous::LeftOut),
    ],
    refers: &[("field_id", "fields"), ("planter_id", "planters"), ("sheet_id", "sheets")],
};

/// Stands.
pub(super) const STANDS: Table = Table {
    name: "stands",
    what: "Stands that were counted.",
    columns: &[
        Column::whole("stand", "Running number.").always(),
        FIELD,
        CROP.always(),
        Column::day("planted_on", "The day of planting.").always().icasa("planting_date"),
        Column::day("counted_on", "The day of the count.").always(),
        Column::number("plants_m2", "Plants.", "/m2").icasa("plant_density_emergence"),
        Column::number("plants_low_m2", "Low limit, 95 %.", "/m2"),
        Column::number("plants_high_m2", "High limit, 95 %.", "/m2"),
        Column::number("emergence_pct", "Plants of the seeds that were dropped.", "%"),
    ],
    refers: &[("field_id", "fields")],
};

/// Effects of trials.
pub(super) const EFFECTS: Table = Table {
    name: "trial-effects",
    what: "What trials found: differences between treatments.",
    columns: &[
        Column::whole("effect", "Running number.").always(),
        Column::id("trial_id", "The trial."),
        Column::text("trial", "Its name."),
        Column::text("response", "What was measured."),
        Column::text("unit", "UCUM code of the unit of the figures.")
            .without_names(Anonymous::Stays),
        Column::text("treatment", "The treatment."),
        Column::text("against", "What it is held against."),
        Column::number("difference", "Treatment less the other.", "1"),
        Column::number("low", "Low limit, 95 %; none without replication.", "1"),
        Column::number("high", "High limit.", "1"),
        Column::number("p", "The p-value; none without replication.", "1"),
    ],
    refers: &[],
};

/// Wear.
pub(super) const WEAR: Table = Table {
    name: "wear",
    what: "Parts that wear, as last measured.",
    columns: &[
        Column::whole("part_number", "Running number.").always(),
        PLANTER,
        Column::text("part", "Code of the part.").without_names(Anonymous::Stays),
        Column::text("rows", "The rows, separated by spaces; empty means all.")
            .without_names(Anonymous::LeftOut),
        Column::day("measured_on", "When it was measured.").always(),
        Column::number("measured_mm", "What was measured.", "mm"),
        Column::number("limit_mm", "Its limit.", "mm"),
        Column::number("wear_mm_km2", "Wear by land.", "mm/km2"),
        Column::number("area_left_m2", "Land that it still plants before its limit.", "m2"),
        Column::flag("replace", "Whether it is at its limit, or its replacement is open.").always(),
    ],
    refers: &[("planter_id", "planters")],
};
