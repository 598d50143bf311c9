//! Tests that walk the API document, so that no operation can be forgotten.
//!
//! The document is the one that the code writes, not the committed one. An operation with a path, a
//! reference in its body or a filter that `world.rs` does not know fails every one of these tests.

mod document;
mod no_token;
mod others_cursors;
mod others_ids;
mod others_lists;
mod others_references;
mod roles;
mod statuses;
mod time;
mod world;
