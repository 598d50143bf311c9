//! The Dibble service: HTTP, storage, identity.
//!
//! One request from start to end: `routes` has the path, `auth::Caller` says who may call, the
//! file of the operation under `v1` parses, asks its `store`, calls `domain`, and answers.

pub mod app;
pub mod auth;
pub mod calendar;
pub mod changes;
pub mod clock;
pub mod config;
pub mod db;
pub mod demo;
pub mod document;
pub mod entities;
pub mod exchange;
pub mod health;
pub mod http;
pub mod ids;
pub mod jobs;
pub mod learned;
pub mod mail;
pub mod notices;
pub mod operations;
pub mod outgoing;
pub mod pages;
pub mod reports;
pub mod routes;
pub mod sealed;
pub mod season;
pub mod sheet_links;
pub mod telemetry;
pub mod tls;
pub mod v1;
pub mod well_known;
pub mod workers;
pub mod writes;
