//! Where a planter was dug behind, and what is known of it there.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use domain::learning::{CoverClass, Learned, Place, SoilClass, SoilGroup};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect, QueryTrait};
use uuid::Uuid;

use super::dto::{PlanterResistance, ResistanceInClass, ResistanceInField};
use super::places::{DugHere, Places, teaching};
use super::say::{self, Shown, without_digs};
use crate::auth::Scope;
use crate::entities::dig_lessons::Column;
use crate::entities::fields;
use crate::http::ApiError;

/// Where a planter was dug behind.
#[derive(Debug)]
pub(super) struct Dug {
    planter_id: Uuid,
    places: Places,
    names: BTreeMap<Uuid, String>,
}

/// Finds where a planter was dug behind.
pub(super) async fn gather(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter_id: Uuid,
) -> Result<Dug, ApiError> {
    let digs = scope.dig_lessons().filter(Column::PlanterId.eq(planter_id));
    let fields = teaching(digs.clone()).select_only().column(Column::FieldId).into_query();
    let names: Vec<(Uuid, String)> = scope
        .fields()
        .filter(fields::Column::Id.in_subquery(fields))
        .select_only()
        .columns([fields::Column::Id, fields::Column::Name])
        .into_tuple()
        .all(db)
        .await?;
    let places = Places::of(db, digs, Column::FieldId).await?;
    Ok(Dug { planter_id, places, names: names.into_iter().collect() })
}

/// The kinds of soil and cover that there are.
fn classes() -> impl Iterator<Item = SoilClass> {
    use CoverClass::{Dead, Living, NoCover};
    use SoilGroup::{Coarse, Fine, Medium, Unknown};
    [Medium, Fine, Coarse, Unknown]
        .into_iter()
        .flat_map(|soil| [NoCover, Living, Dead].map(|cover| SoilClass { soil, cover }))
}

impl Dug {
    /// With what is known there.
    pub(super) fn shown(&self, learned: &Learned, season: u16) -> PlanterResistance {
        let in_class = |class| self.in_class(learned, class, season);
        let mut classes: Vec<ResistanceInClass> = classes().filter_map(in_class).collect();
        classes.sort_by_key(|class| Reverse(class.digs.planter));
        PlanterResistance {
            planter_id: self.planter_id,
            season,
            digs: self.places.digs(),
            digs_that_teach_nothing: self.places.silent,
            last_dug_at: self.places.last(),
            without_digs: without_digs(learned),
            classes,
        }
    }

    /// In one kind of soil and cover; none where nobody of the practice dug.
    fn in_class(
        &self,
        learned: &Learned,
        class: SoilClass,
        season: u16,
    ) -> Option<ResistanceInClass> {
        let place = |field: Uuid| Place {
            class,
            planter: self.planter_id.as_u128(),
            field: field.as_u128(),
            season,
        };
        // No field has this id.
        let Shown { resistance, digs, words } = say::at(learned, &place(Uuid::nil()));
        if digs.soil_and_cover == 0 {
            return None;
        }
        let own = || self.places.list.iter().filter(|here| here.class == class);
        let in_field = |here: &DugHere| {
            let name = self.names.get(&here.id)?.clone();
            let Shown { resistance, digs, words } = say::at(learned, &place(here.id));
            let (field_id, last_dug_at) = (here.id, here.last);
            Some(ResistanceInField { field_id, name, resistance, digs, last_dug_at, words })
        };
        let mut fields: Vec<ResistanceInField> = own().filter_map(in_field).collect();
        fields.sort_by(|a, b| (&a.name, a.field_id).cmp(&(&b.name, b.field_id)));
        Some(ResistanceInClass {
            soil: class.soil.into(),
            cover: class.cover.into(),
            soil_and_cover: class.words(),
            resistance,
            digs,
            last_dug_at: own().map(|here| here.last).max(),
            words,
            fields,
        })
    }
}
