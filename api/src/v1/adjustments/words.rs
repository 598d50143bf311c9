//! The words of an adjustment on the wire.

use crate::v1::mirror::mirror;

mirror! {
    /// Where an adjustment stands: `proposed` by a dig, then `accepted` or `declined` for good.
    AdjustmentStatus = crate::entities::adjustments::Status { Proposed Accepted Declined }
}
