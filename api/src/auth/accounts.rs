//! Making practices and accounts: for the first start, for tests and for the demo.

use chrono::{DateTime, Utc};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
};
use uuid::Uuid;

use super::password::{self, Passwords};
use super::role::Role;
use crate::entities::practices::AdvisorsSee;
use crate::entities::{accounts, practices};
use crate::http::{ApiError, Refused, text};
use crate::ids::Ids;
use crate::v1::units::Units;

/// An account to be made.
#[derive(Debug, Clone)]
pub struct NewAccount {
    /// E-mail address; it signs in.
    pub email: String,
    /// How people call them.
    pub display_name: String,
    /// What they may do.
    pub role: Role,
    /// Whose objects a grower's account sees.
    pub grower_id: Option<Uuid>,
    /// The password, 12 to 128 characters.
    pub password: String,
    /// The units of computed answers.
    pub units: Units,
}

/// What making accounts needs.
#[derive(Debug, Clone, Copy)]
pub struct Maker<'a> {
    /// Hashes the password.
    pub passwords: &'a Passwords,
    /// Makes ids.
    pub ids: &'a Ids,
    /// The time now.
    pub now: DateTime<Utc>,
}

/// The practice of this name, made if it is not there.
pub async fn practice(
    db: &impl ConnectionTrait,
    maker: Maker<'_>,
    name: &str,
) -> Result<Uuid, ApiError> {
    let name = text::name("/practice", name)?;
    let found = practices::Entity::find().filter(practices::Column::Name.eq(&name)).one(db).await?;
    if let Some(row) = found {
        return Ok(row.id);
    }
    let id = maker.ids.next();
    let row = practices::ActiveModel {
        id: Set(id),
        name: Set(name),
        created_at: Set(maker.now),
        advisors_see: Set(AdvisorsSee::All),
        version: Set(1),
        updated_at: Set(maker.now),
        time_zone: Set("UTC".to_owned()),
        season_starts: Set("01-01".to_owned()),
        erasure_salt: Set(None),
    };
    row.insert(db).await?;
    Ok(id)
}

/// Makes an account in a practice.
///
/// # Errors
/// 422 for a bad address, name or password; 409 when the address has an account already.
pub async fn create(
    db: &impl ConnectionTrait,
    maker: Maker<'_>,
    practice_id: Uuid,
    new: NewAccount,
) -> Result<accounts::Model, ApiError> {
    password::check_new("/password", &new.password)?;
    let hash = maker.passwords.hash(new.password.clone()).await?;
    create_with_hash(db, maker, practice_id, new, hash).await
}

/// Makes an account whose password was hashed before; the password of `new` is not looked at.
///
/// # Errors
/// 422 for a bad address or name; 409 when the address has an account already.
pub async fn create_with_hash(
    db: &impl ConnectionTrait,
    maker: Maker<'_>,
    practice_id: Uuid,
    new: NewAccount,
    password_hash: String,
) -> Result<accounts::Model, ApiError> {
    let NewAccount { email, display_name, role, grower_id, password: _, units } = new;
    let mut refused = Refused::default();
    let email = refused.take(text::email("/email", &email));
    let display_name = refused.take(text::name("/display_name", &display_name));
    let (Some(email), Some(display_name)) = (email, display_name) else {
        return Err(refused.into());
    };
    let row = accounts::ActiveModel {
        practice_id: Set(practice_id),
        id: Set(maker.ids.next()),
        email: Set(email),
        display_name: Set(display_name),
        role: Set(role),
        grower_id: Set(grower_id),
        password_hash: Set(password_hash),
        units: Set(units),
        created_at: Set(maker.now),
        disabled_at: Set(None),
        version: Set(1),
    };
    Ok(row.insert(db).await?)
}
