//! Where the records of one kind are, and what stands where in them.

use domain::quantity::{Bound, Measured, bounds, unit};

use super::parameter;
use crate::exchange::intake::{Kind, Member};
use crate::exchange::pull::items::Items;
use crate::exchange::pull::pointer::Pointer;
use crate::exchange::pull::profile::{BoundaryForm, Resource};
use crate::http::quantity::refused as not_in_bound;
use crate::http::{BadMember, Refused};
use crate::v1::records_links::dto::{
    RecordsEncoding, RecordsMeasure, RecordsParameter, RecordsResource,
};

/// What a record of a kind can say.
fn allowed(kind: Kind) -> &'static [Member] {
    match kind {
        Kind::Grower => &[Member::Name, Member::Phone, Member::Email],
        Kind::Farm => &[Member::Parent, Member::Name],
        Kind::Field => &[Member::Parent, Member::Name, Member::Boundary, Member::Area],
        Kind::Planter => &[Member::Parent, Member::Name, Member::Rows, Member::RowSpacing],
        Kind::Yield => &[
            Member::Parent,
            Member::HarvestedOn,
            Member::Crop,
            Member::Grain,
            Member::Moisture,
            Member::HarvestedArea,
            Member::Note,
        ],
    }
}

/// Checks a resource at `at`.
pub(super) fn parse(
    at: &str,
    kind: Kind,
    given: &RecordsResource,
) -> Result<Resource, Vec<BadMember>> {
    let mut refused = Refused::default();
    let path = refused.take(path(at, &given.path));
    let parameters = parameters(at, &given.parameters, &mut refused);
    let items = refused.take(items(at, given.items.as_deref()));
    let mut members = Vec::new();
    let mut units = Vec::new();
    for (member, said, unit) in spoken_of(given) {
        let Some(said) = said else { continue };
        let here = format!("{at}/{}", member.word());
        if !allowed(kind).contains(&member) && !ALWAYS.contains(&member) {
            let detail = format!("A {} has no such member.", kind.word());
            refused.add(BadMember::new(here, detail));
            continue;
        }
        let pointer_at = if unit.is_some() || member == Member::Boundary {
            format!("{here}/pointer")
        } else {
            here.clone()
        };
        members.extend(refused.take(pointer(&pointer_at, said)).map(|it| (member, it)));
        if let Some(code) = unit {
            let unit_at = format!("{here}/unit");
            units.extend(refused.take(measured_in(&unit_at, member, code)).map(|it| (member, it)));
        }
    }
    for needed in needed(kind) {
        if !members.iter().any(|(member, _)| member == needed) {
            let here = format!("{at}/{}", needed.word());
            let detail = format!("Say where the {} stands in a record.", needed.word());
            refused.add(BadMember::new(here, detail).allowed("a JSON Pointer, as /uid"));
        }
    }
    match (kind, given.basis) {
        (Kind::Yield, None) => {
            let detail = "Say how much water the yields count.";
            refused
                .add(BadMember::new(format!("{at}/basis"), detail).allowed("dry or at_moisture"));
        }
        (Kind::Yield, Some(_)) | (_, None) => {}
        (_, Some(_)) => {
            let detail = format!("A {} has no such member.", kind.word());
            refused.add(BadMember::new(format!("{at}/basis"), detail));
        }
    }
    let boundary_in = match given.boundary.as_ref().map(|boundary| boundary.encoding) {
        Some(RecordsEncoding::Wkt) => BoundaryForm::Wkt,
        Some(RecordsEncoding::Geojson) | None => BoundaryForm::GeoJson,
    };
    match (path, items) {
        (Some(path), Some(items)) => {
            let bad = refused.into_members();
            let resource = Resource {
                kind,
                path,
                parameters,
                items,
                members,
                units,
                boundary_in,
                basis: given.basis,
            };
            if bad.is_empty() { Ok(resource) } else { Err(bad) }
        }
        _ => Err(refused.into_members()),
    }
}

/// What a record of any kind can say.
const ALWAYS: [Member; 3] = [Member::Id, Member::Version, Member::UpdatedAt];

fn needed(kind: Kind) -> &'static [Member] {
    match kind {
        Kind::Grower => &[Member::Id, Member::Name],
        Kind::Farm | Kind::Field | Kind::Planter => &[Member::Id, Member::Name, Member::Parent],
        Kind::Yield => {
            &[Member::Id, Member::Parent, Member::HarvestedOn, Member::Crop, Member::Grain]
        }
    }
}

