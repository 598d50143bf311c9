//! What each dig check says about its season: a row of whole numbers beside it.

use domain::dig::{Cause, Context, Judgement, NoticeCode, Observation};
use domain::season::{DigFacts, DigSeen};
use sea_orm::{ActiveModelTrait, ActiveValue::Set, DatabaseTransaction};

use crate::entities::season_digs::{ActiveModel, Model};
use crate::entities::{dig_checks, recommendations};
use crate::http::ApiError;
use crate::learned::{class_of, cover_of, soil_of};
use crate::v1::dig_checks::answer::DigNotice;
use crate::v1::dig_checks::observation::DigCheckIn;
use crate::v1::dig_checks::store::{judgement_of, notices_of};
use crate::v1::recommendations::store as sheets;

/// Keeps what a dig check says, in the transaction that stores it.
pub async fn keep_dig(
    tx: &DatabaseTransaction,
    (row, sheet): (&dig_checks::Model, &recommendations::Model),
    facts: &DigFacts,
) -> Result<(), ApiError> {
    row_of(row, sheet, facts)?.insert(tx).await?;
    Ok(())
}

/// What a judged dig says, with the notices that it is kept with.
pub fn facts_of(
    dig: &Observation,
    judged: &Judgement,
    case: &Context<'_>,
    notices: &[DigNotice],
) -> DigFacts {
    let codes: Vec<NoticeCode> = notices.iter().map(|notice| notice.code.into()).collect();
    DigFacts::of(dig, judged, case, &codes)
}

/// The same of a dig check that is stored.
///
/// # Errors
/// When what was stored can't be read by this version.
pub(super) fn facts_of_stored(
    row: &dig_checks::Model,
    sheet: &recommendations::Model,
    figures: &domain::provenance::Coefficients,
) -> Result<DigFacts, ApiError> {
    let (inputs, result) = (sheets::inputs_of(sheet)?, sheets::result_of(sheet)?);
    let dig = DigCheckIn::stored(row)?.parse(row.created_at, &inputs.planter)?;
    let case = Context::of_sheet(&inputs, &result, figures);
    Ok(facts_of(&dig, &judgement_of(row)?, &case, &notices_of(row)?))
}

/// The row of a dig check.
pub(super) fn row_of(
    row: &dig_checks::Model,
    sheet: &recommendations::Model,
    facts: &DigFacts,
) -> Result<ActiveModel, ApiError> {
    let DigFacts {
        class,
        once,
        tells,
        depth_inside,
        load_inside,
        off_um,
        tolerance_um,
        speed_mm_s,
        load_n,
        depths,
        within,
        seeds,
        cause,
        iron,
    } = facts;
    let whole = |count: u32| i32::try_from(count).map_err(ApiError::internal);
    Ok(ActiveModel {
        practice_id: Set(row.practice_id),
        id: Set(row.id),
        series_id: Set(sheet.series_id),
        planter_id: Set(sheet.planter_id),
        field_id: Set(sheet.field_id),
        dug_at: Set(row.dug_at),
        soil: Set(soil_of(*class)),
        cover: Set(cover_of(*class)),
        once: Set(*once),
        tells: Set(*tells),
        depth_inside: Set(*depth_inside),
        load_inside: Set(*load_inside),
        off_um: Set(*off_um),
        tolerance_um: Set(*tolerance_um),
        speed_mm_s: Set(*speed_mm_s),
        load_n: Set(*load_n),
        depths: Set(text(depths)?),
        seeds_within: Set(whole(*within)?),
        seeds: Set(whole(*seeds)?),
        cause: Set(cause.map(|cause| text(&cause)).transpose()?),
        iron: Set(text(iron)?),
    })
}

/// What a row says.
pub(super) fn seen(row: &Model) -> Result<DigSeen, ApiError> {
    let count = |number: i32| u32::try_from(number).map_err(ApiError::internal);
    let cause: Option<Cause> = row.cause.as_deref().map(read).transpose()?;
    Ok(DigSeen {
        id: row.id.as_u128(),
        series: row.series_id.as_u128(),
        dug_at: row.dug_at,
        facts: DigFacts {
            class: class_of(row.soil, row.cover),
            once: row.once,
            tells: row.tells,
            depth_inside: row.depth_inside,
            load_inside: row.load_inside,
            off_um: row.off_um,
            tolerance_um: row.tolerance_um,
            speed_mm_s: row.speed_mm_s,
            load_n: row.load_n,
            depths: read(&row.depths)?,
            within: count(row.seeds_within)?,
            seeds: count(row.seeds)?,
            cause,
            iron: read(&row.iron)?,
        },
    })
}

/// A value as text of JSON.
pub(super) fn text(value: &impl serde::Serialize) -> Result<String, ApiError> {
    serde_json::to_string(value).map_err(ApiError::internal)
}

/// The value of a text of JSON.
pub(super) fn read<T: serde::de::DeserializeOwned>(text: &str) -> Result<T, ApiError> {
    serde_json::from_str(text).map_err(ApiError::internal)
}
