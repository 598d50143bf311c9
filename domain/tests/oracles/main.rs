//! Published and derived check values against the production code.
//!
//! `cargo test -p domain --test oracles -- --nocapture` prints every row: id, ok, what is
//! expected, what came out, tolerance, and the source. A row that nobody handles fails, and so
//! does a row whose mark does not allow a check.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a check that cannot be made must fail loudly, and every row is printed"
)]

mod answer;
mod cover;
mod data;
mod field;
mod furrow;
mod planter;
mod published;
mod row;
mod seed;
mod split_plots;
mod statistics;
mod trials;
mod uniformity;
mod yields;

use answer::{Answer, agrees};
use domain::quantity::{Measured, unit};
use row::Row;

/// A quantity from a value and a UCUM code.
pub(crate) fn q<Q: Measured>(value: f64, code: &str) -> Q {
    let unit = unit(code).unwrap_or_else(|| panic!("no unit {code}"));
    assert_eq!(unit.kind, Q::KIND, "{code} is of another kind");
    Q::from_si(unit.to_si(value))
}

fn ask(row: &Row) -> Option<Answer> {
    let handler: fn(&Row) -> Answer = match row.topic.as_str() {
        "field_capacity" => planter::capacity,
        "timeliness" => planter::timeliness,
        "power" => planter::power,
        "opener_wear" => planter::opener_wear,
        "units" => planter::units,
        "gauge_wheel_load" => planter::gauge_wheel_load,
        "opener_force" => published::disc_force,
        "residue" => published::straw,
        "statics" => planter::statics,
        "row_unit_balance" => planter::row_unit_balance,
        "frame_balance" => planter::frame_balance,
        "cylinder" => planter::cylinder,
        "row_length" => seed::row_length,
        "row_spacing" => seed::row_spacing,
        "spacing" => seed::metric_spacing,
        "seeds_per_foot" => seed::seeds_per_foot,
        "seeding_rate" => seed::rate,
        "seed_weight" => seed::weight,
        "stand_count" => seed::stand_count,
        "growing_degree_days" => seed::degree_days,
        "emergence" => seed::emergence,
        "spacing_quality" => seed::spacing_indices,
        "cover_biomass" => field::cover_biomass,
        "soil_texture" => field::soil_texture,
        "soil_moisture" => field::soil_moisture,
        "soil_strength" => field::soil_strength,
        "residue_cover" => field::residue_cover,
        "cover_fraction" => field::cover_fraction,
        "soil_temperature" => field::soil_temperature,
        "cover_nitrogen" => cover::nitrogen,
        "termination" => cover::last_day,
        "penetrometer" => field::penetrometer,
        "corn_stand_date_yield" => yields::corn_by_date_and_stand,
        "corn_replant" => yields::replant,
        "spacing_loss" => yields::loss_by_spacing,
        "fieldwork_days" => yields::fieldwork_days,
        "in_furrow_flow" => furrow::flow,
        "in_furrow_course" => furrow::course,
        "band_application" => furrow::band,
        "sprayer_check" => furrow::sprayer_check,
        "salt_limit" => furrow::salt,
        "seed_placed_fertilizer" => furrow::seed_placed_material,
        "binomial_limits" => statistics::binomial_limits,
        "multiple_testing" => trials::many_tests,
        "critical_values" => statistics::critical_values,
        "sample_size" => statistics::sample_size,
        "one_way_anova" | "variance_components" => statistics::one_way,
        "spread_tests" => trials::spread,
        "paired_comparison" => trials::paired,
        "permutation_test" => trials::permutation,
        "signed_rank_test" => trials::ranks,
        "tukey_kramer" => trials::all_pairs,
        "dunnett" => trials::dunnett,
        "grubbs" => trials::grubbs_test,
        "power_of_test" => trials::power,
        "randomized_blocks" => trials::blocks,
        "blocks_with_subsamples" => trials::sampled_blocks,
        "split_plot" | "split_plot_with_subsamples" => split_plots::split,
        "split_strip_plot" => split_plots::split_strip,
        "uniformity_cv" => uniformity::scatter,
        _ => return None,
    };
    Some(handler(row))
}

