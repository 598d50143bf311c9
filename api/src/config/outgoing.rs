//! Where requests may go that users ask for.

use std::path::PathBuf;

use ipnet::IpNet;

/// Where requests may go that users ask for, beside the public internet.
#[derive(Debug, Clone, Default, clap::Args)]
pub struct OutgoingSettings {
    /// Networks that notices may go to and records may be fetched from although they are private, and to which
    /// plain http goes, split by commas, each as `10.1.0.0/16`; none by default.
    #[arg(long = "outgoing-allow", env = "DIBBLE_OUTGOING_ALLOW", value_delimiter = ',')]
    pub allow: Vec<IpNet>,

    /// File (PEM) with certificates of authorities that are trusted besides those that this computer knows, where
    /// notices go and records are fetched; none when absent.
    #[arg(long = "outgoing-ca", env = "DIBBLE_OUTGOING_CA")]
    pub ca: Option<PathBuf>,
}
