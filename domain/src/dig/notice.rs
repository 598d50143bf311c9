//! What whoever sent a dig should know beside what it says: a dig that came too early, too late or
//! twice is kept, and this says what it was held against and what it is good for.

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use super::change::Change;
use super::judge::Judgement;
use super::observation::{Observation, SettingsInUse};
use crate::provenance::{Mark, Reason, Text, sources};

/// Clocks of phones and people are off by this much without a word: minutes.
pub const CLOCKS_DIFFER_MINUTES: i64 = 15;

/// What is to be known. A code never changes its meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NoticeCode {
    /// It was dug before the settings were issued.
    DugBeforeIssue,
    /// It was dug before the settings were issued, and it does not say what was set.
    SettingsNotReported,
    /// A later revision took the place of the one that it was sent to.
    RevisionReplaced,
    /// The same readings came before, with other words.
    SameReadings,
    /// Another dig has the same time and the same rows, with other readings.
    ResemblesAnother,
    /// The rows were not chosen as the plan asked.
    RowsPicked,
    /// All depths are next to nothing, and would be usual in another unit.
    UnitDoubtful,
}

impl NoticeCode {
    /// Whether such a dig counts among those before the next one, and teaches about the soil.
    pub fn counts(self) -> bool {
        match self {
            Self::DugBeforeIssue
            | Self::RevisionReplaced
            | Self::ResemblesAnother
            | Self::RowsPicked => true,
            Self::SettingsNotReported | Self::SameReadings | Self::UnitDoubtful => false,
        }
    }

    /// The same in a few words, for a list.
    pub fn brief(self) -> &'static str {
        match self {
            Self::DugBeforeIssue => "dug before the settings were issued",
            Self::SettingsNotReported => "nobody said what was set",
            Self::RevisionReplaced => "a later revision counts, so this waits for no decision",
            Self::SameReadings => "the same readings came before",
            Self::ResemblesAnother => "another dig has the same time and rows",
            Self::RowsPicked => "the rows were not chosen as planned",
            Self::UnitDoubtful => "the unit of the depths is doubtful",
        }
    }

    /// Whether a change that such a dig proposes may wait for a decision.
    pub fn may_be_decided(self) -> bool {
        match self {
            Self::DugBeforeIssue
            | Self::SettingsNotReported
            | Self::ResemblesAnother
            | Self::RowsPicked => true,
            Self::RevisionReplaced | Self::SameReadings | Self::UnitDoubtful => false,
        }
    }
}

/// Something to be known about a dig.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Notice {
    /// What it is.
    pub code: NoticeCode,
    /// The same in words.
    pub words: Text,
}

impl Notice {
    fn of(code: NoticeCode, words: impl Into<Text>) -> Self {
        Self { code, words: words.into() }
    }

    /// The revision was replaced before this dig came in: before the rows were dug, or after.
    pub fn replaced(before_dug: bool) -> Self {
        let when = if before_dug {
            "A later revision had taken the place of this one when this was dug."
        } else {
            "A later revision took the place of this one before the dig came in."
        };
        let words = format!(
            "{when} The dig is judged against what was set by this revision, as far as it does not say what was set. Its change waits for no decision: dig behind the revision that counts."
        );
        Self::of(NoticeCode::RevisionReplaced, words)
    }

    /// The same readings came before, with other words.
    pub fn same_readings() -> Self {
        let words = "The same readings came before, with another place or other notes. Both are kept, and they count once.";
        Self::of(NoticeCode::SameReadings, Text::Borrowed(words))
    }

    /// Another dig has the same time and rows.
    pub fn resembles() -> Self {
        let words = "Another dig has the same time and the same rows, with other readings. Both are kept, and both count.";
        Self::of(NoticeCode::ResemblesAnother, Text::Borrowed(words))
    }

    /// The depths would be usual in another unit: `2 in`.
    pub fn unit_doubtful(guess: &str) -> Self {
        let words = format!(
            "Every seed lies at less than a quarter inch. Was {guess} meant? Then send the dig again in that unit. As long as this is open, it teaches nothing and its change waits for no decision."
        );
        Self::of(NoticeCode::UnitDoubtful, words)
    }

    /// What the observation itself gives to notice.
    pub fn of_rows(dig: &Observation) -> Option<Self> {
        let words = "The rows were not chosen as the plan asked. Rows that were picked by eye may not speak for the planter.";
        let picked = dig.whereabouts().as_planned == Some(false);
        picked.then(|| Self::of(NoticeCode::RowsPicked, Text::Borrowed(words)))
    }
}

/// How long before the issue of its settings a dig was made; nothing where the clocks may be off.
pub fn early_by(dug_at: DateTime<Utc>, issued_at: DateTime<Utc>) -> Option<TimeDelta> {
    let early = issued_at.signed_duration_since(dug_at);
    (early > TimeDelta::minutes(CLOCKS_DIFFER_MINUTES)).then_some(early)
}

