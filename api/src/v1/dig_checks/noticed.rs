//! What is to be noticed about a dig that comes in: when it was made, what became of its revision,
//! what it is like.

use domain::dig::{
    Judgement, Notice, NoticeCode, Observation, early_by, hold_back, unit_guess, usual,
};
use domain::quantity::{bounds, unit};

use super::answer::DigNotice;
use super::observation::DigCheckIn;
use super::same::Alike;
use super::series::Series;
use super::store;
use crate::entities::dig_checks;
use crate::entities::recommendations::{Model, Status};
use crate::http::ApiError;

/// A dig that comes in, and where it belongs.
#[derive(Debug, Clone, Copy)]
pub(super) struct Arrival<'a> {
    /// As it was entered.
    pub given: &'a DigCheckIn,
    /// As it was parsed.
    pub dig: &'a Observation,
    /// The revision that it was sent to.
    pub sheet: &'a Model,
    /// The revisions of its series.
    pub series: &'a Series,
    /// What came before that is like it.
    pub alike: &'a Alike,
}

/// Whether a stored dig check counts among those that teach.
pub fn teaches(row: &dig_checks::Model) -> Result<bool, ApiError> {
    Ok(count(&store::notices_of(row)?))
}

/// Whether a dig with these notices counts among those that teach.
fn count(notices: &[DigNotice]) -> bool {
    notices.iter().all(|notice| NoticeCode::from(notice.code).counts())
}

/// All that is to be noticed. A dig that is older than its settings holds back a change of what
/// nobody said was set; one that does not count teaches nothing.
pub(super) fn notices(arrival: &Arrival<'_>, judged: &mut Judgement) -> Vec<DigNotice> {
    let mut list: Vec<DigNotice> = replaced(arrival).into_iter().collect();
    list.extend(early(arrival, judged));
    list.extend(match arrival.alike {
        Alike::Readings(id) => Some(DigNotice::about_dig(Notice::same_readings(), *id)),
        Alike::TimeAndRows(id) => Some(DigNotice::about_dig(Notice::resembles(), *id)),
        Alike::Whole(_) | Alike::No => None,
    });
    list.extend(Notice::of_rows(arrival.dig).map(DigNotice::plain));
    list.extend(unit_doubtful(arrival.given).map(DigNotice::plain));
    if !count(&list) {
        (judged.lesson, judged.learned) = (None, None);
    }
    list
}

fn replaced(arrival: &Arrival<'_>) -> Option<DigNotice> {
    let Arrival { given, sheet, series, .. } = arrival;
    if sheet.status != Status::Superseded {
        return None;
    }
    let before_dug = series.replaced_at(sheet).is_some_and(|at| at <= given.dug_at);
    Some(DigNotice::about_sheet(Notice::replaced(before_dug), series.counts()))
}

fn early(arrival: &Arrival<'_>, judged: &mut Judgement) -> Vec<DigNotice> {
    let Arrival { given, dig, sheet, series, .. } = arrival;
    let Some(early) = sheet.issued_at.and_then(|issued| early_by(given.dug_at, issued)) else {
        return Vec::new();
    };
    let counted = series.counted_at(given.dug_at);
    let notices = hold_back(judged, dig, early);
    notices.into_iter().map(|notice| DigNotice::about_sheet(notice, counted)).collect()
}

/// All seed next to the surface, in numbers that would be usual in another unit.
fn unit_doubtful(given: &DigCheckIn) -> Option<Notice> {
    let lists: Vec<_> = given.rows.iter().filter_map(|row| row.seed_depths.as_ref()).collect();
    let code = &lists.first()?.unit;
    if lists.iter().any(|list| list.unit != *code) {
        return None;
    }
    let values: Vec<f64> = lists.iter().flat_map(|list| list.values.iter().copied()).collect();
    let (least, _) = bounds::PLANTING_DEPTH.range_in(unit(code)?);
    if !values.iter().all(|value| (0.0..least).contains(value)) {
        return None;
    }
    let above_nothing: Vec<f64> = values.into_iter().filter(|value| *value > 0.0).collect();
    let guess = unit_guess(&usual::SEED_DEPTH, &above_nothing, code)?;
    Some(Notice::unit_doubtful(&guess))
}

#[cfg(test)]
mod tests {
    use super::unit_doubtful;
    use crate::v1::dig_checks::observation::DigCheckIn;
    use domain::dig::NoticeCode;
    use serde_json::{Value, json};

    fn doubt(lists: &[Value]) -> Option<String> {
        let row = |(at, list): (usize, &Value)| json!({"row": at + 1, "seed_depths": list});
        let rows: Vec<Value> = lists.iter().enumerate().map(row).collect();
        let dig = json!({"dug_at": "2027-04-20T11:45:00Z", "rows": rows});
        let dig: DigCheckIn = serde_json::from_value(dig).expect("a dig");
        let notice = unit_doubtful(&dig)?;
        assert_eq!(notice.code, NoticeCode::UnitDoubtful);
        Some(notice.words.into_owned())
    }

    #[test]
    fn inches_entered_as_millimetres_are_noticed() {
        let mm = |values: &[f64]| json!({"unit": "mm", "values": values});
        let words = doubt(&[mm(&[1.75, 2.0]), mm(&[0.0, 1.5])]).expect("a notice");
        assert!(words.contains("Was 1.75 in"), "{words}");
        assert_eq!(doubt(&[mm(&[1.75, 50.0])]), None, "a seed at depth shows the unit");
        assert_eq!(doubt(&[mm(&[0.0, 0.0])]), None, "seed on the surface is seed on the surface");
        let inch = json!({"unit": "[in_i]", "values": [0.125, 0.2]});
        assert_eq!(doubt(std::slice::from_ref(&inch)), None, "no unit makes it usual");
        assert_eq!(doubt(&[mm(&[1.75]), inch]), None, "two units were meant");
        assert_eq!(doubt(&[]), None);
    }
}
