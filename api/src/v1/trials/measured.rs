//! What is measured on the plots: names, units, which way is better, which figures can be.

use domain::quantity::{Bound, Kind, Measured, bounds, unit};
use domain::trial::analysis::{Better, Response, Scale};

use super::design::{MOST_RESPONSES, ResponseIn, TrialDesign};
use super::words::ResponseKind;
use crate::http::quantity::{Quantities, six_digits};
use crate::http::{BadMember, text};
use crate::v1::units::Units;

/// Bushels an acre: a weight, so it is no row of the table of units.
pub const BUSHELS: &str = "[bu_us]/[acr_us]";
/// Most that can be harvested, in bushels an acre.
const MOST_BUSHELS: f64 = 800.0;
/// Most readings of one plot.
const MOST_VALUES: usize = 200;
/// Longest name of a response.
const NAME_MOST: usize = 60;
/// Longest unit.
const UNIT_MOST: usize = 20;

/// A response with nothing left open.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// The word by which it is named.
    pub key: String,
    /// What it is.
    pub kind: ResponseKind,
    /// Its unit, as a code.
    pub unit: String,
    /// What the analysis is told of it.
    pub response: Response,
    /// The smallest difference that would matter.
    pub matters: Option<f64>,
    /// The scatter that is expected.
    pub spread: Option<f64>,
}

/// The responses of a design whose units were settled.
pub fn wanted(design: &TrialDesign) -> Vec<Wanted> {
    design.responses.iter().map(Wanted::of).collect()
}

impl ResponseIn {
    /// The word by which it is named.
    pub fn key(&self) -> String {
        match (&self.kind, &self.key) {
            (ResponseKind::Other, Some(key)) => key.clone(),
            (kind, _) => kind.code().to_owned(),
        }
    }

    /// The same with its unit.
    pub(super) fn settled(&self, units: Units) -> Self {
        let own = match (self.kind, units) {
            (
                ResponseKind::Emergence | ResponseKind::DepthInTarget | ResponseKind::FurrowClosed,
                _,
            ) => "%",
            (ResponseKind::SpacingSpread, Units::Us) => "[in_i]",
            (ResponseKind::SpacingSpread, Units::Si) => "mm",
            (ResponseKind::Yield, Units::Us) => BUSHELS,
            (ResponseKind::Yield, Units::Si) => "t/har",
            (ResponseKind::Other, _) => "1",
        };
        let unit = self.unit.as_ref().map_or(own, |unit| unit.trim());
        Self { unit: Some(unit.to_owned()), ..self.clone() }
    }
}

impl Wanted {
    fn of(given: &ResponseIn) -> Self {
        let unit = given.unit.clone().unwrap_or_else(|| "1".to_owned());
        let (what, better, scale) = match given.kind {
            ResponseKind::Emergence => ("emergence", Better::Higher, Scale::Percent),
            ResponseKind::DepthInTarget => ("seeds at depth", Better::Higher, Scale::Percent),
            ResponseKind::FurrowClosed => ("furrow closed", Better::Higher, Scale::Percent),
            ResponseKind::SpacingSpread => ("spread of spacing", Better::Lower, Scale::Measure),
            ResponseKind::Yield => ("yield", Better::Higher, Scale::Measure),
            ResponseKind::Other => {
                let better = given.better.map_or(Better::Neither, Better::from);
                ("figure", better, Scale::Measure)
            }
        };
        Self {
            key: given.key(),
            kind: given.kind,
            response: Response {
                what: given.name.clone().unwrap_or_else(|| what.to_owned()),
                unit: label(&unit).to_owned(),
                better,
                scale,
            },
            unit,
            matters: given.matters,
            spread: given.spread,
        }
    }

    /// Readings in the unit of the response, if they can be.
    pub fn numbers(&self, pointer: &str, given: &Quantities) -> Result<Vec<f64>, Vec<BadMember>> {
        if given.values.is_empty() || given.values.len() > MOST_VALUES {
            let member = BadMember::new(format!("{pointer}/values"), "Give 1 to 200 readings.")
                .given(given.values.len())
                .allowed("1 to 200 readings");
            return Err(vec![member]);
        }
        match self.kind {
            ResponseKind::Emergence | ResponseKind::DepthInTarget | ResponseKind::FurrowClosed => {
                self.converted(pointer, given, &bounds::SHARE)
            }
            ResponseKind::SpacingSpread => self.converted(pointer, given, &bounds::SEED_SPACING),
            ResponseKind::Yield if self.unit == BUSHELS => {
                self.plain(pointer, given, (0.0, MOST_BUSHELS), "no field ever gave 800 bu/ac")
            }
            ResponseKind::Yield => self.converted(pointer, given, &bounds::GRAIN_YIELD),
            ResponseKind::Other => {
                self.plain(pointer, given, (-1.0e9, 1.0e9), "a larger figure is a slip")
            }
        }
    }

