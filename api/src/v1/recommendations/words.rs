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

    /// What closing wheels are judged by.
    ClosingCriterion = domain::settings::Criterion {
        BreaksWall Firms BearsWet KeepsMoisture ClosesThroughMat LeavesSeed
    }

    /// Whether a pair of closing wheels is on the planter, hangs in the shed, or is not owned.
    AtHand = domain::settings::AtHand { Fitted Owned NotOwned }

    /// How likely the wall of the slot is to smear.
    WallRisk = domain::settings::WallRisk { Low Some High }

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

    /// What happens to a section as the down force rises.
    FrameStageKind = domain::settings::StageKind { ReserveUsedUp GroundDriveSlips Lifts }

    /// Whether the wheels that drive the seed meters keep their grip: even at the poorest grip
    /// (`grips`), only at a good one (`may_slip`), or not at all (`slips`).
    DriveVerdict = domain::planter::DriveVerdict { Grips MaySlip Slips }

    /// Where the soil-state factor comes from.
    SoilFrom = domain::settings::SoilFrom {
        Penetrometer StrengthClass StrengthFormula MoistureAndTexture
    }

    /// A force on a row unit. `need_…` is the down force that is needed, `load_…` what the gauge
    /// wheels carry at the setting, each at a level of the hopper; `…_empty` stands for seed on the
    /// frame too.
    ForceName = domain::settings::NamedForce {
        UnitWeight Attachments SeedFull Opener Coulter FrameCoulter Cleaner Closing Arms SpeedLoss
        WindowLow Aim Ceiling NeedFull NeedHalf NeedEmpty LoadFull LoadHalf LoadEmpty
    }

    /// A caution by its name, for programs; people read its text.
    CautionCode = domain::settings::Caution {
        BlockAndRelieve SpringsStoreEnergy AirUnderPressure OilUnderPressure WingsAndMarkers
        ResiduesOnParts TreatedSeedLabel InFurrowLabel DiggingBehind ManualWins
    }
}
