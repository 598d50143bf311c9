//! What records systems send: the bodies of `PUT` and of batches.

use std::sync::Arc;

use chrono::{DateTime, NaiveDate, Utc};
use serde::Deserialize;
use utoipa::ToSchema;
use uuid::Uuid;

use crate::exchange::intake::{Columns, Incoming, Kind, Member, Parent, Place, Said};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{BadMember, text};
use crate::v1::conditions::Crop;
use crate::v1::fields::Boundary;
use crate::v1::planters::Makeup;
use crate::v1::yields::dto::GrainBasis;

/// Most characters of their version of a record.
const VERSION_MOST: usize = 200;

/// What comes with each record beside what it says.
#[derive(Debug, Default)]
struct Beside {
    id: Option<String>,
    version: Option<String>,
    updated_at: Option<DateTime<Utc>>,
}

/// The bodies: what they share is said here once, and of each only what is its own.
macro_rules! bodies {
    ($(
        $(#[$about:meta])*
        struct $body:ident
        $(id $id:tt)?
        $(under $theirs:ident $theirs_about:tt $theirs_example:tt, $ours:ident $ours_about:tt)?
        $(named $name_about:tt $name_example:tt)?
        { $($own:tt)* }
        $(beside $version:ident $updated_at:ident)?
    )*) => {$(
        #[derive(Debug, Deserialize, ToSchema)]
        #[serde(deny_unknown_fields)]
        $(#[$about])*
        pub struct $body {
            $(
                /// Their id. With `PUT` the path has it, and this one must be the same where it is sent.
                #[serde(default, deserialize_with = "present")]
                #[schema(nullable = false, min_length = 1, max_length = 200, example = $id)]
                pub id: Option<String>,
            )?
            $(
                #[doc = $theirs_about]
                #[serde(default, deserialize_with = "present")]
                #[schema(nullable = false, min_length = 1, max_length = 200, example = $theirs_example)]
                pub $theirs: Option<String>,
                #[doc = $ours_about]
                #[serde(default, deserialize_with = "present")]
                #[schema(nullable = false)]
                pub $ours: Option<Uuid>,
            )?
            $(
                #[doc = $name_about]
                #[serde(default, deserialize_with = "present")]
                #[schema(
                    nullable = false,
                    min_length = 1,
                    max_length = 120,
                    example = $name_example,
                    pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
                )]
                pub name: Option<String>,
            )?
            $($own)*
            $(
                /// Their version of the record; kept beside.
                #[serde(default, deserialize_with = "present")]
                #[schema(nullable = false, min_length = 1, max_length = 200, example = "3")]
                pub $version: Option<String>,
                /// When they changed it; kept beside.
                #[serde(default, deserialize_with = "present")]
                #[schema(nullable = false, example = "2027-03-02T08:00:00Z")]
                pub $updated_at: Option<DateTime<Utc>>,
            )?
        }
    )*};
}

