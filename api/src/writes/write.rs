//! The argument of a handler that writes.

use std::future::{Ready, ready};

use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpRequest};
use sea_orm::DatabaseTransaction;
use serde::Serialize;

use super::actor::Actor;
use super::audit::{self, Origin};
use super::done::{Done, Touched};
use super::kept;
use super::key::Key;
use super::written::Written;
use crate::app::AppState;
use crate::changes::{self, Tells};
use crate::db;
use crate::http::ApiError;

/// The argument of a handler that writes; the module says how it is used.
#[derive(Debug)]
pub struct Write {
    request: HttpRequest,
}

impl FromRequest for Write {
    type Error = ApiError;
    type Future = Ready<Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, _payload: &mut Payload) -> Self::Future {
        ready(Ok(Self { request: request.clone() }))
    }
}

impl Write {
    /// Does something in a transaction, at most once for a key.
    ///
    /// # Errors
    /// Those of `effect`; 409 and 422 for a key.
    pub async fn run<T: Serialize>(
        self,
        app: &AppState,
        by: impl Into<Actor>,
        effect: impl AsyncFnOnce(&DatabaseTransaction) -> Result<Done<T>, ApiError>,
    ) -> Result<Written<T>, ApiError> {
        let nothing = async || Ok(());
        self.run_prepared(app, by, nothing, async |tx, ()| effect(tx).await).await
    }

    /// The same with work that takes long and needs no transaction; it is left out where the answer
    /// is there already.
    ///
    /// # Errors
    /// Those of `prepare` and `effect`; 409 and 422 for a key.
    pub async fn run_prepared<P, T: Serialize>(
        self,
        app: &AppState,
        by: impl Into<Actor>,
        prepare: impl AsyncFnOnce() -> Result<P, ApiError>,
        effect: impl AsyncFnOnce(&DatabaseTransaction, P) -> Result<Done<T>, ApiError>,
    ) -> Result<Written<T>, ApiError> {
        let by = by.into();
        let operation = app.operation_names.find(&self.request)?;
        let origin = Origin { by: &by, operation, request: &self.request };
        let Some(key) = Key::of(&self.request, &by, operation)? else {
            let prepared = Box::pin(prepare()).await?;
            return Self::carry_out(app, origin, None, prepared, effect).await;
        };
        let _held = app.in_flight.hold(key.id).ok_or_else(kept::under_way)?;
        if let Some(again) = kept::find(&app.db, &key, app.clock.now()).await? {
            return Ok(Written::Again(again));
        }
        let prepared = Box::pin(prepare()).await?;
        let written = Self::carry_out(app, origin, Some(&key), prepared, effect).await?;
        sweep_at_times(app);
        Ok(written)
    }

    async fn carry_out<P, T: Serialize>(
        app: &AppState,
        origin: Origin<'_>,
        key: Option<&Key>,
        prepared: P,
        effect: impl AsyncFnOnce(&DatabaseTransaction, P) -> Result<Done<T>, ApiError>,
    ) -> Result<Written<T>, ApiError> {
        let tx = db::begin(&app.db).await?;
        if let Some(key) = key
            && let Some(again) = kept::claim(&tx, key, app.clock.now()).await?
        {
            return Ok(Written::Again(again));
        }
        // On the heap: what an operation does is too large to be carried through by value.
        let Done { touched, answer } = Box::pin(effect(&tx, prepared)).await?;
        if let Some(touched) = &touched {
            audit::append(&tx, app, origin, touched).await?;
        }
        if let (Some(key), Ok(answer)) = (key, &answer) {
            kept::keep(&tx, key, app.clock.now(), answer).await?;
        }
        if let Some(touched) = &touched {
            tell(&tx, app, origin, touched).await?;
        }
        tx.commit().await?;
        app.jobs.wake();
        app.notices.wake();
        answer.map(Written::Now)
    }
}

/// Tells those who follow the practice. Last, since other writers wait from here to the commit.
async fn tell(
    tx: &DatabaseTransaction,
    app: &AppState,
    origin: Origin<'_>,
    touched: &Touched,
) -> Result<(), ApiError> {
    let Origin { by, operation, .. } = origin;
    let made = match changes::of_operation(operation) {
        Some(Tells::Of(change_type)) => touched.changes(Some(change_type)),
        Some(Tells::AsSaid) => touched.changes(None),
        Some(Tells::Nobody) => return Ok(()),
        None => {
            let text = format!("{operation} has no row in the table of what operations tell");
            return Err(ApiError::internal(text));
        }
    };
    changes::append(tx, app, by.practice_id, &made).await
}

/// Expired keys go beside the requests, now and then.
fn sweep_at_times(app: &AppState) {
    let now = app.clock.now();
    if app.in_flight.sweep_is_due(now) {
        tokio::spawn(kept::sweep(app.db.clone(), now));
    }
}
