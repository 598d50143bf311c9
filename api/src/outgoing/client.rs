//! The client.

use std::net::IpAddr;
use std::sync::{Arc, OnceLock};
use std::time::Duration;

use reqwest::header::{ACCEPT_ENCODING, HeaderName, HeaderValue};
use reqwest::redirect::Policy;
use reqwest::{Client, ClientBuilder, Response, Url};

use super::addresses::Networks;
use super::answer::{self, OutgoingAnswer};
use super::authorities::Authorities;
use super::error::OutgoingError;
use super::names::{CheckedNames, Names, SystemNames};
use super::redirect;
use super::request::OutgoingRequest;
use crate::http::trace::TraceContext;
use crate::tls;

/// How long a connection may take.
const CONNECT: Duration = Duration::from_secs(10);
/// Connections that are kept open to one address.
const KEPT: usize = 16;
/// How we call ourselves.
const NAME: &str = concat!("dibble/", env!("CARGO_PKG_VERSION"));

/// Sends requests to addresses that users named.
#[derive(Debug)]
pub struct Outgoing {
    names: Arc<dyn Names>,
    networks: Networks,
    authorities: Authorities,
    /// Made when they are first needed; `None` inside when this computer has no certificates.
    safe: OnceLock<Option<Client>>,
    plain: OnceLock<Option<Client>>,
}

impl Outgoing {
    /// With the names as this computer knows them.
    pub fn new(networks: Networks, authorities: Authorities) -> Self {
        Self { authorities, ..Self::with_names(networks, Arc::new(SystemNames)) }
    }

    /// With names that are found otherwise.
    pub fn with_names(networks: Networks, names: Arc<dyn Names>) -> Self {
        let (authorities, safe, plain) = Default::default();
        Self { names, networks, authorities, safe, plain }
    }

    /// Reads an address and checks what can be seen without looking its name up.
    ///
    /// # Errors
    /// When nothing could ever be sent there.
    pub fn address(&self, text: &str) -> Result<Url, OutgoingError> {
        let url = Url::parse(text).map_err(|_bad| {
            OutgoingError::Address("it is not whole, as https://example.org/path")
        })?;
        self.check(&url)?;
        Ok(url)
    }

    /// Checks what can be seen of an address without looking its name up.
    ///
    /// # Errors
    /// When nothing could ever be sent there.
    pub fn check(&self, url: &Url) -> Result<(), OutgoingError> {
        let is_plain = match url.scheme() {
            "https" => false,
            "http" => true,
            _ => return Err(OutgoingError::Address("it must begin with https://")),
        };
        if !url.username().is_empty() || url.password().is_some() {
            return Err(OutgoingError::Address("user and password do not stand in an address"));
        }
        let host = url.host_str().ok_or(OutgoingError::Address("it names no host"))?;
        // Odd spellings of numbers (hexadecimal, octal, in one) are made plain when a URL is read.
        match host.trim_start_matches('[').trim_end_matches(']').parse::<IpAddr>() {
            Ok(address) => self.networks.check(address, is_plain),
            Err(_name) if is_plain && !self.networks.allow_any() => Err(OutgoingError::Plain),
            Err(_name) => Ok(()),
        }
    }

    /// Sends a request. An answer is given whatever its status is.
    ///
    /// # Errors
    /// When there is no whole answer within the bounds of the request.
    pub async fn send(&self, request: OutgoingRequest) -> Result<OutgoingAnswer, OutgoingError> {
        let most = request.timeout;
        let late = |_elapsed| OutgoingError::Late { seconds: most.as_secs().max(1) };
        tokio::time::timeout(most, self.walk(request)).await.map_err(late)?
    }

    /// Goes along the redirects.
    async fn walk(&self, mut request: OutgoingRequest) -> Result<OutgoingAnswer, OutgoingError> {
        let most = request.redirects;
        let mut followed: u8 = 0;
        loop {
            let is_first = followed == 0;
            let elsewhere = |error: OutgoingError| {
                if is_first { error } else { OutgoingError::Redirected(Box::new(error)) }
            };
            let mut response = self.once(&request).await.map_err(elsewhere)?;
            match redirect::target(&response).filter(|_| most > 0) {
                None => return read(&request, &mut response).await,
                Some(_to) if followed >= most => return Err(OutgoingError::Redirects { most }),
                Some(to) => {
                    let status = response.status();
                    to.and_then(|to| redirect::follow(&mut request, status, to))
                        .map_err(|error| OutgoingError::Redirected(Box::new(error)))?;
                    followed = followed.saturating_add(1);
                }
            }
        }
    }

    /// Sends it to one address.
    async fn once(&self, request: &OutgoingRequest) -> Result<Response, OutgoingError> {
        self.check(&request.url)?;
        let client = self.client(&request.url).ok_or(OutgoingError::NoAuthorities)?;
        let mut asked = client
            .request(request.method.clone(), request.url.clone())
            .headers(request.headers.clone());
        if !request.only_beginning {
            asked = asked.header(ACCEPT_ENCODING, HeaderValue::from_static("gzip"));
        }
        for (name, value) in request.trace.iter().flat_map(TraceContext::outgoing) {
            // The server and the client rest on two versions of one library.
            let name = HeaderName::from_bytes(name.as_str().as_bytes());
            if let (Ok(name), Ok(value)) = (name, HeaderValue::from_bytes(value.as_bytes())) {
                asked = asked.header(name, value);
            }
        }
        if let Some(body) = &request.body {
            asked = asked.body(body.clone());
        }
        asked.send().await.map_err(|error| OutgoingError::of(&error))
    }

    fn client(&self, url: &Url) -> Option<&Client> {
        let is_plain = url.scheme() == "http";
        let place = if is_plain { &self.plain } else { &self.safe };
        place.get_or_init(|| self.build(is_plain)).as_ref()
    }

    fn build(&self, is_plain: bool) -> Option<Client> {
        let builder = if is_plain { tls::plain_client() } else { self.safe_client() };
        let (names, networks) = (self.names.clone(), self.networks.clone());
        let built = builder
            .dns_resolver(CheckedNames { names, networks, is_plain })
            .redirect(Policy::none())
            .no_proxy()
            .referer(false)
            .connect_timeout(CONNECT)
            .pool_max_idle_per_host(KEPT)
            .user_agent(NAME)
            .build();
        built.inspect_err(|error| tracing::warn!(%error, is_plain, "no client for HTTP")).ok()
    }

    fn safe_client(&self) -> ClientBuilder {
        tls::use_ring();
        Client::builder().https_only(true).tls_certs_merge(self.authorities.certificates())
    }
}

async fn read(
    request: &OutgoingRequest,
    response: &mut Response,
) -> Result<OutgoingAnswer, OutgoingError> {
    let body = if request.only_beginning {
        answer::beginning(response, request.most_bytes).await?
    } else {
        answer::whole(response, request.most_bytes).await?
    };
    Ok(OutgoingAnswer {
        status: response.status(),
        headers: response.headers().clone(),
        body,
        url: response.url().clone(),
    })
}
