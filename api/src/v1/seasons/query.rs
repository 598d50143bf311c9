//! Of which season, and of whom.

use serde::Deserialize;
use utoipa::IntoParams;
use uuid::Uuid;

use crate::app::AppState;
use crate::auth::Caller;
use crate::http::ApiError;
use crate::season::gather::Of;
use crate::season::report::{Asked, Subject};
use crate::v1::units::Units;

/// Of whom the report is, and in which units.
#[derive(Debug, Clone, Copy, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct ReportQuery {
    /// Of this grower. At most one of the three is given; without any the report is of all that the
    /// caller sees.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Of this planter.
    #[serde(default)]
    #[param(nullable = false)]
    pub planter_id: Option<Uuid>,
    /// Of the growers that this advisor looks after now.
    #[serde(default)]
    #[param(nullable = false)]
    pub advisor_id: Option<Uuid>,
    /// Units of the answer; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub units: Option<Units>,
}

impl ReportQuery {
    /// The subject that is asked for, and what sections are gathered from.
    ///
    /// # Errors
    /// 404 for someone else's; 422 for more than one subject; 503 while seasons are counted.
    pub async fn find<P>(
        &self,
        app: &AppState,
        caller: &Caller<P>,
        season: i32,
    ) -> Result<(Subject, Of), ApiError> {
        let Self { grower_id, planter_id, advisor_id, units: _ } = *self;
        app.counting.check(caller.practice_id())?;
        let asked = Asked { grower_id, planter_id, advisor_id };
        let subject = asked.find(&app.db, caller.scope()).await?;
        let of = Of {
            scope: subject.scope,
            planter_id: subject.planter_id,
            sheet_id: None,
            season,
            calendar: caller.calendar(),
            now: app.clock.now(),
        };
        Ok((subject, of))
    }
}

/// The season of a path. What is no year from 2000 to 2200 names none.
///
/// # Errors
/// 404.
pub fn season_in_path(text: &str) -> Result<i32, ApiError> {
    let year = text.parse().ok().filter(|year| (2000..=2200).contains(year) && text.len() == 4);
    year.ok_or_else(|| ApiError::not_found("season"))
}

#[cfg(test)]
mod tests {
    use super::season_in_path;

    #[test]
    fn a_season_is_a_year_of_four_digits() {
        assert_eq!(season_in_path("2027").expect("a season"), 2027);
        for bad in ["", "27", "1999", "2201", "+2027", "02027", "2027a", "2027.5"] {
            assert!(season_in_path(bad).is_err(), "{bad}");
        }
    }
}
