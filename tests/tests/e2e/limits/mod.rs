//! What a caller may use up, and what becomes of one who takes more.

mod bodies;
mod cors;
mod forms;
mod heads;
mod rates;
mod raw;
mod slow;
mod time;
mod traces;
