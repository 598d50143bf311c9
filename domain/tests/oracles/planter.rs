//! Rows about the planter: forces, frame, cylinder, wear, capacity, power.

use domain::planter::inspection::BladeClass;
use domain::planter::{
    Cylinder, DiscVerdict, DownForce, FrameSection, Notch, OpenerDisc, RowOnFrame, Side, disc_wear,
    frame_check, real_depth,
};
use domain::provenance::Coefficients;
use domain::quantity::{Angle, Force, Length, Measured, Pressure};
use domain::settings::forces::{
    Balance, Soil, arm_angle, arm_force, contact_loss, coulter_reaction, load_for_loss,
    opener_reaction,
};
use domain::settings::{field_capacity, needed_capacity, pto_power};

use crate::answer::{Answer, Got};
use crate::row::Row;
use crate::{published, q};

pub(crate) fn capacity(row: &Row) -> Answer {
    let found = field_capacity(
        q(row.num("width_ft"), "[ft_i]"),
        q(row.num("speed_mph"), "[mi_i]/h"),
        q(row.num("efficiency"), "1"),
    )
    .unwrap();
    Answer::one("ac_per_h", found.effective.acres_an_hour())
}

pub(crate) fn timeliness(row: &Row) -> Answer {
    let area = q(row.num("acres"), "[acr_us]");
    let (days, hours) = (row.num("days"), row.num("hours_per_day"));
    let needed = needed_capacity(area, days, hours).unwrap();
    Answer::one("ac_per_day", needed.acres_an_hour() * hours)
        .and("ac_per_h", needed.acres_an_hour())
}

pub(crate) fn power(row: &Row) -> Answer {
    let per_metre = q::<Force>(row.num("draft_lb_per_ft"), "[lbf_av]").si() / 0.3048;
    let (power, _) = pto_power(
        q(row.num("width_ft"), "[ft_i]"),
        q(row.num("speed_mph"), "[mi_i]/h"),
        per_metre,
        row.num("soil_factor"),
    );
    Answer::one("pto_hp", power.horsepower())
}

pub(crate) fn opener_wear(row: &Row) -> Answer {
    let disc = |new: f64, now: f64, limit: Option<f64>| OpenerDisc {
        new_diameter: q(new, "[in_i]"),
        measured: Some(q(now, "[in_i]")),
        manual_limit: limit.map(|l| q(l, "[in_i]")),
    };
    if row.text("lever_depth_in").is_some() {
        let worn = disc(15.0, 15.0 - row.num("diameter_loss_in"), None);
        let depth = real_depth(q(row.num("lever_depth_in"), "[in_i]"), &worn);
        return Answer::one("furrow_depth_in", depth.si() / 0.0254);
    }
    let blades = row.nums("blade_mm");
    if !blades.is_empty() {
        return contact_of(&blades);
    }
    let usual = q(Coefficients::STANDARD.disc_wear_limit.value, "[in_i]");
    let verdict = |now: &f64| {
        let judged =
            disc_wear(&disc(row.num("new_diameter_in"), *now, Some(row.num("limit_in"))), usual);
        Got::from(match judged {
            DiscVerdict::Keep => "keep",
            DiscVerdict::Replace => "replace",
            DiscVerdict::NotMeasured => "not measured",
        })
    };
    let mut answer = Answer::default();
    answer.values.push(("verdict", row.nums("measured_in").iter().map(verdict).collect()));
    answer
}

/// The contact length that each thickness of blade asks for, as the source prints it.
fn contact_of(blades: &[f64]) -> Answer {
    let mut answer = Answer::default();
    let range = |mm: &f64| {
        let class = BladeClass::of(q(*mm, "mm")).unwrap();
        let (least, most) = (class.least, class.most);
        Got::Word(if least < most { format!("{least}-{most}") } else { least.to_string() })
    };
    answer.values.push(("card_gap_in", blades.iter().map(range).collect()));
    answer
}

pub(crate) fn units(row: &Row) -> Answer {
    let (code, key) =
        if row.text("force_n").is_some() { ("N", "force_n") } else { ("kN", "force_kn") };
    let pounds = domain::quantity::unit("[lbf_av]").unwrap();
    let converted = row.nums(key).into_iter().map(|f| pounds.read(q::<Force>(f, code)));
    Answer::list("force_lbf", converted)
}

pub(crate) fn gauge_wheel_load(row: &Row) -> Answer {
    if row.text("mean_load_n").is_some() {
        return published::load_by_speed(row);
    }
    if row.text("cv").is_some() {
        let unit_load = newtons(1.0);
        let lost = row.nums("cv").into_iter().map(|cv| contact_loss(unit_load, newtons(cv)));
        return Answer::list("contact_loss", lost);
    }
    let sigma = newtons(row.num("sigma_n"));
    let loads = row.nums("contact_loss_limit").into_iter().map(|p| load_for_loss(p, sigma).si());
    Answer::list("mean_load_n", loads)
}

pub(crate) fn statics(row: &Row) -> Answer {
    if row.text("bar_too_high_mm").is_some() {
        let angle =
            arm_angle(q(row.num("bar_too_high_mm"), "mm"), q(row.num("arm_length_mm"), "mm"))
                .unwrap();
        return Answer::one("arm_angle_deg", angle.si().to_degrees());
    }
    let draft = newtons(row.num("draft_n"));
    let force = |deg: f64| arm_force(draft, degrees(deg)).si();
    if row.text("arm_angle_deg_down_to_rear").is_some() {
        return Answer::one("link_force_n", force(row.num("arm_angle_deg_down_to_rear")));
    }
    // These rows print the size of the force without its sign.
    Answer::list("link_force_n", row.nums("arm_angle_deg").into_iter().map(|d| force(d).abs()))
}

