//! The dig check: observation, statistics, findings, adjustment.
