//! Laws that hold whatever records come: they are taken once, nothing is lost, order is nothing.

use std::sync::Arc;
use std::time::Instant;

use chrono::NaiveDate;
use proptest::prelude::*;
use proptest::test_runner::{Config as Cases, TestRunner};
use sea_orm::{ColumnTrait, EntityTrait, PaginatorTrait, QueryFilter};
use serde_json::json;
use tokio::runtime::Runtime;

use super::{
    Beside, By, Columns, Incoming, Kind, Outcome, Parent, Place, Plan, Source, System, apply, plan,
};
use crate::app::{App, AppState, Config};
use crate::auth::Scope;
use crate::auth::accounts::{self, NewAccount};
use crate::auth::role::Role;
use crate::config::Settings;
use crate::entities::fields;
use crate::v1::units::Units;
use crate::writes::Actor;

/// The service without a server, on a database in memory.
struct World {
    state: AppState,
    by: By,
    scope: Scope,
}

impl World {
    async fn state() -> AppState {
        let settings = Settings::on("sqlite::memory:".parse().expect("a database"));
        App::state(&Config::of(settings)).await.expect("a state")
    }

    /// A practice of its own.
    async fn of(state: AppState, name: &str) -> Self {
        let practice =
            accounts::practice(&state.db, state.maker(), name).await.expect("a practice");
        let new = NewAccount {
            email: format!("{name}@example.org"),
            display_name: name.to_owned(),
            role: Role::RecordsSystem,
            grower_id: None,
            password: String::new(),
            units: Units::Us,
        };
        let hash = "!".to_owned();
        let made = accounts::create_with_hash(&state.db, state.maker(), practice, new, hash).await;
        let actor = Actor::from(&made.expect("an account"));
        let by =
            By { actor, operation: "put_external_batch".to_owned(), request_id: String::new() };
        Self { state, by, scope: Scope::of_practice(practice) }
    }

    async fn plans(&self, records: Vec<Incoming>) -> Plan {
        let source = Source {
            system: System::parse("/system", "records").expect("a name"),
            today: NaiveDate::from_ymd_opt(2027, 4, 20).expect("a day"),
            beside: Beside::Waits,
        };
        plan(&self.state.db, self.scope, &source, records).await.expect("a plan")
    }

    async fn takes(&self, records: Vec<Incoming>) -> Plan {
        let planned = self.plans(records).await;
        let tx = crate::db::begin(&self.state.db).await.expect("a transaction");
        let done = apply(&tx, &self.state, &self.by, planned).await.expect("taken");
        tx.commit().await.expect("committed");
        done
    }

    /// How many objects there are.
    async fn objects(&self) -> u64 {
        let (db, scope) = (&self.state.db, self.scope);
        let growers = scope.growers().count(db).await.expect("growers");
        let farms = scope.farms().count(db).await.expect("farms");
        growers + farms + scope.fields().count(db).await.expect("fields")
    }

    /// Somebody here gives all fields with this name another.
    async fn rename(&self, from: &str, to: &str) {
        use fields::{Column, Entity};
        Entity::update_many()
            .col_expr(Column::Name, sea_orm::sea_query::Expr::value(to))
            .filter(Column::PracticeId.eq(self.scope.practice_id))
            .filter(Column::Name.eq(from))
            .exec(&self.state.db)
            .await
            .expect("renamed");
    }
}

/// A record in short: kind, id, parent, name, where its boundary begins.
type Short = (u8, u8, u8, u8, Option<u8>);

fn record(index: usize, (kind, id, parent, name, west): Short) -> Incoming {
    let kind = [Kind::Grower, Kind::Farm, Kind::Field][usize::from(kind % 3)];
    let columns = Arc::new(Columns::default());
    let mut record = Incoming::new(kind, Place::new(format!("/{index}"), &columns));
    record.their_id = Some(format!("{}-{}", kind.word(), id % 4));
    // Some names are none, and some are alike.
    record.said.name =
        Some(["", "North", "NORTH", "South", "East"][usize::from(name % 5)].to_owned());
    record.said.parent = match kind {
        Kind::Farm => Some(Parent::Theirs(format!("grower-{}", parent % 3))),
        Kind::Field => Some(Parent::Theirs(format!("farm-{}", parent % 3))),
        _ => None,
    };
    if let (Kind::Field, Some(west)) = (kind, west) {
        record.said.boundary = Some(square(-93.0 + 0.004 * f64::from(west % 8), 42.0));
    }
    record
}

fn square(west: f64, south: f64) -> crate::v1::fields::Boundary {
    let (east, north) = (west + 0.01, south + 0.01);
    let ring = json!([[west, south], [east, south], [east, north], [west, north], [west, south]]);
    let boundary = json!({"type": "Polygon", "coordinates": [ring]});
    serde_json::from_value(boundary).expect("a boundary")
}

fn records(some: &[Short]) -> Vec<Incoming> {
    some.iter().enumerate().map(|(index, short)| record(index, *short)).collect()
}

/// What becomes of each record, however they were ordered. Reasons name places, which differ.
fn outcomes(plan: &Plan) -> Vec<String> {
    let mut told: Vec<String> = plan
        .rows
        .iter()
        .map(|row| {
            let outcome = match &row.outcome {
                Outcome::Refused(bad) => format!("refused {}", bad.len()),
                other => format!("{other:?}"),
            };
            format!(
                "{:?} {:?} {:?} {outcome}",
                row.incoming.kind, row.incoming.their_id, row.object_id
            )
        })
        .collect();
    told.sort_unstable();
    told
}

