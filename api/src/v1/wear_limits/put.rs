//! `PUT /v1/planters/{id}/wear-limits`

use actix_web::put;
use actix_web::web::Data;

use super::dto::{WearLimits, WearLimitsIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::UpdateErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch, Query};
use crate::v1::author::Author;
use crate::v1::inspections::refresh;
use crate::v1::inspections::shed::{Shed, planter_of};
use crate::v1::planters;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Set the wear limits of a planter.
///
/// Puts what the manual says in the place of what was entered before; every change is kept. From then on
/// all inspections of the planter are judged by it, and what is to be replaced follows. Send the `ETag`
/// you read as `If-Match`; `"0"` is the version before the first.
#[utoipa::path(
    tag = "inspections", operation_id = "set_wear_limits", security(("bearer" = ["report"])),
    params(
        ("id" = Uuid, Path, description = "Id of the planter."),
        UnitsQuery,
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = WearLimitsIn, description = "What the manual says."),
    responses(
        (status = 200, description = "The limits as they are now.", body = WearLimits, headers(
            ("ETag" = String, description = "New version of what was entered."),
        )),
        UpdateErrors,
    ),
)]
#[put("/planters/{id}/wear-limits")]
pub(super) async fn put(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    if_match: IfMatch,
    body: Body<WearLimitsIn>,
) -> Result<Written<WearLimits>, ApiError> {
    let (units, author) = (caller.units(query.0.units), Author::of(&app, &caller));
    let new = body.into_inner();
    write
        .run(&app, &caller, async |tx| {
            let planter = planters::store::find(tx, caller.scope(), id.0).await?;
            let before = store::in_force(tx, caller.scope(), planter.id).await?.version;
            if_match.needed()?.check(before)?;
            new.parse(&planter_of(&planter)?)?;
            store::append(tx, &planter, author, (&new, before)).await?;
            refresh::planter(tx, &app.ids, &planter).await?;
            let entered = store::in_force(tx, caller.scope(), planter.id).await?;
            let shed = Shed::load(tx, &planter).await?;
            let touched = Touched::new("wear_limits", planter.id).of_grower(planter.grower_id);
            let etag = ETag::of(entered.version).in_form(units.code());
            let etag = etag.and(&(planter.version, &shed.k.disc_wear_limit))?;
            let shown = WearLimits::of(planter.id, entered, &shed, units.into());
            Ok(Done::new(touched, Answer::ok(shown).tagged(&etag)))
        })
        .await
}
