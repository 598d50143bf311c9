//! An example of a whole report.

use serde_json::{Value, json};

/// The report of a practice in the middle of a season.
pub(super) fn report() -> Value {
    let share = json!({"count": 15, "of": 44, "share": 0.341, "low": 0.219, "high": 0.489});
    let shares = json!({
        "growers": 11, "fields_dug": 48, "first_pass": share, "few_growers": false
    });
    json!({
        "about": {
            "of": "practice", "practice": "Prairie Advisors", "season": 2027,
            "first_day": "2027-01-01", "last_day": "2027-12-31", "time_zone": "America/Chicago",
            "as_of": "2027-05-22T12:00:00Z",
            "so_far": {"days": 142, "of": 365, "words": "day 142 of 365: figures so far"},
            "growers": 12, "growers_left": 1, "planters": 14, "fields": 61, "digs": 148
        },
        "recommendations": {
            "issued": 60, "revisions": 93,
            "seen": {"count": 57, "of": 60, "share": 0.95, "low": 0.863, "high": 0.983}
        },
        "in_window": {
            "all": shares, "by_soil": [{"soil": "medium", "shares": shares}],
            "by_cover": [{"cover": "living", "shares": shares}]
        },
        "advisors": [],
        "adjustments": {
            "proposed": 40, "accepted": 33, "declined": 4, "open": 3,
            "causes": [{"cause": "hairpin", "proposed": 9, "accepted": 7, "declined": 1}]
        },
        "learned": [{
            "soil": "medium", "cover": "living",
            "soil_and_cover": "medium soil under living cover", "digs": 37,
            "before": {"low": 0.62, "middle": 1, "high": 1.61},
            "after": {"low": 0.91, "middle": 1.18, "high": 1.53}
        }],
        "wear": [], "stands": [], "trials": [],
        "money_and_time": {
            "plantings": 52, "planted": {"value": 4310, "unit": "[acr_us]"},
            "plantings_with_hours": 40, "planted_with_hours": {"value": 3320, "unit": "[acr_us]"},
            "hours": 166, "area_per_hour": {"value": 20, "unit": "[acr_us]"}, "money": []
        },
        "shed_list": [],
        "weeks": [{
            "starts": "2027-05-03", "issued": 14, "seen": 12, "digs": 31, "proposed": 9,
            "accepted": 8
        }],
        "depths": {
            "bin": {"value": 0.125, "unit": "[in_i]"},
            "bins": [{"off": {"value": -0.25, "unit": "[in_i]"}, "first": 41, "last": 12}],
            "least_tolerance": {"value": 0.25, "unit": "[in_i]"},
            "most_tolerance": {"value": 0.25, "unit": "[in_i]"},
            "first_within": {"count": 612, "of": 1020}, "last_within": {"count": 872, "of": 1010}
        },
        "loads": [], "fields": []
    })
}
