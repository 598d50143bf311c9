//! The weather of the season: rain, soil temperature, and what both make of the soil.

use chrono::NaiveDate;
use domain::conditions::{BallTest, Moisture, ResidueFeel, TextureClass, TextureGroup};

use super::day;
use crate::demo::dice::Dice;

/// Days with rain: month, day, inches.
const RAIN: [(u32, u32, f64); 8] = [
    (4, 6, 0.9),
    (4, 13, 0.6),
    (4, 23, 0.8),
    (5, 6, 1.2),
    (5, 7, 0.7),
    (5, 16, 0.4),
    (5, 28, 0.3),
    (6, 4, 0.9),
];

/// Days since the last rain, counted from the day before the season where there was none.
fn days_since_rain(on: NaiveDate) -> i64 {
    let days = |(month, of, _): &(u32, u32, f64)| (on - day(*month, *of)).num_days();
    RAIN.iter().map(days).filter(|days| *days >= 0).min().unwrap_or(10)
}

/// Rain of the two days after this one, inches: what a good forecast says.
pub(in crate::demo) fn rain_ahead(on: NaiveDate) -> f64 {
    let soon =
        |(month, of, _): &&(u32, u32, f64)| (1..=2).contains(&(day(*month, *of) - on).num_days());
    RAIN.iter().filter(soon).fold(0.0, |sum, (_, _, inches)| sum + inches)
}

/// Soil temperature at seed depth in the morning, °F.
pub(in crate::demo) fn soil_temperature(on: NaiveDate) -> f64 {
    let days = f64::from(i32::try_from((on - day(4, 8)).num_days()).unwrap_or(0));
    let warming = 49.5 + 0.31 * days;
    // Rain cools the ground for some days.
    let cooled = match days_since_rain(on) {
        0 | 1 => 4.0,
        2 | 3 => 2.0,
        _ => 0.0,
    };
    (warming - cooled).round()
}

/// Moisture at seed depth. Coarse soil drains sooner, fine soil later; a living cover drinks.
pub(in crate::demo) fn moisture(on: NaiveDate, texture: TextureClass, green: bool) -> Moisture {
    let drunk = if green && on > day(5, 10) { 3 } else { 0 };
    let days = days_since_rain(on) + drunk;
    let (full, wet, moist, drying) = match texture.group() {
        TextureGroup::Coarse => (-1, 0, 4, 9),
        TextureGroup::ModeratelyCoarse => (0, 1, 6, 11),
        TextureGroup::Medium => (0, 2, 8, 12),
        TextureGroup::Fine => (1, 3, 9, 14),
    };
    match days {
        d if d <= full => Moisture::AtCapacity,
        d if d <= wet => Moisture::Wet,
        d if d <= moist => Moisture::Moist,
        d if d <= drying => Moisture::SlightlyMoist,
        _ => Moisture::Dry,
    }
}

/// How a ball of this soil behaves.
pub(in crate::demo) fn ball(moisture: Moisture, texture: TextureClass) -> BallTest {
    let fine = texture.group() == TextureGroup::Fine;
    match moisture {
        Moisture::AtCapacity => BallTest::Deforms,
        Moisture::Wet if fine => BallTest::Deforms,
        Moisture::Wet => BallTest::Cracks,
        Moisture::Moist if fine => BallTest::Cracks,
        Moisture::Moist | Moisture::SlightlyMoist | Moisture::Dry => BallTest::Crumbles,
    }
}

/// How residue breaks at the hour of planting.
pub(in crate::demo) fn residue_feel(on: NaiveDate, green: bool) -> ResidueFeel {
    match days_since_rain(on) {
        0 | 1 => ResidueFeel::Wet,
        2..=5 => ResidueFeel::Pliable,
        _ if green => ResidueFeel::Pliable,
        _ => ResidueFeel::Crisp,
    }
}

/// Height of a cover crop, in: it grows from the end of March to heading.
pub(in crate::demo) fn cover_height(on: NaiveDate) -> f64 {
    let days = f64::from(i32::try_from((on - day(4, 1)).num_days()).unwrap_or(0));
    (4.0 + 0.75 * days).clamp(4.0, 46.0).round()
}

/// Highest and lowest air temperature of a day, °F.
pub(in crate::demo) fn air(on: NaiveDate) -> (f64, f64) {
    let days = f64::from(i32::try_from((on - day(4, 1)).num_days()).unwrap_or(0));
    let mut dice = Dice::of(&format!("air {on}"));
    let high = 55.0 + 0.33 * days + dice.scatter(5.0);
    let (cooler, narrower) = match days_since_rain(on) {
        0 => (7.0, 7.0),
        1 => (4.0, 2.0),
        _ => (0.0, 0.0),
    };
    let high = (high - cooler).clamp(38.0, 98.0).round();
    (high, (high - (21.0 + dice.scatter(3.0) - narrower).max(6.0)).round())
}
