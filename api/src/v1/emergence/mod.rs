//! `/v1/plantings/{id}/degree-days` and `/v1/plantings/{id}/emergence-forecast`: how much heat a
//! planting has had, when it comes up, and when to count its stand.

mod degree_days;
pub mod dto;
mod forecast;
mod gather;
mod say;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(degree_days::degree_days).service(forecast::forecast);
}
