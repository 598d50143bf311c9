//! Field by field.

use std::collections::BTreeMap;

use domain::quantity::{Length, Measured};
use domain::season::report::{FieldLine, Named};
use domain::season::{FieldLook, Sums};
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect, QueryTrait};
use uuid::Uuid;

use crate::entities::season_fields::{Column, Entity, Model};
use crate::entities::{fields, growers, planters};
use crate::http::ApiError;
use crate::learned::class_of;
use crate::season::facts::read;
use crate::season::gather::Of;

/// The fields of a grower or of a planter, by name.
pub(super) async fn lines(db: &impl ConnectionTrait, of: Of) -> Result<Vec<FieldLine>, ApiError> {
    let growers = of.scope.growers().select_only().column(growers::Column::Id).into_query();
    let mut rows = Entity::find()
        .filter(Column::PracticeId.eq(of.scope.practice_id))
        .filter(Column::Season.eq(of.season))
        .filter(Column::GrowerId.in_subquery(growers));
    if let Some(planter_id) = of.planter_id {
        rows = rows.filter(Column::PlanterId.eq(planter_id));
    }
    let rows = rows.all(db).await?;
    let names = Names::of(db, of).await?;
    let mut lines: Vec<FieldLine> =
        rows.iter().map(|row| names.line(row)).collect::<Result<_, _>>()?;
    lines.sort_by(|a, b| {
        (&a.field.name, &a.planter.name, a.field.id).cmp(&(
            &b.field.name,
            &b.planter.name,
            b.field.id,
        ))
    });
    Ok(lines)
}

/// The names of what a grower has.
struct Names {
    fields: BTreeMap<Uuid, String>,
    planters: BTreeMap<Uuid, String>,
}

impl Names {
    async fn of(db: &impl ConnectionTrait, of: Of) -> Result<Self, ApiError> {
        let fields: Vec<(Uuid, String)> = of
            .scope
            .fields()
            .select_only()
            .columns([fields::Column::Id, fields::Column::Name])
            .into_tuple()
            .all(db)
            .await?;
        let planters: Vec<(Uuid, String)> = of
            .scope
            .planters()
            .select_only()
            .columns([planters::Column::Id, planters::Column::Name])
            .into_tuple()
            .all(db)
            .await?;
        Ok(Self { fields: fields.into_iter().collect(), planters: planters.into_iter().collect() })
    }

    fn line(&self, row: &Model) -> Result<FieldLine, ApiError> {
        let named = |names: &BTreeMap<Uuid, String>, id: Uuid| Named {
            id: id.as_u128(),
            name: names.get(&id).cloned().unwrap_or_default(),
        };
        let (sums, look): (Sums, FieldLook) = (read(&row.sums)?, read(&row.look)?);
        let metres = |um: i64| i32::try_from(um).map_or(0.0, |um| f64::from(um) * 1e-6);
        Ok(FieldLine {
            field: named(&self.fields, row.field_id),
            planter: named(&self.planters, row.planter_id),
            class: class_of(row.soil, row.cover),
            issued: sums.revisions,
            seen: sums.seen > 0,
            digs: sums.digs,
            first_inside: look.first_inside,
            last_inside: look.last_inside,
            last_off: look.last_off_um.map(|um| Length::from_si(metres(um))),
        })
    }
}
