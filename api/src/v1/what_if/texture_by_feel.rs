//! `POST /v1/what-if/texture-by-feel`

use actix_web::post;
use domain::conditions;
use domain::provenance::{Mark, sources};
use domain::quantity::{System, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::step::{Known, answer};
use super::words::TextureGroup;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query};
use crate::v1::conditions::TextureFeel;
use crate::v1::fields::TextureClass;
use crate::v1::trace::{Reason, TraceStep, reasons};
use crate::v1::units::UnitsQuery;

/// Soil that was wetted to putty.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "ribbon_wetted": {"value": 2.5, "unit": "[in_i]"}, "feel": "smooth"
})))]
pub(super) struct TextureByFeelIn {
    /// Length of the ribbon before it breaks by its weight; 0 when none holds. Bound:
    /// `ribbon_length`.
    pub ribbon_wetted: Quantity,
    /// How it feels.
    pub feel: TextureFeel,
}

/// The texture by feel.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "class": "silty_clay",
    "class_words": "silty clay",
    "group": "fine",
    "because": [
        {
            "text": "wetted ribbon: none sandy, under 1 in loams, 1 to 2 in clay loams, over 2 in clays; other keys put the ends at 2 and 3 in",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "USDA-NRCS and Colorado State University Extension, as repeated in a public guide to texture by feel, n.d."
        },
        {
            "text": "gritty, smooth, or neither: the sandy, silty, or plain member of the group",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "Thien 1979. A flow diagram for teaching texture-by-feel analysis (key as reproduced in a wetland-techniques text)"
        }
    ],
    "trace": [
        {
            "step": "ribbon of wetted soil",
            "formula": "as measured",
            "inputs": [],
            "value": 2.5,
            "unit": "[in_i]",
            "source": "USDA-NRCS and Colorado State University Extension, as repeated in a public guide to texture by feel, n.d.",
            "mark": "read",
            "mark_words": "read in the source"
        }
    ]
})))]
pub(super) struct TextureByFeel {
    /// The class.
    pub class: TextureClass,
    /// The class in words.
    #[schema(example = "silty clay")]
    pub class_words: String,
    /// The group in the moisture-by-feel table.
    pub group: TextureGroup,
    /// Which rules were used.
    #[schema(max_items = 10)]
    pub because: Vec<Reason>,
    /// The length that was held against the rules.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Texture class by feel.
///
/// Soil is wetted until it is like putty and pressed to a ribbon between thumb and finger: no ribbon
/// sandy, under 1 in the loams, 1 to 2 in the clay loams, over 2 in the clays; gritty is the sandy
/// member of the group, smooth the silty one. This is not the ribbon of soil as found, which says
/// whether to plant.
///
/// Worked example (USDA-NRCS and Colorado State University Extension guide, as repeated, n.d., and
/// Thien 1979, rules read, case ours): a ribbon of 2.5 in that feels smooth is silty clay.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_texture_by_feel", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = TextureByFeelIn, description = "Ribbon and feel."),
    responses((status = 200, description = "The class.", body = TextureByFeel), ComputeErrors),
)]
#[post("/what-if/texture-by-feel")]
pub(super) async fn calculate(
    _caller: Caller<CanRead>,
    _query: Query<UnitsQuery>,
    body: Body<TextureByFeelIn>,
) -> Result<Answer<TextureByFeel>, ApiError> {
    answer(body.into_inner().work_out()).await
}

const RIBBON: domain::provenance::Reason = domain::provenance::Reason::fixed(
    "wetted ribbon: none sandy, under 1 in loams, 1 to 2 in clay loams, over 2 in clays; other keys put the ends at 2 and 3 in",
    Mark::Read,
    sources::TEXTURE_RIBBON,
);
const FEEL: domain::provenance::Reason = domain::provenance::Reason::fixed(
    "gritty, smooth, or neither: the sandy, silty, or plain member of the group",
    Mark::Read,
    sources::THIEN_1979,
);

const US: System = System::Us;
const LENGTH: Known = Known {
    step: "ribbon of wetted soil",
    formula: "as measured",
    source: sources::TEXTURE_RIBBON,
    mark: Mark::Read,
};

impl TextureByFeelIn {
    fn work_out(self) -> Result<TextureByFeel, ApiError> {
        let ribbon = self.ribbon_wetted.parse("/ribbon_wetted", &bounds::RIBBON_LENGTH)?;
        let class = conditions::TextureClass::by_feel(ribbon, self.feel.into());
        Ok(TextureByFeel {
            class: class.into(),
            class_words: class.words().to_owned(),
            group: class.group().into(),
            because: reasons(vec![RIBBON, FEEL]),
            trace: vec![LENGTH.gives(
                Vec::new(),
                bounds::RIBBON_LENGTH.show(ribbon, US).0,
                "[in_i]",
            )],
        })
    }
}
