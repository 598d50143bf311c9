//! The keys that sign access tokens: Ed25519, made on the first start, kept in the database.

use std::sync::{PoisonError, RwLock};

use chrono::{DateTime, Utc};
use ed25519_dalek::SigningKey;
use ed25519_dalek::pkcs8::spki::der::pem::LineEnding;
use ed25519_dalek::pkcs8::{DecodePrivateKey, EncodePrivateKey};
use jsonwebtoken::{DecodingKey, EncodingKey};
use sea_orm::sea_query::OnConflict;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, DatabaseConnection, DbErr, EntityTrait, QueryFilter, QueryOrder,
};

use crate::entities::signing_keys;
use crate::ids::Ids;

/// The name of the algorithm in the table.
const ALGORITHM: &str = "EdDSA";

/// Why the keys are not to be had.
#[derive(Debug, thiserror::Error)]
pub enum KeyError {
    /// The database failed.
    #[error("the signing keys could not be read")]
    Database(#[from] DbErr),
    /// A stored key is broken.
    #[error("the signing key {kid} can't be used: {why}")]
    Broken {
        /// Which one.
        kid: String,
        /// What is wrong.
        why: String,
    },
}

/// One key, ready for use.
#[derive(Clone)]
pub struct Key {
    /// Its name in the header of a token.
    pub kid: String,
    /// Signs.
    pub signing: EncodingKey,
    /// Checks.
    pub checking: DecodingKey,
}

impl std::fmt::Debug for Key {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Key({})", self.kid)
    }
}

/// All keys in use, newest first. The newest signs; each checks its own.
#[derive(Debug)]
pub struct Keys(RwLock<Vec<Key>>);

impl Keys {
    /// Reads the keys; makes the first one when there is none.
    pub async fn load(
        db: &DatabaseConnection,
        ids: &Ids,
        now: DateTime<Utc>,
    ) -> Result<Self, KeyError> {
        let mut keys = read(db).await?;
        if keys.is_empty() {
            make(db, ids, now).await?;
            keys = read(db).await?;
        }
        Ok(Self(RwLock::new(keys)))
    }

    /// The key that signs.
    pub fn newest(&self) -> Option<Key> {
        self.0.read().unwrap_or_else(PoisonError::into_inner).first().cloned()
    }

    /// The key of this name, if we know it.
    pub fn find(&self, kid: &str) -> Option<Key> {
        let keys = self.0.read().unwrap_or_else(PoisonError::into_inner);
        keys.iter().find(|key| key.kid == kid).cloned()
    }

    /// Reads the keys anew: another process may have made or retired one.
    pub async fn reload(&self, db: &DatabaseConnection) -> Result<(), KeyError> {
        let keys = read(db).await?;
        *self.0.write().unwrap_or_else(PoisonError::into_inner) = keys;
        Ok(())
    }
}

async fn read(db: &DatabaseConnection) -> Result<Vec<Key>, KeyError> {
    signing_keys::Entity::find()
        .filter(signing_keys::Column::RetiredAt.is_null())
        .filter(signing_keys::Column::Algorithm.eq(ALGORITHM))
        .order_by_desc(signing_keys::Column::Kid)
        .all(db)
        .await?
        .iter()
        .map(ready)
        .collect()
}

fn ready(row: &signing_keys::Model) -> Result<Key, KeyError> {
    let broken = |why: String| KeyError::Broken { kid: row.kid.clone(), why };
    let pair = SigningKey::from_pkcs8_pem(&row.private_pem).map_err(|e| broken(e.to_string()))?;
    let der = pair.to_pkcs8_der().map_err(|e| broken(e.to_string()))?;
    Ok(Key {
        kid: row.kid.clone(),
        signing: EncodingKey::from_ed_der(der.as_bytes()),
        checking: DecodingKey::from_ed_der(pair.verifying_key().as_bytes()),
    })
}

/// Makes a key. If another process was first, both are used: the newest signs.
async fn make(db: &DatabaseConnection, ids: &Ids, now: DateTime<Utc>) -> Result<(), KeyError> {
    let kid = ids.next().to_string();
    let seed: [u8; 32] = rand::random();
    let pem = SigningKey::from_bytes(&seed)
        .to_pkcs8_pem(LineEnding::LF)
        .map_err(|e| KeyError::Broken { kid: kid.clone(), why: e.to_string() })?;
    let row = signing_keys::ActiveModel {
        kid: Set(kid),
        algorithm: Set(ALGORITHM.to_owned()),
        private_pem: Set(pem.to_string()),
        created_at: Set(now),
        retired_at: Set(None),
    };
    signing_keys::Entity::insert(row)
        .on_conflict(OnConflict::column(signing_keys::Column::Kid).do_nothing().to_owned())
        .exec_without_returning(db)
        .await?;
    Ok(())
}
