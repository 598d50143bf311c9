//! Statistics, thin over `statrs`: what a dig and a range need.

mod apart;
mod by_group;
mod chi_square;
mod component_limits;
mod count;
mod fisher_exact;
mod fisher_snedecor;
mod multiple;
mod normal;
mod one_way;
mod range;
mod sample;
mod spread;
mod student;
mod wilson;

pub use apart::{Difference, Usual, apart};
pub use by_group::{Pooled, figure_limits, mean_limits};
pub use chi_square::{chi_square_below, sd_limits};
pub use component_limits::ComponentLimits;
pub use count::count;
pub use fisher_exact::fisher_exact;
pub use fisher_snedecor::{f_point, f_tail};
pub use multiple::holm;
pub use normal::{phi, phi_inverse};
pub use one_way::{Components, OneWay};
pub use range::Range;
pub use sample::{mean, sd, squares};
pub use spread::{Curve, Spread};
pub use student::{t_critical, t_p_value, units_needed, units_needed_by};
pub use wilson::wilson;
