//! When each rule of the table speaks: one function a cause.

pub(super) mod closing;
pub(super) mod frame;
pub(super) mod furrow;
pub(super) mod mechanical;
pub(super) mod rows;
pub(super) mod setting;
pub(super) mod spacing;
