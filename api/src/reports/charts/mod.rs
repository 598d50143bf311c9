//! Charts as inline SVG: pure functions of a section of the report, without script.
//!
//! Each has a title and says in words what it shows, names its units on the axes, and labels what
//! it draws where it is drawn.

mod canvas;
mod depth;
mod effects;
mod groups;
mod loads;
mod scale;
mod share;
mod weeks;

pub use self::depth::depths;
pub use self::effects::effects;
pub use self::groups::{Group, groups};
pub use self::loads::loads;
pub use self::share::share;
pub use self::weeks::weeks;
