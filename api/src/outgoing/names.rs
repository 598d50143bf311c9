//! From names to addresses, each checked.

use std::fmt::Debug;
use std::io;
use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;

use futures_util::future::BoxFuture;
use reqwest::dns::{Addrs, Name, Resolve, Resolving};

use super::addresses::Networks;
use super::error::OutgoingError;

/// Finds the addresses of a name.
pub trait Names: Debug + Send + Sync {
    /// All addresses of a name.
    fn look_up(&self, name: String) -> BoxFuture<'static, io::Result<Vec<IpAddr>>>;
}

/// As this computer finds them.
#[derive(Debug, Clone, Copy, Default)]
pub struct SystemNames;

impl Names for SystemNames {
    fn look_up(&self, name: String) -> BoxFuture<'static, io::Result<Vec<IpAddr>>> {
        Box::pin(async move {
            let found = tokio::net::lookup_host((name, 0)).await?;
            Ok(found.map(|place| place.ip()).collect())
        })
    }
}

/// The resolver of a client for HTTP: it connects to what this gives, so nothing can change in between.
#[derive(Debug, Clone)]
pub(super) struct CheckedNames {
    pub(super) names: Arc<dyn Names>,
    pub(super) networks: Networks,
    /// Whether the client speaks without TLS.
    pub(super) is_plain: bool,
}

impl Resolve for CheckedNames {
    fn resolve(&self, name: Name) -> Resolving {
        let (looking, checks) = (self.names.look_up(name.as_str().to_owned()), self.clone());
        Box::pin(async move {
            let found = looking.await.map_err(|_unknown| OutgoingError::UnknownName)?;
            if found.is_empty() {
                return Err(OutgoingError::UnknownName.into());
            }
            // One that may not be reached spoils all: such a name is a trap, or a mistake.
            for address in &found {
                checks.networks.check(*address, checks.is_plain)?;
            }
            let places = found.into_iter().map(|address| SocketAddr::new(address, 0));
            let places: Addrs = Box::new(places);
            Ok(places)
        })
    }
}
