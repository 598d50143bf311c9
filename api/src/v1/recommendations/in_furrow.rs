//! A liquid for the furrow, on the wire.

use domain::in_furrow::{self, Analysis, InFurrowPlan, InFurrowProduct};
use domain::quantity::{Bound, Measured, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{BadMember, Refused};
use crate::tagged_union;
use crate::v1::mirror::mirror;

mirror! {
    /// What harms seed beside it, by its label: `urea`; `uan`, urea-ammonium nitrate solution such
    /// as 28-0-0 or 32-0-0; `ammonium_thiosulfate`, 12-0-0-26S.
    NeverInFurrow = in_furrow::NeverInFurrow { Urea Uan AmmoniumThiosulfate }

    /// What to do with a liquid for the furrow: `run` it, `lower` the rate that was wanted, go
    /// `by_label` where no limit of salt applies, or `stop`: not in the furrow.
    InFurrowVerdict = in_furrow::InFurrowVerdict { Run Lower ByLabel Stop }

    /// Why something must not run in the furrow: fertilizer with soybean seed, urea, UAN, ammonium
    /// thiosulfate, or rows for which no limit was published.
    InFurrowStop = in_furrow::Stop {
        FertilizerOnSoybean Urea Uan AmmoniumThiosulfate NoPublishedLimit
    }
}

/// Most other products that may be said to share the tank.
const MOST_MIXED: u32 = 10;
/// Most years since soybean that are counted.
const MOST_YEARS: u32 = 100;

/// A liquid for the furrow. Its label comes before all that is worked out from this.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "product": {
        "kind": "starter",
        "nitrogen": {"value": 10, "unit": "%"},
        "phosphate": {"value": 34, "unit": "%"},
        "potash": {"value": 0, "unit": "%"},
        "density": {"value": 11.65, "unit": "[lb_av]/[gal_us]"}
    },
    "rate": {"value": 5, "unit": "[gal_us]/[acr_us]"},
    "contains": [],
    "tank": {"value": 400, "unit": "[gal_us]"}
})))]
pub struct InFurrowIn {
    /// What it is.
    pub product: InFurrowProductIn,
    /// All liquid through the outlets; 0.01 to 100 gal/ac. The most starter that is allowed when
    /// absent; anything else needs the rate of its label. Bound: `application_rate`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub rate: Option<Quantity>,
    /// The part of the rate that is product, where it is thinned with water; all of it when absent.
    /// Bound: `application_rate`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub product_rate: Option<Quantity>,
    /// What its label names of what never goes into a furrow; empty where it names none of them,
    /// absent where nobody looked.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 3, example = json!([]))]
    pub contains: Option<Vec<NeverInFurrow>>,
    /// How many other products share the tank; 0 when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 10, example = 1)]
    pub mixed_with: Option<u32>,
    /// Content of the tank; 1 to 10,000 gal. Bound: `tank_volume`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub tank: Option<Quantity>,
    /// Area to plant, for the number of tanks; the area of the work goals when absent. Bound: `field_area`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
    /// Cation exchange capacity, from a soil test. Bound: `cation_exchange`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub exchange_capacity: Option<Quantity>,
}

tagged_union! {
    /// A product for the furrow.
    #[schema(examples(json!({"kind": "inoculant", "years_since_soybean": 4})))]
    pub enum InFurrowProductIn by "kind" {
        /// Liquid starter fertilizer, with the analysis and the density of its label.
        Starter = "starter" {
            /// N by mass. Bound: `share`.
            nitrogen: Quantity,
            /// P2O5 by mass. Bound: `share`.
            phosphate: Quantity,
            /// K2O by mass. Bound: `share`.
            potash: Quantity,
            /// Density of the liquid. Bound: `fertilizer_density`.
            density: Quantity,
        },
        /// Live rhizobia.
        Inoculant = "inoculant" {
            /// Years since soybean stood there last; 0 for last year's crop.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false, minimum = 0, maximum = 100, example = 4)]
            years_since_soybean: Option<u32>,
            /// Soil pH, from a soil test. Bound: `soil_ph`.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            soil_ph: Option<Quantity>,
        },
        /// Anything else that its label allows in the furrow.
        ByLabel = "by_label" {},
    }
}

