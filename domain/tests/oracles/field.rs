//! Rows about the field: cover, texture, moisture, strength, residue, temperature.

use domain::conditions::{
    CoverCrop, CoverSpecies, StrengthSoil, TextureClass, biomass, biomass_from_clip, cone_base,
    cover_from_mass, depletion, green_cover_fraction, layered_cover, transect_cover, under_cover,
};
use domain::provenance::Coefficients;
use domain::quantity::{ArealMassDensity, Mass, Measured, Pressure, Ratio};

use crate::answer::Answer;
use crate::data::Table;
use crate::q;
use crate::row::Row;

const K: Coefficients = Coefficients::STANDARD;

fn in_pounds_per_acre(density: ArealMassDensity) -> f64 {
    domain::quantity::unit("[lb_av]/[acr_us]").unwrap().read(density)
}

pub(crate) fn cover_biomass(row: &Row) -> Answer {
    let clip = |mass: Mass, sqft: f64| {
        in_pounds_per_acre(biomass_from_clip(mass, q(sqft, "[sft_i]")).unwrap().likely)
    };
    if row.text("dry_lb").is_some() {
        let area = row.num("frames") * row.num("frame_sqft");
        assert!((area - row.num("area_sqft")).abs() < 1e-12);
        return Answer::one("dry_lb_ac", clip(q(row.num("dry_lb"), "[lb_av]"), area));
    }
    if row.text("grams_from_1_sqft").is_some() {
        return Answer::one("dry_lb_ac", clip(q(row.num("grams_from_1_sqft"), "g"), 1.0));
    }
    if row.text("grams").is_some() {
        return Answer::one("dry_lb_ac", clip(q(row.num("grams"), "g"), row.num("area_sqft")));
    }
    let species = match row.text("type") {
        Some("broadleaf") => CoverSpecies::CrimsonClover,
        Some("small grain") => CoverSpecies::CerealRye,
        other => panic!("{}: type {other:?}", row.id),
    };
    let by_height = |height: f64| {
        let cover = CoverCrop {
            height: Some(q(height, "[in_i]")),
            ground_cover: Some(q(row.num("ground_cover_pct"), "%")),
            ..CoverCrop::of(species)
        };
        in_pounds_per_acre(biomass(&cover, &K).likely)
    };
    Answer::list("dry_lb_ac", row.nums("height_in").into_iter().map(by_height))
}

pub(crate) fn soil_texture(row: &Row) -> Answer {
    if row.text("triples").is_some() {
        return all_points(row);
    }
    let set = row.text("set").unwrap();
    let table = Table::read(row.file().unwrap());
    let mut answer = Answer::default();
    for line in table.lines.iter().filter(|l| table.text(l, "set") == set) {
        let (sand, clay) = (table.num(line, "sand_pct"), table.num(line, "clay_pct"));
        let class = TextureClass::classify(sand, clay).unwrap();
        answer.cell(format!("sand {sand}, clay {clay}"), table.text(line, "class"), class.words());
    }
    answer
}

/// Every whole-number point of the triangle: how many classes hold it, and which is given.
fn all_points(row: &Row) -> Answer {
    let mut counts = [0_u32; 12];
    let (mut points, mut least, mut most) = (0_u32, usize::MAX, 0_usize);
    for sand in 0..=100_u32 {
        for clay in 0..=(100 - sand) {
            let (s, c) = (f64::from(sand), f64::from(clay));
            let silt = 100.0 - s - c;
            let holding = TextureClass::ALL.iter().filter(|t| t.holds(s, silt, c)).count();
            least = least.min(holding);
            most = most.max(holding);
            let class = TextureClass::classify(s, c).unwrap();
            counts[TextureClass::ALL.iter().position(|t| *t == class).unwrap()] += 1;
            points += 1;
        }
    }
    assert_eq!((least, most), (1, 1), "a point lies in no class or in two");
    let mut answer = Answer::one("points", f64::from(points))
        .and("classes_per_point", f64::from(u32::try_from(most).unwrap()));
    let table = Table::read(row.expected_file().unwrap());
    for line in &table.lines {
        let name = table.text(line, "class");
        let at = TextureClass::ALL.iter().position(|t| t.words() == name).unwrap();
        let label = format!("points of {name}");
        answer.cell(label, table.text(line, "points_of_5151"), f64::from(counts[at]));
    }
    answer
}

