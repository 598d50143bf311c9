//! The words of a conditions report on the wire.

use crate::v1::mirror::mirror;

mirror! {
    /// The crop to be planted.
    Crop = domain::conditions::Crop { Corn Soybean }

    /// Moisture at seed depth, by feel, as a class of the water a soil can hold for plants: `dry` 0
    /// to 25 %, `slightly_moist` 25 to 50 %, `moist` 50 to 75 %, `wet` 75 to 100 %, `at_capacity`
    /// field capacity and above.
    Moisture = domain::conditions::Moisture { Dry SlightlyMoist Moist Wet AtCapacity }

    /// Soil from seed depth, pressed to a ball: it `crumbles`, it `cracks` when pressed, or it
    /// `deforms` like putty.
    BallTest = domain::conditions::BallTest { Crumbles Cracks Deforms }

    /// A ball of soil from the top 2 to 3 in, thrown up: it `breaks_up` in the air, or it
    /// `lands_whole`.
    TossTest = domain::conditions::TossTest { BreaksUp LandsWhole }

    /// The cover crop. The two mixes are named by what leads them.
    CoverSpecies = domain::conditions::CoverSpecies {
        CerealRye Wheat Triticale Oat Barley CrimsonClover HairyVetch GrassMix LegumeMix
    }

    /// The state of the cover crop on the day of planting: alive and upright, alive and rolled down,
    /// sprayed and yellowing, dead and damp, dead and crisp.
    CoverState = domain::conditions::CoverState { GreenStanding GreenRolled Dying DeadDamp DeadCrisp }

    /// The crop whose residue lies on the field. `wheat` stands for small grains, `other` for crops
    /// that leave little.
    PreviousCrop = domain::conditions::PreviousCrop { Corn Soybean Wheat Other }

    /// How residue breaks when bent at the hour of planting: it snaps (`crisp`), bends (`pliable`),
    /// or carries beads of water (`wet`).
    ResidueFeel = domain::conditions::ResidueFeel { Crisp Pliable Wet }

    /// How far a cover crop has grown: leaves and tillers only (`tillering`), stems growing
    /// (`jointing`), flag leaf, boot or buds (`boot`), heads out (`heading`), in flower
    /// (`flowering`), seeds filling (`milk`).
    CoverStage = domain::conditions::CoverStage {
        Tillering Jointing Boot Heading Flowering Milk
    }

    /// Which way the cover crop was rolled: `parallel` to the rows to be planted, or `across` or at an
    /// angle to them.
    RollDirection = domain::conditions::RollDirection { Parallel Across }

    /// How residue lies: alike everywhere, in bands behind the combine, or in piles.
    ResidueSpread = domain::conditions::ResidueSpread { Even Banded Piles }

    /// Where the new rows run, seen from the old ones: on the old row, about 5 in beside it, midway
    /// between old rows, or across.
    RowPosition = domain::conditions::RowPosition { OnOldRow BesideOldRow BetweenOldRows Across }

    /// Strength of the soil by cone penetrometer: `loose` below 100 psi, `good` to 200, `firm` to
    /// 300, `hard` above.
    StrengthClass = domain::conditions::StrengthClass { Loose Good Firm Hard }

    /// A zone of the guidelines for ending cover crops, from `one`, the driest, to `four`, the most
    /// humid.
    TerminationZone = domain::conditions::TerminationZone { One Two Three Four }

    /// How soil that was wetted to putty feels: sand scratches (`gritty`), like flour (`smooth`), or
    /// `neither`.
    TextureFeel = domain::conditions::TextureFeel { Gritty Smooth Neither }

    /// Which readings cannot all be true, by name; people read its sentence.
    ContradictionCode = domain::conditions::Clash {
        SandYetRibbon WaterAgainstFeel WetYetCrumbles DryYetPutty DryYetRibbon RibbonYetCrumbles
        WholeYetCrumbles PuttyYetHard StrengthApart LowAboveNow OutsideWithoutCover FlatYetCovered
        TallYetBare CrispYetWet GreenAfterEnd CrispTooSoon DeadBeforeEnd StageAheadOfHeight
        StageBehindHeight ClipAgainstHeight YieldWithoutResidue
    }

    /// A pest of young corn and soybean after a cover crop.
    Pest = domain::conditions::Pest { Armyworm Cutworm Slugs }

    /// Where a count of a pest stands: `below` every threshold, high enough to `look_again` soon, or
    /// at a published threshold for acting (`act`).
    PestLevel = domain::conditions::PestLevel { Below LookAgain Act }

    /// How likely pests are to move from the cover to the crop.
    BridgeRisk = domain::conditions::BridgeRisk { Low Some High }

    /// Whether a cover ties up nitrogen: neither likely figures nor high ends pass the limits
    /// (`unlikely`), the high ends do (`possible`), the likely figures do (`likely`).
    TieUp = domain::conditions::TieUp { Unlikely Possible Likely }

    /// How the end of a cover compares with the guideline: by the last day (`in_time`), after it
    /// (`late`), or `not_known`.
    TerminationVerdict = domain::conditions::TerminationVerdict { InTime Late NotKnown }
}
