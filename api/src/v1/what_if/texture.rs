//! `POST /v1/what-if/texture`

use actix_web::post;
use domain::conditions::{self, TextureError};
use domain::provenance::{Input, Mark, sources};
use domain::quantity::{Measured, Ratio, System, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::step::{Known, answer};
use super::words::TextureGroup;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::fields::TextureClass;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// Sand and clay of a soil; silt is the rest.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "sand": {"value": 20, "unit": "%"}, "clay": {"value": 25, "unit": "%"}
})))]
pub(super) struct TextureIn {
    /// Sand by mass, of the part below 2 mm. Bound: `share`.
    pub sand: Quantity,
    /// Clay by mass, of the part below 2 mm. Bound: `share`.
    pub clay: Quantity,
}

/// The texture of a soil.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "class": "silt_loam",
    "class_words": "silt loam",
    "group": "medium",
    "silt": {"value": 55, "unit": "%"},
    "trace": [
        {
            "step": "silt",
            "formula": "100 - sand - clay",
            "inputs": [
                {"symbol": "sand", "value": 20, "unit": "%"},
                {"symbol": "clay", "value": 25, "unit": "%"}
            ],
            "value": 55,
            "unit": "%",
            "source": "Benham, Ahrens, Nettleton 2009. Clarification of soil texture class boundaries. USDA-NRCS National Soil Survey Center",
            "mark": "read",
            "mark_words": "read in the source"
        }
    ]
})))]
pub(super) struct Texture {
    /// The class.
    pub class: TextureClass,
    /// The class in words.
    #[schema(example = "silt loam")]
    pub class_words: String,
    /// The group in the moisture-by-feel table.
    pub group: TextureGroup,
    /// Silt by mass.
    pub silt: Quantity,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Texture class from sand and clay.
///
/// The twelve classes of the USDA by the rules of Benham, Ahrens and Nettleton 2009 (USDA-NRCS).
/// Each point of the triangle lies in exactly one class.
///
/// Worked example (12 points printed in a software manual, by the class rules of USDA-NRCS): 20 %
/// sand, 55 % silt and 25 % clay are silt loam.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_texture", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = TextureIn, description = "Sand and clay."),
    responses((status = 200, description = "The class.", body = Texture), ComputeErrors),
)]
#[post("/what-if/texture")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<TextureIn>,
) -> Result<Answer<Texture>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

const SILT: Known = Known {
    step: "silt",
    formula: "100 - sand - clay",
    source: sources::BENHAM_2009,
    mark: Mark::Read,
};

impl TextureIn {
    fn work_out(self, system: System) -> Result<Texture, ApiError> {
        let mut refused = Refused::default();
        let sand = refused.take(self.sand.parse("/sand", &bounds::SHARE));
        let clay = refused.take(self.clay.parse("/clay", &bounds::SHARE));
        let (Some(sand), Some(clay)) = (sand, clay) else { return Err(refused.into()) };
        let (sand, clay) = (sand.si() * 100.0, clay.si() * 100.0);
        let class = conditions::TextureClass::classify(sand, clay).map_err(|e| bad(&e))?;
        let silt = (100.0 - sand - clay).max(0.0);
        let inputs = vec![Input::new("sand", sand, "%"), Input::new("clay", clay, "%")];
        Ok(Texture {
            class: class.into(),
            class_words: class.words().to_owned(),
            group: class.group().into(),
            silt: Quantity::show(&bounds::SHARE, Ratio::from_si(silt / 100.0), system),
            trace: vec![SILT.gives(inputs, silt, "%")],
        })
    }
}

fn bad(error: &TextureError) -> BadMember {
    let pointer = match error {
        TextureError::OutsideRange { part: "sand", .. } => "/sand",
        TextureError::OutsideRange { .. } | TextureError::PassHundred { .. } => "/clay",
    };
    BadMember::new(pointer, format!("{error}."))
        .why("sand, silt and clay together are the whole of the part below 2 mm")
}
