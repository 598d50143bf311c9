//! ISO 11783-10 task data, out (`pack`): a planned task for a terminal, with customer, farm, field and
//! boundary; and in (`records`): growers, farms and fields.
//!
//! The file carries the seeding rate and the rate of a liquid; depth, down force and speed only where the
//! caller asks for each by name, since few terminals obey them. No machine is described: an office does not
//! know the terminal's own description of it, and a made-up one would be worse than none. `NOTES.txt` says
//! what the sheet says and the file can't carry.

mod ddi;
mod declared;
mod file;
mod land;
mod names;
mod notes;
mod pack;
mod query;
mod read;
mod unpack;
mod xml;

pub use self::ddi::{DDIS, Ddi};
pub use self::declared::declared;
pub use self::names::{MOST_LETTERS, Names};
pub use self::pack::{Content, Sheet, pack};
pub use self::query::{TaskDataQuery, TaskDataVersion};
pub use self::read::{TaskFiles, records};
pub use self::unpack::unpack;
