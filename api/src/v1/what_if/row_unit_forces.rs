//! `POST /v1/what-if/row-unit-forces`

use actix_web::post;
use domain::provenance::{self, Coefficients};
use domain::quantity::{Force, Length, Measured, Ratio, System, bounds};
use domain::settings::forces::{
    self, Balance, REFERENCE_DISC, Soil, arm_force, coulter_reaction, opener_reaction,
};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::contact_loss::{Scatter, scatter_of};
use super::member::{number, optional};
use super::row_unit_steps::{Worked, steps};
use super::step::answer;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// One row unit at work. What is absent is taken from the coefficients or, where said so, is
/// nothing.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "depth": {"value": 50, "unit": "mm"},
    "disc_diameter": {"value": 381, "unit": "mm"},
    "coulter_above_opener": {"value": 6, "unit": "mm"},
    "unit_weight": {"value": 778, "unit": "N"},
    "seed_weight": {"value": 300, "unit": "N"},
    "attachment_weight": {"value": 350, "unit": "N"},
    "down_force": {"value": 757, "unit": "N"},
    "draft": {"value": 1820, "unit": "N"},
    "arm_angle": {"value": 0, "unit": "deg"},
    "opener_resistance": {"value": 500, "unit": "N"},
    "coulter_resistance": {"value": 900, "unit": "N"},
    "depth_exponent": 1,
    "soil_state": 1,
    "residue": {"value": 0, "unit": "%"},
    "cleaner_lift": {"value": 0, "unit": "N"},
    "closing_lift": {"value": 110, "unit": "N"},
    "load_wanted": {"value": 783, "unit": "N"},
    "scatter": {"value": 476, "unit": "N"}
})))]
pub(super) struct RowUnitForcesIn {
    /// Furrow depth. Bound: `planting_depth`.
    pub depth: Quantity,
    /// Diameter of the opener disc when new; 381 mm (15 in) when absent. Bound: `disc_diameter`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub disc_diameter: Option<Quantity>,
    /// How much higher the edge of a coulter on the unit runs than the opener's; no coulter on the
    /// unit when absent. Bound: `coulter_above_opener`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub coulter_above_opener: Option<Quantity>,
    /// Weight of the bare unit. Bound: `unit_weight`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub unit_weight: Option<Quantity>,
    /// Weight of the seed on the unit; none when absent. Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub seed_weight: Option<Quantity>,
    /// Weight of what hangs on the unit. Bound: `attachment_weight`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub attachment_weight: Option<Quantity>,
    /// Down force that is set; none when absent. Bound: `down_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub down_force: Option<Quantity>,
    /// Horizontal pull of the row. Bound: `row_draft`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub draft: Option<Quantity>,
    /// Angle of the arms below the horizontal; level when absent. Bound: `arm_angle`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub arm_angle: Option<Quantity>,
    /// Upward soil reaction on a 381 mm opener at 50 mm in moist soil, `K_o`. Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub opener_resistance: Option<Quantity>,
    /// Upward soil reaction on a coulter at 50 mm in moist soil, `K_c`. Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub coulter_resistance: Option<Quantity>,
    /// Exponent of depth, `n`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0.5, maximum = 1.5, example = 1)]
    pub depth_exponent: Option<f64>,
    /// Soil-state factor, `s_m`: 0.8 wet, 1 moist, 1.6 dry, 2.4 hard and dry; moist when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0.6, maximum = 3, example = 1)]
    pub soil_state: Option<f64>,
    /// Share of the path under residue or mat; bare ground when absent. Bound: `share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub residue: Option<Quantity>,
    /// Upward force of the row cleaner; none when absent. Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub cleaner_lift: Option<Quantity>,
    /// Upward force of the closing wheels. Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub closing_lift: Option<Quantity>,
    /// Load that is wanted on the gauge wheels; the load that keeps contact 95 % of the time when
    /// absent. Bound: `gauge_wheel_load`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub load_wanted: Option<Quantity>,
    /// Standard deviation of the load along the row; the coefficient `load_scatter` when absent.
    /// Bound: `gauge_wheel_load`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub scatter: Option<Quantity>,
}

