//! Rows about seed and stands: spacing, rates, counts, degree days, emergence.

use domain::conditions::Crop;
use domain::quantity::{ArealNumberDensity, Length, Measured};
use domain::settings::{row_length_of_acre, seed_weight, seeding_rate, seeds_in, spacing};
use domain::stand::{
    Day, days_to_emerge, degree_day_sum, no_pattern, ring_diameter, spacing_quality,
    stand_by_printed_factor, stand_in_hoop, stand_in_row, thermal_time_per_inch,
};

use crate::answer::{Answer, Got};
use crate::data::Table;
use crate::q;
use crate::row::Row;

/// The printed tables take the acre as 43,560 international square feet; the unit table takes the
/// survey acre of UCUM, four parts in a million larger. Eight printed digits show the difference.
fn per_printed_acre(population: ArealNumberDensity) -> f64 {
    population.si() * 43_560.0 * 0.3048 * 0.3048
}

fn inches(x: f64) -> Length {
    q(x, "[in_i]")
}

fn feet(x: f64) -> Length {
    q(x, "[ft_i]")
}

fn in_feet(length: Length) -> f64 {
    length.si() / 0.3048
}

fn per_acre(x: f64) -> ArealNumberDensity {
    q(x, "1/[acr_us]")
}

pub(crate) fn row_length(row: &Row) -> Answer {
    let Some(file) = row.file() else {
        let length =
            row_length_of_acre(row.num("fraction_of_acre"), inches(row.num("row_width_in")))
                .unwrap();
        return Answer::one("length_ft", in_feet(length));
    };
    let table = Table::read(file);
    let mut answer = Answer::default();
    for line in &table.lines {
        let width = inches(table.num(line, "row_width_in"));
        let length = row_length_of_acre(0.001, width).unwrap();
        let stand = |plants: f64, row: f64| {
            per_printed_acre(stand_in_row(plants, feet(row), width).unwrap().population)
        };
        let cells: [(&str, Got); 5] = [
            ("length_ft", in_feet(length).into()),
            ("length_ft_in", feet_and_inches(length).as_str().into()),
            ("plants_per_acre_per_plant_in_50_ft", stand(1.0, 50.0).into()),
            ("factor_150_plants", stand(150.0, 1.0).into()),
            (
                "length_1_128_acre_ft",
                in_feet(row_length_of_acre(1.0 / 128.0, width).unwrap()).into(),
            ),
        ];
        for (column, got) in cells {
            let label = format!("{column} at {} in", table.text(line, "row_width_in"));
            answer.cell(label, table.text(line, column), got);
        }
    }
    answer
}

fn feet_and_inches(length: Length) -> String {
    let whole = (length.si() / 0.0254).round();
    format!("{} ft {} in", (whole / 12.0).floor(), whole % 12.0)
}

pub(crate) fn row_spacing(row: &Row) -> Answer {
    let Some(file) = row.file() else {
        let width = inches(row.num("row_width_in"));
        let apart = row.nums("plants_per_acre").into_iter();
        let apart = apart.map(|p| spacing(per_acre(p), width).unwrap().si() / 0.0254);
        return Answer::list("spacing_in", apart);
    };
    let table = Table::read(file);
    let mut answer = Answer::default();
    for line in &table.lines {
        let seeds = per_acre(table.num(line, "seeds_per_acre"));
        let width = inches(table.num(line, "row_width_in"));
        let apart = spacing(seeds, width).unwrap().si() / 0.0254;
        let a_foot = seeds_in(seeds, width, feet(1.0));
        for (column, got) in [("spacing_in", apart), ("seeds_per_ft", a_foot)] {
            let (p, w) = (table.text(line, "seeds_per_acre"), table.text(line, "row_width_in"));
            answer.cell(format!("{column} of {p} at {w} in"), table.text(line, column), got);
        }
    }
    answer
}

pub(crate) fn metric_spacing(row: &Row) -> Answer {
    let width = q(row.num("row_width_m"), "m");
    let apart = row.nums("population_per_ha").into_iter();
    Answer::list("spacing_mm", apart.map(|p| spacing(q(p, "1/har"), width).unwrap().si() * 1000.0))
}

pub(crate) fn seeds_per_foot(row: &Row) -> Answer {
    let seeds = per_acre(row.num("seeds_per_acre"));
    Answer::one("seeds_per_ft", seeds_in(seeds, inches(row.num("row_width_in")), feet(1.0)))
}

pub(crate) fn rate(row: &Row) -> Answer {
    let rate = seeding_rate(
        per_acre(row.num("target_plants_per_acre")),
        q(row.num("germination"), "1"),
        q(row.num("survival"), "1"),
    )
    .unwrap();
    Answer::one("seeds_per_acre", domain::quantity::unit("1/[acr_us]").unwrap().read(rate))
}

pub(crate) fn weight(row: &Row) -> Answer {
    Answer::one("lb", seed_weight(row.num("seeds"), row.num("seeds_per_lb")).unwrap())
}

