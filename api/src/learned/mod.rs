//! What the digs of a practice taught about resistance, kept.
//!
//! Each dig check leaves one lesson ([`record`]), in the transaction that stores it. A lesson is a
//! few numbers, and what was learned is a pure function of all of them: [`LearnedCache`] holds it
//! for the practices that ask, and catches up with what any process has recorded since. Lessons
//! can be made again from the dig checks at any time ([`rebuild`]).
//!
//! ```ignore
//! let learned = app.lessons.of(&app.db, scope, &figures_in_force, season).await?;
//! let lessons = learned.lessons(&place);
//! ```

mod cache;
mod lesson;
mod rebuild;
mod store;

pub use cache::LearnedCache;
pub use lesson::{Lesson, class_of, cover_of, place_of, season_of, soil_of};
pub use rebuild::{Rebuilt, count_to_seasons, event_of_stored, fill_in, fill_in_all, rebuild};
pub use store::record;
