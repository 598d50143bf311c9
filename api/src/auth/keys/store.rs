//! Keys in the database.

use chrono::{DateTime, TimeDelta, Utc};
use ed25519_dalek::SigningKey;
use ed25519_dalek::pkcs8::spki::der::pem::LineEnding;
use ed25519_dalek::pkcs8::{DecodePrivateKey, EncodePrivateKey};
use sea_orm::sea_query::Expr;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseConnection, EntityTrait, QueryFilter,
    QueryOrder,
};

use super::{Key, KeyError, thumbprint};
use crate::db;
use crate::entities::signing_keys;

/// The name of the algorithm in the table.
const ALGORITHM: &str = "EdDSA";
/// More than two clocks may differ: a key outlives its last token by this.
const CLOCKS_DIFFER: TimeDelta = TimeDelta::seconds(60);

/// A key as it is listed: without its private half.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyRow {
    /// Its name.
    pub kid: String,
    /// When it was made and published.
    pub created_at: DateTime<Utc>,
    /// When its turn to sign comes.
    pub signs_from: DateTime<Utc>,
    /// Until when it checks tokens; `None` while it has no successor.
    pub checks_until: Option<DateTime<Utc>>,
    /// When it was taken out of use by hand.
    pub retired_at: Option<DateTime<Utc>>,
}

/// All keys that were not taken out of use, those that sign latest first.
pub(super) async fn in_use(db: &impl ConnectionTrait) -> Result<Vec<Key>, KeyError> {
    let rows = signing_keys::Entity::find()
        .filter(signing_keys::Column::RetiredAt.is_null())
        .filter(signing_keys::Column::Algorithm.eq(ALGORITHM))
        .all(db)
        .await?;
    let mut keys = rows.iter().map(ready).collect::<Result<Vec<Key>, KeyError>>()?;
    // Of two whose turn came at the same moment, the one that has no successor.
    keys.sort_by(|one, other| {
        let rank = |key: &Key| (key.signs_from, key.checks_until.is_none());
        rank(other).cmp(&rank(one)).then_with(|| other.kid.cmp(&one.kid))
    });
    Ok(keys)
}

/// All keys there ever were, oldest first.
pub async fn all(db: &DatabaseConnection) -> Result<Vec<KeyRow>, KeyError> {
    let rows = signing_keys::Entity::find()
        .order_by_asc(signing_keys::Column::CreatedAt)
        .order_by_asc(signing_keys::Column::Kid)
        .all(db)
        .await?;
    Ok(rows.into_iter().map(KeyRow::from).collect())
}

/// Makes a key that signs from `signs_from`, and lets those before it check until their last token
/// has expired.
pub async fn rotate(
    db: &DatabaseConnection,
    now: DateTime<Utc>,
    signs_from: DateTime<Utc>,
    token_lifetime: TimeDelta,
) -> Result<String, KeyError> {
    let tx = db::begin(db).await?;
    let kid = make(&tx, now, signs_from).await?;
    let last_token_expires = signs_from + token_lifetime + CLOCKS_DIFFER;
    signing_keys::Entity::update_many()
        .col_expr(signing_keys::Column::ChecksUntil, Expr::value(last_token_expires))
        .filter(signing_keys::Column::Kid.ne(&kid))
        .filter(signing_keys::Column::RetiredAt.is_null())
        .filter(signing_keys::Column::ChecksUntil.is_null())
        .exec(&tx)
        .await?;
    tx.commit().await?;
    Ok(kid)
}

/// Takes a key out of use at once, with all tokens that it signed. Where no other would sign on,
/// a new one is made that signs at once; its name is given.
pub async fn retire(
    db: &DatabaseConnection,
    now: DateTime<Utc>,
    kid: &str,
) -> Result<Option<String>, KeyError> {
    let tx = db::begin(db).await?;
    let done = signing_keys::Entity::update_many()
        .col_expr(signing_keys::Column::RetiredAt, Expr::value(now))
        .filter(signing_keys::Column::Kid.eq(kid))
        .filter(signing_keys::Column::RetiredAt.is_null())
        .exec(&tx)
        .await?;
    if done.rows_affected == 0 {
        return Err(KeyError::Unknown(kid.to_owned()));
    }
    let left = in_use(&tx).await?;
    let made = if left.iter().any(|key| key.checks_until.is_none()) {
        None
    } else {
        Some(make(&tx, now, now).await?)
    };
    tx.commit().await?;
    Ok(made)
}

/// Makes a key.
pub(super) async fn make(
    db: &impl ConnectionTrait,
    now: DateTime<Utc>,
    signs_from: DateTime<Utc>,
) -> Result<String, KeyError> {
    let seed: [u8; 32] = rand::random();
    let pair = SigningKey::from_bytes(&seed);
    let kid = thumbprint(&pair.verifying_key().to_bytes());
    let pem = pair
        .to_pkcs8_pem(LineEnding::LF)
        .map_err(|error| KeyError::Broken { kid: kid.clone(), why: error.to_string() })?;
    let row = signing_keys::ActiveModel {
        kid: Set(kid.clone()),
        algorithm: Set(ALGORITHM.to_owned()),
        private_pem: Set(pem.to_string()),
        created_at: Set(now),
        retired_at: Set(None),
        signs_from: Set(Some(signs_from)),
        checks_until: Set(None),
    };
    signing_keys::Entity::insert(row).exec_without_returning(db).await?;
    Ok(kid)
}

fn ready(row: &signing_keys::Model) -> Result<Key, KeyError> {
    let pair = SigningKey::from_pkcs8_pem(&row.private_pem)
        .map_err(|error| KeyError::Broken { kid: row.kid.clone(), why: error.to_string() })?;
    Key::of(&row.kid, &pair, row.signs_from.unwrap_or(row.created_at), row.checks_until)
}

impl From<signing_keys::Model> for KeyRow {
    fn from(row: signing_keys::Model) -> Self {
        let signs_from = row.signs_from.unwrap_or(row.created_at);
        let signing_keys::Model {
            kid,
            algorithm: _,
            private_pem: _,
            created_at,
            retired_at,
            signs_from: _,
            checks_until,
        } = row;
        Self { kid, created_at, signs_from, checks_until, retired_at }
    }
}