/// The balance of one row unit.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"todo": "row-unit-forces"})))]
pub(super) struct RowUnitForces {
    /// The parts of the balance.
    pub parts: RowUnitParts,
    /// Their sum; negative when the unit rides out.
    pub balance: Quantity,
    /// Load on the gauge wheels of the row; nothing when the unit rides out.
    pub gauge_wheel_load: Quantity,
    /// Whether the unit rides out of the soil and depth is lost.
    #[schema(example = false)]
    pub rides_out: bool,
    /// Share of the time that the wheels are off the ground.
    pub contact_loss: Quantity,
    /// Load that is wanted.
    pub load_wanted: Quantity,
    /// Down force for that load; negative when the unit must be lifted.
    pub down_force_needed: Quantity,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 100)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 100)]
    pub trace: Vec<TraceStep>,
}

/// What acts on a row unit, down or up.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"todo": "row-unit-parts"})))]
pub(super) struct RowUnitParts {
    /// Down: the bare unit.
    pub unit_weight: Quantity,
    /// Down: seed on the unit.
    pub seed_weight: Quantity,
    /// Down: what hangs on the unit.
    pub attachment_weight: Quantity,
    /// Down: force that is set.
    pub down_force: Quantity,
    /// Down, or up where negative: what the arms add.
    pub arm_force: Quantity,
    /// Up: the openers.
    pub opener: Quantity,
    /// Up: a coulter on the unit.
    pub coulter: Quantity,
    /// Up: the row cleaner.
    pub cleaner_lift: Quantity,
    /// Up: the closing wheels.
    pub closing_lift: Quantity,
}

/// Forces on a row unit.
///
/// The vertical balance: `G = W_u + W_s + W_att + F_dp - H tan(theta) - R_o - R_c - R_rc - R_cl`.
/// A balance of nothing or less means that the unit rides out, not that it runs light. No more down
/// force than needed: the answer gives the force for the load that is wanted. The opener and coulter
/// coefficients are assumptions with wide ranges until digs correct them; the answer lists each that
/// was used.
///
/// Worked example (statics; the loads are the model's defaults, no published case): at 50 mm in
/// moist bare soil, opener 500 N and coulter 792 N, a load of 783 N needs 757 N (170 lbf) of down
/// force.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_row_unit_forces", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = RowUnitForcesIn, description = "The row unit."),
    responses((status = 200, description = "The balance.", body = RowUnitForces), ComputeErrors),
)]
#[post("/what-if/row-unit-forces")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<RowUnitForcesIn>,
) -> Result<Answer<RowUnitForces>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

/// A row unit that was read, and which coefficients stood in.
struct Case {
    worked: Worked,
    scatter: Scatter,
    load_wanted: Option<Force>,
    defaults: Vec<Coefficient>,
}

impl RowUnitForcesIn {
    fn work_out(self, system: System) -> Result<RowUnitForces, ApiError> {
        let Case { worked, scatter, load_wanted, mut defaults } = self.parse()?;
        let k = &Coefficients::STANDARD;
        let aim = &k.contact_loss_aimed;
        let wanted = load_wanted.unwrap_or_else(|| {
            defaults.push(Coefficient::from(aim));
            forces::load_for_loss(aim.value, scatter.force)
        });
        let balance = worked.balance;
        let load = balance.gauge_wheel_load();
        // A unit that rides out has no load whose scatter could be told: its wheels carry nothing.
        let loss =
            if balance.rides_out() { 1.0 } else { forces::contact_loss(load, scatter.force) };
        let needed = balance.needed_down_force(wanted);
        let trace = steps(&worked, wanted, scatter.force, loss);
        defaults.extend(scatter.default);
        let force = |force| Quantity::show(&bounds::ROW_FORCE, force, system);
        Ok(RowUnitForces {
            parts: parts(&balance, system),
            balance: force(balance.sum()),
            gauge_wheel_load: force(load),
            rides_out: balance.rides_out(),
            contact_loss: Quantity::show(&bounds::SHARE, Ratio::from_si(loss), system),
            load_wanted: force(wanted),
            down_force_needed: force(needed),
            defaults,
            trace,
        })
    }

