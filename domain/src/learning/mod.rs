//! What the digs teach about resistance.
//!
//! The balance of a row works with a likely reaction of opener and coulter. What soil really asks
//! for is that reaction times a **resistance factor**. Its logarithm is pooled over five levels:
//! the practice, the soil and cover class, the planter in that class, the field, and the field in
//! one season. A dig says something about the factor in its field on its day: wheels that spin
//! free, turn with effort or cannot be turned, a logged load, and depth that was reached or not.
//!
//! The levels form a tree, the factor of each node is one number, and so the posterior is exact on
//! a grid: each node hands up what its digs say, blurred by how much its level varies
//! ([`Learned`]). A field learns a lot from its own digs, less from other fields of the same
//! planter, a little from the neighbour's. Old seasons are blurred more than new ones. All of it
//! is a function of the list of events, so it can be rebuilt at any time.

mod balance;
mod decide;
mod depth_reached;
mod event;
mod felt;
mod from_dig;
mod grid;
pub(crate) mod id;
mod learned;
mod lessons;
mod likelihood;
mod mesh;
mod node;
mod of_row;
mod place;
mod posterior;
mod prior;
mod taught;

pub use balance::{DugBalance, WheelEdges};
pub use decide::{Decided, Need, Steps, chance_in_window, decide};
pub use event::{DigEvent, RowSeen};
pub use from_dig::{blocks_force, event_of_dig, need_of_row};
pub use grid::{FACTOR_RANGE, LogDensity, POINTS};
pub use learned::{DigsCounted, Learned};
pub use lessons::Lessons;
pub use likelihood::{Reading, log_likelihood};
pub use of_row::factor_of_row;
pub use place::{CoverClass, Place, SoilClass, SoilGroup};
pub use posterior::Posterior;
pub use prior::Prior;
pub use taught::{SetForce, Taught};
