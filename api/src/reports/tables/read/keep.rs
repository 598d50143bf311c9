//! Growers, planters and fields.

use domain::quantity::unit;
use sea_orm::{
    ActiveEnum, ColumnTrait, DatabaseConnection, EntityTrait, FromQueryResult, JoinType,
    QueryFilter, QueryOrder, QuerySelect,
};
use serde_json::Value;
use uuid::Uuid;

use super::Keyed;
use crate::entities::{
    farms, fields as field_rows, growers as grower_rows, planters as planter_rows,
};
use crate::http::ApiError;
use crate::reports::tables::{AT_ONCE, Cell};
use crate::season::gather::Of;
use crate::v1::fields::texture::TextureClass;

pub(crate) async fn growers(
    db: &DatabaseConnection,
    of: Of,
    after: Uuid,
) -> Result<Vec<Keyed>, ApiError> {
    use grower_rows::Column;
    let rows = of
        .scope
        .growers()
        .filter(Column::Id.gt(after))
        .filter(Column::CreatedAt.lte(of.now))
        .order_by_asc(Column::Id)
        .limit(AT_ONCE)
        .all(db)
        .await?;
    Ok(rows.into_iter().map(|row| (row.id, vec![Cell::Id(row.id), Cell::Text(row.name)])).collect())
}

pub(crate) async fn planters(
    db: &DatabaseConnection,
    of: Of,
    after: Uuid,
) -> Result<Vec<Keyed>, ApiError> {
    use planter_rows::Column;
    let rows =
        of.scope.planters().filter(Column::Id.gt(after)).filter(Column::CreatedAt.lte(of.now));
    let rows = rows.order_by_asc(Column::Id).limit(AT_ONCE).all(db).await?;
    Ok(rows.into_iter().map(|row| (row.id, planter(row))).collect())
}

fn planter(row: planter_rows::Model) -> Vec<Cell> {
    let makeup = &row.makeup;
    let number = |pointer: &str| makeup.pointer(pointer).and_then(Value::as_f64);
    let code = makeup.pointer("/row_width/unit").and_then(Value::as_str);
    let width = number("/row_width/value")
        .zip(code.and_then(unit))
        .map(|(value, unit)| unit.to_si(value) * 100.0);
    let force = makeup.pointer("/down_force/kind").and_then(Value::as_str);
    vec![
        Cell::Id(row.id),
        Cell::Id(row.grower_id),
        Cell::Text(row.name),
        Cell::maybe(makeup.pointer("/rows").and_then(Value::as_i64), Cell::Whole),
        Cell::number(width, 1),
        Cell::maybe(force, |kind| Cell::Word(kind.to_owned())),
    ]
}

/// A field and the farm it belongs to.
#[derive(Debug, FromQueryResult)]
struct Field {
    id: Uuid,
    grower_id: Uuid,
    farm: String,
    name: String,
    area_m2: Option<f64>,
    texture_class: Option<TextureClass>,
}

pub(crate) async fn fields(
    db: &DatabaseConnection,
    of: Of,
    after: Uuid,
) -> Result<Vec<Keyed>, ApiError> {
    use field_rows::Column;
    let farm = field_rows::Entity::belongs_to(farms::Entity)
        .from((Column::PracticeId, Column::FarmId))
        .to((farms::Column::PracticeId, farms::Column::Id));
    let rows: Vec<Field> = of
        .scope
        .fields()
        .filter(Column::Id.gt(after))
        .filter(Column::CreatedAt.lte(of.now))
        .join(JoinType::InnerJoin, farm.into())
        .select_only()
        .columns([Column::Id, Column::Name, Column::AreaM2, Column::TextureClass])
        .column(farms::Column::GrowerId)
        .column_as(farms::Column::Name, "farm")
        .order_by_asc(Column::Id)
        .limit(AT_ONCE)
        .into_model()
        .all(db)
        .await?;
    let cells = |row: Field| {
        vec![
            Cell::Id(row.id),
            Cell::Id(row.grower_id),
            Cell::Text(row.farm),
            Cell::Text(row.name),
            Cell::number(row.area_m2, 0),
            Cell::maybe(row.texture_class, |it| Cell::Word(it.to_value())),
        ]
    };
    Ok(rows.into_iter().map(|row| (row.id, cells(row))).collect())
}
