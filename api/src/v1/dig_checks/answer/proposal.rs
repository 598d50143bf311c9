//! The one change, with its reason and what should be seen next.

use domain::dig::Proposal;
use serde::Serialize;
use utoipa::ToSchema;

use super::change::{self, ChangeOut};
use super::finding::owned;
use crate::v1::dig_checks::words::{DigCause, ProposalFlag};
use crate::v1::recommendations::answer::CautionOut;
use crate::v1::recommendations::show::Show;
use crate::v1::trace::{Reason, reasons};

/// The one thing to do after a dig, so that the next dig shows what it did.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = Proposal)]
pub struct ProposalOut {
    /// What to do.
    pub change: ChangeOut,
    /// The same in a sentence.
    #[schema(example = "Raise the down force on every row from 223 to 260 lbf: set 36 psi.")]
    pub words: String,
    /// The cause that it deals with; absent when nothing is wrong or nothing is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cause: Option<DigCause>,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What should be seen at the next dig if the reading was right.
    #[schema(max_items = 20, example = json!(["most gauge wheels turn about a quarter turn with effort"]))]
    pub next_dig: Vec<String>,
    /// Warnings about the numbers.
    #[schema(max_items = 6)]
    pub flags: Vec<ProposalFlag>,
    /// What can hurt somebody at this work.
    #[schema(max_items = 10)]
    pub cautions: Vec<CautionOut>,
}

impl ProposalOut {
    /// In these units.
    pub fn of(it: Proposal, show: Show) -> Self {
        let Proposal { change, cause, because, next_dig, flags, cautions } = it;
        Self {
            words: change::words(&change, show),
            change: ChangeOut::of(change, show),
            cause: cause.map(Into::into),
            because: reasons(because),
            next_dig: owned(next_dig),
            flags: flags.into_iter().map(Into::into).collect(),
            cautions: cautions.into_iter().map(CautionOut::of).collect(),
        }
    }
}
