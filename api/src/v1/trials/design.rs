//! What a trial is made of, on the wire and in the database.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::words::{BetterWay, ResponseKind, TrialOrder, TriedKind};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::tagged_union;
use crate::v1::conditions::Crop;

/// Most treatments.
pub const MOST_TREATMENTS: usize = 6;
/// Most responses.
pub const MOST_RESPONSES: usize = 8;
/// Most samples of a plot that are planned.
pub const MOST_SAMPLES: u16 = 20;

/// What is compared, how it is laid out, and what is measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "crop": "corn",
    "trying": "closing_wheel",
    "treatments": [{"name": "smooth wheels", "control": true}, {"name": "spiked wheels"}],
    "way": {"kind": "planter_rows", "rows_each": 2},
    "blocks": 5,
    "responses": [{"kind": "emergence", "matters": 3, "spread": 2.5}, {"kind": "furrow_closed"}]
})))]
pub struct TrialDesign {
    /// The crop.
    pub crop: Crop,
    /// What is tried.
    pub trying: TriedKind,
    /// What one wants to know, in a sentence.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Do spiked wheels close wet furrows better?",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub question: Option<String>,
    /// What is compared; one of them may be the control, what the grower does today.
    #[schema(min_items = 2, max_items = 6)]
    pub treatments: Vec<TreatmentIn>,
    /// How it is laid over planter and field.
    pub way: TrialWay,
    /// Blocks: how often each treatment is repeated. Four at least are recommended.
    #[schema(minimum = 1, maximum = 12, example = 5)]
    pub blocks: u16,
    /// Digs or counts planned in each plot; 3 when absent. They are averaged, and are no
    /// replications.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 20, example = 3)]
    pub samples: Option<u16>,
    /// Rows at each edge of a plot that are not harvested; 1 when absent. Without meaning on rows of
    /// the planter.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 32, example = 1)]
    pub border_rows: Option<u16>,
    /// Length of a strip, 20 to 10,000 ft; needed for strips and for halves of the planter.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strip_length: Option<Quantity>,
    /// Rows that the harvester takes at once, where plots are harvested by machine.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 64, example = 6)]
    pub harvest_rows: Option<u16>,
    /// Who decides what lies where; `randomised` when absent.
    #[serde(default)]
    #[schema(default = "randomised")]
    pub order: TrialOrder,
    /// The seed of the draws: the same seed gives the same layout. Drawn when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 4_294_967_295_i64, example = 2027)]
    pub seed: Option<u32>,
    /// What is measured.
    #[schema(min_items = 1, max_items = 8)]
    pub responses: Vec<ResponseIn>,
}

/// One of the things that are compared.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"name": "spiked wheels"})))]
pub struct TreatmentIn {
    /// Name, as it stands in a sentence; each once.
    #[schema(
        min_length = 1,
        max_length = 60,
        example = "spiked wheels",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// Whether the others are compared with this one; all pairs are compared when none is.
    #[serde(default)]
    #[schema(default = false)]
    pub control: bool,
    /// The rows of the planter that carry it, counted from 1 at the left end; only on rows of the
    /// planter, for every treatment or for none. Drawn when absent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 64, example = json!([2, 7]))]
    pub rows: Vec<u16>,
}

tagged_union! {
    /// How the treatments are laid over planter and field.
    #[schema(examples(json!({"kind": "strips", "passes_each": 1})))]
    pub enum TrialWay by "kind" {
        /// Some rows of the planter carry each treatment. A block is a place where one stops, digs
        /// and counts.
        PlanterRows = "planter_rows" {
            /// Rows of each treatment: one or two are a good start.
            #[schema(minimum = 1, maximum = 16, example = 2)]
            rows_each: u16,
            /// Whether the parts go to other rows for each block; not when absent.
            #[serde(default)]
            #[schema(default = false)]
            moved: bool,
        },
        /// Strips of whole passes of the planter.
        Strips = "strips" {
            /// Passes of each strip.
            #[schema(minimum = 1, maximum = 8, example = 1)]
            passes_each: u16,
        },
        /// Half of the row units carry one treatment, half the other. A block is one pass.
        SplitPlanter = "split_planter" {},
    }
}

/// What is measured on each plot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"kind": "emergence", "matters": 3, "spread": 2.5})))]
pub struct ResponseIn {
    /// What it is.
    pub kind: ResponseKind,
    /// The word by which it is named in requests; needed for `other`, the kind itself for the rest.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 30,
        pattern = "^[a-z][a-z0-9_]*$",
        example = "days_to_emerge"
    )]
    pub key: Option<String>,
    /// Name as it stands in a sentence; needed for `other`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 60,
        example = "days to emergence",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: Option<String>,
    /// Unit of all figures of this response. Shares are in `%`; the spread of spacing in a length;
    /// yield in `[bu_us]/[acr_us]`, `[lb_av]/[acr_us]`, `kg/har` or `t/har`; of `other` what you
    /// like. When absent, by the units of the account.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 20,
        example = "%",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub unit: Option<String>,
    /// Which way is better; only for `other`, where it is `neither` when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub better: Option<BetterWay>,
    /// The smallest difference that would matter, in that unit: what would pay for the part.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.000_000_001, maximum = 1_000_000, example = 3)]
    pub matters: Option<f64>,
    /// Standard deviation expected between plots of one treatment in one block, in that unit. With
    /// `matters` it gives the blocks that are needed.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.000_000_001, maximum = 1_000_000, example = 2.5)]
    pub spread: Option<f64>,
}
