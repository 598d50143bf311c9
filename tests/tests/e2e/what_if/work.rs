//! Work rate, planting dates, power and seed: published figures and refusals.

use serde_json::{Value, json};
use tests::TestApp;

use super::path;
use super::published::q;

async fn ask(app: &TestApp, name: &str, body: &Value) -> Value {
    app.read_only.post(&path(name), body).await.assert_status(200).json()
}

#[track_caller]
fn near(answer: &Value, at: &str, value: f64, tolerance: f64) {
    let found = answer.pointer(at).and_then(Value::as_f64);
    let found = found.unwrap_or_else(|| panic!("no {at} in {answer}"));
    assert!((found - value).abs() <= tolerance, "{at}: {found}, not {value}");
}

fn reading<'a>(answer: &'a Value, table: &str) -> &'a Value {
    let tables = answer["tables"].as_array().expect("tables");
    tables.iter().find(|it| it["table"] == table).unwrap_or_else(|| panic!("no {table}: {answer}"))
}

#[tokio::test]
async fn published_yields_by_date_and_stand_come_out() {
    let app = TestApp::start().await;
    let body = |date: &str, stand: f64| json!({"planting_date": date, "stand": q(stand, "1/[acr_us]"), "expected_yield_bu_ac": 200});
    // Purdue University 2011, by Nafziger 1994: 91 % on 20 May, 81 % on 30 May, of 200 bu.
    for (date, percent, bushels, late) in
        [("2027-05-20", 91.0, 182.0, false), ("2028-05-30", 81.0, 162.0, true)]
    {
        let answer = ask(&app, "relative-yield", &body(date, 30_000.0)).await;
        let read = reading(&answer, "illinois_date_stand");
        near(read, "/relative_yield/value", percent, 1e-9);
        near(read, "/yield_bu_ac", bushels, 1e-9);
        assert_eq!(
            (&read["printed"], &read["extrapolated_by_source"]),
            (&json!(true), &json!(late))
        );
        assert_eq!((&read["region"], &read["year"]), (&json!("Illinois"), &json!(1994)));
    }
    // Iowa State University 2018: 35,000 plants from 15 to 25 May give 87 %.
    let answer = ask(&app, "relative-yield", &body("2027-05-20", 35_000.0)).await;
    near(reading(&answer, "iowa_late_planting"), "/relative_yield/value", 87.0, 1e-9);
    // Nebraska 2009, after Iowa State University: 24,000 plants of April give 94 %.
    let answer = ask(&app, "relative-yield", &body("2027-04-25", 24_000.0)).await;
    near(reading(&answer, "iowa_replant"), "/relative_yield/value", 94.0, 1e-9);
    let missing = answer["not_covered"].as_array().expect("a list");
    assert!(missing.iter().any(|it| it["table"] == "wisconsin_full_season"
        && it["why"] == "the table covers 32000 to 36000 plants an acre"));
    // Out of season no table speaks, and nothing is carried on.
    let answer = ask(&app, "relative-yield", &body("2027-08-01", 30_000.0)).await;
    assert_eq!(answer["tables"], json!([]));
    assert_eq!(answer["not_covered"].as_array().map(Vec::len), Some(5));
    assert_eq!(answer["loss_per_day"]["by_source"], json!([]));
}

