//! What the shed knows of the planter that a sheet does not: said beside the stored result, as it is
//! on the day on which the sheet is read.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use chrono::NaiveDate;
use domain::quantity::{Length, Measured, System, bounds};
use sea_orm::ConnectionTrait;
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use super::answer::Recommendation;
use super::store;
use crate::auth::Scope;
use crate::entities::recommendations;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, ETag};
use crate::v1::inspections::InspectionItemCode;
use crate::v1::inspections::open::{self, OpenReplacement};
use crate::v1::inspections::opener::{self, OpenerNow};
use crate::v1::inspections::shed::Shed;
use crate::v1::plain::quantity;
use crate::v1::planters;
use crate::v1::units::Units;

/// Diameters that differ by less say the same, m: a sixteenth of an inch, as far as a tape reads.
const SAME: f64 = 0.0254 / 16.0;

/// Something that an inspection found worn out and nobody has mended.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "item": "opener_diameter", "rows": [3, 4],
    "inspection_id": "01964f1e-6a00-7000-8000-000000000071", "since": "2027-03-12",
    "words": "Diameter of the opener discs, rows 3 and 4"
})))]
pub struct OpenReplacementOut {
    /// The item of the checklist.
    pub item: InspectionItemCode,
    /// Rows; empty for what the planter has once.
    #[schema(max_items = 64, example = json!([3, 4]))]
    pub rows: Vec<u16>,
    /// The inspection that found it.
    pub inspection_id: Uuid,
    /// Its day.
    #[schema(example = "2027-03-12")]
    pub since: NaiveDate,
    /// In words.
    #[schema(example = "Diameter of the opener discs, rows 3 and 4")]
    pub words: String,
}

/// Opener discs that were measured otherwise than this recommendation reckons.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "inspection_id": "01964f1e-6a00-7000-8000-000000000071", "inspected_on": "2027-03-12",
    "mean": {"value": 14.6, "unit": "[in_i]"}, "least": {"value": 14.4, "unit": "[in_i]"},
    "words": "The inspection of 2027-03-12 measured discs of 14.6 in on average; this sheet reckons with \
        new ones."
})))]
pub struct OpenerMeasuredOut {
    /// The inspection.
    pub inspection_id: Uuid,
    /// Its day.
    #[schema(example = "2027-03-12")]
    pub inspected_on: NaiveDate,
    /// Mean over the rows, new discs since then counted as new.
    pub mean: Quantity,
    /// The most worn row.
    pub least: Quantity,
    /// The diameter with which this recommendation was worked out; absent where nobody had measured it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub used: Option<Quantity>,
    /// All that in a sentence, and what to do.
    #[schema(example = "The inspection of 2027-03-12 measured discs of 14.6 in on average.")]
    pub words: String,
}

/// What the shed knows of the planter of one sheet.
#[derive(Debug, Clone, Default, Serialize)]
pub struct InShed {
    /// What is to be replaced.
    pub open: Vec<OpenReplacementOut>,
    /// Where the discs were measured otherwise.
    pub opener: Option<OpenerMeasuredOut>,
}

/// What the shed knows of planters, each read once.
#[derive(Debug, Default)]
pub struct Sheds(HashMap<Uuid, Known>);

#[derive(Debug, Clone)]
struct Known {
    open: Vec<OpenReplacementOut>,
    opener: Option<OpenerNow>,
    in_makeup: Option<f64>,
    new: f64,
}

impl From<OpenReplacement> for OpenReplacementOut {
    fn from(it: OpenReplacement) -> Self {
        let OpenReplacement { planter_id: _, part, rows, inspection_id, since, words } = it;
        let code = domain::planter::inspection::ItemCode::named(part);
        let code = code.unwrap_or(domain::planter::inspection::ItemCode::Wiring);
        Self { item: code.into(), rows, inspection_id, since, words }
    }
}

impl Sheds {
    /// What is known beside a sheet. The caller may see the sheet, and so its planter.
    pub async fn beside(
        &mut self,
        db: &impl ConnectionTrait,
        row: &recommendations::Model,
        system: System,
    ) -> Result<InShed, ApiError> {
        let known = match self.0.entry(row.planter_id) {
            Entry::Occupied(there) => there.into_mut(),
            Entry::Vacant(place) => {
                place.insert(Known::read(db, (row.practice_id, row.planter_id)).await?)
            }
        };
        let used = store::inputs_of(row)?.planter.unit.opener.measured.map(Length::si);
        Ok(InShed { open: known.open.clone(), opener: known.otherwise(used, system) })
    }
}

impl Known {
    async fn read(
        db: &impl ConnectionTrait,
        (practice_id, planter_id): (Uuid, Uuid),
    ) -> Result<Self, ApiError> {
        let scope = Scope::of_practice(practice_id);
        let open = open::of_planters(db, &scope, [planter_id]).await?;
        let planter = planters::store::find(db, scope, planter_id).await?;
        let shed = Shed::load(db, &planter).await?;
        let in_makeup = shed.planter.unit.opener.measured.map(Length::si);
        let opener = opener::now(&shed);
        let new = shed.planter.unit.opener.new_diameter.si();
        Ok(Self { open: open.into_iter().map(Into::into).collect(), opener, in_makeup, new })
    }

    /// The discs as they were measured, where a sheet reckons otherwise.
    fn otherwise(&self, used: Option<f64>, system: System) -> Option<OpenerMeasuredOut> {
        let now = self.opener?;
        let same = |other: Option<f64>| other.is_some_and(|it| (it - now.mean).abs() < SAME);
        if same(Some(used.unwrap_or(self.new))) {
            return None;
        }
        let show =
            |metres: f64| Quantity::show(&bounds::DISC_DIAMETER, Length::from_si(metres), system);
        let (mean, used) = (show(now.mean), used.map(show));
        let with = used.as_ref().map_or_else(|| "new ones".to_owned(), quantity);
        let then = if same(self.in_makeup) {
            "the make-up has them now, so a new revision reckons with them"
        } else {
            "take them over into the make-up, then a new revision reckons with them"
        };
        let words = format!(
            "The inspection of {} measured discs of {} on average; this sheet reckons with {with}: {then}.",
            now.inspected_on,
            quantity(&Quantity { value: (mean.value * 100.0).round() / 100.0, ..mean.clone() }),
        );
        Some(OpenerMeasuredOut {
            inspection_id: now.inspection_id,
            inspected_on: now.inspected_on,
            mean,
            least: show(now.least),
            used,
            words,
        })
    }
}

impl InShed {
    /// Whether there is nothing to say.
    fn is_empty(&self) -> bool {
        self.open.is_empty() && self.opener.is_none()
    }
}

/// A recommendation as it is read now, with its tag. The tag follows what is said beside the stored
/// result too, so that nobody is answered that nothing has changed when a part was found worn out.
pub(super) async fn as_read(
    db: &impl ConnectionTrait,
    row: &recommendations::Model,
    units: Units,
) -> Result<(Recommendation, ETag), ApiError> {
    let beside = Sheds::default().beside(db, row, units.into()).await?;
    let etag = ETag::of(row.version).in_form(units.code());
    let etag = if beside.is_empty() { etag } else { etag.and(&beside)? };
    Ok((Recommendation::of(row, units.into(), beside)?, etag))
}
