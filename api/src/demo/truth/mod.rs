//! How planters and fields really are. Nobody in the story knows it, least of all the service: it
//! only learns what a digger finds and writes down.
//!
//! Figures are drawn from the published ranges that the engine also works from, but each field has
//! its own, so that a sheet may be right or wrong. Forces in N, lengths in m, speeds in km/h.

mod digger;
mod ground;
mod iron;
mod mend;
mod row;
mod shed;
mod signs;
mod stand;
mod trial;

pub(super) use digger::{Dig, DugRow, dig};
pub(super) use ground::Ground;
pub(super) use iron::Iron;
pub(super) use row::InUse;
pub(super) use shed::Worked;
pub(super) use stand::stand;
pub(super) use trial::{plot, strip};

const INCH: f64 = 0.0254;
const POUND_FORCE: f64 = 4.448_221_615_260_5;
const BUSHEL: f64 = 0.035_239_070_166_88;

#[cfg(test)]
mod tests;
