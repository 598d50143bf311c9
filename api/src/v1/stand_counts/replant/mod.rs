//! `POST /v1/stand-counts/{id}/replant-comparison`: what stands against planting again.
//!
//! A comparison, never an order: each published table by itself, with region and year, as a range,
//! with what it costs, what comes before it, and what it can't know.

mod answer;
mod compare;
mod dto;
mod words;

pub(super) use compare::compare_replanting;