/// What is said of each member, and the unit of what is measured.
fn spoken_of(given: &RecordsResource) -> [(Member, Option<&str>, Option<&str>); 17] {
    fn said(member: Member, pointer: Option<&String>) -> (Member, Option<&str>, Option<&str>) {
        (member, pointer.map(String::as_str), None)
    }
    fn measured(
        member: Member,
        measure: Option<&RecordsMeasure>,
    ) -> (Member, Option<&str>, Option<&str>) {
        let pointer = measure.map(|it| it.pointer.as_str());
        (member, pointer, measure.map(|it| it.unit.as_str()))
    }
    [
        said(Member::Id, given.id.as_ref()),
        said(Member::Version, given.version.as_ref()),
        said(Member::UpdatedAt, given.updated_at.as_ref()),
        said(Member::Parent, given.parent.as_ref()),
        said(Member::Name, given.name.as_ref()),
        said(Member::Phone, given.phone.as_ref()),
        said(Member::Email, given.email.as_ref()),
        said(Member::Boundary, given.boundary.as_ref().map(|it| &it.pointer)),
        said(Member::Rows, given.rows.as_ref()),
        said(Member::HarvestedOn, given.harvested_on.as_ref()),
        said(Member::Crop, given.crop.as_ref()),
        said(Member::Note, given.note.as_ref()),
        measured(Member::Area, given.area.as_ref()),
        measured(Member::RowSpacing, given.row_spacing.as_ref()),
        measured(Member::Grain, given.grain.as_ref()),
        measured(Member::Moisture, given.moisture.as_ref()),
        measured(Member::HarvestedArea, given.harvested_area.as_ref()),
    ]
}

fn path(at: &str, text: &str) -> Result<String, BadMember> {
    let here = format!("{at}/path");
    let text = crate::http::text::line(&here, text, 200)?;
    if !text.starts_with('/') || text.contains(['?', '#', '\\']) {
        let detail = "A path begins with a slash; parameters stand in `parameters`.";
        return Err(BadMember::new(here, detail).given(text).allowed("as /fields"));
    }
    Ok(text)
}

fn parameters(
    at: &str,
    given: &[RecordsParameter],
    refused: &mut Refused,
) -> Vec<(String, String)> {
    if given.len() > 20 {
        let member = BadMember::new(format!("{at}/parameters"), "There are too many parameters.");
        refused.add(member.given(given.len()).allowed("at most 20"));
        return Vec::new();
    }
    let mut all = Vec::new();
    for (index, RecordsParameter { name, value }) in given.iter().enumerate() {
        let here = format!("{at}/parameters/{index}");
        let name = refused.take(parameter(&format!("{here}/name"), name));
        if value.chars().count() > 500 || value.chars().any(char::is_control) {
            let member =
                BadMember::new(format!("{here}/value"), "This is no value of a parameter.");
            refused.add(member.allowed("at most 500 characters on one line"));
        }
        all.extend(name.map(|name| (name, value.clone())));
    }
    all
}

fn items(at: &str, given: Option<&str>) -> Result<Items, BadMember> {
    let here = format!("{at}/items");
    let Some(text) = given else {
        return Err(BadMember::new(here, "Say where the records stand in a page.")
            .allowed("a JSONPath, as $.data[*]"));
    };
    Items::parse(text)
        .map_err(|why| BadMember::new(here, why).given(text.escape_debug()).allowed("as $.data[*]"))
}

fn pointer(at: &str, text: &str) -> Result<Pointer, BadMember> {
    Pointer::parse(text)
        .map_err(|why| BadMember::new(at, why).given(text.escape_debug()).allowed("as /owner/id"))
}

/// A unit of the right dimension.
fn measured_in(at: &str, member: Member, code: &str) -> Result<String, BadMember> {
    match member {
        Member::Area | Member::HarvestedArea => fits(at, &bounds::FIELD_AREA, code),
        Member::RowSpacing => fits(at, &bounds::ROW_WIDTH, code),
        Member::Grain => fits(at, &bounds::GRAIN_YIELD, code),
        Member::Moisture => fits(at, &bounds::GRAIN_MOISTURE, code),
        _ => Ok(code.to_owned()),
    }
}

/// Asks the bound about its own least value in that unit: only the unit can be wrong then.
fn fits<Q: Measured>(at: &str, bound: &Bound<Q>, code: &str) -> Result<String, BadMember> {
    let probe = unit(code).map_or(1.0, |unit| bound.range_in(unit).0);
    bound.parse(probe, code).map_err(|refusal| not_in_bound(at, &refusal))?;
    Ok(code.to_owned())
}
