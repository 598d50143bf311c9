//! The handler of each kind.

use super::lease::Leased;
use super::task::Task;
use crate::app::AppState;
use crate::http::ApiError;
use crate::mail;

/// Why a job was not done. The words are kept and shown to the lead: no address, no secret.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Failure {
    /// It may work later.
    Again(String),
    /// It is no use to try again.
    Never(String),
}

impl From<ApiError> for Failure {
    fn from(error: ApiError) -> Self {
        tracing::warn!(code = error.code().code(), cause = error.chain(), "a job failed");
        Self::Again("A fault on our side; the log of the service says more.".to_owned())
    }
}

impl From<sea_orm::DbErr> for Failure {
    fn from(error: sea_orm::DbErr) -> Self {
        ApiError::from(error).into()
    }
}

/// Does a job. Safe to repeat: whoever did it before may have died before he could say so.
///
/// # Errors
/// When it was not done.
pub async fn carry_out(app: &AppState, leased: &Leased) -> Result<(), Failure> {
    let job = &leased.job;
    let task = serde_json::from_value(job.payload.clone())
        .map_err(|error| Failure::Never(format!("The payload can't be read: {error}.")))?;
    match task {
        Task::Digest { account_id } => mail::digest::send(app, job, account_id).await,
        Task::SheetReady { recommendation_id, grower_id } => {
            mail::sheet_ready::send(app, job, recommendation_id, grower_id).await
        }
        Task::PasswordLink { account_id } => mail::password_link::send(app, job, account_id).await,
        Task::AccessLink { grower_id, made_by } => {
            mail::access_link::send(app, job, grower_id, made_by).await
        }
    }
}
