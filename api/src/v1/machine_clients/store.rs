//! Machine clients in the database. Each has an account: its role, and whether it is shut out.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
};
use uuid::Uuid;

use crate::app::AppState;
use crate::auth::accounts::{self as people, NewAccount};
use crate::auth::no_password;
use crate::auth::role::Role;
use crate::entities::{accounts, client_secrets, machine_clients};
use crate::http::ApiError;
use crate::http::etag::{self, Expected};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::v1::units::Units;

/// A client to be stored.
#[derive(Debug)]
pub struct NewClient {
    /// Name.
    pub name: String,
    /// Role of its account.
    pub role: Role,
    /// Scopes, split by spaces.
    pub scopes: String,
}

/// Changes to be stored.
#[derive(Debug)]
pub struct ClientChange {
    /// Name.
    pub name: Option<String>,
    /// Scopes, split by spaces.
    pub scopes: Option<String>,
    /// Whether it is shut out.
    pub disabled: Option<bool>,
}

/// A client and its account.
#[derive(Debug)]
pub struct Found {
    /// The client.
    pub client: machine_clients::Model,
    /// Its account.
    pub account: accounts::Model,
}

/// Finds a client of a practice. Someone else's is not found.
pub async fn find(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    id: Uuid,
) -> Result<Found, ApiError> {
    let client = machine_clients::Entity::find_by_id((practice_id, id)).one(db).await?;
    with_account(db, client.ok_or_else(|| ApiError::not_found("machine client"))?).await
}

/// The client with its account.
pub async fn with_account(
    db: &impl ConnectionTrait,
    client: machine_clients::Model,
) -> Result<Found, ApiError> {
    let key = (client.practice_id, client.account_id);
    let account = accounts::Entity::find_by_id(key).one(db).await?;
    let account =
        account.ok_or_else(|| ApiError::internal("a machine client without an account"))?;
    Ok(Found { client, account })
}

/// A page of the clients of a practice.
pub async fn page(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    page: &PageRequest,
) -> Result<Page<Found>, ApiError> {
    let rows =
        machine_clients::Entity::find().filter(machine_clients::Column::PracticeId.eq(practice_id));
    let columns = (machine_clients::Column::Id, machine_clients::Column::UpdatedAt);
    let place = |row: &machine_clients::Model| RowPlace { updated_at: row.updated_at, id: row.id };
    let Page { rows, next_cursor, total } = page.read(db, rows, columns, place).await?;
    let mut its_account: HashMap<Uuid, accounts::Model> = accounts::Entity::find()
        .filter(accounts::Column::PracticeId.eq(practice_id))
        .filter(accounts::Column::Id.is_in(rows.iter().map(|row| row.account_id)))
        .all(db)
        .await?
        .into_iter()
        .map(|account| (account.id, account))
        .collect();
    let found = rows.into_iter().filter_map(|client| {
        let account = its_account.remove(&client.account_id)?;
        Some(Found { client, account })
    });
    Ok(Page { rows: found.collect(), next_cursor, total })
}

/// Stores a client and makes its account, which can't sign in with a password.
pub async fn insert(
    db: &impl ConnectionTrait,
    app: &AppState,
    practice_id: Uuid,
    new: NewClient,
) -> Result<Found, ApiError> {
    let NewClient { name, role, scopes } = new;
    let (id, now) = (app.ids.next(), app.clock.now());
    let account = NewAccount {
        email: no_password::address(id),
        display_name: name.clone(),
        role,
        grower_id: None,
        password: String::new(),
        units: Units::default(),
    };
    let hash = no_password::HASH.to_owned();
    let account = people::create_with_hash(db, app.maker(), practice_id, account, hash).await?;
    let client = machine_clients::ActiveModel {
        practice_id: Set(practice_id),
        id: Set(id),
        name: Set(name),
        account_id: Set(account.id),
        scopes: Set(scopes),
        version: Set(1),
        created_at: Set(now),
        updated_at: Set(now),
    };
    Ok(Found { client: client.insert(db).await?, account })
}

/// Stores changes if the row still has a version that is expected.
pub async fn update(
    db: &impl ConnectionTrait,
    before: Found,
    expected: &Expected,
    now: DateTime<Utc>,
    change: ClientChange,
) -> Result<Found, ApiError> {
    let Found { client, account } = before;
    expected.check(client.version)?;
    let ClientChange { name, scopes, disabled } = change;
    let name = name.unwrap_or_else(|| client.name.clone());
    let row = machine_clients::ActiveModel {
        name: Set(name.clone()),
        scopes: Set(scopes.unwrap_or_else(|| client.scopes.clone())),
        ..Default::default()
    };
    write(db, &client, row, now).await?;
    let disabled_at = match disabled {
        Some(true) => account.disabled_at.or(Some(now)),
        Some(false) => None,
        None => account.disabled_at,
    };
    change_account(db, &account, name, disabled_at).await?;
    find(db, client.practice_id, client.id).await
}

/// Deletes a client and its secrets. The account stays, shut out: what it wrote names it.
pub async fn delete(
    db: &impl ConnectionTrait,
    found: Found,
    expected: &Expected,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    let Found { client, account } = found;
    expected.check(client.version)?;
    // Takes the row first, so that nobody adds a secret meanwhile.
    touch(db, &client, now).await?;
    client_secrets::Entity::delete_many()
        .filter(client_secrets::Column::PracticeId.eq(client.practice_id))
        .filter(client_secrets::Column::ClientId.eq(client.id))
        .exec(db)
        .await?;
    machine_clients::Entity::delete_by_id((client.practice_id, client.id)).exec(db).await?;
    let disabled_at = account.disabled_at.or(Some(now));
    change_account(db, &account, client.name, disabled_at).await
}

/// Makes the next version without another change; holds the row until the transaction ends.
pub(super) async fn touch(
    db: &impl ConnectionTrait,
    client: &machine_clients::Model,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    let nothing = machine_clients::ActiveModel { ..Default::default() };
    write(db, client, nothing, now).await
}

/// Writes the row as the next version, if nobody was faster; holds it until the transaction ends.
async fn write(
    db: &impl ConnectionTrait,
    client: &machine_clients::Model,
    mut row: machine_clients::ActiveModel,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    row.version = Set(client.version + 1);
    row.updated_at = Set(now);
    let done = machine_clients::Entity::update_many()
        .set(row)
        .filter(machine_clients::Column::PracticeId.eq(client.practice_id))
        .filter(machine_clients::Column::Id.eq(client.id))
        .filter(machine_clients::Column::Version.eq(client.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)
}

async fn change_account(
    db: &impl ConnectionTrait,
    account: &accounts::Model,
    display_name: String,
    disabled_at: Option<DateTime<Utc>>,
) -> Result<(), ApiError> {
    let row = accounts::ActiveModel {
        display_name: Set(display_name),
        disabled_at: Set(disabled_at),
        ..Default::default()
    };
    accounts::Entity::update_many()
        .set(row)
        .filter(accounts::Column::PracticeId.eq(account.practice_id))
        .filter(accounts::Column::Id.eq(account.id))
        .exec(db)
        .await?;
    Ok(())
}
