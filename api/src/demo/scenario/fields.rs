//! The forty fields, what grows there, and how far the season got with each.

use domain::conditions::{CoverSpecies, CoverState, Crop, PreviousCrop, TextureClass};

/// A field in the season.
#[derive(Debug, Clone, Copy)]
pub(in crate::demo) struct FieldPlan {
    /// Place of the grower in the list of growers.
    pub grower: usize,
    /// Place of the farm among those of the grower.
    pub farm: usize,
    /// Name.
    pub name: &'static str,
    /// Size, ac.
    pub acres: f64,
    /// Texture of the topsoil.
    pub texture: TextureClass,
    /// Crop to be planted.
    pub crop: Crop,
    /// What stood there before, and its yield in bu/ac.
    pub previous: (PreviousCrop, f64),
    /// Cover crop and its state on the day of planting.
    pub cover: Option<(CoverSpecies, CoverState)>,
    /// Place of the planter in the list of planters.
    pub planter: usize,
    /// Month and day of planting.
    pub planted: (u32, u32),
    /// How far the season got with it.
    pub fate: Fate,
}

/// How far the season got with a field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::demo) enum Fate {
    /// A recommendation lies in the drawer.
    Draft,
    /// Issued; nobody has looked yet.
    Unseen,
    /// Seen and planted; nobody dug.
    NoDig,
    /// Dug once; the proposal waits for the advisor.
    Open,
    /// Dug once; the advisor declined the proposal.
    Declined,
    /// Dug and adjusted until it was right, or until the field was done.
    Worked,
    /// Rain came between sheet and planting; reported and worked out anew, then worked.
    Rained,
}

impl FieldPlan {
    /// Whether the cover is alive on the day of planting.
    pub(in crate::demo) fn green(&self) -> bool {
        self.cover.is_some_and(|(_, state)| state.is_green())
    }
}

macro_rules! cover {
    (bare) => {
        None
    };
    ($species:ident $state:ident) => {
        Some((CoverSpecies::$species, CoverState::$state))
    };
}

macro_rules! fields {
    ($($grower:literal $farm:literal $name:literal $acres:literal $texture:ident,
       $crop:ident after $previous:ident $yield:literal, [$($cover:ident)*],
       planter $planter:literal on $month:literal / $day:literal, $fate:ident;)*) => {
        /// Every field.
        pub(in crate::demo) const FIELDS: [FieldPlan; 40] = [$(FieldPlan {
            grower: $grower,
            farm: $farm,
            name: $name,
            acres: $acres,
            texture: TextureClass::$texture,
            crop: Crop::$crop,
            previous: (PreviousCrop::$previous, $yield),
            cover: cover!($($cover)*),
            planter: $planter,
            planted: ($month, $day),
            fate: Fate::$fate,
        }),*];
    };
}

