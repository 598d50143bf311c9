//! From grain as it is said to dry matter.

use domain::quantity::{ArealMassDensity, Measured, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::http::quantity::Quantity;
use crate::http::{BadMember, Refused};

/// How much water the grain counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum GrainBasis {
    /// None at all: dry matter.
    Dry,
    /// That of `moisture`: grain as it came from the field, or brought to the moisture at which it is
    /// sold.
    AtMoisture,
}

/// What was entered with its unit, as it was entered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entered {
    /// Grain on an area.
    pub grain: Quantity,
    /// How much water it counts.
    pub basis: GrainBasis,
    /// Water in it, by wet weight.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moisture: Option<Quantity>,
    /// Area that was harvested.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<Quantity>,
}

impl Entered {
    /// The dry matter.
    ///
    /// # Errors
    /// When a number is out of its range, or grain with water does not say how much.
    pub fn dry(&self) -> Result<ArealMassDensity, Vec<BadMember>> {
        let Self { grain, basis, moisture, area } = self;
        let mut refused = Refused::default();
        let grain = refused.take(grain.parse("/grain", &bounds::GRAIN_YIELD));
        let water = moisture
            .as_ref()
            .and_then(|given| refused.take(given.parse("/moisture", &bounds::GRAIN_MOISTURE)));
        if let Some(area) = area {
            refused.take(area.parse("/area", &bounds::FIELD_AREA));
        }
        match (basis, moisture) {
            (GrainBasis::AtMoisture, None) => refused.add(
                BadMember::new("/moisture", "Nobody says how much water the grain holds.")
                    .allowed("3 to 50 %, or the basis `dry`")
                    .why("a bushel of wet grain is less grain"),
            ),
            (GrainBasis::Dry, Some(given)) => refused.add(
                BadMember::new("/moisture", "Dry matter holds no water.")
                    .given(format!("{} {}", given.value, given.unit))
                    .allowed("nothing, or the basis `at_moisture`"),
            ),
            (GrainBasis::AtMoisture, Some(_)) | (GrainBasis::Dry, None) => {}
        }
        let bad = refused.into_members();
        match grain {
            Some(grain) if bad.is_empty() => {
                let water = water.map_or(0.0, Measured::si);
                Ok(ArealMassDensity::from_si(grain.si() * (1.0 - water)))
            }
            _ => Err(bad),
        }
    }
}

#[cfg(test)]
mod tests {
    use domain::quantity::Measured;

    use super::{Entered, GrainBasis};
    use crate::http::quantity::Quantity;

    fn entered(value: f64, unit: &str, basis: GrainBasis, water: Option<f64>) -> Entered {
        let moisture = water.map(|value| Quantity::new(value, "%"));
        Entered { grain: Quantity::new(value, unit), basis, moisture, area: None }
    }

    #[test]
    fn water_is_taken_out_by_wet_weight() {
        let wet = entered(10_000.0, "kg/har", GrainBasis::AtMoisture, Some(20.0));
        assert!((wet.dry().expect("in range").si() - 0.8).abs() < 1e-12);
        let dry = entered(8.0, "t/har", GrainBasis::Dry, None);
        assert!((dry.dry().expect("in range").si() - 0.8).abs() < 1e-12);
    }

    #[test]
    fn it_must_be_clear_how_much_water_is_counted() {
        let pointer = |entered: Entered| {
            let bad = entered.dry().expect_err("refused");
            bad.iter().map(|it| it.pointer.clone()).collect::<Vec<_>>()
        };
        assert_eq!(pointer(entered(8.0, "t/har", GrainBasis::AtMoisture, None)), ["/moisture"]);
        assert_eq!(pointer(entered(8.0, "t/har", GrainBasis::Dry, Some(15.5))), ["/moisture"]);
        assert_eq!(
            pointer(entered(80.0, "t/har", GrainBasis::AtMoisture, Some(80.0))),
            ["/grain", "/moisture"]
        );
        assert_eq!(pointer(entered(180.0, "[bu_us]", GrainBasis::Dry, None)), ["/grain"]);
    }
}
