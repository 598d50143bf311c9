//! What goes over the wire.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::{DayOfYear, Limits};
use crate::http::patch::present;
use crate::http::{ApiError, BadMember, Refused};

/// When something needs somebody. The figures that ship are ours, from no source.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "sheet_unseen_hours": 24,
    "dig_after_planting_hours": 24,
    "dig_after_seen_days": 3,
    "conditions_days": 7,
    "calibration_months": 24,
    "inspection_days": 21,
    "planting_begins": "04-15",
    "own": false,
    "version": 0
})))]
pub struct AttentionLimits {
    /// Hours after which a sheet that nobody has confirmed to have seen needs somebody.
    #[schema(minimum = 1, maximum = 720, example = 24)]
    pub sheet_unseen_hours: i64,
    /// Hours after the end of the day of planting within which a dig should come in.
    #[schema(minimum = 1, maximum = 720, example = 24)]
    pub dig_after_planting_hours: i64,
    /// Days after a sheet was seen within which a dig should come in where no planting is reported.
    #[schema(minimum = 1, maximum = 60, example = 3)]
    pub dig_after_seen_days: i64,
    /// Days that conditions hold for a sheet that is still to be planted by.
    #[schema(minimum = 1, maximum = 60, example = 7)]
    pub conditions_days: i64,
    /// Months that a calibration of down force holds.
    #[schema(minimum = 1, maximum = 120, example = 24)]
    pub calibration_months: u32,
    /// Days before planting begins by which a planter should be inspected.
    #[schema(minimum = 1, maximum = 180, example = 21)]
    pub inspection_days: i64,
    /// The day on which planting begins here, `MM-DD`.
    #[schema(pattern = "^[0-1][0-9]-[0-3][0-9]$", example = "04-15")]
    pub planting_begins: String,
    /// Whether the practice has set figures of its own; otherwise they are those that ship.
    #[schema(example = false)]
    pub own: bool,
    /// Counts the changes, from 0; also in the header `ETag`.
    #[schema(minimum = 0, example = 0)]
    pub version: i32,
}

impl AttentionLimits {
    /// As they are now.
    pub(super) fn of(limits: &Limits, version: i32) -> Self {
        let Limits {
            sheet_unseen_hours,
            dig_after_planting_hours,
            dig_after_seen_days,
            conditions_days,
            calibration_months,
            inspection_days,
            begins,
        } = *limits;
        Self {
            sheet_unseen_hours,
            dig_after_planting_hours,
            dig_after_seen_days,
            conditions_days,
            calibration_months,
            inspection_days,
            planting_begins: begins.to_string(),
            own: version > 0,
            version,
        }
    }
}

/// Changes to the limits. What is absent stays.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"dig_after_seen_days": 4, "planting_begins": "04-20"})))]
pub struct AttentionLimitsPatch {
    /// Hours after which a sheet that nobody has confirmed to have seen needs somebody.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 720, example = 24)]
    pub sheet_unseen_hours: Option<i64>,
    /// Hours after the end of the day of planting within which a dig should come in.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 720, example = 24)]
    pub dig_after_planting_hours: Option<i64>,
    /// Days after a sheet was seen within which a dig should come in where no planting is reported.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 60, example = 3)]
    pub dig_after_seen_days: Option<i64>,
    /// Days that conditions hold for a sheet that is still to be planted by.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 60, example = 7)]
    pub conditions_days: Option<i64>,
    /// Months that a calibration of down force holds.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 120, example = 24)]
    pub calibration_months: Option<i64>,
    /// Days before planting begins by which a planter should be inspected.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 180, example = 21)]
    pub inspection_days: Option<i64>,
    /// The day on which planting begins here, `MM-DD`; a day that every year has.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 5,
        pattern = "^[0-1][0-9]-[0-3][0-9]$",
        example = "04-20"
    )]
    pub planting_begins: Option<String>,
}

impl AttentionLimitsPatch {
    /// The limits after the change.
    pub(super) fn over(self, before: Limits) -> Result<Limits, ApiError> {
        let mut refused = Refused::default();
        let mut number = |pointer: &str, given: Option<i64>, most: i64, before: i64| {
            let given = given.unwrap_or(before);
            refused.take(within(pointer, given, most)).unwrap_or(before)
        };
        let months = number(
            "/calibration_months",
            self.calibration_months,
            120,
            before.calibration_months.into(),
        );
        let mut limits = Limits {
            sheet_unseen_hours: number(
                "/sheet_unseen_hours",
                self.sheet_unseen_hours,
                720,
                before.sheet_unseen_hours,
            ),
            dig_after_planting_hours: number(
                "/dig_after_planting_hours",
                self.dig_after_planting_hours,
                720,
                before.dig_after_planting_hours,
            ),
            dig_after_seen_days: number(
                "/dig_after_seen_days",
                self.dig_after_seen_days,
                60,
                before.dig_after_seen_days,
            ),
            conditions_days: number(
                "/conditions_days",
                self.conditions_days,
                60,
                before.conditions_days,
            ),
            calibration_months: u32::try_from(months).unwrap_or(before.calibration_months),
            inspection_days: number(
                "/inspection_days",
                self.inspection_days,
                180,
                before.inspection_days,
            ),
            begins: before.begins,
        };
        if let Some(given) = self.planting_begins {
            limits.begins = refused.take(day(&given)).unwrap_or(before.begins);
        }
        refused.finish()?;
        Ok(limits)
    }
}

fn within(pointer: &str, given: i64, most: i64) -> Result<i64, BadMember> {
    if (1..=most).contains(&given) {
        return Ok(given);
    }
    Err(BadMember::new(pointer, "The number is too small or too large.")
        .given(given)
        .allowed(format!("1 to {most}"))
        .why("shorter would be noise, longer would forget what waits"))
}

fn day(given: &str) -> Result<DayOfYear, BadMember> {
    DayOfYear::read(given).ok_or_else(|| {
        BadMember::new("/planting_begins", "There is no such day in every year.")
            .given(given.escape_debug())
            .allowed("MM-DD, from 01-01 to 12-31 but not 02-29")
    })
}