pub(crate) fn stand_count(row: &Row) -> Answer {
    if let Some(file) = row.file() {
        return hoop_table(file);
    }
    let hoop = |plants: f64, inch: f64| {
        per_printed_acre(stand_in_hoop(plants, inches(inch)).unwrap().population)
    };
    if row.text("hose_length_in").is_some() {
        let ring = ring_diameter(inches(row.num("hose_length_in")));
        return Answer::one(
            "factor",
            per_printed_acre(stand_in_hoop(1.0, ring).unwrap().population),
        );
    }
    if row.text("hoop_diameter_in").is_some() {
        return Answer::one("factor", hoop(1.0, row.num("hoop_diameter_in")));
    }
    let plants = row.num("plants");
    let stand = match (row.text("factor"), row.text("hoop_in")) {
        (Some("exact"), Some(_)) => hoop(plants, row.num("hoop_in")),
        (Some(_), Some(_)) => stand_by_printed_factor(plants, row.num("factor")).unwrap(),
        _ => {
            let key = if row.text("feet").is_some() { "feet" } else { "row_ft" };
            let width = inches(row.num("row_width_in"));
            per_printed_acre(stand_in_row(plants, feet(row.num(key)), width).unwrap().population)
        }
    };
    Answer::one("plants_per_acre", stand)
}

fn hoop_table(file: &str) -> Answer {
    let table = Table::read(file);
    let mut answer = Answer::default();
    for line in &table.lines {
        let diameter = table.num(line, "hoop_diameter_in");
        let exact = per_printed_acre(stand_in_hoop(1.0, inches(diameter)).unwrap().population);
        // The printed factors take pi as 314 hundredths and lie higher by that much.
        let printed = exact * std::f64::consts::PI / (314.0 / 100.0);
        for (column, got) in [("factor_as_printed", printed), ("factor_exact", exact)] {
            answer.cell(format!("{column} of {diameter} in"), table.text(line, column), got);
        }
    }
    answer
}

pub(crate) fn degree_days(row: &Row) -> Answer {
    let day = |high: f64, low: f64| Day::new(q(high, "[degF]"), q(low, "[degF]")).unwrap();
    if let Some(file) = row.file() {
        let table = Table::read(file);
        let mut answer = Answer::default();
        for line in &table.lines {
            let (high, low) = (table.num(line, "tmax_f"), table.num(line, "tmin_f"));
            let label = format!("{high} / {low} °F");
            answer.cell(label, table.text(line, "gdd"), day(high, low).degree_days());
        }
        return answer;
    }
    let pairs = row.nums("tmax_f").into_iter().zip(row.nums("tmin_f"));
    let days: Vec<Day> = pairs.map(|(high, low)| day(high, low)).collect();
    Answer::list("gdd", days.iter().map(Day::degree_days)).and("gdd_sum", degree_day_sum(&days))
}

pub(crate) fn emergence(row: &Row) -> Answer {
    if row.text("cm_rate_c_days").is_some() {
        let base = q::<domain::quantity::Temperature>(row.num("base_c"), "Cel");
        let base_f = domain::quantity::unit("[degF]").unwrap().read(base);
        return Answer::one("f_days_per_inch", thermal_time_per_inch(row.num("cm_rate_c_days")))
            .and("base_f", base_f);
    }
    let day = Day::new(q(row.num("tmax_f"), "[degF]"), q(row.num("tmin_f"), "[degF]")).unwrap();
    Answer::one("days", days_to_emerge(row.num("gdd_to_emerge"), day.degree_days()).unwrap())
}

pub(crate) fn spacing_indices(row: &Row) -> Answer {
    let Some(file) = row.file() else {
        assert_eq!(row.text("spread"), Some("uniform"));
        return Answer::one("sd_over_x_ref", no_pattern());
    };
    let table = Table::read(file);
    let all: Vec<Length> = table.lines.iter().map(|l| inches(table.num(l, "spacing"))).collect();
    let found = spacing_quality(&all, inches(row.num("x_ref"))).unwrap();
    let r = found.regions;
    let counts = [r.multiples, r.singles, r.one_skip, r.two_skips, r.more_skips];
    let inch = |l: Length| l.si() / 0.0254;
    Answer::list("counts_i_to_v", counts.into_iter().map(f64::from))
        .and("multiples_pct", found.multiples_percent)
        .and("quality_of_feed_pct", found.quality_of_feed_percent)
        .and("miss_pct", found.miss_percent)
        .and("singles_mean", inch(found.singles_mean.unwrap()))
        .and("singles_sd", inch(found.singles_sd.unwrap()))
        .and("c_over_x_ref_pct", found.precision_over_meant.unwrap())
        .and("c_over_region_mean_pct", found.precision_over_singles_mean.unwrap())
        .and("mean", inch(found.mean))
        .and("sd", inch(found.sd.unwrap()))
        .and("cv_pct", found.cv_percent.unwrap())
}

pub(crate) fn crop(row: &Row) -> Crop {
    match row.text("crop") {
        Some("corn") => Crop::Corn,
        Some("soybean") => Crop::Soybean,
        other => panic!("{}: crop {other:?}", row.id),
    }
}
