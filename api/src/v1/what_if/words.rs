//! The words of the calculations on the wire.

use crate::v1::mirror::mirror;

mirror! {
    /// The four groups of the moisture-by-feel table: `coarse` sand and loamy sand,
    /// `moderately_coarse` sandy loam, `medium` loam, silt loam, silt and sandy clay loam, `fine`
    /// clay loam and finer.
    TextureGroup = domain::conditions::TextureGroup { Coarse ModeratelyCoarse Medium Fine }

    /// Strength of the soil by cone penetrometer: `loose` below 100 psi, `good` to 200, `firm` to
    /// 300, `hard` above.
    StrengthClass = domain::conditions::StrengthClass { Loose Good Firm Hard }
}
