//! A secret in memory.

use std::fmt;

use zeroize::Zeroizing;

/// A secret that was opened. Prints as `***` and is wiped when it is dropped.
#[derive(Clone)]
pub struct Secret(Zeroizing<String>);

impl Secret {
    /// Takes a secret in.
    pub fn new(text: String) -> Self {
        Self(Zeroizing::new(text))
    }

    /// The secret itself, for where it is used only.
    pub fn reveal(&self) -> &str {
        &self.0
    }
}

impl fmt::Debug for Secret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("***")
    }
}

impl fmt::Display for Secret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("***")
    }
}
