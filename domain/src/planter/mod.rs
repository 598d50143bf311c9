//! The planter as the engine sees it: rows, row unit, down-force source, frame.

mod attachment;
mod calibration;
mod cylinder;
mod depth_lever;
mod down_force;
mod frame;
mod ground_drive;
pub mod inspection;
mod make_up;
mod rows_said;
mod wear;

pub use attachment::{Cleaner, ClosingPair, Coulter, CoulterMount};
pub use calibration::{
    Calibration, CalibrationError, CalibrationPoint, Fit, PointCheck, PressureFor,
};
pub use cylinder::{Cylinder, Side};
pub use depth_lever::{DepthLever, LeverPosition};
pub use down_force::{DownForce, Notch, Setting};
pub use frame::{FrameSection, FrameVerdict, RowOnFrame, SectionLoad, frame_check};
pub use ground_drive::{DriveCheck, DriveVerdict, GroundDrive, drive_check};
pub use make_up::{Arms, Hopper, OpenerDisc, Planter, RowUnit};
pub use rows_said::rows_said;
pub use wear::{DiscVerdict, disc_wear, real_depth};
