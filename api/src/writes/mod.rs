//! The one way in which an operation writes.
//!
//! A handler takes a [`Write`] beside its caller and hands it what is to be done:
//!
//! ```ignore
//! #[post("/farms")]
//! async fn create(
//!     app: Data<AppState>,
//!     caller: Caller<CanKeep>,
//!     write: Write,
//!     body: Body<FarmIn>,
//! ) -> Result<Written<Farm>, ApiError> {
//!     let new = body.into_inner().parse()?;
//!     write
//!         .run(&app, &caller, async |tx| {
//!             let row = store::insert(tx, caller.scope(), new).await?;
//!             let touched = Touched::new("farm", row.id).of_grower(row.grower_id);
//!             Ok(Done::new(touched, Answer::created(path_of(&row), Farm::from(row))))
//!         })
//!         .await
//! }
//! ```
//!
//! One transaction holds what the closure does, one row of `audit_events`, the rows of `changes` for
//! those who follow, and, where the request has an `Idempotency-Key`, the key with the answer. All of
//! them are there afterwards, or none: a request that failed may be sent again with the same key. The same request with the same key is
//! answered with the answer that it had, without doing anything, for [`KEPT_FOR`].
//!
//! Rules for the closure:
//! - It reads and writes through `tx` alone. On SQLite a second connection would wait for the first.
//! - What looks at the state of an object (finding it, its `If-Match`) stands inside it: a request
//!   that is sent again would fail that look, though it has an answer. What only reads the request
//!   may stand before.
//! - It is short, since SQLite has one writer. Work that takes long goes into the first closure of
//!   [`Write::run_prepared`], which runs before the transaction begins, and only for a request
//!   that is not answered already.
//! - Someone who is not signed in yet acts as the account that he is about to prove to be:
//!   `write.run(&app, &account, …)`.
//! - What else the write changed is said by [`Touched::also`]. Which change an operation tells stands in
//!   `changes/tells.rs`.
//! - Nothing was changed: [`Done::unchanged`]. What was done stays although the answer is an error
//!   (a stolen token ends its session): [`Done::refused`].
//! - An answer with a secret is marked by `Answer::secret`; nothing of it or of the request is kept
//!   then, and the same key gets 409 instead of the secret. Mark an answer also when only the
//!   request holds a secret (a new password).
//!
//! In the API document the operation lists [`IdempotencyKey`] among its `params`; [`describe`] adds
//! what follows from it.

mod actor;
mod audit;
mod document;
mod done;
mod in_flight;
mod kept;
mod key;
mod names;
mod write;
mod written;

pub use actor::Actor;
pub use document::{IdempotencyKey, describe};
pub use done::{Done, Touched};
pub use in_flight::InFlight;
pub use kept::{KEPT_FOR, forget_answers};
pub use names::OperationNames;
pub use write::Write;
pub use written::Written;
