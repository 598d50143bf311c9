//! The words of a recommendation on the wire.

use crate::v1::mirror::mirror;

mirror! {
    /// Where a recommendation stands: a `draft` of the advisor, `issued` to the grower,
    /// `acknowledged` by whoever will plant, or `superseded` by a later revision.
    RecommendationStatus = crate::entities::recommendations::Status {
        Draft Issued Acknowledged Superseded
    }

    /// What to do today: `plant`, `wait` and look again in half a day, or `stop` because planting
    /// would do lasting harm.
    Verdict = domain::conditions::Today { Plant Wait Stop }

    /// How full the hopper on a row is; `central` where the seed is carried on the frame.
    HopperFill = domain::settings::Fill { Full Half Empty Central }

    /// What to do with the coulter.
    CoulterUse = domain::settings::CoulterUse { NotFitted Run TakeOff }

    /// How to run the row cleaner: part the residue (`skim`), just brush the cover (`float`), or
    /// `lift` it clear.
    CleanerUse = domain::settings::CleanerUse { NotFitted Skim Float Lift }

    /// Tension of the closing spring; with `none` the wheels float by their weight.
    ClosingSpring = domain::settings::ClosingSpring { None Light Medium }

    /// How likely straw is to be tucked into the slot.
    HairpinRisk = domain::conditions::HairpinRisk { Low Some High }

    /// How likely stems are to wrap on the row cleaner.
    WrapRisk = domain::conditions::WrapRisk { Low Some High }

    /// What to do with the opener discs.
    DiscVerdict = domain::planter::DiscVerdict { Keep Replace NotMeasured }

    /// Whether the frame has the weight to push against: every section keeps its reserve
    /// (`holds`), some section keeps less (`marginal`), some section `lifts`, or nobody gave the
    /// weights.
    FrameVerdict = domain::planter::FrameVerdict { Holds Marginal Lifts NotChecked }

    /// A caution by its name, for programs; people read its text.
    CautionCode = domain::settings::Caution {
        BlockAndRelieve SpringsStoreEnergy AirUnderPressure OilUnderPressure TreatedSeedLabel
        InFurrowLabel DiggingBehind ManualWins
    }
}
