//! From the wire to the store.

use domain::quantity::{Area, bounds};

use super::boundary::Boundary;
use super::dto::{FieldIn, FieldPatch};
use super::store::{FieldChange, NewField};
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, Refused, text};

impl FieldIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<NewField, ApiError> {
        let Self { farm_id, name, boundary, entered_area, texture_class, notes } = self;
        let mut refused = Refused::default();
        let name = refused.take(text::name("/name", &name));
        let boundary = boundary.and_then(|given| refused.take(measured(given)));
        let entered_area = entered_area.and_then(|given| refused.take(area(given)));
        let notes = notes.and_then(|given| refused.take(text::notes("/notes", &given)));
        let Some(name) = name else { return Err(refused.into()) };
        refused.finish()?;
        Ok(NewField { farm_id, name, boundary, entered_area, texture_class, notes })
    }
}

impl FieldPatch {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<FieldChange, ApiError> {
        let Self { name, boundary, entered_area, texture_class, notes } = self;
        let mut refused = Refused::default();
        let name = name.and_then(|given| refused.take(text::name("/name", &given)));
        let boundary = refused.take(boundary.try_map(measured));
        let entered_area = refused.take(entered_area.try_map(area));
        let notes = refused.take(notes.try_map(|given| text::notes("/notes", &given)));
        let (Some(boundary), Some(entered_area), Some(notes)) = (boundary, entered_area, notes)
        else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(FieldChange { name, boundary, entered_area, texture_class, notes })
    }
}

/// A boundary and its area.
fn measured(given: Boundary) -> Result<(Boundary, Area), BadMember> {
    let area = given.area("/boundary")?;
    Ok((given, area))
}

fn area(given: Quantity) -> Result<Quantity, BadMember> {
    given.parse("/entered_area", &bounds::FIELD_AREA)?;
    Ok(given)
}
