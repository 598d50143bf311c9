//! Sheets, digs, adjustments and plantings of the season.

use chrono::{DateTime, NaiveDate, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, Query, SelectStatement};
use sea_orm::{
    ActiveEnum, ColumnTrait, Condition, DatabaseConnection, EntityTrait, FromQueryResult, JoinType,
    QueryFilter, QueryOrder, QuerySelect, RelationDef, Select,
};
use uuid::Uuid;

use super::Keyed;
use crate::entities::dig_lessons::{Cover, Soil};
use crate::entities::plantings::Crop;
use crate::entities::{
    adjustments as change_rows, dig_checks, plantings as planting_rows, recommendations,
    season_digs,
};
use crate::http::ApiError;
use crate::reports::tables::{AT_ONCE, Cell};
use crate::season::gather::Of;

fn word(value: Option<String>) -> Cell {
    Cell::maybe(value, Cell::Word)
}

/// A revision of a sheet with the settings that it gave.
#[derive(Debug, FromQueryResult)]
struct Sheet {
    id: Uuid,
    series_id: Uuid,
    field_id: Uuid,
    planter_id: Uuid,
    revision: i32,
    status: recommendations::Status,
    issued_at: Option<DateTime<Utc>>,
    acknowledged_at: Option<DateTime<Utc>>,
    crop: Option<String>,
    force: Option<String>,
    depth: Option<String>,
    speed: Option<String>,
    rate: Option<String>,
}

/// A number that the database gives as text, in a larger or smaller unit.
fn figure(value: Option<String>, times: f64, digits: usize) -> Cell {
    let number = value.and_then(|text| text.parse::<f64>().ok());
    Cell::number(number.map(|it| it * times), digits)
}

pub(crate) async fn sheets(
    db: &DatabaseConnection,
    of: Of,
    after: Uuid,
) -> Result<Vec<Keyed>, ApiError> {
    use recommendations::Column;
    let rows = of
        .scope
        .recommendations()
        .filter(Column::Id.gt(after))
        .filter(Column::CreatedAt.lte(of.now))
        .filter(sheets_of_season(of));
    let columns = [
        Column::Id,
        Column::SeriesId,
        Column::FieldId,
        Column::PlanterId,
        Column::Revision,
        Column::Status,
        Column::IssuedAt,
        Column::AcknowledgedAt,
    ];
    // Both engines read members of a JSON column so; as text, since a whole number is another type.
    let rows: Vec<Sheet> = rows
        .select_only()
        .columns(columns)
        .column_as(Expr::cust("CAST(recommendations.inputs -> 'field' ->> 'crop' AS TEXT)"), "crop")
        .column_as(
            Expr::cust("CAST(recommendations.result -> 'down_force' ->> 'per_row' AS TEXT)"),
            "force",
        )
        .column_as(
            Expr::cust("CAST(recommendations.result -> 'depth' -> 'choice' ->> 'start' AS TEXT)"),
            "depth",
        )
        .column_as(
            Expr::cust("CAST(recommendations.result -> 'speed' -> 'choice' ->> 'start' AS TEXT)"),
            "speed",
        )
        .column_as(
            Expr::cust("CAST(recommendations.result -> 'seeding' -> 'choice' ->> 'rate' AS TEXT)"),
            "rate",
        )
        .order_by_asc(Column::Id)
        .limit(AT_ONCE)
        .into_model()
        .all(db)
        .await?;
    Ok(rows.into_iter().map(|row| (row.id, sheet(row))).collect())
}

/// Sheets that were issued in the season, or that a dig or a planting of it refers to.
pub(crate) fn sheets_of_season(of: Of) -> Condition {
    use recommendations::Column;
    if let Some(sheet) = of.sheet_id {
        return Condition::all().add(Column::Id.eq(sheet));
    }
    let (from, to) = of.span();
    let issued = Condition::all().add(Column::IssuedAt.gte(from)).add(Column::IssuedAt.lt(to));
    let here = Condition::any().add(issued).add(Expr::exists(dug_behind(of)));
    let here = Condition::all()
        .add(here)
        .add_option(of.planter_id.map(|planter| Column::PlanterId.eq(planter)));
    // A planting may go by a sheet that was made for another planter.
    Condition::any().add(here).add(Expr::exists(planted_by(of)))
}

fn sheet(row: Sheet) -> Vec<Cell> {
    vec![
        Cell::Id(row.id),
        Cell::Id(row.series_id),
        Cell::Id(row.field_id),
        Cell::Id(row.planter_id),
        Cell::Whole(row.revision.into()),
        Cell::Word(row.status.to_value()),
        word(row.crop),
        Cell::maybe(row.issued_at, Cell::Time),
        Cell::maybe(row.acknowledged_at, Cell::Time),
        figure(row.force, 1.0, 0),
        figure(row.depth, 1e3, 1),
        figure(row.speed, 1.0, 3),
        figure(row.rate, 1.0, 3),
    ]
}

