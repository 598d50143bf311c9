//! What goes over the wire.

mod auth;
mod link;
mod paging;
mod resource;
mod run;
mod test;

pub use auth::{RecordsAuth, RecordsAuthIn};
pub use link::{
    RecordsLink, RecordsLinkFilter, RecordsLinkIn, RecordsLinkPage, RecordsLinkPatch,
    RecordsPreset, StoredProfile,
};
pub use paging::{RecordsChanges, RecordsPaging};
pub use resource::{
    RecordsBoundary, RecordsEncoding, RecordsMeasure, RecordsParameter, RecordsResource,
    RecordsResources,
};
pub use run::{
    RecordsCounts, RecordsNote, RecordsRun, RecordsRunDetail, RecordsRunFilter, RecordsRunIn,
    RecordsRunPage, RecordsStop, StoredReport,
};
pub use test::{RecordsRead, RecordsSample, RecordsTest, RecordsTested, RecordsUnfound};