pub(crate) fn row_unit_balance(row: &Row) -> Answer {
    if row.text("unit_lb").is_some() {
        return balance_in_pounds(row);
    }
    if row.text("gauge_wheels").is_some() {
        return balance_with_free_wheels(row);
    }
    let soil = Soil {
        exponent: row.num("n"),
        state: row.num("soil_factor"),
        residue: 1.0 + Coefficients::STANDARD.residue_force.value * row.num("residue_class"),
    };
    let opener =
        opener_reaction(row.num("k_o_n"), mm(row.num("d_mm")), soil, mm(row.num("disc_mm")));
    let coulter = coulter_reaction(row.num("k_c_n"), mm(row.num("d_c_mm")), soil);
    let mut balance = Balance { opener, coulter, ..in_newtons(row, 0.0) };
    let needed = balance.needed_down_force(newtons(row.num("g_target_n")));
    let mut answer = Answer::one("r_o_n", opener.si())
        .and("r_c_n", coulter.si())
        .and("f_dp_n", needed.si())
        .and("f_dp_lb", domain::quantity::unit("[lbf_av]").unwrap().read(needed));
    if row.text("spring_limit_n").is_some() {
        balance.down_force = newtons(row.num("spring_limit_n"));
        let verdict = if balance.rides_out() { "cannot_reach_depth" } else { "reaches_depth" };
        answer = answer
            .and("balance_at_limit_n", balance.sum().si())
            .and("gauge_load_n", balance.gauge_wheel_load().si())
            .and("verdict", verdict);
    }
    answer
}

fn in_newtons(row: &Row, down_force: f64) -> Balance {
    assert!(row.num("arm_angle_deg").abs() < 1e-12, "only rows with level arms are here");
    Balance {
        unit: newtons(row.num("w_u_n")),
        seed: newtons(row.num("w_s_n")),
        attachments: newtons(row.num("w_att_n")),
        down_force: newtons(down_force),
        arms: newtons(0.0),
        opener: newtons(0.0),
        coulter: newtons(0.0),
        cleaner: newtons(row.num("r_rc_n")),
        closing: newtons(row.num("r_cl_n")),
    }
}

fn balance_in_pounds(row: &Row) -> Answer {
    let lb = |key: &str| q::<Force>(row.num(key), "[lbf_av]");
    let balance = Balance {
        unit: lb("unit_lb"),
        seed: lb("seed_lb"),
        attachments: newtons(0.0),
        down_force: newtons(0.0),
        arms: arm_force(newtons(900.0), degrees(row.num("arm_angle_deg"))),
        opener: lb("opener_lb"),
        coulter: lb("coulter_lb"),
        cleaner: lb("cleaner_lb"),
        closing: lb("closing_lb"),
    };
    let needed = balance.needed_down_force(lb("gauge_target_lb"));
    let notch = |step| Notch { label: format!("{step} lb"), force: q(step, "[lbf_av]") };
    let spring =
        DownForce::Spring { notches: row.nums("steps_lb").into_iter().map(notch).collect() };
    let pounds = domain::quantity::unit("[lbf_av]").unwrap();
    Answer::one("supplemental_lb", pounds.read(needed))
        .and("first_step_lb", pounds.read(spring.settable_not_below(needed)))
}

fn balance_with_free_wheels(row: &Row) -> Answer {
    let balance =
        Balance { coulter: newtons(row.num("r_c_n")), ..in_newtons(row, row.num("f_dp_n")) };
    let opener = balance.opener_with_free_wheels();
    let bare = Soil { exponent: 1.0, state: 1.0, residue: 1.0 };
    let of_one_newton = opener_reaction(1.0, mm(row.num("furrow_mm")), bare, mm(381.0));
    Answer::one("r_o_n", opener.si()).and("k_o_s_m_n", opener.si() / of_one_newton.si())
}

pub(crate) fn frame_balance(row: &Row) -> Answer {
    let lb = |x: f64| q::<Force>(x, "[lbf_av]");
    let sections = [FrameSection {
        name: "whole bar".to_owned(),
        rows: 8,
        empty_weight: lb(row.num("frame_lb")),
        on_hitch: lb(row.num("hitch_lb")),
        wheels: 4,
    }];
    assert!((row.num("rows") - 8.0).abs() < 1e-12 && row.num("arm_angle_deg").abs() < 1e-12);
    let cases = row.nums("spring_lb").into_iter().zip(row.nums("frame_coulter_lb"));
    let left = cases.map(|(spring, coulter)| {
        let on_frame =
            RowOnFrame { down_force: lb(spring), coulter: lb(coulter), arm_pull: newtons(0.0) };
        let (_, loads) = frame_check(&sections, on_frame, lb(100.0));
        domain::quantity::unit("[lbf_av]").unwrap().read(loads[0].left_on_wheels)
    });
    Answer::list("wheel_load_lb", left)
}

pub(crate) fn cylinder(row: &Row) -> Answer {
    assert_eq!(row.text("side"), Some("cap"));
    let cylinder = Cylinder {
        bore: q(row.num("bore_in"), "[in_i]"),
        rod: q(0.5, "[in_i]"),
        side: Side::Cap,
        lever_ratio: 1.0,
        most: q(3000.0, "[psi]"),
    };
    let force = cylinder.force_at(q::<Pressure>(row.num("pressure_psi"), "[psi]"));
    Answer::one("force_lbf", domain::quantity::unit("[lbf_av]").unwrap().read(force))
}

fn newtons(x: f64) -> Force {
    Force::from_si(x)
}

fn mm(x: f64) -> Length {
    Length::from_si(x / 1000.0)
}

fn degrees(x: f64) -> Angle {
    q(x, "deg")
}
