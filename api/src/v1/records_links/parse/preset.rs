//! Profiles that are written already.

use crate::exchange::intake::Kind;
use crate::v1::records_links::dto::{
    RecordsBoundary, RecordsEncoding, RecordsPaging, RecordsPreset, RecordsResource,
};

/// How pages lead to each other.
pub(super) fn paging(preset: RecordsPreset) -> RecordsPaging {
    match preset {
        RecordsPreset::FeatureCollection => RecordsPaging::One {},
        RecordsPreset::OgcFeatures => RecordsPaging::Links {},
    }
}

/// A resource of features, as all presets have them, with what was not said filled in.
pub(super) fn fill(kind: Kind, mut resource: RecordsResource) -> RecordsResource {
    let say = |text: &str| Some(text.to_owned());
    resource.items = resource.items.or_else(|| say("$.features[*]"));
    resource.id = resource.id.or_else(|| say("/id"));
    if kind != Kind::Yield {
        resource.name = resource.name.or_else(|| say("/properties/name"));
    }
    if kind == Kind::Field {
        let pointer = "/geometry".to_owned();
        let geometry = RecordsBoundary { pointer, encoding: RecordsEncoding::Geojson };
        resource.boundary = resource.boundary.or(Some(geometry));
    }
    resource
}
