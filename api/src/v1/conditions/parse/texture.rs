//! Texture: by name, by sand and clay, or by feel.

use domain::conditions::{TextureClass, TextureError};
use domain::quantity::{Measured, Ratio, bounds};

use super::super::dto::ConditionsIn;
use crate::http::quantity::Quantity;
use crate::http::{BadMember, Refused};

/// The class that was named, felt, or made of sand and clay; sand and clay must make the named one.
pub(super) fn texture(given: &ConditionsIn, refused: &mut Refused) -> Option<TextureClass> {
    let felt = felt(given, refused);
    let named = given.texture.map(TextureClass::from);
    let made = match (&given.sand, &given.clay) {
        (None, None) => return named.or(felt),
        (Some(sand), Some(clay)) => classify(sand, clay, refused)?,
        (Some(_), None) => {
            refused.add(BadMember::new("/clay", "Sand alone makes no texture: give clay too."));
            return None;
        }
        (None, Some(_)) => {
            refused.add(BadMember::new("/sand", "Clay alone makes no texture: give sand too."));
            return None;
        }
    };
    if let Some(named) = named.filter(|named| *named != made) {
        let detail = format!(
            "Sand and clay make {}, not {}: leave one of them out.",
            made.words(),
            named.words()
        );
        refused.add(BadMember::new("/texture", detail).given(named.words()).allowed(made.words()));
        return None;
    }
    Some(made)
}

fn classify(sand: &Quantity, clay: &Quantity, refused: &mut Refused) -> Option<TextureClass> {
    let sand = refused.take(sand.parse("/sand", &bounds::SHARE));
    let clay = refused.take(clay.parse("/clay", &bounds::SHARE));
    let made = TextureClass::classify(percent(sand?), percent(clay?));
    refused.take(made.map_err(|error| {
        let pointer = match error {
            TextureError::OutsideRange { part: "sand", .. } => "/sand",
            TextureError::OutsideRange { .. } | TextureError::PassHundred { .. } => "/clay",
        };
        BadMember::new(pointer, format!("{error}."))
    }))
}

/// Without the last binary digits of the conversion, which would tip a soil on the line between
/// two classes to either side.
fn percent(share: Ratio) -> f64 {
    (share.si() * 1e11).round() / 1e9
}

/// The class by ribbon and feel of wetted soil, where nothing surer was given.
fn felt(given: &ConditionsIn, refused: &mut Refused) -> Option<TextureClass> {
    let (ribbon, feel) = match (&given.ribbon_wetted, given.texture_feel) {
        (None, None) => return None,
        (Some(ribbon), Some(feel)) => (ribbon, feel),
        (Some(_), None) => {
            let detail = "A ribbon alone makes no texture: say how the wetted soil feels.";
            refused.add(BadMember::new("/texture_feel", detail));
            return None;
        }
        (None, Some(_)) => {
            let detail = "A feel alone makes no texture: give the ribbon of wetted soil too.";
            refused.add(BadMember::new("/ribbon_wetted", detail));
            return None;
        }
    };
    let ribbon = refused.take(ribbon.parse("/ribbon_wetted", &bounds::RIBBON_LENGTH));
    if given.texture.is_some() || given.sand.is_some() || given.clay.is_some() {
        let detail = "The texture is given twice: by feel, and by name or by sand and clay.";
        let why = "a laboratory is surer than the fingers: leave the feel out where it was asked";
        refused.add(BadMember::new("/texture_feel", detail).why(why));
        return None;
    }
    Some(TextureClass::by_feel(ribbon?, feel.into()))
}
