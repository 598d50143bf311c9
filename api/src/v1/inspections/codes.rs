//! The codes of the wire.

use domain::planter::inspection;

use crate::v1::mirror::mirror;

mirror! {
    /// An item of the checklist; `GET /v1/inspection-items` says what to look at.
    InspectionItemCode = inspection::ItemCode {
        ToolbarHeight HitchLevel LiftAndWings TyrePressure DriveWheels Wiring DownForceSprings
        DownForceBags DownForceCylinders ArmPlayVertical ArmPlayHorizontal ArmBolts RowCleaner
        CoulterDiameter CoulterHeight CoulterLine OpenerDiameter OpenerContact OpenerLeadingEdge
        OpenerBearings OpenerScrapers GaugeWheelFit GaugeWheelArmPlay DepthStops SeedTube SeedSensor
        Firmer SeedMeter MeterBrushes Vacuum DriveChains ClosingArm ClosingCentring ClosingGap
        ClosingDiameter ClosingSpring
    }

    /// How a part was found: `pass`, still good but to be looked at again soon (`watch`), to be
    /// replaced or mended before the planter goes out (`replace`), or `not_checked`.
    InspectionStatus = inspection::Status { NotChecked Pass Watch Replace }
}

impl InspectionItemCode {
    /// The name on the wire.
    pub fn code(self) -> &'static str {
        inspection::ItemCode::from(self).code()
    }
}
