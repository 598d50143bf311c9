//! What comes before any comparison, and what none can know.

use domain::provenance::{Mark, Reason, sources};

/// What comes first.
pub(super) const FIRST: [Reason; 2] = [
    Reason::fixed(
        "crop insurance: ask the insurer before a stand is destroyed; the policy says what is paid and what must be shown",
        Mark::CommonPractice,
        sources::COMMON_PRACTICE,
    ),
    Reason::fixed(
        "labels: what was sprayed may forbid the crop or the date, and killing the old stand goes by the label too, which is the law",
        Mark::CommonPractice,
        sources::COMMON_PRACTICE,
    ),
];

/// What no table knows.
pub(super) const CAN_NOT_KNOW: [&str; 6] = [
    "why the stand is thin, and whether that would take the new one too",
    "whether the plants that stand are healthy",
    "the weather of this year: single years lie far from the tables",
    "whether a hybrid or variety of a fitting maturity is to be had",
    "weeds, and what the delay does to their control",
    "the soil at the day of planting again: planted wet, a new stand may be no better",
];

/// The tenth, as its source says it.
pub(super) const A_TENTH: Reason = Reason::fixed(
    "take about 10 % more off the replanted yield for replant problems: the range has none to all of it",
    Mark::Read,
    sources::NEBRASKA_STANDS,
);

/// What replanting for unevenness alone brings.
pub(super) const FOR_UNEVENNESS: Reason = Reason::fixed(
    "for late plants alone: under two weeks late, planting again gains less than 5 %; with half or more of the plants three weeks late, up to 10 %",
    Mark::Read,
    sources::OHIO_UNEVEN,
);

/// How a stand of corn follows from seed.
pub(super) const CORN_SEED: Reason = Reason::fixed(
    "late planted corn is seeded 3 to 5 % above the stand that is wanted",
    Mark::Read,
    sources::OHIO_SURVIVAL,
);

/// How a stand of soybean follows from seed.
pub(super) const SOYBEAN_SEED: Reason = Reason::fixed(
    "of soybean seed that germinates to 95 %, about 85 % become plants (72 to 90 % of all seed)",
    Mark::Assumption,
    sources::ASSUMPTION,
);

/// No table for soybean.
pub(super) const NO_SOYBEAN_TABLE: Reason = Reason::fixed(
    "no whole table of soybean by date and stand is to be had: what is published is listed, and is incomplete",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