fn some_records() -> impl Strategy<Value = Vec<Short>> {
    let record = (0..3_u8, 0..4_u8, 0..3_u8, 0..5_u8, proptest::option::of(0..8_u8));
    proptest::collection::vec(record, 0..14)
}

#[test]
fn records_are_taken_once_in_any_order_and_nothing_is_deleted() {
    let runtime = Runtime::new().expect("a runtime");
    let mut state = Some(runtime.block_on(World::state()));
    // A case is a dozen transactions, so there are a fifth of those that other laws get.
    let cases = (Cases::default().cases / 5).max(50);
    let mut runner =
        TestRunner::new(Cases { failure_persistence: None, ..Cases::with_cases(cases) });
    let mut number = 0;
    let given = (some_records(), some_records(), any::<bool>(), any::<u64>());
    let state = std::cell::RefCell::new(&mut state);
    let number = std::cell::RefCell::new(&mut number);
    let law = |(first, second, rename, seed): (Vec<Short>, Vec<Short>, bool, u64)| {
        runtime.block_on(async {
            **number.borrow_mut() += 1;
            let name = format!("p{}", number.borrow());
            let taken = state.borrow_mut().take().expect("one case at a time");
            let world = World::of(taken, &name).await;
            let result = holds(&world, (&first, &second), rename, seed).await;
            **state.borrow_mut() = Some(world.state);
            result
        })
    };
    runner.run(&given, law).expect("the law holds");
}

async fn holds(
    world: &World,
    (first, second): (&[Short], &[Short]),
    rename: bool,
    seed: u64,
) -> Result<(), TestCaseError> {
    world.takes(records(first)).await;
    if rename {
        world.rename("South", "Ours").await;
    }
    let planned = world.plans(records(second)).await;
    // Any other order says the same.
    let mut shuffled = records(second);
    let many = shuffled.len();
    for at in 0..many {
        let other = usize::try_from(seed).unwrap_or_default().wrapping_mul(at + 7) % many;
        shuffled.swap(at, other);
    }
    let otherwise = world.plans(shuffled).await;
    prop_assert_eq!(outcomes(&planned), outcomes(&otherwise));

    let before = world.objects().await;
    let done = world.takes(records(second)).await;
    let after = world.objects().await;
    prop_assert_eq!(done.counts(), planned.counts(), "what was planned is done");
    prop_assert_eq!(after, before + u64::from(done.counts().created), "made, and nothing deleted");

    let again = world.plans(records(second)).await;
    let counts = again.counts();
    prop_assert_eq!((counts.created, counts.changed), (0, 0), "{:?}", outcomes(&again));
    prop_assert_eq!(counts.refused, done.counts().refused);
    prop_assert_eq!(counts.waiting, done.counts().waiting);
    prop_assert_eq!(counts.conflicts, done.counts().conflicts);
    let changing = again.rows.iter().any(|row| match &row.outcome {
        Outcome::Conflict { changes, .. } => !changes.is_empty(),
        _ => false,
    });
    prop_assert!(!changing, "{:?}", outcomes(&again));
    Ok(())
}

/// A grower with a hundred farms of a hundred fields.
fn ten_thousand() -> Vec<Incoming> {
    let columns = Arc::new(Columns::default());
    let place = |at: String| Place::new(at, &columns);
    let mut grower = Incoming::new(Kind::Grower, place("/grower".to_owned()));
    grower.their_id = Some("G".to_owned());
    grower.said.name = Some("Large".to_owned());
    let mut all = vec![grower];
    for farm in 0..100 {
        let mut it = Incoming::new(Kind::Farm, place(format!("/farms/{farm}")));
        it.their_id = Some(format!("A{farm}"));
        it.said.name = Some(format!("Farm {farm}"));
        it.said.parent = Some(Parent::Theirs("G".to_owned()));
        all.push(it);
        for field in 0..100 {
            let mut it = Incoming::new(Kind::Field, place(format!("/farms/{farm}/{field}")));
            it.their_id = Some(format!("F{farm}-{field}"));
            it.said.name = Some(format!("Field {field}"));
            it.said.parent = Some(Parent::Theirs(format!("A{farm}")));
            let west = -93.0 + 0.011 * f64::from(farm);
            it.said.boundary = Some(square(west, 40.0 + 0.011 * f64::from(field)));
            all.push(it);
        }
    }
    all
}

#[tokio::test]
async fn ten_thousand_fields_are_taken_in_time_and_left_in_less() {
    let world = World::of(World::state().await, "large").await;
    let started = Instant::now();
    let done = world.takes(ten_thousand()).await;
    let first = started.elapsed();
    assert_eq!(done.counts().created, 10_101);
    let started = Instant::now();
    let again = world.takes(ten_thousand()).await;
    let second = started.elapsed();
    assert_eq!(again.counts().unchanged, 10_101);
    assert_eq!(world.objects().await, 10_101);
    // What the issue asks, although tests are not optimised.
    assert!(first.as_secs() < 60 && second.as_secs() < 5, "{first:?}, then {second:?}");
    // All under other ids: each looks like one that is here.
    let mut others = ten_thousand();
    for record in others.iter_mut().filter(|record| record.kind == Kind::Field) {
        record.their_id = record.their_id.take().map(|id| format!("other {id}"));
        record.said.name = record.said.name.take().map(|name| format!("{name} east"));
    }
    let started = Instant::now();
    let planned = world.plans(others).await;
    assert_eq!(planned.counts().created, 10_000, "all that they look like is tied already");
    assert!(started.elapsed().as_secs() < 60, "{:?}", started.elapsed());
}
