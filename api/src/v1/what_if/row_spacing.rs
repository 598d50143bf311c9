//! `POST /v1/what-if/row-spacing`

use actix_web::post;
use domain::provenance::{Input, sources};
use domain::quantity::{ArealNumberDensity, Length, Measured, System, bounds};
use domain::settings::{SeedingError, population, row_length_of_acre, seeds_in, spacing};
use serde::Serialize;
use utoipa::ToSchema;

use super::step::{Known, answer};
use crate::auth::{Caller, CanRead};
use crate::http::quantity::{Quantity, six_digits};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

tagged_union! {
    /// A population or a spacing, and the row width.
    #[schema(examples(json!({
        "kind": "from_population",
        "population": {"value": 200_000, "unit": "1/[acr_us]"},
        "row_width": {"value": 15, "unit": "[in_i]"}
    })))]
    pub(super) enum RowSpacingIn by "kind" {
        /// The spacing of a population.
        FromPopulation = "from_population" {
            /// Seeds or plants per area. Bound: `seed_population`.
            population: Quantity,
            /// Distance between rows. Bound: `row_width`.
            row_width: Quantity,
        },
        /// The population of a spacing.
        FromSpacing = "from_spacing" {
            /// Distance from seed to seed in the row. Bound: `seed_spacing`.
            spacing: Quantity,
            /// Distance between rows. Bound: `row_width`.
            row_width: Quantity,
        },
    }
}

/// Population and spacing, and what to count behind the planter.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "population": {"value": 200_000, "unit": "1/[acr_us]"},
    "spacing": {"value": 2.09089, "unit": "[in_i]"},
    "seeds_per_foot": 5.73919,
    "seeds_per_metre": 18.8294,
    "thousandth_acre": {"value": 34.8481, "unit": "[ft_i]"},
    "seeds_in_thousandth_acre": 200,
    "trace": [
        {
            "step": "spacing in the row",
            "formula": "1 / (P W)",
            "inputs": [
                {"symbol": "P", "value": 49.4209, "unit": "1/m2"},
                {"symbol": "W", "value": 0.381, "unit": "m"}
            ],
            "value": 0.053_108_6,
            "unit": "m",
            "source": "definition of the unit",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct RowSpacing {
    /// Seeds or plants per area.
    pub population: Quantity,
    /// Distance from seed to seed in the row.
    pub spacing: Quantity,
    /// Seeds in one foot of row.
    #[schema(example = 5.739)]
    pub seeds_per_foot: f64,
    /// Seeds in one metre of row.
    #[schema(example = 18.83)]
    pub seeds_per_metre: f64,
    /// Length of one row that is a thousandth of an acre.
    pub thousandth_acre: Quantity,
    /// Seeds in that length; each stands for a thousand an acre.
    #[schema(example = 200)]
    pub seeds_in_thousandth_acre: f64,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Spacing and population.
///
/// `s = 1 / (P W)`, by the definition of the acre. The acre is the US survey acre of UCUM
/// (`[acr_us]`), four parts in a million larger than the international one.
///
/// Worked example (Iowa State University, Agronomy 212, 2003): 200,000 seeds an acre in 15 in rows
/// are 5.74 seeds a foot. The other way round, 5 seeds a foot (2.4 in) in 15 in rows are 174,240
/// seeds an acre.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_row_spacing", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = RowSpacingIn, description = "A population or a spacing."),
    responses((status = 200, description = "Population and spacing.", body = RowSpacing), ComputeErrors),
)]
#[post("/what-if/row-spacing")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<RowSpacingIn>,
) -> Result<Answer<RowSpacing>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

impl RowSpacingIn {
    fn work_out(self, system: System) -> Result<RowSpacing, ApiError> {
        let mut refused = Refused::default();
        match self {
            Self::FromPopulation { population: seeds, row_width } => {
                let seeds = refused.take(seeds.parse("/population", &bounds::SEED_POPULATION));
                let width = refused.take(row_width.parse("/row_width", &bounds::ROW_WIDTH));
                let (Some(seeds), Some(width)) = (seeds, width) else {
                    return Err(refused.into());
                };
                let apart = spacing(seeds, width).map_err(|e| nothing("/population", e))?;
                let inputs = vec![Input::new("P", seeds.si(), "1/m2"), in_metres("W", width)];
                let step = SPACING.gives(inputs, apart.si(), "m");
                shown(seeds, apart, width, step, system)
            }
            Self::FromSpacing { spacing: apart, row_width } => {
                let apart = refused.take(apart.parse("/spacing", &bounds::SEED_SPACING));
                let width = refused.take(row_width.parse("/row_width", &bounds::ROW_WIDTH));
                let (Some(apart), Some(width)) = (apart, width) else {
                    return Err(refused.into());
                };
                let seeds = population(apart, width).map_err(|e| nothing("/spacing", e))?;
                let inputs = vec![in_metres("s", apart), in_metres("W", width)];
                let step = POPULATION.gives(inputs, seeds.si(), "1/m2");
                shown(seeds, apart, width, step, system)
            }
        }
    }
}

const SPACING: Known = Known::derived("spacing in the row", "1 / (P W)", sources::DEFINITION);
const POPULATION: Known = Known::derived("population", "1 / (s W)", sources::DEFINITION);

fn in_metres(symbol: &'static str, length: Length) -> Input {
    Input::new(symbol, length.si(), "m")
}

/// A member that must be above 0.
pub(super) fn nothing(pointer: &str, error: SeedingError) -> ApiError {
    BadMember::new(pointer, format!("{error}.")).into()
}

fn shown(
    seeds: ArealNumberDensity,
    apart: Length,
    width: Length,
    step: TraceStep,
    system: System,
) -> Result<RowSpacing, ApiError> {
    let thousandth = row_length_of_acre(0.001, width).map_err(|e| nothing("/row_width", e))?;
    let count = |length| six_digits(seeds_in(seeds, width, length));
    Ok(RowSpacing {
        population: Quantity::show(&bounds::SEED_POPULATION, seeds, system),
        spacing: Quantity::show(&bounds::SEED_SPACING, apart, system),
        seeds_per_foot: count(Length::from_si(0.3048)),
        seeds_per_metre: count(Length::from_si(1.0)),
        thousandth_acre: Quantity::show(&bounds::ROW_LENGTH, thousandth, system),
        seeds_in_thousandth_acre: count(thousandth),
        trace: vec![step],
    })
}
