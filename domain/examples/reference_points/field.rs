//! Fields, seed and stands.

use domain::conditions::{StrengthSoil, TextureClass, biomass_from_clip, cone_base};
use domain::in_furrow::{course_length, outlet_flow};
use domain::quantity::{Measured, Pressure};
use domain::settings::{field_capacity, row_length_of_acre, spacing};
use domain::stand::{Day, stand_in_hoop, stand_in_row};
use serde_json::{Value, json};

use crate::args::{Args, Function, one, shown};

pub(crate) const FUNCTIONS: &[(&str, Function)] = &[
    ("texture", |a| {
        json!(TextureClass::classify(a.num(0), a.num(1)).ok().map(TextureClass::words))
    }),
    ("degree_days", |a| {
        one(Day::new(a.q(0, "[degF]"), a.q(1, "[degF]")).ok().map(|d| d.degree_days()))
    }),
    ("strength_mpa", |a| {
        one(soil(a).and_then(|s| s.resistance(a.num(3)).ok()).map(|(p, _)| shown(p, "MPa")))
    }),
    ("water_at_mpa", |a| {
        let wanted: Pressure = a.q(3, "MPa");
        one(soil(a).and_then(|s| s.water_at(wanted).ok()).map(|(theta, _)| theta))
    }),
    ("cone_base_mm2", |a| one(cone_base(a.q(0, "mm")).si() * 1e6)),
    ("spacing_in", |a| {
        one(spacing(a.q(0, "1/[acr_us]"), a.q(1, "[in_i]")).ok().map(|s| shown(s, "[in_i]")))
    }),
    ("row_of_acre_ft", |a| {
        one(row_length_of_acre(a.num(0), a.q(1, "[in_i]")).ok().map(|l| shown(l, "[ft_i]")))
    }),
    ("stand_in_row", |a| {
        let stand = stand_in_row(a.num(0), a.q(1, "[ft_i]"), a.q(2, "[in_i]"));
        one(stand.ok().map(|s| shown(s.population, "1/[acr_us]")))
    }),
    ("stand_in_hoop", |a| {
        let stand = stand_in_hoop(a.num(0), a.q(1, "[in_i]"));
        one(stand.ok().map(|s| shown(s.population, "1/[acr_us]")))
    }),
    ("clip_lb_ac", |a| {
        let found = biomass_from_clip(a.q(0, "g"), a.q(1, "[sft_i]")).ok();
        one(found.map(|b| shown(b.likely, "[lb_av]/[acr_us]")))
    }),
    ("outlet_gal_min", |a| {
        let flow = outlet_flow(a.q(0, "[gal_us]/[acr_us]"), a.q(1, "[mi_i]/h"), a.q(2, "[in_i]")).0;
        one(shown(flow, "[gal_us]/min"))
    }),
    ("course_ft", |a| one(course_length(a.q(0, "[in_i]")).map(|(l, _)| shown(l, "[ft_i]")))),
    ("capacity_ac_h", |a| {
        let found = field_capacity(a.q(0, "[ft_i]"), a.q(1, "[mi_i]/h"), a.q(2, "1"));
        found.map_or(Value::Null, |c| one(c.effective.acres_an_hour()))
    }),
];

/// A soil from clay, organic carbon (both in percent) and bulk density in g/cm3.
fn soil(args: &Args<'_>) -> Option<StrengthSoil> {
    StrengthSoil::new(args.num(0), args.num(1), args.q(2, "g/cm3")).ok()
}