bodies! {
    /// A grower as a records system knows him. What is absent is not spoken of and stays.
    #[schema(examples(json!({
        "name": "Miller Brothers", "phone": "+1 515 555 0100", "version": "3"
    })))]
    struct ExternalGrowerIn
    id "G-7"
    named "Name, unique in the practice. A new grower needs one." "Miller Brothers"
    {
        /// Telephone number as people write it.
        #[serde(default, deserialize_with = "present")]
        #[schema(
            nullable = false,
            min_length = 1,
            max_length = 40,
            example = "+1 515 555 0100",
            pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
        )]
        pub phone: Option<String>,
        /// E-mail address.
        #[serde(default, deserialize_with = "present")]
        #[schema(
            nullable = false,
            max_length = 254,
            example = "office@example.org",
            pattern = r"^[^@\s\x00-\x1F\x7F-\x9F]+@[^@\s\x00-\x1F\x7F-\x9F]+$"
        )]
        pub email: Option<String>,
    }
    beside version updated_at

    /// A farm as a records system knows it. What is absent is not spoken of and stays.
    #[schema(examples(
        json!({"grower_id": "01964f1e-6a00-7000-8000-000000000002", "name": "Home farm"}),
        json!({"id": "FARM-1", "grower": "G-7", "name": "Home farm"})
    ))]
    struct ExternalFarmIn
    id "FARM-1"
    under
        grower "Their id of the grower. A new farm needs its grower, by this or by `grower_id`." "G-7",
        grower_id "Our id of the grower, instead of `grower`."
    named "Name, unique among the farms of the grower. A new farm needs one." "Home farm"
    {}
    beside version updated_at

    /// A field as a records system knows it, as a GeoJSON Feature (RFC 7946).
    #[schema(examples(json!({
        "type": "Feature",
        "geometry": {
            "type": "Polygon",
            "coordinates": [[
                [-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]
            ]]
        },
        "properties": {
            "farm": "FARM-1", "name": "North forty", "area": {"value": 226.9, "unit": "[acr_us]"}
        }
    })))]
    struct ExternalFieldIn
    id "F-12"
    {
        /// Says that it is a Feature.
        pub r#type: FeatureType,
        /// Boundary on the ground; absent or `null` says nothing of it.
        #[serde(default)]
        pub geometry: Option<Boundary>,
        /// What else it says.
        pub properties: ExternalFieldProperties,
    }

    /// What a records system says of a field beside its boundary. What is absent is not spoken of and
    /// stays.
    #[schema(examples(json!({
        "farm": "FARM-1", "name": "North forty", "area": {"value": 226.9, "unit": "[acr_us]"}
    })))]
    struct ExternalFieldProperties
    under
        farm "Their id of the farm. A new field needs its farm, by this or by `farm_id`." "FARM-1",
        farm_id "Our id of the farm, instead of `farm`."
    named "Name, unique among the fields of the farm. A new field needs one." "North forty"
    {
        /// Area as people know it, 0.01 to 20000 acres in any unit of area. One that would fit the
        /// boundary in another unit is refused.
        #[serde(default, deserialize_with = "present")]
        #[schema(nullable = false)]
        pub area: Option<Quantity>,
    }
    beside version updated_at

    /// A planter as a records system knows it. What is absent is not spoken of and stays.
    #[schema(examples(
        json!({
            "grower_id": "01964f1e-6a00-7000-8000-000000000002", "name": "The eight-row", "rows": 8,
            "row_spacing": {"value": 30, "unit": "[in_i]"}
        }),
        json!({"id": "P-3", "grower": "G-7", "name": "The eight-row", "rows": 8})
    ))]
    struct ExternalPlanterIn
    id "P-3"
    under
        grower "Their id of the grower. A new planter needs its grower, by this or by `grower_id`." "G-7",
        grower_id "Our id of the grower, instead of `grower`."
    named "Name, unique among the planters of the grower. A new planter needs one." "The eight-row"
    {
        /// Number of rows.
        #[serde(default, deserialize_with = "present")]
        #[schema(nullable = false, minimum = 1, maximum = 64, example = 8)]
        pub rows: Option<u16>,
        /// Distance between rows, 5 to 60 in.
        #[serde(default, deserialize_with = "present")]
        #[schema(nullable = false)]
        pub row_spacing: Option<Quantity>,
        /// The whole make-up, from a records system that knows it; rows and row spacing are then taken
        /// from it. A new planter without one waits until a person gives it.
        #[serde(default, deserialize_with = "present")]
        #[schema(nullable = false)]
        pub makeup: Option<Makeup>,
    }
    beside version updated_at

    /// A yield as a records system knows it. What is absent is not spoken of and stays.
    #[schema(examples(
        json!({
            "field_id": "01964f1e-6a00-7000-8000-000000000004", "harvested_on": "2026-10-12",
            "crop": "corn", "grain": {"value": 11200, "unit": "[lb_av]/[acr_us]"},
            "basis": "at_moisture", "moisture": {"value": 18.2, "unit": "%"}
        }),
        json!({
            "id": "Y-2026-12", "field": "F-12", "harvested_on": "2026-10-12", "crop": "corn",
            "grain": {"value": 8960, "unit": "[lb_av]/[acr_us]"}, "basis": "dry"
        })
    ))]
    struct ExternalYieldIn
    id "Y-2026-12"
    under
        field "Their id of the field. A new yield needs its field, by this or by `field_id`." "F-12",
        field_id "Our id of the field, instead of `field`."
    {
        /// The day on which most of it was harvested; from 2000 on, and not in the future.
        #[serde(default, deserialize_with = "present")]
        #[schema(nullable = false, example = "2026-10-12")]
        pub harvested_on: Option<NaiveDate>,
        /// The crop.
        #[serde(default, deserialize_with = "present")]
        #[schema(nullable = false)]
        pub crop: Option<Crop>,
        /// Grain on an area, a mean over what was harvested. Bound: `grain_yield`.
        #[serde(default, deserialize_with = "present")]
        #[schema(nullable = false)]
        pub grain: Option<Quantity>,
        /// How much water `grain` counts.
        #[serde(default, deserialize_with = "present")]
        #[schema(nullable = false)]
        pub basis: Option<GrainBasis>,
        /// Water in the grain that `grain` counts, by wet weight. Bound: `grain_moisture`.
        #[serde(default, deserialize_with = "present")]
        #[schema(nullable = false)]
        pub moisture: Option<Quantity>,
        /// Area that was harvested. Bound: `field_area`.
        #[serde(default, deserialize_with = "present")]
        #[schema(nullable = false)]
        pub area: Option<Quantity>,
        /// A note.
        #[serde(default, deserialize_with = "present")]
        #[schema(
            nullable = false,
            max_length = 4000,
            example = "The east end was flooded in June.",
            pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
        )]
        pub note: Option<String>,
    }
    beside version updated_at
}