fields! {
    0 0 "Home eighty"      78.0 SiltLoam,      Corn after Corn 205.0,       [CerealRye GreenStanding],  planter 0 on 4/30, Worked;
    0 0 "Lane forty"       38.5 SiltLoam,      Corn after Soybean 58.0,     [CerealRye Dying],          planter 0 on 5/1,  Worked;
    0 1 "Creek bottom"     52.0 SiltyClayLoam, Soybean after Corn 198.0,    [CerealRye GreenRolled],    planter 0 on 5/13, Rained;
    0 1 "Creek bench"      64.0 Loam,          Soybean after Corn 210.0,    [CerealRye GreenStanding],  planter 0 on 5/20, NoDig;
    1 0 "West quarter"    151.0 SiltLoam,      Corn after Soybean 61.0,     [CerealRye GreenRolled],    planter 1 on 5/2,  Worked;
    1 0 "East quarter"    149.0 Loam,          Soybean after Corn 215.0,    [CerealRye GreenRolled],    planter 1 on 5/21, Worked;
    1 0 "Orchard piece"    46.0 ClayLoam,      Corn after Wheat 72.0,       [LegumeMix Dying],          planter 1 on 5/4,  Open;
    2 0 "North one"       154.0 SiltyClayLoam, Corn after Corn 220.0,       [bare],                     planter 2 on 4/20, Worked;
    2 0 "North two"       153.0 SiltLoam,      Corn after Soybean 60.0,     [bare],                     planter 2 on 4/21, Worked;
    2 0 "North three"     120.0 SiltLoam,      Corn after Corn 212.0,       [CerealRye DeadDamp],       planter 2 on 5/3,  Worked;
    2 1 "Depot long"      138.0 Loam,          Soybean after Corn 207.0,    [bare],                     planter 13 on 5/12, Declined;
    2 1 "Depot short"      71.0 ClayLoam,      Corn after Soybean 55.0,     [bare],                     planter 13 on 5/14, Worked;
    3 0 "Ridge top"        40.0 Loam,          Corn after Soybean 52.0,     [bare],                     planter 3 on 4/29, Worked;
    3 0 "Ridge side"       36.0 ClayLoam,      Corn after Wheat 68.0,       [HairyVetch GreenStanding], planter 3 on 5/15, NoDig;
    3 0 "Ridge foot"       44.0 SiltyClayLoam, Soybean after Corn 176.0,    [bare],                     planter 3 on 5/22, Unseen;
    4 0 "Fennwick south"   90.0 SiltLoam,      Corn after Soybean 57.0,     [bare],                     planter 4 on 4/22, Worked;
    4 0 "Fennwick north"   88.0 SiltLoam,      Soybean after Corn 201.0,    [Oat DeadCrisp],            planter 4 on 5/5,  NoDig;
    4 0 "Fennwick gully"   35.0 Loam,          Soybean after Corn 190.0,    [CerealRye Dying],          planter 4 on 6/2,  Draft;
    5 0 "Upper bottom"    110.0 SiltyClay,     Corn after Soybean 54.0,     [bare],                     planter 5 on 5/2,  Open;
    5 0 "Lower bottom"     96.0 Clay,          Soybean after Corn 188.0,    [bare],                     planter 5 on 5/12, Rained;
    5 0 "River strip"      42.0 SiltyClayLoam, Soybean after Corn 182.0,    [CerealRye GreenStanding],  planter 5 on 5/25, Worked;
    6 0 "Sable one"       118.0 SiltLoam,      Soybean after Corn 214.0,    [bare],                     planter 6 on 5/4,  Worked;
    6 0 "Sable two"       122.0 SiltLoam,      Soybean after Corn 209.0,    [CerealRye GreenStanding],  planter 6 on 5/22, Worked;
    6 1 "West corn"       101.0 Loam,          Corn after Soybean 62.0,     [CerealRye Dying],          planter 7 on 4/28, Worked;
    6 1 "West beans"       94.0 Loam,          Soybean after Corn 211.0,    [CerealRye DeadCrisp],      planter 6 on 5/27, Unseen;
    7 0 "Haldane east"    152.0 SiltLoam,      Corn after Soybean 63.0,     [bare],                     planter 8 on 4/19, Worked;
    7 0 "Haldane middle"  150.0 SiltLoam,      Corn after Corn 225.0,       [CerealRye GreenStanding],  planter 8 on 5/1,  Declined;
    7 0 "Haldane west"    148.0 SandyLoam,     Soybean after Corn 204.0,    [bare],                     planter 8 on 5/11, Rained;
    7 0 "Haldane corner"   60.0 Loam,          Soybean after Corn 199.0,    [Triticale GreenRolled],    planter 8 on 5/30, NoDig;
    8 0 "Pruett garden"    36.0 Loam,          Corn after Soybean 49.0,     [bare],                     planter 9 on 5/3,  Worked;
    8 0 "Pruett hill"      41.0 SandyLoam,     Corn after Wheat 66.0,       [CrimsonClover Dying],      planter 9 on 5/20, Worked;
    9 0 "Knoll"            58.0 LoamySand,     Soybean after Corn 168.0,    [CerealRye DeadCrisp],      planter 10 on 5/5, Worked;
    9 0 "Hollow"           66.0 SandyLoam,     Soybean after Corn 174.0,    [bare],                     planter 10 on 5/20, Worked;
    9 0 "Back side"        47.0 LoamySand,     Soybean after Corn 171.0,    [CerealRye GreenStanding],  planter 10 on 6/3, Draft;
    10 0 "Elm one"         82.0 SiltLoam,      Corn after Soybean 59.0,     [bare],                     planter 11 on 4/30, Worked;
    10 0 "Elm two"         79.0 SiltyClayLoam, Corn after Corn 203.0,       [CerealRye GreenStanding],  planter 11 on 5/14, Rained;
    10 0 "Elm three"       77.0 SiltLoam,      Soybean after Corn 206.0,    [bare],                     planter 11 on 5/24, Open;
    11 0 "Norcross front"  93.0 ClayLoam,      Corn after Soybean 56.0,     [bare],                     planter 12 on 5/1,  Worked;
    11 0 "Norcross back"   89.0 SiltLoam,      Soybean after Corn 200.0,    [CerealRye Dying],          planter 12 on 5/19, Worked;
    11 0 "Norcross strip"  37.0 Loam,          Soybean after Wheat 70.0,    [GrassMix GreenRolled],     planter 12 on 6/4, Draft;
}
