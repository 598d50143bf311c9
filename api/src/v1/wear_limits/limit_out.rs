//! A limit as the caller reads it.

use domain::planter::inspection::{
    Direction, Item, ItemCode, Limit, LimitFrom, Measure, new_size, other_sources,
};
use domain::quantity::{Measured, System};
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::Quantity;
use crate::v1::inspections::InspectionItemCode;
use crate::v1::inspections::shed::Shed;
use crate::v1::inspections::show_measure as shown;
use crate::v1::mirror::mirror;
use crate::v1::plain::quantity;
use crate::v1::trace::{Mark, Reason, reasons};

mirror! {
    /// Whose limit counts: entered from the `manual`, entered with the `make_up` of the planter, or
    /// `published`.
    WearLimitFrom = LimitFrom { Manual MakeUp Published }

    /// Which way a part goes as it wears: its size `falls`, its play or its use `rises`; what is set lies
    /// `between` two limits.
    WearDirection = Direction { Falls Rises Between }
}

/// The limit that counts for an item.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "item": "opener_diameter", "name": "Diameter of the opener discs", "direction": "falls",
    "new_size": {"value": 15, "unit": "[in_i]"},
    "watch_at": {"value": 14.625, "unit": "[in_i]"},
    "replace_at": {"value": 14.5, "unit": "[in_i]"},
    "from": "published", "words": "0.5 in below new, where the manual is not at hand",
    "mark": "read", "mark_words": "read in the source",
    "source": "Iowa State University. Planter pre-plant checklist, n.d.",
    "others": []
})))]
pub struct LimitOut {
    /// The item.
    pub item: InspectionItemCode,
    /// Its name.
    #[schema(example = "Diameter of the opener discs")]
    pub name: String,
    /// Which way it goes.
    pub direction: WearDirection,
    /// Size when new, where it is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub new_size: Option<Quantity>,
    /// Where to begin to watch it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub watch_at: Option<Quantity>,
    /// Where to replace it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub replace_at: Option<Quantity>,
    /// Least value of what is set.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub least: Option<Quantity>,
    /// Most of what is set.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub most: Option<Quantity>,
    /// Whose limit it is.
    pub from: WearLimitFrom,
    /// What it says.
    #[schema(example = "0.5 in below new, where the manual is not at hand")]
    pub words: String,
    /// How it is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "read in the source")]
    pub mark_words: String,
    /// Where it stands.
    #[schema(example = "Iowa State University. Planter pre-plant checklist, n.d.")]
    pub source: String,
    /// What sources say, also where they disagree with the limit that counts.
    #[schema(max_items = 100)]
    pub others: Vec<Reason>,
    /// Where two limits were entered that differ.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        example = "The make-up says 14.5 in, the limits of the manual 14.4 in."
    )]
    pub differs: Option<String>,
}

impl LimitOut {
    /// The limit of an item on a planter; `None` where there is none.
    pub fn of(item: &Item, shed: &Shed, system: System) -> Option<Self> {
        let measure = item.measure?;
        let limit = shed.limit(item.code)?;
        let size = |value: Option<f64>| value.map(|value| shown(&measure, value, system));
        let set = limit.direction == Direction::Between;
        let (low, high) = (size(limit.watch), size(limit.replace));
        let (least, most) = if set { (low.clone(), high.clone()) } else { (None, None) };
        let (watch_at, replace_at) = if set { (None, None) } else { (low, high) };
        let differs = differs(item.code, &limit, shed, (&measure, system));
        Some(Self {
            item: item.code.into(),
            name: item.name.to_owned(),
            direction: limit.direction.into(),
            new_size: size(new_size(item.code, &shed.planter, &shed.owner)),
            watch_at,
            replace_at,
            least,
            most,
            from: limit.from.into(),
            words: limit.words,
            mark: limit.mark.into(),
            mark_words: limit.mark.words().to_owned(),
            source: limit.source,
            others: reasons(other_sources(item.code)),
            differs,
        })
    }
}

/// The make-up may name a limit of the opener discs too.
fn differs(
    item: ItemCode,
    limit: &Limit,
    shed: &Shed,
    (measure, system): (&Measure, System),
) -> Option<String> {
    let of_make_up = shed
        .planter
        .unit
        .opener
        .manual_limit
        .filter(|_| item == ItemCode::OpenerDiameter && limit.from == LimitFrom::Manual)?;
    let (of_make_up, of_manual) = (of_make_up.si(), limit.replace?);
    ((of_make_up - of_manual).abs() > 1e-6).then(|| {
        format!(
            "The make-up says {}, the limits of the manual {}: the latter count here; \
             recommendations reckon with the make-up.",
            quantity(&shown(measure, of_make_up, system)),
            quantity(&shown(measure, of_manual, system)),
        )
    })
}
