//! What is kept up to date equals what is counted from scratch, whatever happened in which order.

use std::collections::{BTreeMap, BTreeSet};

use api::auth::role::Role;
use api::entities::{
    adjustments, dig_checks, practices, recommendations, season_digs, season_fields,
    season_planters,
};
use api::season;
use api::v1::practice::SeasonCalendar;
use chrono::{DateTime, TimeDelta, Utc};
use domain::season::Sums;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, QueryOrder};
use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};
use uuid::Uuid;

use super::dig_body;

/// Numbers that follow from a seed: xorshift.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(end).expect("few")).expect("few")
    }

    fn of<'a, T>(&mut self, all: &'a [T]) -> Option<&'a T> {
        if all.is_empty() { None } else { Some(&all[self.below(all.len())]) }
    }
}

/// A practice to which all sorts of things happen.
struct Story<'a> {
    app: &'a TestApp,
    lead: User,
    dice: Dice,
    now: DateTime<Utc>,
    steads: Vec<Farmstead>,
    drafts: Vec<String>,
    issued: Vec<(Farmstead, String)>,
    adjustments: Vec<String>,
    plantings: Vec<String>,
    sent: Vec<(String, Value)>,
    happened: BTreeMap<&'static str, usize>,
}

const ZONES: &[&str] = &["UTC", "America/Chicago", "Pacific/Auckland", "Asia/Kolkata"];
const STARTS: &[&str] = &["01-01", "07-01", "02-29", "05-15"];

