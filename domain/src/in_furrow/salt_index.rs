//! Salt indexes, for information: none of them was read in its source.

use crate::provenance::{Coefficient, Coefficients};

/// The salt indexes of the table of coefficients. They rank products; they set no limit here.
pub fn salt_indexes(k: &Coefficients) -> [&Coefficient; 7] {
    [
        &k.salt_index_10_34_0,
        &k.salt_index_tsp,
        &k.salt_index_map,
        &k.salt_index_dap,
        &k.salt_index_urea,
        &k.salt_index_ammonium_nitrate,
        &k.salt_index_kcl,
    ]
}
