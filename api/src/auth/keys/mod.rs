//! The keys that sign access tokens: Ed25519, the first one made on the first start, kept in the
//! database. Whoever reads the database can sign in as anybody, so it is guarded as the passwords
//! are.
//!
//! A new key is published before it signs, so that everyone who checks tokens by themselves has
//! read it when its first token comes. An old one checks until the last token that it signed has
//! expired. Processes read the keys anew every [`READ_EVERY`].

mod jwk;
mod key;
mod look;
mod store;

use std::sync::{PoisonError, RwLock};

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::{DatabaseConnection, DbErr};

use look::Looks;

pub use jwk::{Jwk, thumbprint};
pub use key::Key;
pub use store::{KeyRow, all, retire, rotate};

/// How old a process's picture of the keys may become.
pub const READ_EVERY: TimeDelta = TimeDelta::seconds(60);
/// How long others may keep what was published.
pub const KEPT_BY_OTHERS: TimeDelta = TimeDelta::seconds(300);
/// How long a new key is published before it signs: both of the above, with room to spare.
pub const PUBLISHED_BEFORE: TimeDelta = TimeDelta::seconds(600);

/// Why the keys are not to be had.
#[derive(Debug, thiserror::Error)]
pub enum KeyError {
    /// The database failed.
    #[error("the signing keys could not be read or written")]
    Database(#[from] DbErr),
    /// A stored key is broken.
    #[error("the signing key {kid} can't be used: {why}")]
    Broken {
        /// Which one.
        kid: String,
        /// What is wrong.
        why: String,
    },
    /// There is no such key.
    #[error("there is no signing key {0} in use")]
    Unknown(String),
}

/// All keys in use.
#[derive(Debug)]
pub struct Keys {
    picture: RwLock<Picture>,
    looks: Looks,
}

/// What was read, newest first.
#[derive(Debug)]
struct Picture {
    keys: Vec<Key>,
    read_at: DateTime<Utc>,
}

impl Keys {
    /// Reads the keys; makes the first one when there is none.
    pub async fn load(db: &DatabaseConnection, now: DateTime<Utc>) -> Result<Self, KeyError> {
        let mut keys = store::in_use(db).await?;
        if keys.is_empty() {
            store::make(db, now, now).await?;
            keys = store::in_use(db).await?;
        }
        Ok(Self { picture: RwLock::new(Picture { keys, read_at: now }), looks: Looks::default() })
    }

    /// The key that signs: the newest whose turn has come. Where none's has (the one that signed
    /// was taken out of use in a hurry), the next one does not wait.
    pub fn signing(&self, now: DateTime<Utc>) -> Option<Key> {
        let good = self.published(now);
        let come = good.iter().find(|key| key.signs_from <= now);
        come.or_else(|| good.iter().min_by_key(|key| key.signs_from)).cloned()
    }

    /// The key of this name, if we know it and it still checks tokens.
    pub fn find(&self, kid: &str, now: DateTime<Utc>) -> Option<Key> {
        let picture = self.picture.read().unwrap_or_else(PoisonError::into_inner);
        picture.keys.iter().find(|key| key.kid == kid && key.checks_at(now)).cloned()
    }

    /// The keys that check tokens, newest first.
    pub fn published(&self, now: DateTime<Utc>) -> Vec<Key> {
        let picture = self.picture.read().unwrap_or_else(PoisonError::into_inner);
        picture.keys.iter().filter(|key| key.checks_at(now)).cloned().collect()
    }

    /// The key of a name that [`Keys::find`] does not know: another process may have made it after
    /// this one read the keys. However many such names come, the database is asked but once in
    /// ten seconds, and not again for a name that was not there.
    pub async fn look_for(
        &self,
        db: &DatabaseConnection,
        kid: &str,
        now: DateTime<Utc>,
    ) -> Result<Option<Key>, KeyError> {
        if !self.looks.may_look(kid, now) {
            return Ok(None);
        }
        self.read(db, now).await?;
        let found = self.find(kid, now);
        if found.is_none() {
            self.looks.note_unknown(kid);
        }
        Ok(found)
    }

    /// Reads the keys anew if that was not done for [`READ_EVERY`]. If it fails, what was read before stays.
    pub async fn renew_if_due(&self, db: &DatabaseConnection, now: DateTime<Utc>) {
        if !self.is_due(now) {
            return;
        }
        match self.read(db, now).await {
            Ok(()) => self.looks.forget(),
            Err(error) => tracing::warn!(%error, "the signing keys could not be read anew"),
        }
    }

    /// Says so to one caller only: the others go on with what there is.
    fn is_due(&self, now: DateTime<Utc>) -> bool {
        let due = |picture: &Picture| (now - picture.read_at).abs() >= READ_EVERY;
        if !due(&self.picture.read().unwrap_or_else(PoisonError::into_inner)) {
            return false;
        }
        let mut picture = self.picture.write().unwrap_or_else(PoisonError::into_inner);
        let still = due(&picture);
        picture.read_at = now;
        still
    }

    async fn read(&self, db: &DatabaseConnection, now: DateTime<Utc>) -> Result<(), KeyError> {
        let keys = store::in_use(db).await?;
        *self.picture.write().unwrap_or_else(PoisonError::into_inner) =
            Picture { keys, read_at: now };
        Ok(())
    }
}