impl Story<'_> {
    async fn step(&mut self) {
        let minutes = [1, 20, 600, 3_000, 30_000][self.dice.below(5)];
        self.now += TimeDelta::minutes(minutes);
        self.app.clock.set(self.now);
        self.lead = self.app.signed_in_now(&self.app.lead, Role::Lead);
        match self.dice.below(20) {
            0..=2 => self.draft().await,
            3..=5 => self.issue().await,
            6 => self.acknowledge().await,
            7..=12 => self.dig().await,
            13 => self.send_again().await,
            14 | 15 => self.decide().await,
            16 => self.plant().await,
            17 => self.unplant().await,
            18 => self.delete_draft().await,
            _ => self.settings().await,
        }
    }

    fn note(&mut self, what: &'static str, status: u16) {
        assert!(status < 500, "{what} answers {status}");
        if status < 300 {
            *self.happened.entry(what).or_default() += 1;
        }
    }

    async fn draft(&mut self) {
        let Some(stead) = self.dice.of(&self.steads).cloned() else { return };
        let goals = json!({
            "depth": {"value": 2, "unit": "[in_i]"}, "speed": {"value": 5, "unit": "[mi_i]/h"}
        });
        let made = self.lead.post("/v1/recommendations", &stead.recommendation_body(&goals)).await;
        self.note("draft", made.status);
        if made.status == 201 {
            self.drafts.push(made.id());
        }
    }

    async fn issue(&mut self) {
        let Some(id) = self.dice.of(&self.drafts).cloned() else { return };
        let path = format!("/v1/recommendations/{id}/issue");
        let made = self.lead.send("POST", &path, &[("if-match", "*")], None).await;
        self.note("issue", made.status);
        self.drafts.retain(|draft| *draft != id);
        if made.status == 200 {
            let field = made.json()["field_id"].clone();
            let stead = self.steads.iter().find(|it| json!(it.field) == field).expect("known");
            self.issued.push((stead.clone(), id));
        }
    }

    async fn delete_draft(&mut self) {
        let Some(id) = self.dice.of(&self.drafts).cloned() else { return };
        let gone = self.lead.delete(&format!("/v1/recommendations/{id}")).await;
        self.note("delete draft", gone.status);
        self.drafts.retain(|draft| *draft != id);
    }

    async fn acknowledge(&mut self) {
        let Some((_, id)) = self.dice.of(&self.issued).cloned() else { return };
        let path = format!("/v1/recommendations/{id}/acknowledge");
        let seen = self.lead.send("POST", &path, &[("if-match", "*")], None).await;
        self.note("acknowledge", seen.status);
    }

    /// In time, late, or before the settings were issued; also behind what was superseded.
    async fn dig(&mut self) {
        let Some((_, id)) = self.dice.of(&self.issued).cloned() else { return };
        let ago = [0, 30, 1_000, 20_000, 500_000][self.dice.below(5)];
        let at = (self.now - TimeDelta::minutes(ago)).to_rfc3339();
        let inside = self.dice.below(2) == 0;
        let mut body = dig_body(&at, inside);
        match self.dice.below(5) {
            0 => {
                body["rows"][0]["logged_load"] = json!({"mean": {"value": 170, "unit": "[lbf_av]"}})
            }
            1 => body["rows"][1]["residue_in_furrow"] = json!(true),
            2 => {
                for row in body["rows"].as_array_mut().expect("rows") {
                    row["residue_in_furrow"] = json!(true);
                }
            }
            3 => {
                for row in body["rows"].as_array_mut().expect("rows") {
                    row.as_object_mut().expect("a row").remove("gauge_wheels");
                }
            }
            _ => {}
        }
        self.send(id, body, "dig").await;
    }

    async fn send(&mut self, id: String, body: Value, what: &'static str) {
        let path = format!("/v1/recommendations/{id}/dig-checks");
        let dug = self.lead.post(&path, &body).await;
        self.note(what, dug.status);
        if let Some(adjustment) = dug.json()["adjustment_id"].as_str() {
            self.adjustments.push(adjustment.to_owned());
        }
        self.sent.push((id, body));
    }

    /// The same once more, or with other words.
    async fn send_again(&mut self) {
        let Some((id, mut body)) = self.dice.of(&self.sent).cloned() else { return };
        if self.dice.below(2) == 0 {
            let note = format!("note {}", self.dice.below(100));
            body["notes"] = json!(note);
        }
        self.send(id, body, "dig again").await;
    }

    async fn decide(&mut self) {
        let Some(id) = self.dice.of(&self.adjustments).cloned() else { return };
        self.adjustments.retain(|open| *open != id);
        let (step, body) = match self.dice.below(3) {
            0 => ("decline", json!({"reason": "not now"})),
            1 => ("accept", json!({"issue": true})),
            _ => ("accept", json!({"issue": false})),
        };
        let path = format!("/v1/adjustments/{id}/{step}");
        let done = self.lead.send("POST", &path, &[("if-match", "*")], Some(&body)).await;
        self.note(step, done.status);
        let next = done.json()["next_recommendation_id"].as_str().map(str::to_owned);
        let Some(next) = next.filter(|_| done.status == 200) else { return };
        if body["issue"] == true {
            let sheet = self.lead.get(&format!("/v1/recommendations/{next}")).await.json();
            let stead = self.steads.iter().find(|it| json!(it.field) == sheet["field_id"]);
            self.issued.push((stead.expect("known").clone(), next));
        } else {
            self.drafts.push(next);
        }
    }

    async fn plant(&mut self) {
        let Some((stead, id)) = self.dice.of(&self.issued).cloned() else { return };
        let day = (self.now - TimeDelta::days(2)).date_naive();
        let mut body = json!({"planter_id": stead.planter, "planted_on": day, "crop": "corn"});
        if self.dice.below(2) == 0 {
            body["recommendation_id"] = json!(id);
        }
        let path = format!("/v1/fields/{}/plantings", stead.field);
        let made = self.lead.post(&path, &body).await;
        self.note("plant", made.status);
        if made.status == 201 {
            self.plantings.push(made.id());
        }
    }

    async fn unplant(&mut self) {
        let Some(id) = self.dice.of(&self.plantings).cloned() else { return };
        let path = format!("/v1/plantings/{id}");
        if self.dice.below(2) == 0 {
            let day = (self.now - TimeDelta::days(200)).date_naive();
            let moved = self.lead.patch(&path, "*", &json!({"planted_on": day})).await;
            self.note("planting moved", moved.status);
            return;
        }
        let gone = self.lead.delete(&path).await;
        self.note("planting deleted", gone.status);
        self.plantings.retain(|planting| *planting != id);
    }

    /// The zone, the start of the season, or the advisor of a grower.
    async fn settings(&mut self) {
        match self.dice.below(3) {
            0 => {
                let zone = json!({"time_zone": self.dice.of(ZONES)});
                let changed = self.lead.patch("/v1/practice", "*", &zone).await;
                self.note("zone", changed.status);
            }
            1 => {
                let starts = json!({"season_starts": self.dice.of(STARTS)});
                let changed = self.lead.patch("/v1/practice", "*", &starts).await;
                self.note("season starts", changed.status);
            }
            _ => {
                let Some(stead) = self.dice.of(&self.steads).cloned() else { return };
                let his = json!({"advisor_id": self.app.advisor.account_id});
                let path = format!("/v1/growers/{}", stead.grower);
                let moved = self.lead.patch(&path, "*", &his).await;
                self.note("another advisor", moved.status);
            }
        }
    }

    async fn erase(&mut self) {
        let Some(stead) = self.dice.of(&self.steads).cloned() else { return };
        let path = format!("/v1/growers/{}/erasure", stead.grower);
        let reason = json!({"reason": "asked by letter"});
        let gone = self.lead.send("POST", &path, &[("if-match", "*")], Some(&reason)).await;
        gone.assert_status(200);
        self.note("erasure", 200);
        self.steads.retain(|it| it.grower != stead.grower);
        self.issued.retain(|(it, _)| it.grower != stead.grower);
        // What was his may be gone.
        (self.drafts, self.adjustments, self.plantings, self.sent) = Default::default();
    }
}