    fn parse(&self) -> Result<Case, ApiError> {
        let mut read = Reader::default();
        let weights = self.weights(&mut read);
        let soil = self.soil(&mut read);
        let iron = self.iron(&mut read);
        let load = self.load_wanted.as_ref();
        let load_wanted =
            optional(&mut read.refused, load, "/load_wanted", &bounds::GAUGE_WHEEL_LOAD);
        let scatter = scatter_of(self.scatter.as_ref(), &mut read.refused);
        let Reader { refused, defaults } = read;
        let (Some(iron), Some(soil), Some(scatter)) = (iron, soil, scatter) else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(Case { worked: worked(weights, soil, iron), scatter, load_wanted, defaults })
    }

    /// What pushes down or up by itself; opener, coulter and arms come later.
    fn weights(&self, read: &mut Reader) -> Balance {
        let k = &Coefficients::STANDARD;
        let zero = Force::from_si(0.0);
        let unit = optional(
            &mut read.refused,
            self.unit_weight.as_ref(),
            "/unit_weight",
            &bounds::UNIT_WEIGHT,
        );
        let attachments = optional(
            &mut read.refused,
            self.attachment_weight.as_ref(),
            "/attachment_weight",
            &bounds::ATTACHMENT_WEIGHT,
        );
        let down = self.down_force.as_ref();
        let down = optional(&mut read.refused, down, "/down_force", &bounds::DOWN_FORCE);
        let closing = read.force(self.closing_lift.as_ref(), "/closing_lift");
        let cleaner = read.force(self.cleaner_lift.as_ref(), "/cleaner_lift");
        let seed = read.force(self.seed_weight.as_ref(), "/seed_weight");
        Balance {
            unit: read.newtons(unit, self.unit_weight.is_some(), &k.unit_weight),
            seed: seed.unwrap_or(zero),
            attachments: read.newtons(
                attachments,
                self.attachment_weight.is_some(),
                &k.attachment_weight,
            ),
            down_force: down.unwrap_or(zero),
            arms: zero,
            opener: zero,
            coulter: zero,
            cleaner: cleaner.unwrap_or(zero),
            closing: read.newtons(closing, self.closing_lift.is_some(), &k.closing_lift),
        }
    }

    fn soil(&self, read: &mut Reader) -> Option<Soil> {
        let k = &Coefficients::STANDARD;
        let exponent =
            read.plain(self.depth_exponent, "/depth_exponent", (0.5, 1.5), &k.depth_exponent);
        let state = read.plain(self.soil_state, "/soil_state", (0.6, 3.0), &k.soil_moist);
        let residue =
            optional(&mut read.refused, self.residue.as_ref(), "/residue", &bounds::SHARE);
        let share = residue.map_or(0.0, Measured::si);
        if share > 0.0 {
            read.defaults.push(Coefficient::from(&k.residue_force));
        }
        let residue = 1.0 + k.residue_force.value * share;
        Some(Soil { exponent: exponent?, state: state?, residue })
    }