/// What holds of a dig that was made before its settings were issued: nobody had set the planter by
/// them. A setting that was not reported is not known, so no change of it is proposed, and without
/// all of them the soil is not measured.
pub fn hold_back(judged: &mut Judgement, dig: &Observation, early: TimeDelta) -> Vec<Notice> {
    let unknown = unknown(dig.settings());
    let ago = duration(early);
    if unknown.is_empty() {
        let words = format!(
            "This was dug {ago} before these settings were issued. It is judged against the settings that it reports."
        );
        return vec![Notice::of(NoticeCode::DugBeforeIssue, words)];
    }
    let words = format!(
        "This was dug {ago} before these settings were issued, so the planter was not set by them."
    );
    let first = Notice::of(NoticeCode::DugBeforeIssue, words);
    let names: Vec<&str> = unknown.iter().map(|setting| setting.name()).collect();
    let words = format!(
        "Nobody said what was set: {}. No change of that is proposed, and the dig does not count among those that teach. Send it again with the settings that were in use, or dig behind those that were issued.",
        names.join(", ")
    );
    judged.resistance = None;
    if let Some(setting) = Setting::changed_by(&judged.proposal.change)
        && unknown.contains(&setting)
    {
        hold(judged, setting);
    }
    vec![first, Notice::of(NoticeCode::SettingsNotReported, words)]
}

/// The proposal of a change turns into one to look again.
fn hold(judged: &mut Judgement, setting: Setting) {
    let proposal = &mut judged.proposal;
    proposal.change = Change::DigMore { rows: 0, look_for: vec![Text::Borrowed(setting.ask())] };
    proposal.because.push(Reason::fixed(
        "the dig is older than the settings, and nobody said what was set: a change from an unknown setting is a guess",
        Mark::Proposal,
        sources::OWN_CHOICE,
    ));
    proposal.next_dig.clear();
    proposal.flags.clear();
    proposal.cautions.clear();
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Setting {
    DownForce,
    Lever,
    Speed,
}

impl Setting {
    fn changed_by(change: &Change) -> Option<Self> {
        match change {
            Change::DownForce { .. } => Some(Self::DownForce),
            Change::Depth { .. } => Some(Self::Lever),
            Change::Speed { .. } => Some(Self::Speed),
            Change::Inspect { .. }
            | Change::CleanerHeight { .. }
            | Change::ClosingWheels { .. }
            | Change::ClosingSpring { .. }
            | Change::Coulter { .. }
            | Change::Wait { .. }
            | Change::DigMore { .. }
            | Change::KeepAsIs => None,
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::DownForce => "down force",
            Self::Lever => "depth of the lever",
            Self::Speed => "speed",
        }
    }

    fn ask(self) -> &'static str {
        match self {
            Self::DownForce => {
                "the down force that is set: report the force, the pressure or the notch"
            }
            Self::Lever => "the depth lever: report its depth or its notch",
            Self::Speed => "the speed: report what is driven",
        }
    }
}

fn unknown(settings: &SettingsInUse) -> Vec<Setting> {
    [
        (settings.down_force.is_none(), Setting::DownForce),
        (settings.lever_depth.is_none(), Setting::Lever),
        (settings.speed.is_none(), Setting::Speed),
    ]
    .into_iter()
    .filter_map(|(unknown, setting)| unknown.then_some(setting))
    .collect()
}

/// `40 minutes`, `3 hours`, `5 days`.
fn duration(time: TimeDelta) -> String {
    if time < TimeDelta::hours(2) {
        format!("{} minutes", time.num_minutes())
    } else if time < TimeDelta::hours(48) {
        format!("{} hours", time.num_hours())
    } else {
        format!("{} days", time.num_days())
    }
}

#[cfg(test)]
mod tests {
    use super::{NoticeCode, duration, early_by};
    use chrono::{DateTime, TimeDelta, Utc};

    #[test]
    fn clocks_that_are_off_are_no_matter() {
        let issued: DateTime<Utc> = "2027-04-20T12:00:00Z".parse().unwrap();
        let dug = |seconds| early_by(issued - TimeDelta::seconds(seconds), issued);
        assert_eq!(dug(-3600), None, "an hour after");
        assert_eq!(dug(0), None);
        assert_eq!(dug(15 * 60), None);
        assert_eq!(dug(15 * 60 + 1), Some(TimeDelta::seconds(901)));
    }

    #[test]
    fn a_time_is_said_in_its_unit() {
        assert_eq!(duration(TimeDelta::minutes(16)), "16 minutes");
        assert_eq!(duration(TimeDelta::minutes(119)), "119 minutes");
        assert_eq!(duration(TimeDelta::minutes(120)), "2 hours");
        assert_eq!(duration(TimeDelta::hours(47)), "47 hours");
        assert_eq!(duration(TimeDelta::hours(48)), "2 days");
    }

    #[test]
    fn a_replaced_revision_teaches_but_is_not_changed() {
        assert!(NoticeCode::RevisionReplaced.counts());
        assert!(!NoticeCode::RevisionReplaced.may_be_decided());
        assert!(!NoticeCode::SameReadings.counts());
    }
}
