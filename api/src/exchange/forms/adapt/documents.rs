//! What was advised, done and found, as documents.

use std::collections::{BTreeSet, HashMap};

use chrono::{Days, NaiveDate};
use domain::dig::Judgement;
use domain::quantity::{Measured, unit};
use serde_json::{Map, Value, json};
use uuid::Uuid;

use super::catalog::{self, Zone, utc};
use super::definitions::{
    AREA_PLANTED, COULTER, DEPTH_FOUND, DEPTH_SD, DEPTH_TOLERANCE, DEPTH_WANTED, DOUBLES,
    DOWN_FORCE_SET, DOWN_FORCE_WANTED, EMERGENCE, HOURS, LEVER, LIQUID_WANTED, LOAD, LOAD_HIGH,
    LOAD_LOW, PRESSURE, ROW_SPACING, SEEDS_MEASURED, SEEDS_PLANTED, SEEDS_WANTED, SINGLES, SKIPS,
    SPACING_CV, SPACING_FOUND, SPACING_WANTED, SPEED, STAND, STAND_HIGH, STAND_LOW, WITHIN,
};
use super::figures::Figures;
use super::ids;
use super::rows::Land;
use crate::entities::{dig_checks, plantings, recommendations, stand_counts};
use crate::exchange::forms::external::ExternalIds;
use crate::exchange::forms::settings::{Liquid, LiquidKind, Settings};
use crate::http::ApiError;
use crate::http::quantity::Quantity;
use crate::v1::dig_checks::observation::DigCheckIn;
use crate::v1::dig_checks::store::judgement_of;
use crate::v1::practice::SeasonCalendar;
use crate::v1::stand_counts::store::result_of;

/// What the documents so far refer to: the catalog that follows must hold it.
#[derive(Debug, Default)]
pub(super) struct Named {
    pub(super) zones: BTreeSet<Zone>,
    pub(super) liquids: BTreeSet<LiquidKind>,
    sheets: HashMap<Uuid, Place>,
    plantings: HashMap<Uuid, Place>,
}

/// Where a document belongs.
#[derive(Debug, Clone, Copy)]
struct Place {
    zone: Zone,
    planter: Uuid,
}

/// A document is made of a row, its land, and what other systems call it.
#[derive(Debug, Clone, Copy)]
pub(super) struct About<'a> {
    pub(super) land: &'a Land,
    pub(super) external: &'a ExternalIds,
    pub(super) calendar: &'a SeasonCalendar,
}

