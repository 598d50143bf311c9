//! The checklist as one table, front to back.
//!
//! Limits with numbers stand in `published.rs`; here stands what a person looks at.

use super::item::{Action, Item, ItemCode, Measure};
use super::needs::Needs;
use crate::provenance::Mark::{self, CommonPractice, Read};
use crate::provenance::sources as at;
use crate::quantity::bounds;
use crate::settings::Caution;

use Caution::{
    AirUnderPressure, BlockAndRelieve, OilUnderPressure, ResiduesOnParts, SpringsStoreEnergy,
    WingsAndMarkers,
};

/// What most items have in common.
const BASE: Item = Item {
    code: ItemCode::Wiring,
    name: "",
    look: "",
    pass: "",
    watch: "",
    replace: "",
    per_row: true,
    needs: Needs::Nothing,
    measure: None,
    action: Action::Adjust(""),
    mark: CommonPractice,
    source: at::COMMON_PRACTICE,
    cautions: &[BlockAndRelieve],
};

/// A part to buy.
const fn buy(part: &'static str, each: u16) -> Action {
    Action::Buy { part, each }
}

/// A known item: mark and source.
const fn from(mark: Mark, source: &'static str) -> Item {
    Item { mark, source, ..BASE }
}

/// Every item, front to back.
pub const ITEMS: &[Item] = &[
    Item {
        code: ItemCode::ToolbarHeight,
        name: "Height of the toolbar",
        look: "Planter lowered on level ground, all adjustable down force at nothing: measure from the bottom of the main tube to the ground.",
        pass: "20 to 22 in, arms level or nearly so",
        watch: "outside of that: the pull of the row lifts or presses the units",
        replace: "it can't be brought into that range",
        per_row: false,
        measure: Some(Measure::Set(bounds::TOOLBAR_HEIGHT)),
        action: Action::Adjust("set the hitch or the wheels until the bar runs at its height"),
        ..from(Read, at::PENNSYLVANIA_ALLIANCE)
    },
    Item {
        code: ItemCode::HitchLevel,
        name: "Level of the bar, and hitch",
        look: "Look along the planter from the side: the bar level or running slightly uphill to the front; hitch pin and bushing tight.",
        pass: "level to slightly uphill, no slack at the pin",
        watch: "slack at the pin",
        replace: "nose down, or the pin worn through",
        per_row: false,
        action: Action::Adjust("raise the hitch; renew pin and bushing where they are worn"),
        ..from(Read, at::COLORADO_TEN)
    },
    Item {
        code: ItemCode::LiftAndWings,
        name: "Lift, wings and their level",
        look: "Lower the planter: both wings come down together and stand level with the centre; locks and pins in their place; cylinders dry.",
        pass: "level across, nothing leaks",
        watch: "a wing hangs back a little, a cylinder sweats",
        replace: "a wing stands high or low, a cylinder leaks, a lock is missing",
        per_row: false,
        action: Action::Service("see to lift and wings"),
        cautions: &[BlockAndRelieve, WingsAndMarkers, OilUnderPressure],
        ..BASE
    },
    Item {
        code: ItemCode::TyrePressure,
        name: "Tyres of the planter",
        look: "Pressure of every tyre, cold, against the manual; cracks and studs in the tread.",
        pass: "all at the pressure of the manual",
        watch: "cracks, or pressures that differ",
        replace: "a tyre that loses air, or is cut to the cords",
        per_row: false,
        action: Action::Service("see to the tyres"),
        ..BASE
    },
    Item {
        code: ItemCode::DriveWheels,
        name: "Wheels that drive the meters",
        look: "Grip of the tread, pressure, and play of clutch and shaft.",
        pass: "good tread, no play",
        watch: "worn tread: they slip where the ground is slick",
        replace: "a clutch that slips, a shaft with play",
        per_row: false,
        needs: Needs::GroundDrive,
        action: Action::Service("see to the drive of the meters"),
        ..BASE
    },
    Item {
        code: ItemCode::Wiring,
        name: "Wiring, plugs and speed sensor",
        look: "Follow every harness by hand: chafed, bitten, corroded. Turn the wheel or shaft of the speed sensor and watch the display.",
        pass: "whole and dry, speed is shown",
        watch: "chafed, but whole",
        replace: "bare wire, green plug, no speed",
        per_row: false,
        action: Action::Service("mend the wiring"),
        ..BASE
    },
    Item {
        code: ItemCode::DownForceSprings,
        name: "Down-force springs",
        look: "The same notch on every row; springs unbroken and of the same length; the pull of one against its neighbour.",
        pass: "all alike",
        watch: "one softer than its neighbours",
        replace: "broken, or stretched",
        needs: Needs::Springs,
        action: buy("down-force spring", 2),
        cautions: &[BlockAndRelieve, SpringsStoreEnergy],
        ..BASE
    },
    Item {
        code: ItemCode::DownForceBags,
        name: "Air bags and their hoses",
        look: "Fill to the usual pressure, shut off, look again after half an hour; soapy water on bags, plugs and hoses.",
        pass: "the pressure holds, no bubbles",
        watch: "it falls slowly",
        replace: "a bag is cracked or leaks",
        needs: Needs::AirBags,
        action: buy("air bag", 1),
        cautions: &[BlockAndRelieve, AirUnderPressure],
        ..BASE
    },
    Item {
        code: ItemCode::DownForceCylinders,
        name: "Down-force cylinders and hoses",
        look: "Seals and hoses dry; hose not rubbing; the unit comes down alike on every row.",
        pass: "dry, all alike",
        watch: "sweating seals, a hose that rubs",
        replace: "a leak, or a row that lags",
        needs: Needs::Cylinders,
        action: buy("seal set for the down-force cylinder", 1),
        cautions: &[BlockAndRelieve, OilUnderPressure],
        ..BASE
    },
    Item {
        code: ItemCode::ArmPlayVertical,
        name: "Play of the parallel arms, up and down",
        look: "Unit hanging: lift the back of the unit by hand, then let go; measure how far it moves before the arms move.",
        pass: "well under 2 in",
        watch: "it is easy to lift by hand",
        replace: "2 in or more at the back of the unit",
        measure: Some(Measure::Wear(bounds::ARM_PLAY)),
        action: buy("set of bushings and bolts for the parallel arms", 1),
        cautions: &[BlockAndRelieve, SpringsStoreEnergy],
        ..from(Read, at::IOWA_CHECKLIST)
    },
    Item {
        code: ItemCode::ArmPlayHorizontal,
        name: "Play of the parallel arms, sideways",
        look: "Push the back of the unit to the left, then to the right; measure how far it goes.",
        pass: "well under 1 in",
        watch: "it is easy to move by hand",
        replace: "1 in or more at the back of the unit",
        measure: Some(Measure::Wear(bounds::ARM_PLAY)),
        action: buy("set of bushings and bolts for the parallel arms", 1),
        cautions: &[BlockAndRelieve, SpringsStoreEnergy],
        ..from(Read, at::IOWA_CHECKLIST)
    },
    Item {
        code: ItemCode::ArmBolts,
        name: "Bolts and holes of the parallel arms",
        look: "All bolts tight. Take the load off one arm and look whether its holes are still round.",
        pass: "tight, round holes",
        watch: "bolts that had to be tightened",
        replace: "egg-shaped holes: new bushings do not help any more",
        action: buy("pair of parallel arms (or ream the holes for oversize bushings)", 1),
        cautions: &[BlockAndRelieve, SpringsStoreEnergy],
        ..BASE
    },
    Item {
        code: ItemCode::RowCleaner,
        name: "Row cleaner",
        look: "Spin the wheels, move the float by hand, look at the points; with the openers on a plank the cleaner must hang above the surface.",
        pass: "floats free, wheels turn, above the surface",
        watch: "points worn short",
        replace: "bearing rough, float seized, or a wheel bent",
        needs: Needs::RowCleaner,
        action: buy("row-cleaner wheel with bearing", 2),
        cautions: &[BlockAndRelieve, ResiduesOnParts],
        ..BASE
    },
    Item {
        code: ItemCode::CoulterDiameter,
        name: "Diameter of the coulter",
        look: "Tape across the middle of the blade, from edge to edge; twice, a quarter turn apart.",
        pass: "above the limit of the manual",
        watch: "near it",
        replace: "at or below the limit of the manual; no limit is published for all coulters",
        needs: Needs::Coulter,
        measure: Some(Measure::Wear(bounds::DISC_DIAMETER)),
        action: buy("coulter blade", 1),
        cautions: &[BlockAndRelieve, ResiduesOnParts],
        ..BASE
    },
    Item {
        code: ItemCode::CoulterHeight,
        name: "Coulter against opener",
        look: "Lower the openers onto a plank: the coulter must still spin. Measure how much higher its edge runs.",
        pass: "1/4 to 3/8 in higher than the opener",
        watch: "outside of that: it runs too deep, or does not cut",
        replace: "it can't be brought there: worn too small",
        needs: Needs::Coulter,
        measure: Some(Measure::Set(bounds::COULTER_ABOVE_OPENER)),
        action: Action::Adjust("move the coulter by its holes"),
        ..BASE
    },
    Item {
        code: ItemCode::CoulterLine,
        name: "Line and bearing of the coulter",
        look: "A cord from the coulter over the opener to the middle between the closing wheels; shake the blade for play.",
        pass: "on one line, no play",
        watch: "a little off: shim it",
        replace: "bearing rough or loose",
        needs: Needs::Coulter,
        action: buy("coulter hub with bearing", 1),
        ..from(Read, at::PENN_CHECKLIST)
    },
    Item {
        code: ItemCode::OpenerDiameter,
        name: "Diameter of the opener discs",
        look: "Tape across the middle of each disc, from edge to edge; write down the smaller of the two.",
        pass: "well above the limit",
        watch: "the last quarter of the wear it may have",
        replace: "at or below the limit of the manual; half an inch below new where nobody knows it",
        measure: Some(Measure::Wear(bounds::DISC_DIAMETER)),
        action: buy("opener disc with bearing", 2),
        cautions: &[BlockAndRelieve, ResiduesOnParts],
        ..from(Read, at::IOWA_CHECKLIST)
    },
    Item {
        code: ItemCode::OpenerContact,
        name: "Contact length of the opener discs",
        look: "Slide a card between the discs from the front and one from behind until they stop; measure between the cards.",
        pass: "as the thickness of the blade asks: thin blades touch along more",
        watch: "between what the sources ask",
        replace: "shorter, or none: the bottom of the furrow becomes a W",
        measure: Some(Measure::Wear(bounds::CONTACT_LENGTH)),
        action: Action::Adjust(
            "move shims from the inside of the discs to the outside; new discs where none are left",
        ),
        cautions: &[BlockAndRelieve, ResiduesOnParts],
        ..from(Read, at::IOWA_CHECKLIST)
    },
    Item {
        code: ItemCode::OpenerLeadingEdge,
        name: "Discs of which one leads",
        look: "Only where one disc stands ahead of the other: the edge of the rear one tucked in behind, just touching. Measure how far it touches.",
        pass: "under 1/8 in of contact, and touching",
        watch: "more than that: the discs grind on each other",
        replace: "no contact can be had any more",
        measure: Some(Measure::Set(bounds::CONTACT_LENGTH)),
        action: Action::Adjust("shim the rear disc until it just touches"),
        cautions: &[BlockAndRelieve, ResiduesOnParts],
        ..from(Read, at::IOWA_CHECKLIST)
    },
    Item {
        code: ItemCode::OpenerBearings,
        name: "Bearings of the opener discs",
        look: "Spin each disc and listen; rock it at the edge.",
        pass: "quiet, no play",
        watch: "a dry sound",
        replace: "rough, or loose",
        action: buy("bearing of the opener disc", 2),
        cautions: &[BlockAndRelieve, ResiduesOnParts],
        ..BASE
    },
    Item {
        code: ItemCode::OpenerScrapers,
        name: "Scrapers of the opener discs",
        look: "They lie against the disc along their edge, inside and outside.",
        pass: "lying against the disc",
        watch: "worn round",
        replace: "broken, missing, or no longer reaching the disc",
        action: buy("pair of disc scrapers", 1),
        ..BASE
    },
    Item {
        code: ItemCode::GaugeWheelFit,
        name: "Gauge wheels against the discs",
        look: "Turn the wheel at the depth that is planted: its lip must brush the disc all the way round and still turn by hand.",
        pass: "brushing, turning",
        watch: "a gap: take out a washer",
        replace: "no washers left, or a tyre torn: soil and straw fall into the furrow",
        action: buy("gauge wheel, or its arm where shims no longer do it", 2),
        ..from(Read, at::PENN_CHECKLIST)
    },
    Item {
        code: ItemCode::GaugeWheelArmPlay,
        name: "Play of the gauge-wheel arms",
        look: "Rock the wheel in and out at its rim and measure how far the arm gives.",
        pass: "hardly any",
        watch: "more than three sixteenths of an inch",
        replace: "more than 1/4 in",
        measure: Some(Measure::Wear(bounds::ARM_PLAY)),
        action: buy("gauge-wheel arm with bushing", 2),
        ..BASE
    },
    Item {
        code: ItemCode::DepthStops,
        name: "Depth stops",
        look: "The same setting on every row; with the planter on a level floor and blocks of one height under all gauge wheels, every opener must just touch.",
        pass: "all rows alike",
        watch: "a row off by an eighth of an inch",
        replace: "a stop that is bent, worn, or slips",
        action: buy("depth stop with its pin", 1),
        ..BASE
    },
    Item {
        code: ItemCode::SeedTube,
        name: "Seed tube and guard",
        look: "Take the tube out: lower end, hook, inside; width of the guard between the discs against the manual.",
        pass: "smooth, straight, hook there, guard wide enough",
        watch: "lower end roughened",
        replace: "end worn, curled or frayed; hook gone; guard below its width",
        action: buy("seed tube with guard", 1),
        cautions: &[BlockAndRelieve, ResiduesOnParts],
        ..from(Read, at::PENN_CHECKLIST)
    },
    Item {
        code: ItemCode::SeedSensor,
        name: "Seed sensor",
        look: "Wipe it clean, drop a seed through, watch the display.",
        pass: "every seed is counted",
        watch: "counts only after wiping",
        replace: "it counts no seed",
        action: buy("seed sensor", 1),
        ..BASE
    },
    Item {
        code: ItemCode::Firmer,
        name: "Seed firmer",
        look: "It presses on the bottom of the furrow: end worn flat or thin, spring tired. Where none is fitted, pass it by.",
        pass: "pressing, rounded",
        watch: "flat at the end",
        replace: "worn through, or without spring",
        action: buy("seed firmer", 1),
        ..BASE
    },
    Item {
        code: ItemCode::SeedMeter,
        name: "Seed meters on a test stand",
        look: "When were they last on a stand, and how many acres ago? Write down the acres.",
        pass: "tested this year and less than 300 acres ago",
        watch: "300 acres or more since the test",
        replace: "more than a year or 400 acres since the test, or a row that skips",
        measure: Some(Measure::Since(bounds::PLANTED_AREA)),
        action: Action::Service("have the meter tested on a stand"),
        cautions: &[Caution::TreatedSeedLabel, ResiduesOnParts],
        ..from(Read, at::PENN_READY)
    },
    Item {
        code: ItemCode::MeterBrushes,
        name: "Belts, brushes and seals of the meters",
        look: "Open the meters: brushes bent, belts cracked, seals hard. When were they renewed?",
        pass: "soft and whole, renewed within three years",
        watch: "three to four years old",
        replace: "bent, cracked, or older than four years",
        action: buy("set of belts, brushes and seals for the meter", 1),
        cautions: &[Caution::TreatedSeedLabel, ResiduesOnParts],
        ..BASE
    },
    Item {
        code: ItemCode::Vacuum,
        name: "Vacuum and its hoses",
        look: "Run the fan: the same reading on every row; hand over hoses, seals and seed discs. Where there is none, pass it by.",
        pass: "even, at the value for the seed",
        watch: "one row lower",
        replace: "torn hose, warped seed disc, fan that does not reach it",
        action: Action::Service("see to hoses, seals and seed discs of the vacuum"),
        cautions: &[BlockAndRelieve, OilUnderPressure],
        ..from(Read, at::PENN_READY)
    },
    Item {
        code: ItemCode::DriveChains,
        name: "Chains, cables and shafts of the meters",
        look: "Turn the drive by hand through a whole turn: snug, oiled, no kinks; nothing jumps or shakes.",
        pass: "running quietly",
        watch: "dry or slack",
        replace: "kinked links, hooked teeth, a bearing that shakes",
        action: buy("drive chain (or cable) with its sprocket", 1),
        ..from(Read, at::COLORADO_TEN)
    },
    Item {
        code: ItemCode::ClosingArm,
        name: "Pivot of the closing arm",
        look: "Grip the tail and twist it, then push it sideways; look at the hole of the pivot.",
        pass: "tracking, no play",
        watch: "a little play",
        replace: "oblong hole: the wheels will not track",
        action: buy("closing arm, or its bushings", 1),
        ..from(Read, at::PENN_WEAR)
    },
    Item {
        code: ItemCode::ClosingCentring,
        name: "Closing wheels over the furrow",
        look: "Lower onto the shop floor and roll forward slowly: the openers draw a line, and the wheels must straddle it.",
        pass: "the line lies in the middle",
        watch: "off by a quarter of an inch",
        replace: "it can't be brought into the middle",
        action: Action::Adjust("move the tail by its side bolts"),
        ..from(Read, at::NEBRASKA_CLOSING)
    },
    Item {
        code: ItemCode::ClosingGap,
        name: "Gap between the closing wheels",
        look: "Measure between the two wheels at the bottom.",
        pass: "1.5 to 2 in",
        watch: "outside of that",
        replace: "it can't be brought there, or a tyre is torn",
        needs: Needs::SmoothClosing,
        measure: Some(Measure::Set(bounds::CLOSING_GAP)),
        action: Action::Adjust("set the spacers of the closing wheels"),
        ..from(Read, at::PENN_CHECKLIST)
    },
    Item {
        code: ItemCode::ClosingDiameter,
        name: "Diameter of spiked or finger wheels",
        look: "Tape over the points, from tip to tip. Worn points lower the tail, slope it back, and close worse.",
        pass: "above the limit of the manual",
        watch: "near it",
        replace: "at or below the limit of the manual; no limit is published for all wheels",
        needs: Needs::SpikedClosing,
        measure: Some(Measure::Wear(bounds::CLOSING_WHEEL_DIAMETER)),
        action: Action::BuySpikedWheels,
        ..from(Read, at::NEBRASKA_CLOSING)
    },
    Item {
        code: ItemCode::ClosingSpring,
        name: "Springs of the closing wheels",
        look: "The same notch on every row; springs unbroken; never more than the manual allows: too much lifts the unit.",
        pass: "all alike, light",
        watch: "rows that differ",
        replace: "broken, or without pull",
        action: buy("closing-wheel spring", 1),
        cautions: &[BlockAndRelieve, SpringsStoreEnergy],
        ..from(Read, at::PENN_CLOSING)
    },
];
