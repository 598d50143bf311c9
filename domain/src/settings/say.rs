//! Quantities in a sentence: US first, SI in brackets, so that one sentence serves both.

use crate::quantity::{ArealMassDensity, Force, Length, Measured, Speed, System, bounds};

const POUND_FORCE: f64 = 4.448_221_615_260_5;
const INCH: f64 = 0.0254;
const MPH: f64 = 0.447_04;

/// `223 lbf (990 N)`.
pub(crate) fn pounds(force: Force) -> String {
    let tens = (force.si() / 10.0).round() * 10.0;
    format!("{:.0} lbf ({tens:.0} N)", force.si() / POUND_FORCE)
}

/// `1.75 in (44 mm)`.
pub(crate) fn inches(length: Length) -> String {
    format!("{:.2} in ({:.0} mm)", length.si() / INCH, length.si() * 1e3)
}

/// `5.5 mph (8.9 km/h)`.
pub(crate) fn mph(speed: Speed) -> String {
    format!("{:.1} mph ({:.1} km/h)", speed.si() / MPH, speed.si() * 3.6)
}

/// `4400 lb/ac (4930 kg/ha)`.
pub(crate) fn dry_matter(mass: ArealMassDensity) -> String {
    let pounds = bounds::DRY_MATTER.show(mass, System::Us).0;
    let kilograms = bounds::DRY_MATTER.show(mass, System::Si).0;
    let tens = |x: f64| (x / 10.0).round() * 10.0;
    format!("{:.0} lb/ac ({:.0} kg/ha)", tens(pounds), tens(kilograms))
}