impl Named {
    /// Crops that any document is about.
    pub(super) fn crops(&self) -> BTreeSet<&'static str> {
        self.zones.iter().map(|(_, crop, _)| *crop).collect()
    }

    /// Seasons that any document belongs to.
    pub(super) fn seasons(&self) -> BTreeSet<i32> {
        self.zones.iter().map(|(_, _, season)| *season).collect()
    }

    /// Where the sheet of a dig belongs.
    pub(super) fn field_of_sheet(&self, id: Uuid) -> Option<Uuid> {
        self.sheets.get(&id).map(|place| place.zone.0)
    }

    /// A settings sheet; `said` is what it says in words.
    pub(super) fn recommendation(
        &mut self,
        row: &recommendations::Model,
        settings: &Settings,
        said: &[String],
        about: About<'_>,
    ) -> Value {
        let crop = catalog::word(settings.crop);
        let made = row.issued_at.unwrap_or(row.created_at);
        let zone = (row.field_id, crop, about.calendar.season_of(made));
        self.zones.insert(zone);
        self.sheets.insert(row.id, Place { zone, planter: row.planter_id });
        self.liquids.extend(settings.liquid.map(|it| it.kind));
        let mut times = vec![json!({"dateContextCode": "CREATION", "start": utc(row.created_at)})];
        times.extend(
            row.issued_at.map(|at| json!({"dateContextCode": "APPROVAL", "start": utc(at)})),
        );
        let planting = planting_settings(row, settings, crop, about.land);
        let mut operations = vec![planting];
        operations.extend(settings.liquid.map(|it| liquid_setting(row, it, about.land)));
        json!({
            "id": ids::ours(row.id, about.external),
            "name": format!("Settings sheet: {}", about.land.name),
            "seasonId": ids::season(zone.2),
            "version": row.revision.to_string(),
            "notes": said,
            "timeScopes": times,
            "cropIds": [catalog::crop_id(crop)],
            "fieldIds": [row.field_id],
            "cropZoneIds": [catalog::zone_id(zone)],
            "operations": operations,
        })
    }

    /// What was planted.
    pub(super) fn planting(&mut self, row: &plantings::Model, about: About<'_>) -> Value {
        let crop = catalog::word(row.crop.into());
        let zone = (row.field_id, crop, about.calendar.season_of_day(row.planted_on));
        let place = Place { zone, planter: row.planter_id };
        self.plantings.insert(row.id, place);
        let sheet = row.recommendation_id.filter(|id| self.sheets.contains_key(id));
        let operation = operation_id(row.id, PLANTING);
        let mut figures = Figures::of(&operation);
        figures
            .put_of(SEEDS_PLANTED, row.seeds_per_m2, Some(&catalog::seed_id(crop)))
            .put(DEPTH_FOUND, row.depth_m)
            .put(HOURS, row.hours);
        let mut made = self.operation(&operation, "Planting", SOWING, place);
        made.insert("productIds".into(), json!([catalog::seed_id(crop)]));
        made.insert(
            "partyRoles".into(),
            json!([role("GROWER", &ids::grower_party(about.land.grower_id))]),
        );
        if let Some(area) = row.area_m2 {
            let area =
                json!({"definitionCode": AREA_PLANTED.code, "valueText": AREA_PLANTED.text(area)});
            made.insert("contextItems".into(), json!([area]));
        }
        if let Some(sheet) = sheet {
            made.insert("prescribingOperationId".into(), operation_id(sheet, PLANTING).into());
        }
        figures.finish(&mut made);
        let caused = sheet.map(|sheet| correlation("CAUSAL", sheet));
        let mut record = record(row.id, "Planting", zone, about, made);
        record.insert("timeScopes".into(), json!([day("ACTUAL", row.planted_on, about.calendar)]));
        put_all(&mut record, "documentCorrelations", caused);
        put_all(&mut record, "notes", row.note.clone().map(Value::from));
        record.into()
    }

    /// What was found behind the planter; none where its sheet is not in the data set.
    pub(super) fn dig(
        &mut self,
        row: &dig_checks::Model,
        about: About<'_>,
    ) -> Result<Option<Value>, ApiError> {
        let Some(place) = self.sheets.get(&row.recommendation_id).copied() else { return Ok(None) };
        let judged = judgement_of(row)?;
        let operation = operation_id(row.id, "dig");
        let mut figures = Figures::of(&operation);
        found(&mut figures, &judged);
        in_use(&mut figures, row)?;
        let mut made = self.operation(&operation, "Dig behind the planter", OBSERVATION, place);
        figures.finish(&mut made);
        let mut record = record(row.id, "Dig check", place.zone, about, made);
        let times = [("PHENOMENON_TIME", row.dug_at), ("RESULT_TIME", row.created_at)];
        let times = times.map(|(code, at)| json!({"dateContextCode": code, "start": utc(at)}));
        record.insert("timeScopes".into(), json!(times));
        put_all(
            &mut record,
            "documentCorrelations",
            [correlation("CONTEXTUAL", row.recommendation_id)],
        );
        let because = judged.proposal.because.iter().map(|it| it.text.to_string().into());
        let said = [Value::from(judged.proposal.change.words())];
        put_all(&mut record, "notes", said.into_iter().chain(because));
        Ok(Some(record.into()))
    }

    /// What was counted after emergence; none where its planting is not in the data set.
    pub(super) fn stand(
        &mut self,
        row: &stand_counts::Model,
        about: About<'_>,
    ) -> Result<Option<Value>, ApiError> {
        let Some(place) = self.plantings.get(&row.planting_id).copied() else { return Ok(None) };
        let found = result_of(row)?.found;
        let stand = &found.population;
        let (low, high) = stand.limits.map(|(low, high)| (low.si(), high.si())).unzip();
        let operation = operation_id(row.id, "count");
        let mut figures = Figures::of(&operation);
        figures
            .put(STAND, Some(stand.stand.si()))
            .put(STAND_LOW, low)
            .put(STAND_HIGH, high)
            .put(EMERGENCE, found.emergence.as_ref().map(|it| it.value));
        let mut made = self.operation(&operation, "Stand count", OBSERVATION, place);
        // What was counted is the field, not the planter.
        made.remove("deviceConfiguration");
        figures.finish(&mut made);
        let mut record = record(row.id, "Stand count", place.zone, about, made);
        let day = day("PHENOMENON_TIME", row.counted_on, about.calendar);
        record.insert("timeScopes".into(), json!([day]));
        put_all(&mut record, "documentCorrelations", [correlation("CONTEXTUAL", row.planting_id)]);
        Ok(Some(record.into()))
    }

    /// An operation with what every one has.
    fn operation(&mut self, id: &str, name: &str, kind: &str, place: Place) -> Map<String, Value> {
        self.zones.insert(place.zone);
        operation(id, name, kind, place.planter)
    }
}

const SOWING: &str = "APPLICATION_SOWING_AND_PLANTING_SEEDS";
const OBSERVATION: &str = "OBSERVATION_GENERAL";
const PLANTING: &str = "planting";

fn operation_id(document: Uuid, part: &str) -> String {
    format!("{document}/{part}")
}

fn operation(id: &str, name: &str, kind: &str, planter: Uuid) -> Map<String, Value> {
    let mut made = Map::new();
    made.insert("id".into(), ids::local(id));
    made.insert("name".into(), name.into());
    made.insert("operationTypeCode".into(), kind.into());
    made.insert("deviceConfiguration".into(), json!({"deviceId": planter}));
    made
}

