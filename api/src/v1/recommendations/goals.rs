//! What the advisor wants of a field, on the wire.

use domain::quantity::{Bound, Measured, bounds};
use domain::settings::{Goals, SeedingGoal};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::in_furrow::InFurrowIn;
use super::work::WorkIn;
use crate::entities::recommendations;
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, Refused, text};
use crate::tagged_union;
use crate::v1::planters::ClosingPair;

/// Most lines of instructions: the sheet is one page.
pub const MOST_LINES: usize = 5;
/// Most characters of a line.
pub const LONGEST_LINE: usize = 200;

/// What the advisor wants. Each member goes before the engine's own choice.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "depth": {"value": 2, "unit": "[in_i]"},
    "speed": {"value": 5, "unit": "[mi_i]/h"},
    "seeding": {"kind": "rate", "seeds": {"value": 34000, "unit": "1/[acr_us]"}},
    "instructions": ["Start on the west side, it dries first."]
})))]
pub struct GoalsIn {
    /// A furrow depth that was decided on; 0.25 to 5 in.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub depth: Option<Quantity>,
    /// What the depth lever is to say, where a dig showed that it does not tell the truth; 0.25 to
    /// 5 in. The depth and what worn discs lose when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub lever_depth: Option<Quantity>,
    /// The speed that the grower means to drive; 0.5 to 15 mph. 5 mph when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub speed: Option<Quantity>,
    /// A down force on each row that was decided after a dig; -500 to 1200 lbf.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub down_force: Option<Quantity>,
    /// Closing wheels that were decided after a dig.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub closing: Option<ClosingPair>,
    /// Share of the time that a gauge wheel may lose contact, aimed at; 1 to 15 %. 5 % when absent.
    /// Less asks for more load and leaves less room below what the soil bears.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub contact_loss: Option<Quantity>,
    /// The stand or the rate that is wanted. Without it the sheet says nothing of seeding.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seeding: Option<SeedingIn>,
    /// A liquid for the furrow. Without it the sheet says nothing of the furrow.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub in_furrow: Option<InFurrowIn>,
    /// How much is to be planted and how a day goes, for acres an hour, days and the price of
    /// speed. Assumed where absent; the area is the field's own.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub work: Option<WorkIn>,
    /// What else the grower is to do: at most 5 lines of 1 to 200 characters.
    #[serde(default)]
    #[schema(schema_with = lines_schema)]
    pub instructions: Vec<String>,
}

/// At most so many lines, each of at most so many characters.
fn lines_schema() -> utoipa::openapi::schema::Array {
    use utoipa::openapi::schema::{ArrayBuilder, ObjectBuilder, Type};
    let line = ObjectBuilder::new()
        .schema_type(Type::String)
        .min_length(Some(1))
        .max_length(Some(LONGEST_LINE))
        .pattern(Some(r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"));
    ArrayBuilder::new()
        .items(line)
        .max_items(Some(MOST_LINES))
        .description(Some("What else the grower is to do: at most 5 lines of 1 to 200 characters."))
        .examples([serde_json::json!(["Start on the west side, it dries first."])])
        .build()
}

tagged_union! {
    /// A seeding rate that was decided on, or a stand from which the rate is worked out.
    #[schema(examples(json!(
        {"kind": "rate", "seeds": {"value": 34000, "unit": "1/[acr_us]"}}
    )))]
    pub enum SeedingIn by "kind" {
        /// A rate that was decided on.
        Rate = "rate" {
            /// Seeds per area; 1000 to 400,000 per acre.
            seeds: Quantity,
        },
        /// A final stand.
        Stand = "stand" {
            /// Plants per area at harvest, 1000 to 400,000 per acre; the usual stand when absent.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            plants: Option<Quantity>,
            /// Germination on the seed tag; 1 to 100 %.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            germination: Option<Quantity>,
            /// Share of germinating seed that becomes plants; 1 to 100 %.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            survival: Option<Quantity>,
        },
    }
}

impl GoalsIn {
    /// As they were entered, from a stored recommendation.
    pub fn stored(row: &recommendations::Model) -> Result<Self, ApiError> {
        serde_json::from_value(row.goals.clone()).map_err(ApiError::internal)
    }

    /// The only way from the wire to the domain. Refusals are named under `at`, as in `/goals`.
    pub fn parse(&self, at: &str) -> Result<Goals, ApiError> {
        let Self {
            depth,
            lever_depth,
            speed,
            down_force,
            closing,
            contact_loss,
            seeding,
            in_furrow,
            work,
            instructions,
        } = self;
        let mut refused = Refused::default();
        let in_furrow = in_furrow
            .as_ref()
            .and_then(|liquid| liquid.parse(&format!("{at}/in_furrow"), &mut refused));
        let work = work.as_ref().map(|work| work.parse(&format!("{at}/work"), &mut refused));
        let mut read = Reader { at, refused: &mut refused };
        let goals = Goals {
            depth: read.take("depth", depth.as_ref(), &bounds::PLANTING_DEPTH),
            lever: read.take("lever_depth", lever_depth.as_ref(), &bounds::PLANTING_DEPTH),
            speed: read.take("speed", speed.as_ref(), &bounds::GROUND_SPEED),
            down_force: read.take("down_force", down_force.as_ref(), &bounds::DOWN_FORCE),
            closing: closing.map(Into::into),
            contact_loss: read.take("contact_loss", contact_loss.as_ref(), &bounds::CONTACT_LOSS),
            seeding: seeding.as_ref().and_then(|seeding| read.seeding(seeding)),
            in_furrow,
            work,
            instructions: read.lines(instructions),
        };
        refused.finish()?;
        Ok(goals)
    }
}

/// Reads goals and notes what was refused.
struct Reader<'a> {
    at: &'a str,
    refused: &'a mut Refused,
}

impl Reader<'_> {
    fn take<Q: Measured>(
        &mut self,
        name: &str,
        given: Option<&Quantity>,
        bound: &Bound<Q>,
    ) -> Option<Q> {
        let pointer = format!("{}/{name}", self.at);
        given.and_then(|quantity| self.refused.take(quantity.parse(&pointer, bound)))
    }

    fn seeding(&mut self, given: &SeedingIn) -> Option<SeedingGoal> {
        match given {
            SeedingIn::Rate { seeds } => self
                .take("seeding/seeds", Some(seeds), &bounds::SEED_POPULATION)
                .map(|seeds| SeedingGoal::Rate { seeds }),
            SeedingIn::Stand { plants, germination, survival } => Some(SeedingGoal::Stand {
                plants: self.take("seeding/plants", plants.as_ref(), &bounds::SEED_POPULATION),
                germination: self.take(
                    "seeding/germination",
                    germination.as_ref(),
                    &bounds::POSITIVE_SHARE,
                ),
                survival: self.take("seeding/survival", survival.as_ref(), &bounds::POSITIVE_SHARE),
            }),
        }
    }

    fn lines(&mut self, given: &[String]) -> Vec<String> {
        if given.len() > MOST_LINES {
            let pointer = format!("{}/instructions", self.at);
            self.refused.add(
                BadMember::new(pointer, "These are too many lines.")
                    .given(given.len())
                    .allowed(format!("at most {MOST_LINES}"))
                    .why("the sheet in the cab is one page"),
            );
            return Vec::new();
        }
        let mut lines = Vec::with_capacity(given.len());
        for (index, line) in given.iter().enumerate() {
            let pointer = format!("{}/instructions/{index}", self.at);
            lines.extend(self.refused.take(text::line(&pointer, line, LONGEST_LINE)));
        }
        lines
    }
}