/// How many values a row checked, and what went wrong.
fn judge(row: &Row) -> Result<usize, Vec<String>> {
    if !matches!(row.mark.as_str(), "read" | "derived") {
        return Err(vec![format!("{}: mark {:?} may not be a check value", row.id, row.mark)]);
    }
    let Some(answer) = ask(row) else {
        return Err(vec![format!("{}: nobody handles {:?}", row.id, row.topic)]);
    };
    let mut checked = 0;
    let mut misses = Vec::new();
    let mut check = |label: &str, printed: &str, got: &answer::Got| {
        let ok = agrees(printed, got, &row.tolerance);
        let line = format!(
            "{:<7} {:<4} {label} expected {printed}, got {got}, tolerance {} | {}, {} {}",
            row.id,
            if ok { "ok" } else { "MISS" },
            row.tolerance,
            row.source,
            row.publisher,
            row.year,
        );
        println!("{line}");
        checked += 1;
        if !ok {
            misses.push(line);
        }
    };
    let mut unanswered = Vec::new();
    for (key, printed) in row.expected() {
        match answer.values.iter().find(|(name, _)| *name == key) {
            Some((_, got)) if got.len() == printed.len() => {
                for (p, g) in printed.iter().zip(got) {
                    check(key, p, g);
                }
            }
            _ => unanswered.push(format!("{}: {key} is not answered", row.id)),
        }
    }
    for cell in &answer.cells {
        check(&cell.label, &cell.expected, &cell.got);
    }
    if checked == 0 {
        unanswered.push(format!("{}: nothing was checked", row.id));
    }
    misses.extend(unanswered);
    if misses.is_empty() { Ok(checked) } else { Err(misses) }
}

#[test]
fn every_row_agrees() {
    let mut reader = csv::Reader::from_path(data::path("oracles.csv")).unwrap();
    let rows: Vec<Row> = reader.deserialize().map(|r| r.unwrap()).collect();
    let mut misses = Vec::new();
    let mut values = 0;
    for row in &rows {
        match judge(row) {
            Ok(count) => values += count,
            Err(found) => misses.extend(found),
        }
    }
    println!("{} rows, {values} values, {} misses", rows.len(), misses.len());
    assert!(misses.is_empty(), "{}", misses.join("\n"));
    assert!(rows.len() >= 60, "only {} rows ran", rows.len());
    assert!(values >= 400, "only {values} values were checked");
    let mut ids: Vec<&str> = rows.iter().map(|r| r.id.as_str()).collect();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), rows.len(), "an id stands twice");
}

#[test]
fn a_row_that_cannot_be_checked_fails() {
    let parse = |line: &str| -> Row {
        let text =
            format!("id,topic,inputs,expected,tolerance,source,publisher,year,mark\n{line}\n");
        csv::Reader::from_reader(text.as_bytes()).deserialize().next().unwrap().unwrap()
    };
    let power = "width_ft=24; speed_mph=6.0; draft_lb_per_ft=200; soil_factor=1.5";
    let good = parse(&format!("x,power,{power},pto_hp=115.2,abs:0.1,s,p,1,read"));
    assert_eq!(judge(&good), Ok(1));
    let wrong = [
        format!("x,power,{power},pto_hp=116.2,abs:0.1,s,p,1,read"),
        format!("x,power,{power},pto_hp=115.2,abs:0.1,s,p,1,from_memory"),
        format!("x,power,{power},kilowatts=86,abs:0.1,s,p,1,read"),
        format!("x,power,{power},,abs:0.1,s,p,1,read"),
        format!("x,divination,{power},pto_hp=115.2,abs:0.1,s,p,1,read"),
    ];
    for line in wrong {
        assert!(judge(&parse(&line)).is_err(), "{line} passed");
    }
}