    fn converted<Q: Measured>(
        &self,
        pointer: &str,
        given: &Quantities,
        bound: &Bound<Q>,
    ) -> Result<Vec<f64>, Vec<BadMember>> {
        let parsed = given.parse(pointer, bound)?;
        let Some(own) = unit(&self.unit) else { return Ok(given.values.clone()) };
        // What came in this unit stays to the last digit.
        if given.unit == self.unit {
            return Ok(given.values.clone());
        }
        Ok(parsed.into_iter().map(|it| six_digits(own.read(it))).collect())
    }

    fn plain(
        &self,
        pointer: &str,
        given: &Quantities,
        (least, most): (f64, f64),
        why: &str,
    ) -> Result<Vec<f64>, Vec<BadMember>> {
        if given.unit != self.unit {
            let member = BadMember::new(
                format!("{pointer}/unit"),
                "The figures of a response are all in the unit that the design names.",
            );
            return Err(vec![member.given(&given.unit).allowed(&self.unit)]);
        }
        let bad = given.values.iter().enumerate().filter(|(_, it)| !(least..=most).contains(*it));
        let bad: Vec<BadMember> = bad
            .map(|(place, value)| {
                let at = format!("{pointer}/values/{place}");
                let allowed = format!("{least} to {most} {}", label(&self.unit));
                let detail = format!("{value} is outside {allowed}.");
                BadMember::new(at, detail).given(value).allowed(allowed).why(why)
            })
            .collect();
        if bad.is_empty() { Ok(given.values.clone()) } else { Err(bad) }
    }
}

/// A unit as people write it.
pub fn label(code: &str) -> &str {
    match code {
        BUSHELS => "bu/ac",
        "1" => "",
        code => unit(code).map_or(code, |unit| unit.label),
    }
}

/// All that is wrong with the responses of a design.
pub(super) fn faults(design: &TrialDesign) -> Vec<BadMember> {
    let all = &design.responses;
    let mut bad = Vec::new();
    if all.is_empty() || all.len() > MOST_RESPONSES {
        bad.push(
            BadMember::new("/design/responses", "Say what is measured.")
                .given(format!("{} entries", all.len()))
                .allowed(format!("1 to {MOST_RESPONSES} entries")),
        );
    }
    for (place, it) in all.iter().enumerate() {
        let at = format!("/design/responses/{place}");
        if all.iter().take(place).any(|other| other.key() == it.key()) {
            let member = BadMember::new(&at, "A response is measured once.");
            bad.push(member.given(it.key()).why("its figures are named by this word"));
        }
        bad.extend(faults_of(it, &at));
    }
    bad
}

fn faults_of(it: &ResponseIn, at: &str) -> Vec<BadMember> {
    let mut bad = Vec::new();
    let own = it.kind == ResponseKind::Other;
    let named = [("key", it.key.is_some(), true), ("name", it.name.is_some(), false)];
    for (member, given, only) in named {
        if own && !given {
            let detail = "A response of your own needs a word and a name.";
            bad.push(BadMember::new(format!("{at}/{member}"), detail));
        }
        if !own && given && only {
            let detail = "Only a response of your own has a word of its own.";
            bad.push(BadMember::new(format!("{at}/{member}"), detail));
        }
    }
    if let Some(key) = it.key.as_ref().filter(|key| !is_word(key)) {
        let member = BadMember::new(format!("{at}/key"), "This is no word.");
        bad.push(member.given(key).allowed("1 to 30 of a to z, 0 to 9 and _, a letter first"));
    }
    if own && it.key.as_ref().is_some_and(|key| is_taken(key)) {
        bad.push(BadMember::new(format!("{at}/key"), "This word stands for a kind of response."));
    }
    if let Some(name) = &it.name {
        bad.extend(text::line(&format!("{at}/name"), name, NAME_MOST).err());
    }
    if it.better.is_some() && !own {
        let detail = "Which way is better is known for this kind.";
        bad.push(BadMember::new(format!("{at}/better"), detail));
    }
    if let Some(given) = &it.unit {
        bad.extend(text::line(&format!("{at}/unit"), given, UNIT_MOST).err());
        bad.extend(wrong_unit(it.kind, given.trim(), &format!("{at}/unit")));
    }
    for (member, value) in [("matters", it.matters), ("spread", it.spread)] {
        if let Some(value) = value.filter(|it| !(1.0e-9..=1.0e6).contains(it)) {
            let member = BadMember::new(format!("{at}/{member}"), "This lies above 0.");
            bad.push(member.given(value).allowed("above 0, at most 1000000"));
        }
    }
    bad
}

