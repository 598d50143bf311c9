//! Where every number comes from: sources, marks, coefficients and the trace of a result.

mod advice;
mod coefficient;
mod mark;
mod own;
mod set;
pub mod sources;
mod table;
mod trace;

pub use advice::{Advice, Reason};
pub use coefficient::{Coefficient, Within};
pub use mark::Mark;
pub use own::{OwnFault, OwnFigure};
pub use set::{Figure, SetFault};
pub use sources::Source;
pub use table::Coefficients;
pub use trace::{Assumed, Input, Step, Text, Trace};