fn record(
    id: Uuid,
    what: &str,
    zone: Zone,
    about: About<'_>,
    operation: Map<String, Value>,
) -> Map<String, Value> {
    let mut made = Map::new();
    made.insert("id".into(), ids::ours(id, about.external));
    made.insert("name".into(), format!("{what}: {}", about.land.name).into());
    made.insert("seasonId".into(), ids::season(zone.2).into());
    made.insert("fieldId".into(), json!(zone.0));
    made.insert("cropZoneId".into(), catalog::zone_id(zone).into());
    made.insert("operations".into(), vec![Value::Object(operation)].into());
    made
}

/// A whole day where the practice is: nobody said the hour.
fn day(code: &str, on: NaiveDate, calendar: &SeasonCalendar) -> Value {
    let next = on.checked_add_days(Days::new(1)).unwrap_or(on);
    let (from, to) = (calendar.begins(on), calendar.begins(next));
    json!({"dateContextCode": code, "start": utc(from), "end": utc(to)})
}

/// A list, where it is not empty.
fn put_all(into: &mut Map<String, Value>, name: &str, all: impl IntoIterator<Item = Value>) {
    let all: Vec<Value> = all.into_iter().collect();
    if !all.is_empty() {
        into.insert(name.into(), all.into());
    }
}

fn correlation(kind: &str, document: Uuid) -> Value {
    json!({"documentRelationshipTypeCode": kind, "originatingDocumentId": document})
}

fn role(code: &str, party: &str) -> Value {
    json!({"roleCode": code, "partyId": party})
}

/// Who advises whom.
fn roles(land: &Land) -> Value {
    json!([
        role("CROP_ADVISOR", ids::PRACTICE_PARTY),
        role("GROWER", &ids::grower_party(land.grower_id))
    ])
}

fn planting_settings(
    row: &recommendations::Model,
    of: &Settings,
    crop: &str,
    land: &Land,
) -> Value {
    let id = operation_id(row.id, PLANTING);
    let seed = catalog::seed_id(crop);
    let [low, aim, high] = of.load;
    let mut figures = Figures::of(&id);
    figures
        .put_of(SEEDS_WANTED, of.seeds, Some(&seed))
        .put(SPACING_WANTED, of.seed_spacing)
        .put(DEPTH_WANTED, Some(of.depth))
        .put(LEVER, Some(of.lever))
        .put(DOWN_FORCE_WANTED, Some(of.down_force))
        .put(PRESSURE, of.pressure)
        .put(LOAD, Some(aim))
        .put(LOAD_LOW, Some(low))
        .put(LOAD_HIGH, Some(high))
        .put(SPEED, Some(of.speed))
        .put(ROW_SPACING, Some(of.row_spacing))
        .put(COULTER, of.coulter);
    let mut made = operation(&id, "Planting", SOWING, row.planter_id);
    made.insert("productIds".into(), json!([seed]));
    made.insert("partyRoles".into(), roles(land));
    figures.finish(&mut made);
    made.into()
}

/// Products of different types in one pass are operations of their own.
fn liquid_setting(row: &recommendations::Model, of: Liquid, land: &Land) -> Value {
    let kind = match of.kind {
        LiquidKind::Starter => "APPLICATION_FERTILIZING",
        LiquidKind::Inoculant | LiquidKind::ByLabel => "APPLICATION_GENERAL",
    };
    let id = operation_id(row.id, "liquid");
    let product = catalog::liquid_id(of.kind);
    let mut figures = Figures::of(&id);
    figures.put_of(LIQUID_WANTED, Some(of.rate), Some(product));
    let mut made = operation(&id, "Liquid in the furrow", kind, row.planter_id);
    made.insert("productIds".into(), json!([product]));
    made.insert("partyRoles".into(), roles(land));
    figures.finish(&mut made);
    made.into()
}

/// What a dig found.
fn found(figures: &mut Figures, judged: &Judgement) {
    if let Some(depth) = &judged.statistics.depth {
        figures
            .put(DEPTH_FOUND, Some(depth.mean.si()))
            .put(DEPTH_WANTED, Some(depth.target.si()))
            .put(DEPTH_SD, depth.sd.map(Measured::si))
            .put(DEPTH_TOLERANCE, Some(depth.tolerance.si()))
            .put(WITHIN, Some(depth.within.share))
            .put(SEEDS_MEASURED, Some(f64::from(depth.seeds)));
    }
    if let Some(spacing) = &judged.statistics.spacing {
        let against = spacing.against.as_ref();
        figures
            .put(SPACING_FOUND, Some(spacing.mean.si()))
            .put(SPACING_CV, spacing.cv)
            .put(SINGLES, against.map(|it| it.singles.share))
            .put(SKIPS, against.map(|it| it.skips.share))
            .put(DOUBLES, against.map(|it| it.multiples.share));
    }
}

/// What the planter was set to while the dug rows were planted, as far as it was reported.
fn in_use(figures: &mut Figures, row: &dig_checks::Model) -> Result<(), ApiError> {
    let settings = DigCheckIn::stored(row)?.settings;
    let si = |it: Option<Quantity>| it.and_then(|it| Some(unit(&it.unit)?.to_si(it.value)));
    figures
        .put(SPEED, si(settings.speed))
        .put(DOWN_FORCE_SET, si(settings.down_force))
        .put(PRESSURE, si(settings.pressure));
    Ok(())
}
