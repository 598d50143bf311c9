//! Statistics, thin over `statrs`: what a dig and a range need.

mod apart;
mod chi_square;
mod count;
mod multiple;
mod normal;
mod one_way;
mod range;
mod sample;
mod spread;
mod student;
mod wilson;

pub use apart::{Difference, Usual, apart};
pub use chi_square::sd_limits;
pub use count::count;
pub use multiple::holm;
pub use normal::{phi, phi_inverse};
pub use one_way::{Components, OneWay};
pub use range::Range;
pub use sample::{mean, sd, squares};
pub use spread::{Curve, Spread};
pub use student::{t_critical, t_p_value, units_needed};
pub use wilson::wilson;