/// All that is kept of the seasons of the practice.
#[derive(Debug, PartialEq)]
struct Kept {
    digs: Vec<season_digs::Model>,
    fields: Vec<season_fields::Model>,
    planters: Vec<season_planters::Model>,
}

async fn kept(app: &TestApp) -> Kept {
    let db = &app.state().db;
    Kept {
        digs: season_digs::Entity::find()
            .order_by_asc(season_digs::Column::Id)
            .all(db)
            .await
            .expect("digs"),
        fields: season_fields::Entity::find()
            .order_by_asc(season_fields::Column::Season)
            .order_by_asc(season_fields::Column::PlanterId)
            .order_by_asc(season_fields::Column::FieldId)
            .all(db)
            .await
            .expect("fields"),
        planters: season_planters::Entity::find()
            .order_by_asc(season_planters::Column::Season)
            .order_by_asc(season_planters::Column::PlanterId)
            .all(db)
            .await
            .expect("planters"),
    }
}

/// Revisions, digs, adjustments, accepted ones, and fields, season by season.
type Counts = BTreeMap<i32, [usize; 5]>;

fn of_sums(kept: &Kept) -> Counts {
    let mut counts = Counts::new();
    for row in &kept.planters {
        let sums: Sums = serde_json::from_str(&row.sums).expect("sums");
        let here = counts.entry(row.season).or_default();
        let more = [
            sums.revisions,
            sums.digs,
            sums.adjustments.proposed,
            sums.adjustments.accepted,
            sums.fields,
        ];
        for (to, more) in here.iter_mut().zip(more) {
            *to += usize::try_from(more).expect("few");
        }
    }
    counts
}

/// The same, counted from the rows by other means: straight from what was stored.
async fn by_hand(app: &TestApp) -> Counts {
    let db = &app.state().db;
    let practice = practices::Entity::find_by_id(app.practice_id).one(db).await.expect("a query");
    let calendar = SeasonCalendar::of(&practice.expect("ours")).expect("a calendar");
    let ours = recommendations::Column::PracticeId.eq(app.practice_id);
    let sheets = recommendations::Entity::find().filter(ours).all(db).await.expect("sheets");
    let digs = dig_checks::Entity::find().all(db).await.expect("digs");
    let mut counts = Counts::new();
    let mut fields = BTreeSet::<(i32, Uuid, Uuid)>::new();
    for sheet in sheets.iter().filter(|it| it.issued_at.is_some()) {
        let season = calendar.season_of(sheet.issued_at.expect("issued"));
        counts.entry(season).or_default()[0] += 1;
        fields.insert((season, sheet.planter_id, sheet.field_id));
    }
    let mut season_of_dig = BTreeMap::new();
    for dig in digs.iter() {
        let twice = dig.notices.as_ref().is_some_and(|it| it.to_string().contains("same_readings"));
        if twice {
            continue;
        }
        let sheet = sheets.iter().find(|it| it.id == dig.recommendation_id).expect("its sheet");
        let season = calendar.season_of(dig.dug_at);
        counts.entry(season).or_default()[1] += 1;
        season_of_dig.insert(dig.id, season);
        fields.insert((season, sheet.planter_id, sheet.field_id));
    }
    for it in adjustments::Entity::find().all(db).await.expect("adjustments") {
        let Some(season) = season_of_dig.get(&it.dig_check_id) else { continue };
        let here = counts.entry(*season).or_default();
        here[2] += 1;
        here[3] += usize::from(it.status == adjustments::Status::Accepted);
    }
    let plantings = api::entities::plantings::Entity::find().all(db).await.expect("plantings");
    for it in plantings {
        fields.insert((calendar.season_of_day(it.planted_on), it.planter_id, it.field_id));
    }
    for (season, _, _) in fields {
        counts.entry(season).or_default()[4] += 1;
    }
    counts
}

