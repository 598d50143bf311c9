//! `POST /v1/attention/{entry}/assign`

use actix_web::post;
use actix_web::web::Data;
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use super::dto::{AssignIn, AttentionEntry};
use super::find::Found;
use super::key::{self, Key};
use super::kinds::AttentionKind;
use super::marks::{self, Said};
use super::touched::touched;
use crate::app::AppState;
use crate::auth::role::Role;
use crate::auth::{Caller, CanAdvise, Scope, Sees};
use crate::entities::{accounts, growers};
use crate::http::responses::MarkErrors;
use crate::http::{Answer, ApiError, BadMember, Body};
use crate::v1::practice::{self, SeasonCalendar};
use crate::writes::{Done, IdempotencyKey, Write, Written};

/// Give an entry to somebody.
///
/// It is among the own entries of that account from then on, and in its digest. Giving it to another
/// takes it from the first.
#[utoipa::path(
    tag = "attention", operation_id = "assign_attention", security(("bearer" = ["advise"])),
    params(("entry" = String, Path, description = "Key of the entry."), IdempotencyKey),
    request_body(content = AssignIn, description = "To whom."),
    responses(
        (status = 200, description = "The entry as it is now.", body = AttentionEntry), MarkErrors,
    ),
)]
#[post("/attention/{entry}/assign")]
pub(super) async fn assign(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    key: Key,
    body: Body<AssignIn>,
) -> Result<Written<AttentionEntry>, ApiError> {
    let by = (caller.practice_id(), caller.account_id());
    let to = body.into_inner().account_id;
    write
        .run_prepared(
            &app,
            &caller,
            async || key::entry(&app, &caller, key).await,
            async |tx, found| {
                check(tx, by.0, to, &found).await?;
                let name = found.key();
                let entry = (name.as_str(), found.grower_id);
                let mark = marks::say(tx, &app, by, entry, Said::Who(to)).await?;
                let today = SeasonCalendar::load(tx, by.0).await?.today(app.clock.now());
                let touched = touched(&found);
                Ok(Done::new(touched, Answer::ok(key::shown(tx, (found, mark), today).await?)))
            },
        )
        .await
}

/// Whoever gets it must be able to see it.
async fn check(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    account_id: Uuid,
    found: &Found,
) -> Result<(), ApiError> {
    let account = accounts::Entity::find_by_id((practice_id, account_id))
        .filter(accounts::Column::DisabledAt.is_null())
        .filter(accounts::Column::Role.is_in([Role::Lead, Role::Advisor]))
        .one(db)
        .await?;
    let Some(account) = account else {
        return Err(refused(account_id));
    };
    let practice = practice::store::find(db, practice_id).await?;
    let scope = Scope::of_account(&account, practice.advisors_see);
    let sees = match found.grower_id {
        // Records of nobody known yet are for whoever sees all growers.
        None if found.kind == AttentionKind::RecordsWait => scope.sees == Sees::Practice,
        None => account.role == Role::Lead,
        Some(id) => scope.growers().filter(growers::Column::Id.eq(id)).one(db).await?.is_some(),
    };
    if sees { Ok(()) } else { Err(refused(account_id)) }
}

fn refused(given: Uuid) -> ApiError {
    BadMember::new("/account_id", "No lead or advisor with this id sees this entry.")
        .given(given)
        .allowed("the account of a lead or an advisor who sees the grower")
        .into()
}