/// Digs of the season behind a sheet, whenever that was issued.
fn dug_behind(of: Of) -> SelectStatement {
    use dig_checks::{Column, Entity};
    let (from, to) = of.span();
    Query::select()
        .expr(Expr::val(1))
        .from(Entity)
        .and_where(Expr::col((Entity, Column::PracticeId)).eq(of.scope.practice_id))
        .and_where(
            Expr::col((Entity, Column::RecommendationId))
                .equals((recommendations::Entity, recommendations::Column::Id)),
        )
        .and_where(Expr::col((Entity, Column::DugAt)).gte(from))
        .and_where(Expr::col((Entity, Column::DugAt)).lt(to))
        .to_owned()
}

/// Plantings of the season by a sheet.
fn planted_by(of: Of) -> SelectStatement {
    use planting_rows::{Column, Entity};
    let (from, to) = of.days();
    let planter = of.planter_id.map(|planter| Expr::col((Entity, Column::PlanterId)).eq(planter));
    Query::select()
        .expr(Expr::val(1))
        .from(Entity)
        .and_where(Expr::col((Entity, Column::PracticeId)).eq(of.scope.practice_id))
        .and_where(
            Expr::col((Entity, Column::RecommendationId))
                .equals((recommendations::Entity, recommendations::Column::Id)),
        )
        .and_where(Expr::col((Entity, Column::PlantedOn)).gte(from))
        .and_where(Expr::col((Entity, Column::PlantedOn)).lt(to))
        .and_where_option(planter)
        .to_owned()
}

/// A dig, what was kept of it and the sheet it stands behind.
#[derive(Debug, FromQueryResult)]
struct Dig {
    id: Uuid,
    recommendation_id: Uuid,
    field_id: Uuid,
    planter_id: Uuid,
    dug_at: DateTime<Utc>,
    soil: Soil,
    cover: Cover,
    once: bool,
    tells: bool,
    depth_inside: Option<bool>,
    load_inside: Option<bool>,
    off_um: Option<i64>,
    tolerance_um: i64,
    seeds: i32,
    seeds_within: i32,
    load_n: Option<i64>,
    speed_mm_s: i64,
    cause: Option<String>,
}

fn kept() -> RelationDef {
    dig_checks::Entity::belongs_to(season_digs::Entity)
        .from((dig_checks::Column::PracticeId, dig_checks::Column::Id))
        .to((season_digs::Column::PracticeId, season_digs::Column::Id))
        .into()
}

/// Digs of the season.
pub(crate) fn dug_in_season(
    rows: Select<dig_checks::Entity>,
    of: Of,
) -> Select<dig_checks::Entity> {
    use season_digs::Column;
    let rows = rows.join(JoinType::InnerJoin, kept());
    if let Some(sheet) = of.sheet_id {
        return rows.filter(dig_checks::Column::RecommendationId.eq(sheet));
    }
    let (from, to) = of.span();
    let rows = rows.filter(Column::DugAt.gte(from)).filter(Column::DugAt.lt(to));
    match of.planter_id {
        Some(planter) => rows.filter(Column::PlanterId.eq(planter)),
        None => rows,
    }
}

pub(crate) async fn digs(
    db: &DatabaseConnection,
    of: Of,
    after: Uuid,
) -> Result<Vec<Keyed>, ApiError> {
    use season_digs::Column;
    let rows = of
        .scope
        .dig_checks()
        .filter(dig_checks::Column::Id.gt(after))
        .filter(dig_checks::Column::CreatedAt.lte(of.now));
    let rows: Vec<Dig> = dug_in_season(rows, of)
        .select_only()
        .column(dig_checks::Column::RecommendationId)
        .columns([
            Column::Id,
            Column::FieldId,
            Column::PlanterId,
            Column::DugAt,
            Column::Soil,
            Column::Cover,
            Column::Once,
            Column::Tells,
            Column::DepthInside,
            Column::LoadInside,
            Column::OffUm,
            Column::ToleranceUm,
            Column::Seeds,
            Column::SeedsWithin,
            Column::LoadN,
            Column::SpeedMmS,
            Column::Cause,
        ])
        .order_by_asc(dig_checks::Column::Id)
        .limit(AT_ONCE)
        .into_model()
        .all(db)
        .await?;
    Ok(rows.into_iter().map(|row| (row.id, dig(row))).collect())
}

fn dig(row: Dig) -> Vec<Cell> {
    vec![
        Cell::Id(row.id),
        Cell::Id(row.recommendation_id),
        Cell::Id(row.field_id),
        Cell::Id(row.planter_id),
        Cell::Time(row.dug_at),
        Cell::Word(row.soil.to_value()),
        Cell::Word(row.cover.to_value()),
        Cell::Flag(row.once && row.tells),
        Cell::maybe(row.depth_inside, Cell::Flag),
        Cell::maybe(row.load_inside, Cell::Flag),
        thousandth(row.off_um, 2),
        thousandth(Some(row.tolerance_um), 2),
        Cell::Whole(row.seeds.into()),
        Cell::Whole(row.seeds_within.into()),
        Cell::maybe(row.load_n, Cell::Whole),
        thousandth(Some(row.speed_mm_s), 3),
        word(row.cause),
    ]
}

