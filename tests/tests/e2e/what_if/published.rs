//! Numbers that stand in published sources, or follow from geometry and statics by hand.

use serde_json::{Value, json};
use tests::TestApp;

/// One number of one answer.
struct Check {
    source: &'static str,
    name: &'static str,
    body: Value,
    at: &'static str,
    value: f64,
    tolerance: f64,
}

pub(super) fn q(value: f64, unit: &str) -> Value {
    json!({"value": value, "unit": unit})
}

fn check(
    source: &'static str,
    name: &'static str,
    body: Value,
    (at, value, tolerance): (&'static str, f64, f64),
) -> Check {
    Check { source, name, body, at, value, tolerance }
}

fn seeding() -> Vec<Check> {
    let inches = |value| q(value, "[in_i]");
    let acre = |value| q(value, "1/[acr_us]");
    let soybean = json!({"crop": "soybean", "stand": acre(100_000.0), "germination": q(95.0, "%"),
        "survival": q(85.0, "%"), "row_width": inches(15.0)});
    vec![
        check(
            "Iowa State University, Agronomy 212, 2003",
            "row-spacing",
            json!({"kind": "from_population", "population": acre(200_000.0), "row_width": inches(15.0)}),
            ("/seeds_per_foot", 5.74, 0.005),
        ),
        check(
            "Iowa State University, Agronomy 212, 2003; one seed for the survey acre",
            "row-spacing",
            json!({"kind": "from_spacing", "spacing": inches(2.4), "row_width": inches(15.0)}),
            ("/population/value", 174_240.0, 1.0),
        ),
        check(
            "definition of the acre",
            "row-spacing",
            json!({"kind": "from_population", "population": acre(29_840.0), "row_width": inches(30.0)}),
            ("/spacing/value", 7.007, 0.0005),
        ),
        check(
            "Pennsylvania No-Till Alliance: 17 ft 5 in; within an inch",
            "row-spacing",
            json!({"kind": "from_population", "population": acre(32_000.0), "row_width": inches(30.0)}),
            ("/thousandth_acre/value", 17.424, 0.084),
        ),
        check(
            "University of Nebraska, 2016",
            "seeding-rate",
            soybean,
            ("/rate/value", 123_839.0, 1.0),
        ),
        check(
            "University of Illinois (method)",
            "stand-count",
            json!({"kind": "hundred_fifty_plants", "distance": q(94.0, "[ft_i]"), "row_width": inches(30.0)}),
            ("/stand/value", 27_804.0, 1.0),
        ),
        check(
            "definition of the acre",
            "stand-count",
            json!({"kind": "row_length", "plants": 55, "row_length": q(50.0, "[ft_i]"), "row_width": inches(30.0)}),
            ("/stand/value", 19_166.0, 1.0),
        ),
        check(
            "Purdue University Corn and Soybean Field Guide; its factor takes pi as 3.14",
            "stand-count",
            json!({"kind": "hoop", "plants": 18, "diameter": inches(30.0)}),
            ("/stand/value", 159_804.0, 0.0006 * 159_804.0),
        ),
        check(
            "by definition a thousand an acre for each plant",
            "stand-count",
            json!({"kind": "thousandth_acre", "plants": 31, "row_width": inches(22.0)}),
            ("/stand/value", 31_000.0, 0.01),
        ),
    ]
}

fn field_work() -> Vec<Check> {
    let rows = json!({"kind": "rows", "rows": 12, "row_width": q(30.0, "[in_i]")});
    let speed = q(5.0, "[mi_i]/h");
    let day = |high: f64, low: f64| json!({"high": q(high, "[degF]"), "low": q(low, "[degF]")});
    let capacity = json!({"width": rows, "speed": speed, "efficiency": q(60.0, "%")});
    let michigan = json!({"width": {"kind": "across", "across": q(40.0, "[ft_i]")}, "speed": speed,
        "efficiency": q(70.0, "%")});
    let disk = json!({"kind": "pto", "width": q(24.0, "[ft_i]"), "draft": q(200.0, "[lbf_av]"),
        "draft_across": q(1.0, "[ft_i]"), "soil_factor": 1.5, "speed": q(6.0, "[mi_i]/h")});
    vec![
        check(
            "Iowa State University Extension, 2018: 10.9",
            "field-capacity",
            capacity.clone(),
            ("/effective/value", 10.9, 0.05),
        ),
        check(
            "Iowa State University Extension, 2018: 18.2",
            "field-capacity",
            capacity,
            ("/theoretical/value", 18.2, 0.05),
        ),
        check(
            "Michigan State University Extension, 2017",
            "field-capacity",
            michigan,
            ("/effective/value", 16.97, 0.01),
        ),
        check(
            "Iowa State University Extension, File A3-26: 115",
            "power",
            disk,
            ("/power/value", 115.2, 0.1),
        ),
        check(
            "Purdue University, 2016",
            "degree-days",
            json!({"days": [day(80.0, 55.0)]}),
            ("/sum/value", 17.5, 1e-9),
        ),
        check(
            "county newspaper column, Wisconsin, 2018",
            "degree-days",
            json!({"days": [day(90.0, 65.0), day(72.0, 46.0), day(63.0, 42.0)]}),
            ("/sum/value", 43.0, 1e-9),
        ),
        check(
            "da Silva and Kay 1997 by their formula",
            "soil-strength",
            json!({"kind": "resistance_at_water", "soil": {"clay": q(25.0, "%"),
                "organic_carbon": q(2.0, "%"), "bulk_density": q(1.3, "g/cm3")}, "water": q(0.25, "1")}),
            ("/resistance/value", 188.9, 0.1),
        ),
        check(
            "North Carolina extension worksheet",
            "cover-biomass",
            json!({"kind": "clip", "dry_mass": q(1.2, "[lb_av]"), "area": q(8.0, "[sft_i]")}),
            ("/dry_matter/value", 6534.0, 1.0),
        ),
        check(
            "North Dakota extension note: small grains 8 in tall at full cover",
            "cover-biomass",
            json!({"kind": "height", "species": "cereal_rye", "height": q(8.0, "[in_i]"), "ground_cover": q(100.0, "%")}),
            ("/dry_matter/value", 2000.0, 0.01),
        ),
        check(
            "Gregory 1982, erosion model source of USDA-ARS",
            "residue-cover",
            json!({"kind": "mass", "previous_crop": "corn", "mass": q(0.5, "kg/m2")}),
            ("/cover/value", 68.34, 0.01),
        ),
        check(
            "Kansas State University (method)",
            "residue-cover",
            json!({"kind": "transect", "hits": 45, "marks": 100}),
            ("/cover/value", 45.0, 1e-9),
        ),
    ]
}

fn iron() -> Vec<Check> {
    let newton = |value| q(value, "N");
    let loss = |load: f64, cv: f64| json!({"kind": "share_at_load", "load": newton(load), "scatter": newton(load * cv)});
    let frame = |down: f64| {
        json!({"sections": [{"name": "bar", "rows": 8, "wheels": 4,
        "empty_weight": q(7000.0, "[lbf_av]"), "on_hitch": q(1000.0, "[lbf_av]")}],
        "down_force": q(down, "[lbf_av]"), "frame_coulter": q(300.0, "[lbf_av]")})
    };
    let cylinder = |bore: f64, psi: f64| {
        json!({"bore": q(bore, "[in_i]"), "side": "cap",
        "asked": {"kind": "force_at", "pressure": q(psi, "[psi]")}})
    };
    let disc = |now: f64| {
        json!({"new_diameter": q(15.0, "[in_i]"), "measured": q(now, "[in_i]"),
        "lever_depth": q(2.0, "[in_i]")})
    };
    vec![
        check(
            "journal abstract, 8 km/h",
            "contact-loss",
            loss(1017.0, 0.41),
            ("/contact_loss/value", 0.74, 0.01),
        ),
        check(
            "journal abstract, 10 km/h",
            "contact-loss",
            loss(843.0, 0.62),
            ("/contact_loss/value", 5.34, 0.01),
        ),
        check(
            "statics: z x 476 N at 5 %",
            "contact-loss",
            json!({"kind": "load_for_share", "share": q(5.0, "%")}),
            ("/load/value", 783.0 / 4.448_22, 0.3),
        ),
        check(
            "statics",
            "frame-weight",
            frame(400.0),
            ("/sections/0/left_on_wheels/value", 400.0, 0.01),
        ),
        check(
            "statics",
            "frame-weight",
            frame(250.0),
            ("/sections/0/left_on_wheels/value", 1600.0, 0.01),
        ),
        check("mechanics", "cylinder-force", cylinder(1.5, 1000.0), ("/force/value", 1767.0, 1.0)),
        check("mechanics", "cylinder-force", cylinder(1.0, 2000.0), ("/force/value", 1571.0, 1.0)),
        check("geometry", "disc-wear", disc(14.75), ("/furrow_depth/value", 1.875, 1e-9)),
        check(
            "statics: 2 in too high on 380 mm",
            "arm-angle",
            json!({"bar_too_high": q(51.0, "mm"), "arm_length": q(380.0, "mm")}),
            ("/arm_angle/value", 7.71, 0.01),
        ),
    ]
}

fn cover() -> Vec<Check> {
    let rate = "[lb_av]/[acr_us]";
    let vetch = json!({
        "species": "hairy_vetch", "dry_matter": q(6534.0, rate), "nitrogen": q(4.0, "%")
    });
    let carolina = "North Carolina, Cover-crop biomass and N worksheet, n.d.";
    vec![
        check(
            carolina,
            "cover-nitrogen",
            vetch.clone(),
            ("/nitrogen_in_tops/likely/value", 261.0, 0.5),
        ),
        check(
            carolina,
            "cover-nitrogen",
            vetch.clone(),
            ("/nitrogen_available/0/nitrogen/value", 130.5, 0.5),
        ),
        check(
            carolina,
            "cover-nitrogen",
            vetch,
            ("/nitrogen_available/1/nitrogen/value", 104.5, 0.5),
        ),
        check(
            "University of Minnesota Extension 2021",
            "cover-nitrogen",
            json!({"species": "cereal_rye", "dry_matter": q(500.0, rate), "nitrogen": q(3.4, "%")}),
            ("/nitrogen_in_tops/likely/value", 17.0, 1e-3),
        ),
        check(
            "USDA-NRCS: rye in flower 37",
            "cover-nitrogen",
            json!({"species": "cereal_rye", "dry_matter": q(6000.0, rate), "stage": "flowering"}),
            ("/carbon_to_nitrogen/likely", 37.0, 1e-9),
        ),
        check(
            "Reed and others 2019: 0.9 °C cooler at corn planting",
            "soil-temperature-under-cover",
            json!({"crop": "corn", "outside": q(52.0, "[degF]")}),
            ("/under_cover/value", 50.4, 0.05),
        ),
        check(
            "USDA-NRCS Montana, sample record (prints 70)",
            "soil-water-used",
            json!({"holds": q(1.4, "[in_i]"), "missing": q(1.0, "[in_i]")}),
            ("/used/value", 70.0, 1.5),
        ),
    ]
}

#[tokio::test]
async fn published_numbers_come_out() {
    let app = TestApp::start().await;
    for Check { source, name, body, at, value, tolerance } in
        seeding().into_iter().chain(field_work()).chain(iron()).chain(cover())
    {
        let path = format!("/v1/what-if/{name}");
        let answer = app.read_only.post(&path, &body).await.assert_status(200).json();
        let found = answer.pointer(at).and_then(Value::as_f64);
        let found = found.unwrap_or_else(|| panic!("{name}: no {at} in {answer}"));
        assert!((found - value).abs() <= tolerance, "{name} {at}: {found}, not {value} ({source})");
    }
}
