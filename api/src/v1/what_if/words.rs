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

    /// What to do today: `plant`, `wait` and look again in half a day, or `stop`, since planting
    /// would do lasting harm.
    Today = domain::conditions::Today { Plant Wait Stop }

    /// The side of the piston that the oil acts on: `cap` the whole bore, `rod` the ring around
    /// the rod.
    PistonSide = domain::planter::Side { Cap Rod }

    /// What to do with a pair of opener discs.
    DiscWearVerdict = domain::planter::DiscVerdict { Keep Replace NotMeasured }

    /// Whether the frame has the weight to hold the units down: every section keeps its reserve
    /// (`holds`), some section keeps less (`marginal`), some section `lifts`.
    FrameWeightVerdict = domain::planter::FrameVerdict { Holds Marginal Lifts NotChecked }
}
