//! What the digs teach: laws, brute force beside it, and how often the intervals are right.
#![expect(
    clippy::as_conversions,
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    clippy::indexing_slicing,
    reason = "a broken test must fail loudly"
)]

mod brute_force;
mod coverage;
mod deciding;
mod digs;
mod from_dig;
mod laws;
mod reading;
