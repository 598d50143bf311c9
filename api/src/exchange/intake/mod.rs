//! What records systems say about growers, farms, fields, planters and yields: planned row by row,
//! then taken.
//!
//! Files, calls and pulls all come in here, so that one record is judged alike whichever way it came:
//!
//! ```ignore
//! let system = System::parse("/system", "records")?;
//! let today = caller.calendar().today(app.clock.now());
//! let source = Source { system, today, beside: Beside::Waits };
//! let columns = Arc::new(Columns::from([(Member::Name, "/properties/name".to_owned())]));
//! let mut field = Incoming::new(Kind::Field, Place::new("/features/3", &columns));
//! field.their_id = Some("F-12".to_owned());
//! field.said.parent = Some(Parent::Theirs("FARM-1".to_owned()));
//! field.said.name = Some("North forty".to_owned());
//! let plan = intake::plan(&app.db, scope, &source, vec![field]).await?;
//! // plan.rows[n] is what would become of incoming[n]; IntakeReport::of(row) the same for an answer.
//! let applied = intake::apply(tx, &app, &by, plan).await?; // in a transaction
//! intake::mark_missing(tx, &app, &by, &system, Kind::Field, &seen).await?; // after a full listing
//! ```
//!
//! What is said is typed but not checked: `plan` checks names, areas and boundaries of what is new or
//! changed, and names each refusal by its [`Place`]. A reader puts what it could not even type into
//! [`Incoming::unread`].
//!
//! **Three sides.** With each of their ids is kept what was said last (the base). What they say now is
//! taken where they changed it and we did not. What only we changed stays. What both changed is a
//! conflict, kept until a person decides. **Nothing is guessed.** A new record that looks like an object
//! of ours waits until a person says that it is the same or new, and so do its children. **Nothing is
//! deleted.** What is missing upstream is marked as gone. **Nobody who was erased comes back by
//! himself.** A person lets him come again (`erased`).

mod apply;
mod columns;
mod decide;
mod erased;
mod harvest;
mod incoming;
#[cfg(test)]
mod laws;
mod outcome;
mod plan;
mod report;
mod system;
mod ties;
mod work;

pub use apply::{By, apply, mark_missing, missing};
pub use columns::{Columns, Member, Place};
pub use decide::{Decided, Decision, Keep, decide_conflict, decide_match};
pub use erased::{Named, below, keep_marks};
pub use incoming::{Incoming, Kind, Parent, Said, TheirRef};
pub use outcome::{
    Alike, Beside, Candidate, Changed, Counts, Disputed, Outcome, Plan, PlannedRow, Source,
    Waiting, by_kind,
};
pub use plan::plan;
pub use report::{
    IntakeCandidate, IntakeCounts, IntakeOutcome, IntakeReport, IntakeWait, in_words,
};
pub use system::{SYSTEM_PATTERN, System, THEIR_ID_MOST, their_id};
pub use ties::{end_tie, find_tie, forget_grower, members_now, version_of};
