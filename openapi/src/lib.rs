//! The committed OpenAPI document.
//!
//! It is written by `dibble openapi --out openapi/openapi.json`; a test compares it with what the
//! service would write now, and further tests hold it to the house rules.

use serde_json::Value;

/// The committed document, byte for byte.
pub const COMMITTED: &str = include_str!("../openapi.json");

/// The committed document.
///
/// # Errors
/// If the file is not JSON.
pub fn document() -> serde_json::Result<Value> {
    serde_json::from_str(COMMITTED)
}