    fn iron(&self, read: &mut Reader) -> Option<Iron> {
        let k = &Coefficients::STANDARD;
        let refused = &mut read.refused;
        let depth = refused.take(self.depth.parse("/depth", &bounds::PLANTING_DEPTH));
        let disc = self.disc_diameter.as_ref();
        let disc = optional(refused, disc, "/disc_diameter", &bounds::DISC_DIAMETER);
        let above = self.coulter_above_opener.as_ref();
        let at = "/coulter_above_opener";
        let above = optional(refused, above, at, &bounds::COULTER_ABOVE_OPENER);
        let angle = self.arm_angle.as_ref();
        let angle = optional(refused, angle, "/arm_angle", &bounds::ARM_ANGLE);
        let draft = optional(refused, self.draft.as_ref(), "/draft", &bounds::ROW_DRAFT);
        let opener = read.force(self.opener_resistance.as_ref(), "/opener_resistance");
        let coulter = read.force(self.coulter_resistance.as_ref(), "/coulter_resistance");
        if self.coulter_resistance.is_some() && self.coulter_above_opener.is_none() {
            read.refused.add(
                BadMember::new("/coulter_resistance", "There is no coulter on the unit.")
                    .why("a coulter is told by coulter_above_opener"),
            );
        }
        let opener = read.newtons(opener, self.opener_resistance.is_some(), &k.opener_resistance);
        let with_coulter = self.coulter_above_opener.is_some();
        let coulter = if with_coulter {
            read.newtons(coulter, self.coulter_resistance.is_some(), &k.coulter_resistance)
        } else {
            Force::from_si(0.0)
        };
        let level = self.arm_angle.is_none();
        let usual = if with_coulter { &k.draft_with_coulter } else { &k.draft_without_coulter };
        // With level arms the draft has no say, so its default is not worth a word.
        let draft = if level && draft.is_none() {
            Force::from_si(usual.value)
        } else {
            read.newtons(draft, self.draft.is_some(), usual)
        };
        let depth = depth?;
        Some(Iron {
            depth,
            disc: disc.unwrap_or_else(|| Length::from_si(REFERENCE_DISC)),
            coulter_depth: above.map(|above| depth - above),
            opener,
            coulter,
            draft,
            angle: angle.unwrap_or_else(|| Measured::from_si(0.0)),
        })
    }
}

/// Reads members and notes which coefficients stood in.
#[derive(Default)]
struct Reader {
    refused: Refused,
    defaults: Vec<Coefficient>,
}

impl Reader {
    fn force(&mut self, given: Option<&Quantity>, pointer: &str) -> Option<Force> {
        optional(&mut self.refused, given, pointer, &bounds::ROW_FORCE)
    }

    /// A force, or the coefficient where none was given.
    fn newtons(&mut self, read: Option<Force>, given: bool, k: &provenance::Coefficient) -> Force {
        read.unwrap_or_else(|| {
            if !given {
                self.defaults.push(Coefficient::from(k));
            }
            Force::from_si(k.value)
        })
    }

    /// A plain number, or the coefficient where none was given.
    fn plain(
        &mut self,
        given: Option<f64>,
        pointer: &str,
        range: (f64, f64),
        k: &provenance::Coefficient,
    ) -> Option<f64> {
        let Some(given) = given else {
            self.defaults.push(Coefficient::from(k));
            return Some(k.value);
        };
        self.refused.take(number(pointer, given, range, "the model is not carried further"))
    }
}

/// Openers, coulter and arms as they are.
pub(super) struct Iron {
    pub depth: Length,
    pub disc: Length,
    /// `None` without a coulter on the unit.
    pub coulter_depth: Option<Length>,
    pub opener: Force,
    pub coulter: Force,
    pub draft: Force,
    pub angle: domain::quantity::Angle,
}

fn worked(weights: Balance, soil: Soil, iron: Iron) -> Worked {
    let zero = Force::from_si(0.0);
    let balance = Balance {
        arms: arm_force(iron.draft, iron.angle),
        opener: opener_reaction(iron.opener.si(), iron.depth, soil, iron.disc),
        coulter: iron
            .coulter_depth
            .map_or(zero, |depth| coulter_reaction(iron.coulter.si(), depth, soil)),
        ..weights
    };
    Worked { balance, soil, iron }
}

fn parts(balance: &Balance, system: System) -> RowUnitParts {
    let force = |force| Quantity::show(&bounds::ROW_FORCE, force, system);
    RowUnitParts {
        unit_weight: force(balance.unit),
        seed_weight: force(balance.seed),
        attachment_weight: force(balance.attachments),
        down_force: force(balance.down_force),
        arm_force: force(balance.arms),
        opener: force(balance.opener),
        coulter: force(balance.coulter),
        cleaner_lift: force(balance.cleaner),
        closing_lift: force(balance.closing),
    }
}
