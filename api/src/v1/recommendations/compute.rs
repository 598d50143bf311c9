//! From stored rows to the engine.

use domain::conditions::Conditions;
use domain::learning::{Learned, Lessons, Place, SoilClass};
use domain::planter::Planter;
use domain::provenance::Coefficients;
use domain::settings::{Goals, Inputs, Recommendation, recommend};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::{calibrations, conditions_reports, fields, planters};
use crate::http::{ApiError, BadMember};
use crate::v1::{
    calibrations as calibrations_of, conditions, farms, fields as fields_of,
    planters as planters_of,
};

/// Which rows a recommendation is to rest on.
#[derive(Debug, Clone, Copy)]
pub struct Wanted {
    /// The field.
    pub field_id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// The conditions report; the newest of the field when absent.
    pub conditions_id: Option<Uuid>,
    /// The calibration; the newest of the planter when absent.
    pub calibration_id: Option<Uuid>,
}

/// The rows that a recommendation rests on.
#[derive(Debug)]
pub struct Sources {
    /// The field.
    pub field: fields::Model,
    /// The planter, of the grower of the field.
    pub planter: planters::Model,
    /// The conditions report, of the field.
    pub conditions: conditions_reports::Model,
    /// The calibration, of the planter, where somebody made one.
    pub calibration: Option<calibrations::Model>,
}

/// Finds the rows in scope and checks that they belong together.
///
/// # Errors
/// 422 that names the member of the body: an id that is not there, or that belongs to another
/// grower, field or planter; or no conditions report yet.
pub async fn sources(
    db: &impl ConnectionTrait,
    scope: Scope,
    wanted: Wanted,
) -> Result<Sources, ApiError> {
    let field = field(db, scope, wanted.field_id).await?;
    let planter = planters_of::store::find_reference(db, scope, wanted.planter_id).await?;
    let farm = farms::store::find(db, scope, field.farm_id).await?;
    if farm.grower_id != planter.grower_id {
        let detail = "The planter belongs to another grower than the field.";
        return Err(BadMember::new("/planter_id", detail).given(planter.id).into());
    }
    let conditions = conditions(db, scope, field.id, wanted.conditions_id).await?;
    let calibration = calibration(db, scope, planter.id, wanted.calibration_id).await?;
    Ok(Sources { field, planter, conditions, calibration })
}

/// What the engine works with: a snapshot that stays with the recommendation, with what digs taught
/// by now.
pub fn inputs(sources: &Sources, goals: Goals, learned: &Learned) -> Result<Inputs, ApiError> {
    let goals = with_area(goals, &sources.field)?;
    let plain = Inputs::new(planter_of(sources)?, field_of(sources)?, goals);
    Ok(with_lessons(plain, (sources.planter.id, sources.field.id), learned))
}

/// The inputs with what digs taught by now about the planter and the field.
pub fn with_lessons(
    inputs: Inputs,
    (planter_id, field_id): (Uuid, Uuid),
    learned: &Learned,
) -> Inputs {
    let place = Place {
        class: SoilClass::of(&inputs.field),
        planter: planter_id.as_u128(),
        field: field_id.as_u128(),
        season: learned.season(),
    };
    let lessons = Some(learned.lessons(&place)).filter(Lessons::any);
    Inputs { lessons, ..inputs }
}

/// The area of the field is what is planted, where the goals name none.
fn with_area(mut goals: Goals, field: &fields::Model) -> Result<Goals, ApiError> {
    let mut work = goals.work.unwrap_or_default();
    work.area = match work.area {
        Some(named) => Some(named),
        None => fields_of::store::area_of(field)?,
    };
    goals.work = Some(work);
    Ok(goals)
}

/// Works out a recommendation with these figures: those in force for the practice when it is made.
pub fn result(inputs: &Inputs, figures: &Coefficients) -> Recommendation {
    recommend(inputs, figures)
}

fn planter_of(sources: &Sources) -> Result<Planter, ApiError> {
    let line = sources.calibration.as_ref().map(calibrations_of::store::line).transpose()?;
    let makeup = planters_of::store::makeup(&sources.planter)?;
    makeup
        .parse("/makeup", line)
        .map_err(|bad| ApiError::internal(format!("planter {}: {bad:?}", sources.planter.id)))
}

/// The report; texture from the field's own record where the report does not name it.
fn field_of(sources: &Sources) -> Result<Conditions, ApiError> {
    let mut seen = conditions::store::conditions_of(&sources.conditions)?;
    seen.texture = seen.texture.or(sources.field.texture_class.map(Into::into));
    Ok(seen)
}

async fn field(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<fields::Model, ApiError> {
    let found = scope.fields().filter(fields::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| nothing("/field_id", "There is no such field.", id))
}

async fn conditions(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
    asked: Option<Uuid>,
) -> Result<conditions_reports::Model, ApiError> {
    let Some(id) = asked else {
        return conditions::store::newest(db, scope, field_id).await?.ok_or_else(|| {
            BadMember::new("/conditions_id", "The field has no conditions report yet.")
                .why("settings follow from what was seen in the field: report that first")
                .into()
        });
    };
    let rows = scope.conditions_reports().filter(conditions_reports::Column::Id.eq(id));
    let found = rows.one(db).await?.filter(|row| row.field_id == field_id);
    found.ok_or_else(|| nothing("/conditions_id", "The field has no such conditions report.", id))
}

async fn calibration(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter_id: Uuid,
    asked: Option<Uuid>,
) -> Result<Option<calibrations::Model>, ApiError> {
    let Some(id) = asked else {
        return calibrations_of::store::newest(db, scope, planter_id).await;
    };
    let rows = scope.calibrations().filter(calibrations::Column::Id.eq(id));
    let found = rows.one(db).await?.filter(|row| row.planter_id == planter_id);
    let missing = || nothing("/calibration_id", "The planter has no such calibration.", id);
    found.map(Some).ok_or_else(missing)
}

fn nothing(pointer: &str, detail: &str, given: Uuid) -> ApiError {
    BadMember::new(pointer, detail).given(given).into()
}
