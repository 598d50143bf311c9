//! Crops as records systems call them.

use crate::v1::conditions::Crop;

/// What is taken, for people to read.
pub const ALLOWED: &str = "corn or soybean: by name, or by the code of ICASA or EPPO";

/// A crop by its name, or by its code of ICASA or EPPO; capitals don't matter.
pub fn crop(name: &str) -> Option<Crop> {
    match name.trim().to_lowercase().as_str() {
        "corn" | "maize" | "maz" | "zeamx" => Some(Crop::Corn),
        "soybean" | "soybeans" | "sbn" | "glxma" => Some(Crop::Soybean),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::crop;
    use crate::v1::conditions::Crop;

    #[test]
    fn crops_are_known_by_name_and_code() {
        for name in ["corn", " Maize", "MAZ", "ZEAMX"] {
            assert_eq!(crop(name), Some(Crop::Corn), "{name}");
        }
        for name in ["Soybeans", "soybean", "SBN", "glxma"] {
            assert_eq!(crop(name), Some(Crop::Soybean), "{name}");
        }
        for name in ["", "wheat", "sweet corn", "SWC"] {
            assert_eq!(crop(name), None, "{name}");
        }
    }
}
