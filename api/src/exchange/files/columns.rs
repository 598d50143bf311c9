//! The one table of what a file may say: columns of CSV files, properties of features.

use crate::exchange::intake::{Kind, Member};

/// What stands in a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Takes {
    /// Text as it is.
    Text,
    /// Their id of what the record belongs to.
    TheirParent,
    /// Our id of what the record belongs to.
    OurParent,
    /// The name of what the record belongs to.
    NamedParent,
    /// A number in this unit.
    Number(&'static str),
    /// Grain with its water on an area, in this unit.
    Wet(&'static str),
    /// The same in bushels an acre as they are traded: a weight, which depends on the crop.
    Bushels,
    /// Grain without water on an area, in this unit.
    Dry(&'static str),
    /// A crop.
    Crop,
    /// A whole number.
    Whole,
    /// A day.
    Day,
    /// A time with its zone.
    Time,
    /// A GeoJSON geometry as text.
    Geometry,
}

/// How decimals are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Decimal {
    /// `38.5`
    #[default]
    Point,
    /// `38,5`
    Comma,
}

/// A column that is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Column {
    pub name: &'static str,
    pub member: Member,
    pub takes: Takes,
    pub kinds: &'static [Kind],
}

const ALL: &[Kind] = Kind::ALL;
const NAMED: &[Kind] = &[Kind::Grower, Kind::Farm, Kind::Field, Kind::Planter];
const OF_GROWER: &[Kind] = &[Kind::Farm, Kind::Planter];
const GROWER: &[Kind] = &[Kind::Grower];
const FIELD: &[Kind] = &[Kind::Field];
const PLANTER: &[Kind] = &[Kind::Planter];
const YIELD: &[Kind] = &[Kind::Yield];

macro_rules! columns {
    ($($name:literal, $member:ident, $takes:expr, $kinds:ident;)*) => {
        pub(super) const COLUMNS: &[Column] = &[
            $(Column {
                name: $name,
                member: Member::$member,
                takes: $takes,
                kinds: $kinds,
            },)*
        ];
    };
}

columns! {
    "id", Id, Takes::Text, ALL;
    "version", Version, Takes::Text, ALL;
    "updated_at", UpdatedAt, Takes::Time, ALL;
    "name", Name, Takes::Text, NAMED;
    "phone", Phone, Takes::Text, GROWER;
    "email", Email, Takes::Text, GROWER;
    "grower_id", Parent, Takes::TheirParent, OF_GROWER;
    "grower", Parent, Takes::NamedParent, OF_GROWER;
    "our_grower_id", Parent, Takes::OurParent, OF_GROWER;
    "farm_id", Parent, Takes::TheirParent, FIELD;
    "farm", Parent, Takes::NamedParent, FIELD;
    "our_farm_id", Parent, Takes::OurParent, FIELD;
    "area_ac", Area, Takes::Number("[acr_us]"), FIELD;
    "area_ha", Area, Takes::Number("har"), FIELD;
    "area_m2", Area, Takes::Number("m2"), FIELD;
    "boundary_geojson", Boundary, Takes::Geometry, FIELD;
    "rows", Rows, Takes::Whole, PLANTER;
    "row_spacing_in", RowSpacing, Takes::Number("[in_i]"), PLANTER;
    "row_spacing_cm", RowSpacing, Takes::Number("cm"), PLANTER;
    "field_id", Parent, Takes::TheirParent, YIELD;
    "field", Parent, Takes::NamedParent, YIELD;
    "our_field_id", Parent, Takes::OurParent, YIELD;
    "harvested_on", HarvestedOn, Takes::Day, YIELD;
    "crop", Crop, Takes::Crop, YIELD;
    "wet_yield_lb_ac", Grain, Takes::Wet("[lb_av]/[acr_us]"), YIELD;
    "wet_yield_kg_ha", Grain, Takes::Wet("kg/har"), YIELD;
    "wet_yield_t_ha", Grain, Takes::Wet("t/har"), YIELD;
    "wet_yield_bu_ac", Grain, Takes::Bushels, YIELD;
    "dry_yield_lb_ac", Grain, Takes::Dry("[lb_av]/[acr_us]"), YIELD;
    "dry_yield_kg_ha", Grain, Takes::Dry("kg/har"), YIELD;
    "dry_yield_t_ha", Grain, Takes::Dry("t/har"), YIELD;
    "moisture_pct", Moisture, Takes::Number("%"), YIELD;
    "harvested_area_ac", HarvestedArea, Takes::Number("[acr_us]"), YIELD;
    "harvested_area_ha", HarvestedArea, Takes::Number("har"), YIELD;
    "note", Note, Takes::Text, YIELD;
}

/// The column of this name in files of this kind. Capitals and spaces don't matter.
pub(super) fn named(kind: Kind, name: &str) -> Option<&'static Column> {
    let plain = name.trim().to_lowercase().replace([' ', '-'], "_");
    COLUMNS.iter().find(|column| column.name == plain && column.kinds.contains(&kind))
}

/// The names of the columns of a kind, in order.
pub fn names(kind: Kind) -> String {
    let of_kind = COLUMNS.iter().filter(|column| column.kinds.contains(&kind));
    of_kind.map(|column| column.name).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use domain::quantity::unit;

    use super::{COLUMNS, Takes, named};
    use crate::exchange::intake::{Kind, Member};

    #[test]
    fn each_name_stands_there_once_with_a_unit_that_is_known() {
        let names: BTreeSet<&str> = COLUMNS.iter().map(|column| column.name).collect();
        assert_eq!(names.len(), COLUMNS.len());
        for column in COLUMNS {
            if let Takes::Number(code) | Takes::Wet(code) | Takes::Dry(code) = column.takes {
                assert!(unit(code).is_some(), "{}", column.name);
            }
        }
    }

    #[test]
    fn a_column_is_found_in_its_kind_only() {
        assert_eq!(named(Kind::Field, " Area ac").map(|it| it.member), Some(Member::Area));
        assert_eq!(named(Kind::Grower, "area_ac"), None);
        assert_eq!(named(Kind::Field, "area"), None, "an area without a unit says nothing");
    }
}