/// That it is a Feature.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, ToSchema)]
pub enum FeatureType {
    /// A GeoJSON Feature.
    Feature,
}

/// That it is a `FeatureCollection`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, ToSchema)]
pub enum FeatureCollectionType {
    /// A GeoJSON `FeatureCollection`.
    FeatureCollection,
}

/// Something that says a record.
pub(super) trait Says {
    /// What it is about.
    const KIND: Kind;

    /// What parents are called in it.
    const PARENT: &'static str;

    /// The record, which stands at `place`, whose members stand where [`columns`] says.
    fn says(self, place: Place) -> Incoming;
}

/// Where the members of a record stand in these bodies.
pub(super) fn columns<S: Says>() -> Arc<Columns> {
    let inside = if S::KIND == Kind::Field { "/properties" } else { "" };
    let members = Member::COMPARED.iter().chain(&[Member::Version, Member::UpdatedAt]);
    let plain = members.map(|member| (*member, format!("{inside}/{}", member.word())));
    let own = [
        (Member::Id, "/id".to_owned()),
        (Member::Parent, format!("{inside}/{}", S::PARENT)),
        (Member::OurParent, format!("{inside}/{}_id", S::PARENT)),
        (Member::Boundary, "/geometry".to_owned()),
        (Member::HarvestedArea, "/area".to_owned()),
    ];
    Arc::new(plain.chain(own).collect())
}

impl Says for ExternalGrowerIn {
    const KIND: Kind = Kind::Grower;
    const PARENT: &'static str = "";

    fn says(self, place: Place) -> Incoming {
        let Self { id, name, phone, email, version, updated_at } = self;
        let said = Said { name, phone, email, ..Said::default() };
        record(Kind::Grower, place, Beside { id, version, updated_at }, said)
    }
}

impl Says for ExternalFarmIn {
    const KIND: Kind = Kind::Farm;
    const PARENT: &'static str = "grower";

    fn says(self, place: Place) -> Incoming {
        let Self { id, grower, grower_id, name, version, updated_at } = self;
        let said = Said { name, ..Said::default() };
        let record = record(Kind::Farm, place, Beside { id, version, updated_at }, said);
        under(record, (grower, grower_id))
    }
}

impl Says for ExternalFieldIn {
    const KIND: Kind = Kind::Field;
    const PARENT: &'static str = "farm";

    fn says(self, place: Place) -> Incoming {
        let Self { r#type: FeatureType::Feature, id, geometry, properties } = self;
        let ExternalFieldProperties { farm, farm_id, name, area, version, updated_at } = properties;
        let said = Said { name, boundary: geometry, area, ..Said::default() };
        let record = record(Kind::Field, place, Beside { id, version, updated_at }, said);
        under(record, (farm, farm_id))
    }
}

impl Says for ExternalPlanterIn {
    const KIND: Kind = Kind::Planter;
    const PARENT: &'static str = "grower";

    fn says(self, place: Place) -> Incoming {
        let Self { id, grower, grower_id, name, rows, row_spacing, makeup, version, updated_at } =
            self;
        let said = Said { name, rows, row_spacing, makeup, ..Said::default() };
        let record = record(Kind::Planter, place, Beside { id, version, updated_at }, said);
        under(record, (grower, grower_id))
    }
}

impl Says for ExternalYieldIn {
    const KIND: Kind = Kind::Yield;
    const PARENT: &'static str = "field";

    fn says(self, place: Place) -> Incoming {
        let Self {
            id,
            field,
            field_id,
            harvested_on,
            crop,
            grain,
            basis,
            moisture,
            area,
            note,
            version,
            updated_at,
        } = self;
        let harvested_area = area;
        let said = Said {
            harvested_on,
            crop,
            grain,
            basis,
            moisture,
            harvested_area,
            note,
            ..Said::default()
        };
        let record = record(Kind::Yield, place, Beside { id, version, updated_at }, said);
        under(record, (field, field_id))
    }
}

fn record(kind: Kind, place: Place, beside: Beside, said: Said) -> Incoming {
    let mut record = Incoming::new(kind, place);
    if let Some(version) = &beside.version {
        let at = record.place.of(Member::Version);
        record.unread.extend(text::line(&at, version, VERSION_MOST).err());
    }
    record.their_id = beside.id;
    record.their_version = beside.version;
    record.updated_at = beside.updated_at;
    record.said = said;
    record
}

/// A record that belongs to something, by one of both ids.
fn under(mut record: Incoming, named: (Option<String>, Option<Uuid>)) -> Incoming {
    record.said.parent = match named {
        (None, None) => None,
        (Some(theirs), None) => Some(Parent::Theirs(theirs)),
        (None, Some(ours)) => Some(Parent::Ours(ours)),
        (Some(_), Some(_)) => {
            let at = record.place.of(Member::OurParent);
            record.unread.push(BadMember::new(at, "Give their id or ours, not both."));
            None
        }
    };
    record
}
