//! Degree days, stand counts, emergence.