fn is_word(key: &str) -> bool {
    let letters = |it: char| it.is_ascii_lowercase() || it.is_ascii_digit() || it == '_';
    key.len() <= 30
        && key.starts_with(|it: char| it.is_ascii_lowercase())
        && key.chars().all(letters)
}

fn is_taken(key: &str) -> bool {
    use ResponseKind::{DepthInTarget, Emergence, FurrowClosed, Other, SpacingSpread, Yield};
    let kinds = [Emergence, DepthInTarget, FurrowClosed, SpacingSpread, Yield, Other];
    kinds.iter().any(|kind| kind.code() == key)
}

fn wrong_unit(kind: ResponseKind, given: &str, at: &str) -> Option<BadMember> {
    let of = |kind: Kind| domain::quantity::units_of(kind).map(|unit| unit.code);
    let allowed: Vec<&str> = match kind {
        ResponseKind::Emergence | ResponseKind::DepthInTarget | ResponseKind::FurrowClosed => {
            vec!["%"]
        }
        ResponseKind::SpacingSpread => of(Kind::Length).collect(),
        ResponseKind::Yield => [BUSHELS].into_iter().chain(of(Kind::MassPerArea)).collect(),
        ResponseKind::Other => return None,
    };
    (!allowed.contains(&given)).then(|| {
        BadMember::new(at, "This response is not given in this unit.")
            .given(given)
            .allowed(allowed.join(", "))
    })
}

#[cfg(test)]
mod tests {
    use super::{BUSHELS, Wanted, label};
    use crate::http::quantity::Quantities;
    use crate::v1::trials::design::ResponseIn;
    use crate::v1::units::Units;

    fn wanted(json: &str) -> Wanted {
        let given: ResponseIn = serde_json::from_str(json).expect("a response");
        Wanted::of(&given.settled(Units::Us))
    }

    fn readings(unit: &str, values: &[f64]) -> Quantities {
        Quantities { unit: unit.to_owned(), values: values.to_vec() }
    }

    #[test]
    fn shares_above_all_and_below_nothing_are_refused() {
        let emergence = wanted(r#"{"kind": "emergence"}"#);
        let bad = emergence.numbers("/r", &readings("%", &[90.0, 101.0, -1.0])).expect_err("bad");
        let at: Vec<&str> = bad.iter().map(|it| it.pointer.as_str()).collect();
        assert_eq!(at, ["/r/values/1", "/r/values/2"]);
        assert_eq!(emergence.numbers("/r", &readings("1", &[0.92])), Ok(vec![92.0]));
        assert!(emergence.numbers("/r", &readings("%", &[])).is_err());
    }

    #[test]
    fn a_yield_stays_in_the_unit_of_the_trial() {
        let bushels = wanted(r#"{"kind": "yield"}"#);
        assert_eq!((bushels.unit.as_str(), label(BUSHELS)), (BUSHELS, "bu/ac"));
        assert_eq!(bushels.numbers("/r", &readings(BUSHELS, &[201.5])), Ok(vec![201.5]));
        assert!(bushels.numbers("/r", &readings(BUSHELS, &[-3.0])).is_err());
        assert!(bushels.numbers("/r", &readings("t/har", &[12.0])).is_err());
        let tonnes = wanted(r#"{"kind": "yield", "unit": "t/har"}"#);
        assert_eq!(tonnes.numbers("/r", &readings("kg/har", &[12_500.0])), Ok(vec![12.5]));
    }
}
