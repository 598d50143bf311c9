//! The words of the calculations on the wire.

pub(super) use crate::v1::conditions::StrengthClass;
use crate::v1::mirror::mirror;

mirror! {
    /// The four groups of the moisture-by-feel table: `coarse` sand and loamy sand,
    /// `moderately_coarse` sandy loam, `medium` loam, silt loam, silt and sandy clay loam, `fine`
    /// clay loam and finer.
    TextureGroup = domain::conditions::TextureGroup { Coarse ModeratelyCoarse Medium Fine }
}