async fn check(app: &TestApp, at: &str) {
    let before = kept(app).await;
    assert_eq!(of_sums(&before), by_hand(app).await, "{at}: counted by other means");
    let db = &app.state().db;
    season::rebuild(db, app.practice_id).await.expect("rebuilt");
    assert_eq!(before, kept(app).await, "{at}: counted from scratch");
}

async fn story(seed: u64, steps: usize) -> BTreeMap<&'static str, usize> {
    let app = TestApp::start().await;
    let mut steads = Vec::new();
    for name in ["East", "West", "South"] {
        steads.push(Farmstead::make(&app.lead, name).await);
    }
    // A second field behind the first planter.
    let mut second = Farmstead::field_body(&steads[0].farm);
    second["name"] = json!("South forty");
    let field = app.lead.create("/v1/fields", &second).await;
    let reports = format!("/v1/fields/{field}/conditions");
    app.lead.create(&reports, &Farmstead::conditions_body()).await;
    steads.push(Farmstead { field, ..steads[0].clone() });
    let mut story = Story {
        app: &app,
        lead: app.lead.clone(),
        dice: Dice(seed),
        now: tests::NOON.parse().expect("a time"),
        steads,
        drafts: Vec::new(),
        issued: Vec::new(),
        adjustments: Vec::new(),
        plantings: Vec::new(),
        sent: Vec::new(),
        happened: BTreeMap::new(),
    };
    for step in 0..steps {
        story.step().await;
        if step % 20 == 19 {
            check(&app, &format!("seed {seed}, step {step}")).await;
        }
    }
    story.erase().await;
    check(&app, &format!("seed {seed}, after the erasure")).await;
    story.happened
}

#[tokio::test]
async fn what_is_kept_equals_a_recount_on_random_histories() {
    let mut happened = BTreeMap::new();
    for seed in [0x9e37_79b9_7f4a_7c15, 0xd1b5_4a32_d192_ed03, 0x2545_f491_4f6c_dd1d] {
        for (what, times) in story(seed, 80).await {
            *happened.entry(what).or_insert(0) += times;
        }
    }
    for what in [
        "draft",
        "issue",
        "delete draft",
        "acknowledge",
        "dig",
        "dig again",
        "accept",
        "decline",
        "plant",
        "planting moved",
        "planting deleted",
        "zone",
        "season starts",
        "another advisor",
        "erasure",
    ] {
        assert!(happened.contains_key(what), "{what} never happened: {happened:?}");
    }
}

#[tokio::test]
async fn writes_at_one_moment_count_one_after_the_other() {
    let app = TestApp::start().await;
    let one = Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await;
    let mut second = Farmstead::field_body(&one.farm);
    second["name"] = json!("South forty");
    let field = app.lead.create("/v1/fields", &second).await;
    // Another field behind the same planter.
    let other = Farmstead { field, ..one.clone() }.with_sheet(&app.lead).await;
    let digs = |stead: &Farmstead, minute: u32| {
        let path = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
        let (lead, minute) = (app.lead.clone(), format!("2027-04-20T12:{minute:02}:00Z"));
        async move { lead.post(&path, &dig_body(&minute, false)).await.status }
    };
    let seen = |stead: &Farmstead| {
        let path = format!("/v1/recommendations/{}/acknowledge", stead.recommendation);
        let lead = app.lead.clone();
        async move { lead.send("POST", &path, &[("if-match", "*")], None).await.status }
    };
    let (a, b, c, d, e, f) = tokio::join!(
        digs(&one, 1),
        digs(&other, 2),
        digs(&one, 3),
        seen(&one),
        seen(&other),
        digs(&other, 4),
    );
    assert_eq!([a, b, c, d, e, f], [201, 201, 201, 200, 200, 201]);
    check(&app, "after all at once").await;
    let whole = app.lead.get("/v1/seasons/2027/report").await.assert_status(200).json();
    assert_eq!((&whole["about"]["digs"], &whole["about"]["fields"]), (&json!(4), &json!(2)));
    assert_eq!(whole["recommendations"]["seen"]["count"], 2);
}
