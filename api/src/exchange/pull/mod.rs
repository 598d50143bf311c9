//! Records that the service fetches from a records system, by a profile that says where they are.
//!
//! A [`Profile`](profile::Profile) says where the lists are (JSONPath, RFC 9535), what stands where in a record (JSON
//! Pointer, RFC 6901) and in which unit; there are no expressions. A [`Gatherer`](gather::Gatherer) walks over the
//! pages of each resource; a [`Reader`](read::Reader) turns each record into one of the
//! [intake](super::intake), which judges it as it judges those of files and calls.
//!
//! **All or nothing.** What can't be fetched to its end ends the run, and nothing is taken. **Nothing is trusted.**
//! Pages, bytes, values, records and time have ends; a page that comes twice or leads to another host ends the run;
//! addresses are checked by [`outgoing`](crate::outgoing). **Nothing is deleted.** What a whole list lacks is marked.

pub mod bounds;
pub mod fetch;
pub mod gather;
pub mod items;
pub mod link_header;
pub mod paging;
pub mod pointer;
pub mod profile;
pub mod read;
pub mod remembered;
pub mod runs;
pub mod sample;
pub mod stop;
pub mod token;
pub mod wkt_text;
