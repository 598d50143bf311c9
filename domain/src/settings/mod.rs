//! The engine: one file a setting.