/// From µm to mm, from mm/s to m/s.
fn thousandth(value: Option<i64>, digits: usize) -> Cell {
    Cell::number(value.and_then(|it| i32::try_from(it).ok()).map(|it| f64::from(it) / 1e3), digits)
}

/// A proposed change.
#[derive(Debug, FromQueryResult)]
struct Change {
    id: Uuid,
    dig_check_id: Uuid,
    recommendation_id: Uuid,
    status: change_rows::Status,
    cause: Option<String>,
    changes: Option<String>,
    decided_at: Option<DateTime<Utc>>,
}

pub(crate) async fn adjustments(
    db: &DatabaseConnection,
    of: Of,
    after: Uuid,
) -> Result<Vec<Keyed>, ApiError> {
    use change_rows::Column;
    let dig = change_rows::Entity::belongs_to(dig_checks::Entity)
        .from((Column::PracticeId, Column::DigCheckId))
        .to((dig_checks::Column::PracticeId, dig_checks::Column::Id));
    let mut rows = of
        .scope
        .adjustments()
        .join(JoinType::InnerJoin, dig.into())
        .join(JoinType::InnerJoin, kept())
        .filter(Column::Id.gt(after))
        .filter(dig_checks::Column::CreatedAt.lte(of.now));
    if let Some(sheet) = of.sheet_id {
        rows = rows.filter(Column::RecommendationId.eq(sheet));
    } else {
        let (from, to) = of.span();
        rows = rows
            .filter(season_digs::Column::DugAt.gte(from))
            .filter(season_digs::Column::DugAt.lt(to));
    }
    if let Some(planter) = of.planter_id {
        rows = rows.filter(season_digs::Column::PlanterId.eq(planter));
    }
    let rows: Vec<Change> = rows
        .select_only()
        .columns([
            Column::Id,
            Column::DigCheckId,
            Column::RecommendationId,
            Column::Status,
            Column::DecidedAt,
        ])
        .column_as(Expr::cust("adjustments.proposal ->> 'cause'"), "cause")
        .column_as(Expr::cust("adjustments.proposal -> 'change' ->> 'kind'"), "changes")
        .order_by_asc(Column::Id)
        .limit(AT_ONCE)
        .into_model()
        .all(db)
        .await?;
    let cells = |row: Change| {
        vec![
            Cell::Id(row.id),
            Cell::Id(row.dig_check_id),
            Cell::Id(row.recommendation_id),
            Cell::Word(row.status.to_value()),
            word(row.cause),
            word(row.changes),
            Cell::maybe(row.decided_at, Cell::Time),
        ]
    };
    Ok(rows.into_iter().map(|row| (row.id, cells(row))).collect())
}

/// A planting.
#[derive(Debug, FromQueryResult)]
struct Planting {
    id: Uuid,
    field_id: Uuid,
    planter_id: Uuid,
    recommendation_id: Option<Uuid>,
    planted_on: NaiveDate,
    crop: Crop,
    area_m2: Option<f64>,
    seeds_per_m2: Option<f64>,
    depth_m: Option<f64>,
    hours: Option<f64>,
    cost_amount: Option<f64>,
    cost_currency: Option<String>,
}

pub(crate) async fn plantings(
    db: &DatabaseConnection,
    of: Of,
    after: Uuid,
) -> Result<Vec<Keyed>, ApiError> {
    use planting_rows::Column;
    let mut rows =
        of.scope.plantings().filter(Column::Id.gt(after)).filter(Column::CreatedAt.lte(of.now));
    if let Some(sheet) = of.sheet_id {
        rows = rows.filter(Column::RecommendationId.eq(sheet));
    } else {
        let (from, to) = of.days();
        rows = rows.filter(Column::PlantedOn.gte(from)).filter(Column::PlantedOn.lt(to));
    }
    if let Some(planter) = of.planter_id {
        rows = rows.filter(Column::PlanterId.eq(planter));
    }
    let rows: Vec<Planting> = rows
        .select_only()
        .columns([
            Column::Id,
            Column::FieldId,
            Column::PlanterId,
            Column::RecommendationId,
            Column::PlantedOn,
            Column::Crop,
            Column::AreaM2,
            Column::SeedsPerM2,
            Column::DepthM,
            Column::Hours,
            Column::CostAmount,
            Column::CostCurrency,
        ])
        .order_by_asc(Column::Id)
        .limit(AT_ONCE)
        .into_model()
        .all(db)
        .await?;
    let cells = |row: Planting| {
        vec![
            Cell::Id(row.id),
            Cell::Id(row.field_id),
            Cell::Id(row.planter_id),
            Cell::maybe(row.recommendation_id, Cell::Id),
            Cell::Day(row.planted_on),
            Cell::Word(row.crop.to_value()),
            Cell::number(row.area_m2, 0),
            Cell::number(row.seeds_per_m2, 3),
            Cell::number(row.depth_m.map(|it| it * 1e3), 1),
            Cell::number(row.hours, 2),
            Cell::number(row.cost_amount, 2),
            Cell::maybe(row.cost_currency, Cell::Text),
        ]
    };
    Ok(rows.into_iter().map(|row| (row.id, cells(row))).collect())
}