#[tokio::test]
async fn the_price_of_speed_stands_beside_its_gain() {
    let app = TestApp::start().await;
    let mut body = json!({
        "crop": "corn", "planting_date": "2027-05-10", "speed": q(6.0, "[mi_i]/h"),
        "width": {"kind": "across", "across": q(30.0, "[ft_i]")}, "load": q(200.0, "[lbf_av]"),
        "work": {"area": q(400.0, "[acr_us]"), "efficiency": q(60.0, "%"), "hours_a_day": 10,
                 "suitable_share": q(48.0, "%")}
    });
    let answer = ask(&app, "price-of-speed", &body).await;
    let work = &answer["work"];
    // 30 ft x 6 mph x 60 % / 8.25 = 13.09 ac/h; 400 / 130.9 / 0.48 = 6.37 days, a fifth more at 5.
    near(work, "/advised/capacity/value", 13.09, 0.01);
    near(work, "/advised/calendar_days", 6.37, 0.01);
    near(work, "/price/extra_days", 6.37 / 5.0, 0.01);
    near(work, "/slower/speed/value", 5.0, 1e-9);
    // About 27 lbf a mph (journal abstract, least squares).
    near(work, "/price/load_gained/value", 26.8, 0.5);
    let (from, to) = (&work["price"]["contact_loss_from"], &work["price"]["contact_loss_to"]);
    assert!(to.as_f64() < from.as_f64(), "{work}");
    let lost = work["price"]["lost"]["by_source"].as_array().expect("sources");
    let illinois = lost.iter().find(|it| it["region"] == "Illinois" && it["year"] == "2013");
    // 0.7 % a day from 10 to 20 May (University of Illinois 2013); the mean acre waits half.
    near(illinois.expect("Illinois 2013"), "/low", 0.7 * 6.37 / 5.0 / 2.0, 0.01);
    let text = work["because"][0]["text"].as_str().expect("a sentence");
    assert!(
        text.starts_with("one mph slower: 1.3 more days for 400 ac (162 ha), about "),
        "{text}"
    );
    assert_eq!(work["limits"].as_array().map(Vec::len), Some(3));
    assert_eq!((&work["binds"], &work["assumed"]), (&json!("metering"), &json!([])));
    // What is not told is assumed and said; without a date no loss is.
    body.as_object_mut().expect("an object").remove("work");
    body.as_object_mut().expect("an object").remove("planting_date");
    let answer = ask(&app, "price-of-speed", &body).await;
    assert_eq!(answer["work"]["area_from"], "hundred_acres");
    assert_eq!(answer["work"]["assumed"].as_array().map(Vec::len), Some(3));
    assert!(answer["work"]["price"].get("lost").is_none(), "{answer}");
}

#[tokio::test]
async fn draft_by_the_standard_is_marked_as_remembered_and_grows_with_speed_only_in_power() {
    let app = TestApp::start().await;
    let body = |mph: f64| {
        json!({"rows": 8, "draft": {"kind": "standard", "line": "no_till_coulter", "texture": "fine"},
               "speed": q(mph, "[mi_i]/h"), "tractor": "front_assist", "surface": "firm"})
    };
    let (slow, fast) = (ask(&app, "draft", &body(4.0)).await, ask(&app, "draft", &body(5.0)).await);
    assert_eq!(slow["power"]["pull"], fast["power"]["pull"], "no term for speed");
    let watts = |it: &Value| it["power"]["drawbar"]["likely"]["value"].as_f64().expect("a number");
    assert!((watts(&fast) / watts(&slow) - 1.25).abs() < 1e-5);
    assert_eq!(slow["trace"][0]["mark"], "from_memory");
    near(&slow, "/power/slip_low/value", 8.0, 1e-9);
    near(&slow, "/power/slip_high/value", 10.0, 1e-9);
    let ratio = fast["power"]["pto"]["likely"]["value"].as_f64().expect("a number");
    assert!((watts(&fast) / ratio - 0.77).abs() < 1e-4, "University of Arizona: 0.77");
}

#[tokio::test]
async fn a_seed_order_rounds_up() {
    let app = TestApp::start().await;
    let body = |acres: f64| {
        json!({"crop": "corn", "spare": q(0.0, "%"),
               "fields": [{"area": q(acres, "[acr_us]"), "rate": q(32_000.0, "1/[acr_us]")}]})
    };
    for (acres, bags) in [(100.0, 40.0), (100.1, 41.0), (0.1, 1.0)] {
        near(&ask(&app, "seed-order", &body(acres)).await, "/order/units", bags, 1e-9);
    }
    let answer = ask(&app, "seed-order", &body(100.0)).await;
    let marks = answer["order"]["assumed"].as_array().expect("a list");
    assert!(marks.iter().all(|it| it["mark"] == "from_memory"), "{answer}");
    let soybean = json!({"crop": "soybean", "seeds_per_pound": 2800, "spare": q(0.0, "%"),
        "fields": [{"area": q(1.0, "[acr_us]"), "rate": q(140_000.0, "1/[acr_us]")}]});
    near(&ask(&app, "seed-order", &soybean).await, "/order/weight/value", 50.0, 1e-6);
}

