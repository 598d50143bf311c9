//! Ids in what is stored: as text of 32 hexadecimal digits, since numbers of JSON end at 64 bits for
//! many readers.

use serde::{Deserialize, Deserializer, Serializer, de::Error};

pub(crate) fn serialize<S: Serializer>(id: &u128, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(&format_args!("{id:032x}"))
}

pub(crate) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<u128, D::Error> {
    u128::from_str_radix(&String::deserialize(from)?, 16).map_err(D::Error::custom)
}

#[cfg(test)]
mod tests {
    use crate::learning::{Place, SoilClass};

    #[test]
    fn a_place_is_stored_as_a_value_and_comes_back() {
        let place = Place { class: SoilClass::UNKNOWN, planter: u128::MAX, field: 7, season: 2027 };
        let stored = serde_json::to_value(place).expect("a value");
        assert_eq!(stored["planter"], "f".repeat(32));
        assert_eq!(stored["field"], "00000000000000000000000000000007");
        let back: Place = serde_json::from_value(stored).expect("a place");
        assert_eq!(back, place);
    }
}
