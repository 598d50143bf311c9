//! Rows about what planting dates, stands and spacing yield, and about days fit for fieldwork.

use chrono::NaiveDate;
use domain::quantity::ArealNumberDensity;
use domain::settings::suitable_share;
use domain::stand::{ReplantDecision, YieldTable, keep_or_replant, spacing_loss};

use crate::answer::Answer;
use crate::data::Table;
use crate::q;
use crate::row::Row;

/// Any year will do: the tables know months and days.
fn date(month_and_day: &str) -> NaiveDate {
    NaiveDate::parse_from_str(&format!("2027-{}", month_and_day.trim()), "%Y-%m-%d").unwrap()
}

fn per_acre(plants: f64) -> ArealNumberDensity {
    q(plants, "1/[acr_us]")
}

fn percent(table: YieldTable, date: NaiveDate, plants: f64) -> f64 {
    let read = table.at(date, per_acre(plants)).unwrap();
    assert!(read.printed, "{table:?} {date} {plants} stands in the source");
    read.percent
}

/// First, middle and last day of a window; the first day of one that another ends on is the
/// other's.
fn days(window: &str, shared: bool) -> [NaiveDate; 3] {
    let (from, to) = window.split_once(" to ").unwrap();
    let (from, to) = (date(from), date(to));
    let first = if shared && from != date("04-20") { from.succ_opt().unwrap() } else { from };
    let half = to.signed_duration_since(from) / 2;
    [first, from + half, to]
}

/// The ends of `28000-32000`, or the one figure.
fn stands(text: &str) -> Vec<f64> {
    text.split('-').map(|end| end.parse().unwrap()).collect()
}

pub(crate) fn corn_by_date_and_stand(row: &Row) -> Answer {
    match row.file() {
        Some("corn_stand_date_yield.csv") if row.text("model").is_some() => smooth_curve(),
        Some(file @ "corn_stand_date_yield.csv") => cells(
            file,
            ["planting_date_mm_dd", "plants_per_acre", "percent_of_optimum_yield"],
            YieldTable::IllinoisDateStand,
        ),
        Some(file @ "corn_relative_yield_late_planting.csv") => windows(
            file,
            ["planting_window_mm_dd", "plants_per_acre"],
            YieldTable::IowaLatePlanting,
        ),
        Some(file @ "corn_expected_yield_wisconsin.csv") => {
            let columns = ["planting_date_mm_dd", "harvest_stand_plants_per_acre"];
            let [date, stand] = columns;
            let mut answer =
                cells(file, [date, stand, "full_season_percent"], YieldTable::WisconsinFullSeason);
            let short = cells(
                file,
                [date, stand, "short_season_percent"],
                YieldTable::WisconsinShortSeason,
            );
            answer.cells.extend(short.cells);
            answer
        }
        Some(other) => panic!("{}: no table {other}", row.id),
        None => worked_use(row),
    }
}

fn worked_use(row: &Row) -> Answer {
    let plants = row.num("plants_per_acre");
    if let Some(window) = row.text("window") {
        let day = days(window, true)[1];
        return Answer::one("percent", percent(YieldTable::IowaLatePlanting, day, plants));
    }
    let day = date(row.text("date").unwrap());
    let share = percent(YieldTable::IllinoisDateStand, day, plants);
    Answer::one("percent", share).and("yield_bu_ac", row.num("potential_bu_ac") * share / 100.0)
}

fn cells(file: &str, [day, stand, percents]: [&str; 3], from: YieldTable) -> Answer {
    let table = Table::read(file);
    let mut answer = Answer::default();
    for line in &table.lines {
        let plants = table.num(line, stand);
        let got = percent(from, date(table.text(line, day)), plants);
        let label = format!("{percents} of {plants} on {}", table.text(line, day));
        answer.cell(label, table.text(line, percents), got);
    }
    answer
}

fn windows(file: &str, [window, stand]: [&str; 2], from: YieldTable) -> Answer {
    let table = Table::read(file);
    let mut answer = Answer::default();
    for line in &table.lines {
        let printed = table.text(line, "percent_relative_yield");
        let when = table.text(line, window);
        for day in days(when, from == YieldTable::IowaLatePlanting) {
            for plants in stands(table.text(line, stand)) {
                let label = format!("{plants} planted {when}, on {day}");
                answer.cell(label, printed, percent(from, day, plants));
            }
        }
    }
    answer
}

/// How far the cells of the table lie from the smooth curve, and where its best lies.
fn smooth_curve() -> Answer {
    let fitted = |day, plants| YieldTable::IllinoisDateStand.fitted(day, per_acre(plants)).unwrap();
    let table = Table::read("corn_stand_date_yield.csv");
    let off: Vec<f64> = table
        .lines
        .iter()
        .map(|line| {
            let day = date(table.text(line, "planting_date_mm_dd"));
            fitted(day, table.num(line, "plants_per_acre"))
                - table.num(line, "percent_of_optimum_yield")
        })
        .collect();
    let largest = off.iter().fold(0.0_f64, |most, x| most.max(x.abs()));
    let square: f64 = off.iter().map(|x| x * x).sum::<f64>() / f64::from(182_u32);
    assert_eq!(off.len(), 182);
    // The best stand and day of a quadratic follow from three of its points.
    let peak = |y: [f64; 3]| (y[0] - y[2]) / (2.0 * (y[0] - 2.0 * y[1] + y[2]));
    let stand = peak([20_000.0, 25_000.0, 30_000.0].map(|p| fitted(date("04-30"), p)));
    let day = peak(["04-20", "04-30", "05-10"].map(|d| fitted(date(d), 30_000.0)));
    Answer::one("max_abs_deviation", largest)
        .and("rmse", square.sqrt())
        .and("optimum_thousand", 25.0 + 5.0 * stand)
        .and("optimum_day", 10.0 * day)
}

pub(crate) fn replant(row: &Row) -> Answer {
    if let Some(file) = row.file() {
        let columns = ["planting_window_mm_dd", "final_stand_plants_per_acre"];
        return windows(file, columns, YieldTable::IowaReplant);
    }
    let again = days(row.text("replant_window").unwrap(), false)[1];
    let full = stands(row.text("replant_stand").unwrap())[0];
    let present = (date("04-25"), per_acre(row.num("present_stand")));
    let found = keep_or_replant(present, (again, per_acre(full))).unwrap();
    let decision = match found.decision {
        ReplantDecision::Keep => "keep",
        ReplantDecision::Replant => "replant",
    };
    Answer::one("keep_percent", found.keep.percent)
        .and("replant_percent", found.replant.percent)
        .and("decision", decision)
}

pub(crate) fn loss_by_spacing(row: &Row) -> Answer {
    let found =
        row.nums("spacing_sd_in").into_iter().map(|sd| spacing_loss(q(sd, "[in_i]")).unwrap());
    let found: Vec<_> = found.collect();
    match found.as_slice() {
        [one] => Answer::one("loss_bu_ac", one.high),
        [first, .., last] => Answer::one("loss_difference_bu_ac", last.low - first.low),
        [] => panic!("{}: no spacing", row.id),
    }
}

pub(crate) fn fieldwork_days(row: &Row) -> Answer {
    let (from, to) = (date(row.text("from").unwrap()), date(row.text("to").unwrap()));
    let share = suitable_share(row.num("mean_suitable_days"), from, to).unwrap();
    Answer::one("calendar_days", row.num("mean_suitable_days") / share).and("share", share)
}
