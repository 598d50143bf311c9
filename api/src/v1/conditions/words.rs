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
}
