//! Passwords: Argon2id, slow on purpose, and as slow for an account that does not exist.

use std::sync::Arc;

use argon2::Argon2;
use argon2::password_hash::phc::PasswordHash;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};
use tokio::sync::Semaphore;

use super::no_password;
use crate::http::{ApiError, BadMember};

/// Fewest characters of a new password.
pub const LEAST: usize = 12;
/// Most characters of a password.
pub const MOST: usize = 128;
/// How many passwords are worked on at once: each takes some 19 MiB while it lasts.
const AT_ONCE: usize = 2;

/// The hash of a random password that nobody has. Checking against it takes as long as any other.
const NOBODY: &str = "$argon2id$v=19$m=19456,t=2,p=1$bm9ib2R5IGhhcyB0aGlz$fQCAJbPvUuXq8QxqKb4kz1Zr3m0Vx6nJ6m1v3kY2a9E";

/// Hashes and checks passwords, a few at a time, off the threads that answer requests.
#[derive(Debug, Clone)]
pub struct Passwords {
    turns: Arc<Semaphore>,
}

impl Default for Passwords {
    fn default() -> Self {
        Self { turns: Arc::new(Semaphore::new(AT_ONCE)) }
    }
}

impl Passwords {
    /// The hash of a new password, in PHC form.
    pub async fn hash(&self, password: String) -> Result<String, ApiError> {
        let _turn = self.turns.acquire().await.map_err(ApiError::internal)?;
        let hashed = tokio::task::spawn_blocking(move || {
            Argon2::default().hash_password(password.as_bytes()).map(|hash| hash.to_string())
        });
        hashed
            .await
            .map_err(ApiError::internal)?
            .map_err(|error| ApiError::internal(error.to_string()))
    }

    /// Whether `password` is the one of `hash`. Without a hash the work is done all the same, so
    /// that the time taken does not tell who has an account, or one with a password.
    pub async fn is_right(&self, password: String, hash: Option<String>) -> Result<bool, ApiError> {
        let _turn = self.turns.acquire().await.map_err(ApiError::internal)?;
        let checked = tokio::task::spawn_blocking(move || {
            let hash = hash.filter(|hash| hash != no_password::HASH);
            let known = hash.is_some();
            let hash = hash.unwrap_or_else(|| NOBODY.to_owned());
            let right = PasswordHash::new(&hash).is_ok_and(|hash| {
                Argon2::default().verify_password(password.as_bytes(), &hash).is_ok()
            });
            known && right
        });
        checked.await.map_err(ApiError::internal)
    }
}

/// Checks that a new password is long enough to be worth hashing.
pub fn check_new(pointer: &str, password: &str) -> Result<(), BadMember> {
    if (LEAST..=MOST).contains(&password.chars().count()) {
        Ok(())
    } else {
        Err(BadMember::new(pointer, "The password has too few or too many characters.")
            .allowed(format!("{LEAST} to {MOST} characters"))
            .why("a short password is guessed; length counts more than odd signs"))
    }
}

#[cfg(test)]
mod tests {
    use super::{NOBODY, Passwords, no_password};
    use argon2::password_hash::phc::PasswordHash;

    #[tokio::test]
    async fn only_the_right_password_is_right() {
        let passwords = Passwords::default();
        let hash = passwords.hash("a long enough one".to_owned()).await.expect("hash");
        let check = |password: &str, hash: &str| {
            passwords.is_right(password.to_owned(), Some(hash.to_owned()))
        };
        assert!(check("a long enough one", &hash).await.expect("check"));
        assert!(!check("a long enough One", &hash).await.expect("check"));
        assert!(!passwords.is_right("a long enough one".to_owned(), None).await.expect("check"));
        assert!(!check("!", no_password::HASH).await.expect("check"));
    }

    #[tokio::test]
    async fn nobody_costs_as_much_as_anybody() {
        let hash = Passwords::default().hash("a long enough one".to_owned()).await.expect("hash");
        let cost = |hash: &str| {
            let hash = PasswordHash::new(hash).expect("PHC");
            (hash.algorithm.to_string(), hash.params.to_string(), hash.hash.map(|h| h.len()))
        };
        assert_eq!(cost(NOBODY), cost(&hash));
    }
}