pub(crate) fn soil_moisture(row: &Row) -> Answer {
    let (used, _) =
        depletion(q(row.num("awc_in"), "[in_i]"), q(row.num("smd_in"), "[in_i]")).unwrap();
    Answer::one("depleted_pct", used.si() * 100.0)
}

fn soil(clay: f64, carbon: f64, density: f64) -> StrengthSoil {
    StrengthSoil::new(clay, carbon, q(density, "g/cm3")).unwrap()
}

pub(crate) fn soil_strength(row: &Row) -> Answer {
    if let Some(file) = row.file() {
        return strength_table(file);
    }
    if row.text("pr_mpa").is_some() {
        let soils = row.nums("clay_pct").into_iter().zip(row.nums("oc_pct"));
        let resistance = q::<Pressure>(row.num("pr_mpa"), "MPa");
        let water = soils.zip(row.nums("bulk_density")).map(|((clay, carbon), density)| {
            soil(clay, carbon, density).water_at(resistance).unwrap().0
        });
        return Answer::list("theta", water);
    }
    let (clay, carbon) = (row.num("clay_pct"), row.num("oc_pct"));
    let terms = soil(clay, carbon, 1.3).terms();
    let cases = row.nums("bulk_density").into_iter().zip(row.nums("theta"));
    let found: Vec<Pressure> =
        cases.map(|(db, theta)| soil(clay, carbon, db).resistance(theta).unwrap().0).collect();
    Answer::list("pr_mpa", found.iter().map(|p| p.si() / 1.0e6))
        .and("pr_psi_first", domain::quantity::unit("[psi]").unwrap().read(found[0]))
        .and("c", terms.c)
        .and("d", terms.d)
        .and("e", terms.e)
}

fn strength_table(file: &str) -> Answer {
    let table = Table::read(file);
    let mut answer = Answer::default();
    for line in &table.lines {
        let num = |column: &str| table.num(line, column);
        let soil = soil(num("clay_pct"), num("organic_carbon_pct"), num("bulk_density_g_cm3"));
        let terms = soil.terms();
        let (found, _) = soil.resistance(num("water_m3_m3")).unwrap();
        let cells = [
            ("c", terms.c),
            ("d", terms.d),
            ("e", terms.e),
            ("pr_mpa", found.si() / 1.0e6),
            ("pr_psi", domain::quantity::unit("[psi]").unwrap().read(found)),
        ];
        for (column, got) in cells {
            let (clay, theta) = (num("clay_pct"), num("water_m3_m3"));
            let label = format!("{column} at clay {clay} %, theta {theta}");
            answer.cell(label, table.text(line, column), got);
        }
    }
    answer
}

pub(crate) fn residue_cover(row: &Row) -> Answer {
    if row.text("marks").is_some() {
        let count = |key: &str| row.text(key).unwrap().parse::<u32>().unwrap();
        let share = transect_cover(count("hits"), count("marks")).unwrap();
        return Answer::one("cover_pct", share.si() * 100.0);
    }
    let factors = row.nums("cf_m2_kg");
    let masses = row.nums("mass_kg_m2");
    let cover = |mass: f64, cf: f64| cover_from_mass(q(mass, "kg/m2"), cf);
    if let [only] = factors.as_slice() {
        return Answer::list("cover", masses.iter().map(|m| cover(*m, *only).si()));
    }
    let layers: Vec<Ratio> = masses.iter().zip(&factors).map(|(m, cf)| cover(*m, *cf)).collect();
    let summed: f64 = masses.iter().zip(&factors).map(|(m, cf)| m * cf).sum();
    Answer::one("cover_overlap", layered_cover(&layers).si())
        .and("cover_sum", cover(summed, 1.0).si())
}

pub(crate) fn cover_fraction(row: &Row) -> Answer {
    let live = row.nums("live_biomass_t_ha").into_iter();
    Answer::list("green_cover", live.map(|b| green_cover_fraction(q(b, "t/har"))))
}

pub(crate) fn soil_temperature(row: &Row) -> Answer {
    assert_eq!(row.text("cover"), Some("green"));
    let outside = q(row.num("killed_cover_soil_f"), "[degF]");
    let zone = under_cover(outside, crate::seed::crop(row), &K);
    Answer::one("soil_f", domain::quantity::unit("[degF]").unwrap().read(zone.likely))
}

pub(crate) fn penetrometer(row: &Row) -> Answer {
    let bases = row.nums("cone_base_mm").into_iter();
    Answer::list("base_area_cm2", bases.map(|d| cone_base(q(d, "mm")).si() * 1.0e4))
}
