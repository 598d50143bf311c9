//! The frame: its sections, and the wheels of it that drive the seed meters.

use domain::planter::{self, FrameSection};
use domain::quantity::{Measured, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::makeup::{self, MOST_ROWS, MOST_SECTIONS};
use super::parse::{Parsed, count, done};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{BadMember, Refused, text};

/// Wheels of a section that drive the seed meters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "section": "left wing", "pull": {"value": 135, "unit": "[lbf_av]"}
})))]
pub struct GroundDrive {
    /// The section of the frame whose wheels drive, by its name under `frame`.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "left wing",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub section: String,
    /// Pull that the drive needs at the rim of those wheels together, 1 to 3000 lbf.
    /// Bound: `drive_pull`.
    pub pull: Quantity,
    /// Pull for each unit of weight on the wheels, 10 to 90 %; the coefficient `drive_friction`
    /// when absent.
    /// Bound: `drive_friction`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub friction: Option<Quantity>,
}

impl GroundDrive {
    /// The drive in the domain; the section must be one of those of the frame.
    pub(crate) fn parse(
        &self,
        pointer: &str,
        frame: &[FrameSection],
    ) -> Parsed<planter::GroundDrive> {
        let Self { section, pull, friction } = self;
        let mut refused = Refused::default();
        let at = |name: &str| format!("{pointer}/{name}");
        let section = refused.take(text::name(&at("section"), section));
        let pull = refused.take(pull.parse(&at("pull"), &bounds::DRIVE_PULL));
        let friction = friction
            .as_ref()
            .and_then(|given| refused.take(given.parse(&at("friction"), &bounds::DRIVE_FRICTION)));
        if let Some(name) = section.as_ref().filter(|name| frame.iter().all(|s| s.name != **name)) {
            let names: Vec<&str> = frame.iter().map(|s| s.name.as_str()).collect();
            refused.add(
                BadMember::new(at("section"), "The frame has no section of this name.")
                    .given(name)
                    .allowed(if names.is_empty() {
                        "a section under `frame`, which is empty".to_owned()
                    } else {
                        format!("one of: {}", names.join(", "))
                    }),
            );
        }
        let members = refused.into_members();
        match (section, pull) {
            (Some(section), Some(pull)) if members.is_empty() => {
                Ok(planter::GroundDrive { section, pull, friction })
            }
            _ => Err(members),
        }
    }
}

pub(super) fn sections(
    pointer: &str,
    given: &[makeup::FrameSection],
    rows: u16,
) -> Parsed<Vec<FrameSection>> {
    let mut refused = Refused::default();
    refused.take(count(pointer, given.len(), 0, MOST_SECTIONS));
    let carried: u32 = given.iter().map(|section| u32::from(section.rows)).sum();
    if carried > u32::from(rows) {
        let member = BadMember::new(pointer, "The sections carry more rows than the planter has.");
        refused.add(member.given(carried).allowed(format!("at most {rows} rows in all")));
    }
    let parsed = given
        .iter()
        .enumerate()
        .filter_map(|(index, one)| refused.take_all(section(&format!("{pointer}/{index}"), one)))
        .collect();
    done(refused, parsed)
}

fn section(pointer: &str, given: &makeup::FrameSection) -> Parsed<FrameSection> {
    let makeup::FrameSection { name, rows, empty_weight, on_hitch, wheels } = given;
    let mut refused = Refused::default();
    let at = |name: &str| format!("{pointer}/{name}");
    let name = refused.take(text::name(&at("name"), name));
    refused.take(count(&at("rows"), *rows, 1, MOST_ROWS));
    refused.take(count(&at("wheels"), *wheels, 0, 24));
    let weight = refused.take(empty_weight.parse(&at("empty_weight"), &bounds::FRAME_WEIGHT));
    let hitch = refused.take(on_hitch.parse(&at("on_hitch"), &bounds::FRAME_WEIGHT));
    let (Some(name), Some(empty_weight), Some(on_hitch)) = (name, weight, hitch) else {
        return Err(refused.into_members());
    };
    if on_hitch.si() > empty_weight.si() {
        let detail = "The tractor can't carry more than the section weighs.";
        refused.add(BadMember::new(at("on_hitch"), detail));
    }
    done(refused, FrameSection { name, rows: *rows, empty_weight, on_hitch, wheels: *wheels })
}
