//! What is due on which planter.

use std::collections::{BTreeMap, HashMap};

use chrono::NaiveDate;
use domain::planter::inspection::{ItemCode, Outlook, parts};
use sea_orm::ConnectionTrait;
use uuid::Uuid;

use super::dto::{PartDue, PartLine, PartPlace, PartPrice, PartsList};
use crate::auth::Scope;
use crate::entities::planters;
use crate::http::ApiError;
use crate::v1::inspections::open::{self, OpenReplacement};
use crate::v1::inspections::shed::{Shed, planter_of};
use crate::v1::wear::acres::Acres;
use crate::v1::wear::history::{Wearing, wearing};
use crate::v1::wear_limits::dto::WearLimitsIn;
use crate::v1::wear_limits::store as limits;

/// Planters of a line that are named.
const MOST_NAMED: usize = 1000;

/// Something that is due on a planter.
#[derive(Debug, Clone)]
pub(super) struct Due {
    item: ItemCode,
    rows: Vec<u16>,
    when: PartDue,
    since: NaiveDate,
    why: String,
}

/// What inspections found worn out on some planters.
pub(super) async fn now(
    db: &impl ConnectionTrait,
    scope: Scope,
    planters: Option<&[planters::Model]>,
) -> Result<HashMap<Uuid, Vec<Due>>, ApiError> {
    let open = match planters {
        Some(some) => open::of_planters(db, &scope, some.iter().map(|row| row.id)).await?,
        None => open::replacements(db, &scope).await?,
    };
    let mut due: HashMap<Uuid, Vec<Due>> = HashMap::new();
    for OpenReplacement { planter_id, part, rows, since, words, .. } in open {
        if let Some(item) = ItemCode::named(part) {
            let found = Due { item, rows, when: PartDue::Now, since, why: words };
            due.entry(planter_id).or_default().push(found);
        }
    }
    Ok(due)
}

/// What reaches its limit on a planter within what is planned, beside what is due already.
pub(super) async fn this_season(
    db: &impl ConnectionTrait,
    planter: &planters::Model,
    (today, already): (NaiveDate, &mut Vec<Due>),
) -> Result<(), ApiError> {
    let scope = Scope::of_practice(planter.practice_id);
    let shed = Shed::load(db, planter).await?;
    let acres = Acres::load(db, scope, planter.id, &shed.visits).await?;
    let parts = Wearing { shed: &shed, acres: &acres, today };
    for item in wearing().filter(|item| item.needs.has(&shed.planter)) {
        let known: Vec<u16> = already
            .iter()
            .filter(|it| it.item == item.code)
            .flat_map(|it| it.rows.clone())
            .collect();
        let forecasts = parts.forecast(item);
        let soon = forecasts.iter().filter(|row| row.outlook >= Outlook::WearsOut);
        let rows: Vec<u16> =
            soon.filter_map(|row| row.row).filter(|row| !known.contains(row)).collect();
        let read = rows.iter().filter_map(|row| parts.read_on(item, Some(*row))).max();
        if let Some(since) = read {
            let name = open::words(item.code, &rows);
            let why = format!("{name}: at the limit before the season's plan is done");
            already.push(Due { item: item.code, rows, when: PartDue::ThisSeason, since, why });
        }
    }
    Ok(())
}

/// The list over planters.
pub(super) async fn list(
    db: &impl ConnectionTrait,
    scope: Scope,
    (planters, due): (Vec<planters::Model>, HashMap<Uuid, Vec<Due>>),
) -> Result<PartsList, ApiError> {
    let entered = limits::of_planters(db, scope, due.keys().copied()).await?;
    let mut lines: BTreeMap<ItemCode, PartLine> = BTreeMap::new();
    let mut prices: BTreeMap<String, f64> = BTreeMap::new();
    let (mut without_price, mut with_something) = (0_u32, 0_u32);
    for row in &planters {
        let Some(due) = due.get(&row.id).filter(|due| !due.is_empty()) else {
            continue;
        };
        with_something = with_something.saturating_add(1);
        let domain = planter_of(row)?;
        let entered = entered.get(&row.id).map(|it| &it.entered);
        for it in due {
            let Some(part) = parts(it.item, &it.rows, &domain) else {
                continue;
            };
            let place = place(row, it, part.count, entered);
            match (place.price, &place.currency) {
                (Some(price), Some(currency)) => {
                    *prices.entry(currency.clone()).or_default() += price;
                }
                _ => without_price = without_price.saturating_add(1),
            }
            let line = lines.entry(it.item).or_insert_with(|| PartLine {
                item: it.item.into(),
                words: part.words.to_owned(),
                action: part.action.into(),
                count: 0,
                r#for: Vec::new(),
                left_off: 0,
            });
            line.count = line.count.saturating_add(part.count);
            if line.r#for.len() < MOST_NAMED {
                line.r#for.push(place);
            } else {
                line.left_off = line.left_off.saturating_add(1);
            }
        }
    }
    let prices = prices.into_iter().map(|(currency, sum)| PartPrice { currency, sum: cents(sum) });
    Ok(PartsList {
        items: lines.into_values().collect(),
        prices: prices.collect(),
        without_price,
        planters: with_something,
    })
}

fn place(
    row: &planters::Model,
    due: &Due,
    count: u32,
    entered: Option<&WearLimitsIn>,
) -> PartPlace {
    let part =
        entered.and_then(|it| it.parts.iter().find(|part| ItemCode::from(part.item) == due.item));
    let price_each = part.and_then(|part| part.price_each);
    let places = u32::try_from(due.rows.len().max(1)).unwrap_or(u32::MAX);
    let times = if count > 0 { count } else { places };
    PartPlace {
        planter_id: row.id,
        planter: row.name.clone(),
        rows: due.rows.clone(),
        count,
        due: due.when,
        since: due.since,
        why: due.why.clone(),
        price_each,
        price: price_each.map(|each| cents(each * f64::from(times))),
        currency: price_each.and(entered).and_then(|it| it.currency.clone()),
    }
}

/// To the cent.
fn cents(sum: f64) -> f64 {
    (sum * 100.0).round() / 100.0
}