impl InFurrowIn {
    /// Into the domain. Refusals are named under `at`, as in `/goals/in_furrow`.
    pub fn parse(&self, at: &str, refused: &mut Refused) -> Option<InFurrowPlan> {
        let Self {
            product,
            rate,
            product_rate,
            contains,
            mixed_with,
            tank,
            area,
            exchange_capacity,
        } = self;
        let mut read = Reader { at, refused };
        let parsed = product.parse(&mut read);
        let rate = read.take("rate", rate.as_ref(), &bounds::APPLICATION_RATE);
        let part = read.take("product_rate", product_rate.as_ref(), &bounds::APPLICATION_RATE);
        if let (Some(rate), Some(part)) = (rate, part)
            && part.si() > rate.si() * (1.0 + 1e-9)
        {
            read.refuse("product_rate", "There can't be more product than liquid.");
        }
        if part.is_some() && self.rate.is_none() {
            read.refuse("rate", "The part that is product needs the rate of all liquid beside it.");
        }
        let others = mixed_with.unwrap_or(0);
        let mixed_with =
            read.whole("mixed_with", others, MOST_MIXED, "a tank holds a few products");
        Some(InFurrowPlan {
            product: parsed?,
            rate,
            product_rate: part,
            contains: contains.as_ref().map(|all| all.iter().copied().map(Into::into).collect()),
            mixed_with,
            tank: read.take("tank", tank.as_ref(), &bounds::TANK_VOLUME),
            area: read.take("area", area.as_ref(), &bounds::FIELD_AREA),
            exchange_capacity: read.take(
                "exchange_capacity",
                exchange_capacity.as_ref(),
                &bounds::CATION_EXCHANGE,
            ),
        })
    }
}

impl InFurrowProductIn {
    fn parse(&self, read: &mut Reader<'_>) -> Option<InFurrowProduct> {
        match self {
            Self::Starter { nitrogen, phosphate, potash, density } => {
                let nitrogen = read.need("product/nitrogen", nitrogen, &bounds::SHARE);
                let phosphate = read.need("product/phosphate", phosphate, &bounds::SHARE);
                let potash = read.need("product/potash", potash, &bounds::SHARE);
                let density = read.need("product/density", density, &bounds::FERTILIZER_DENSITY);
                let analysis = Analysis::new(nitrogen?, phosphate?, potash?);
                let analysis = analysis
                    .map_err(|error| read.refuse("product/nitrogen", &format!("{error}.")))
                    .ok()?;
                Some(InFurrowProduct::Starter { analysis, density: density? })
            }
            Self::Inoculant { years_since_soybean, soil_ph } => {
                let why = "nobody remembers what stood there before";
                let years_since_soybean = years_since_soybean
                    .map(|years| read.whole("product/years_since_soybean", years, MOST_YEARS, why));
                let soil_ph = read.take("product/soil_ph", soil_ph.as_ref(), &bounds::SOIL_PH);
                Some(InFurrowProduct::Inoculant { years_since_soybean, soil_ph })
            }
            Self::ByLabel {} => Some(InFurrowProduct::ByLabel),
        }
    }
}

/// Reads members and notes what was refused.
struct Reader<'a> {
    at: &'a str,
    refused: &'a mut Refused,
}

impl Reader<'_> {
    fn need<Q: Measured>(&mut self, name: &str, given: &Quantity, bound: &Bound<Q>) -> Option<Q> {
        self.refused.take(given.parse(&format!("{}/{name}", self.at), bound))
    }

    fn take<Q: Measured>(
        &mut self,
        name: &str,
        given: Option<&Quantity>,
        bound: &Bound<Q>,
    ) -> Option<Q> {
        given.and_then(|quantity| self.need(name, quantity, bound))
    }

    /// A whole number from 0; 0 where it is refused, which is noted.
    fn whole(&mut self, name: &str, given: u32, most: u32, why: &str) -> u8 {
        if given > most {
            let pointer = format!("{}/{name}", self.at);
            let detail = format!("{given} is outside 0 to {most}.");
            let member = BadMember::new(pointer, detail).given(given);
            self.refused.add(member.allowed(format!("0 to {most}")).why(why));
        }
        u8::try_from(given).unwrap_or(0)
    }

    fn refuse(&mut self, name: &str, detail: &str) {
        self.refused.add(BadMember::new(format!("{}/{name}", self.at), detail));
    }
}