#[tokio::test]
async fn lengths_of_row_are_those_that_universities_print() {
    let app = TestApp::start().await;
    // University of Tennessee 2011 (feet and inches); definition for the 128th.
    for (width, feet, inches, course) in [
        (15.0, 34.0, 10.0, 272.25),
        (20.0, 26.0, 2.0, 204.19),
        (30.0, 17.0, 5.0, 136.13),
        (36.0, 14.0, 6.0, 113.44),
        (38.0, 13.0, 9.0, 107.47),
    ] {
        let answer = ask(&app, "row-length", &json!({"row_width": q(width, "[in_i]")})).await;
        near(&answer, "/thousandth_acre/value", feet + inches / 12.0, 0.5 / 12.0);
        near(&answer, "/course_128th_acre/value", course, 0.01);
        near(&answer, "/population_per_plant/value", 1000.0, 1e-6);
        assert!(answer.get("in_thousandth_acre").is_none());
    }
}

#[tokio::test]
async fn what_can_not_be_is_refused_with_its_pointer() {
    let app = TestApp::start().await;
    let price = |more: Value| {
        let mut body = json!({"crop": "corn", "speed": q(5.0, "[mi_i]/h"),
            "width": {"kind": "across", "across": q(30.0, "[ft_i]")}});
        body.as_object_mut().expect("an object").extend(more.as_object().cloned().expect("more"));
        body
    };
    let days = |days: f64, from: &str, to: &str| json!({"suitable_days": {"days": days, "from": from, "to": to}});
    let corn = |field: Value| json!({"crop": "corn", "fields": [field]});
    let field = json!({"area": q(1.0, "[acr_us]"), "rate": q(32_000.0, "1/[acr_us]")});
    let mut both = days(20.0, "2027-04-10", "2027-05-20");
    both["work"] = json!({"suitable_share": q(48.0, "%")});
    for (name, body, pointer) in [
        ("price-of-speed", price(days(42.0, "2027-04-10", "2027-05-20")), "/suitable_days/days"),
        ("price-of-speed", price(days(2.0, "2027-05-20", "2027-05-10")), "/suitable_days/days"),
        ("price-of-speed", price(both), "/suitable_days"),
        ("price-of-speed", price(json!({"work": {"hours_a_day": 25}})), "/work/hours_a_day"),
        (
            "price-of-speed",
            price(json!({"work": {"expected_yield_bu_ac": 0}})),
            "/work/expected_yield_bu_ac",
        ),
        ("price-of-speed", price(json!({"planting_date": "2027-02-30"})), "/planting_date"),
        (
            "relative-yield",
            json!({"planting_date": "2027-05-01", "stand": q(3e4, "1/[acr_us]"), "expected_yield_bu_ac": 401}),
            "/expected_yield_bu_ac",
        ),
        ("seed-order", json!({"crop": "corn", "fields": []}), "/fields"),
        (
            "seed-order",
            corn(json!({"area": q(0.0, "[acr_us]"), "rate": q(3e4, "1/[acr_us]")})),
            "/fields/0/area",
        ),
        (
            "seed-order",
            json!({"crop": "corn", "fields": [field], "seeds_per_unit": 0}),
            "/seeds_per_unit",
        ),
        (
            "seed-order",
            json!({"crop": "corn", "fields": [field], "seeds_per_pound": 1}),
            "/seeds_per_pound",
        ),
        (
            "draft",
            json!({"rows": 65, "speed": q(5.0, "[mi_i]/h"), "draft": {"kind": "measured", "per_row": q(200.0, "[lbf_av]")}}),
            "/rows",
        ),
    ] {
        let answer = app.read_only.post(&path(name), &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}
