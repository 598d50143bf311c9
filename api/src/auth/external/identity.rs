//! Which account a token of an outside issuer leads to.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::OnConflict;
use sea_orm::{ActiveValue::Set, ColumnTrait, EntityTrait, QueryFilter};

use super::claims::Claims;
use super::configured::Configured;
use crate::app::AppState;
use crate::auth::no_password;
use crate::entities::{accounts, outside_identities};
use crate::http::ApiError;

/// The account that the subject is bound to; at first use it is bound by its verified address.
pub(super) async fn account_of(
    app: &AppState,
    issuer: &Configured,
    claims: &Claims,
    now: DateTime<Utc>,
) -> Result<accounts::Model, ApiError> {
    if let Some(account) = bound(app, issuer, &claims.sub).await? {
        return account.ok_or_else(nobody);
    }
    let account = by_address(app, issuer, claims).await?.ok_or_else(nobody)?;
    bind(app, issuer, &claims.sub, &account, now).await?;
    // Someone else may have been faster, or the account may be another subject's.
    bound(app, issuer, &claims.sub).await?.flatten().ok_or_else(nobody)
}

/// What is bound; within, nothing when the account was disabled.
async fn bound(
    app: &AppState,
    issuer: &Configured,
    subject: &str,
) -> Result<Option<Option<accounts::Model>>, ApiError> {
    let identity = outside_identities::Entity::find()
        .filter(outside_identities::Column::PracticeId.eq(issuer.practice_id))
        .filter(outside_identities::Column::Issuer.eq(&issuer.issuer))
        .filter(outside_identities::Column::Subject.eq(subject))
        .one(&app.db)
        .await?;
    let Some(identity) = identity else {
        return Ok(None);
    };
    let account = accounts::Entity::find_by_id((identity.practice_id, identity.account_id))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(&app.db)
        .await?;
    Ok(Some(account))
}

async fn by_address(
    app: &AppState,
    issuer: &Configured,
    claims: &Claims,
) -> Result<Option<accounts::Model>, ApiError> {
    let address = claims.verified_email().filter(|email| !no_password::is_made_up(email));
    let Some(address) = address else {
        return Ok(None);
    };
    let account = accounts::Entity::find()
        .filter(accounts::Column::PracticeId.eq(issuer.practice_id))
        .filter(accounts::Column::Email.eq(address))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(&app.db)
        .await?;
    Ok(account)
}

async fn bind(
    app: &AppState,
    issuer: &Configured,
    subject: &str,
    account: &accounts::Model,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    let row = outside_identities::ActiveModel {
        practice_id: Set(account.practice_id),
        id: Set(app.ids.next()),
        issuer: Set(issuer.issuer.clone()),
        subject: Set(subject.to_owned()),
        account_id: Set(account.id),
        created_at: Set(now),
    };
    outside_identities::Entity::insert(row)
        .on_conflict(OnConflict::new().do_nothing().to_owned())
        .exec_without_returning(&app.db)
        .await?;
    tracing::info!(issuer = issuer.issuer, account = %account.id, "bound to an outside identity");
    Ok(())
}

fn nobody() -> ApiError {
    ApiError::unauthenticated("Nobody here is known by this token.")
}
