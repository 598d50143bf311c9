//! Where a request comes from.

use std::future::{Ready, ready};
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr};

use actix_web::dev::Payload;
use actix_web::web::Data;
use actix_web::{FromRequest, HttpRequest};

use crate::app::AppState;
use crate::http::ApiError;

/// The header in which proxies say who asked them, one after the other.
const FORWARDED: &str = "x-forwarded-for";

/// The network that a request comes from: an IPv4 address, or the 64 bits of an IPv6 address that
/// one household has. It is the other end of the connection; only where that is a proxy that the
/// settings name, it is whom the proxy names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Network(pub IpAddr);

impl FromRequest for Network {
    type Error = ApiError;
    type Future = Ready<Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, _payload: &mut Payload) -> Self::Future {
        ready(Ok(Self::of(request)))
    }
}

impl Network {
    /// The network of a request.
    pub fn of(request: &HttpRequest) -> Self {
        let trusted = request
            .app_data::<Data<AppState>>()
            .map_or(&[][..], |app| app.settings.trusted_proxies.as_slice());
        Self(network_of(caller(request, trusted)))
    }
}

/// From the right, the first address that is no trusted proxy: what stands left of it anyone can
/// have written.
fn caller(request: &HttpRequest, trusted: &[IpAddr]) -> IpAddr {
    let peer = request.peer_addr().map_or(Ipv4Addr::UNSPECIFIED.into(), |peer| peer.ip());
    let mut nearest = peer.to_canonical();
    let headers: Vec<&str> =
        request.headers().get_all(FORWARDED).filter_map(|value| value.to_str().ok()).collect();
    for hop in headers.iter().flat_map(|value| value.split(',')).rev() {
        if !trusted.contains(&nearest) {
            break;
        }
        match hop.trim().parse::<IpAddr>() {
            Ok(before) => nearest = before.to_canonical(),
            Err(_) => break,
        }
    }
    nearest
}

fn network_of(address: IpAddr) -> IpAddr {
    match address {
        IpAddr::V4(_) => address,
        IpAddr::V6(address) => {
            let [a, b, c, d, ..] = address.segments();
            Ipv6Addr::new(a, b, c, d, 0, 0, 0, 0).into()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{caller, network_of};
    use actix_web::test::TestRequest;
    use std::net::{IpAddr, SocketAddr};

    fn ip(text: &str) -> IpAddr {
        text.parse().expect("an address")
    }

    fn asked(peer: &str, forwarded: &[&str], trusted: &[&str]) -> IpAddr {
        let mut request = TestRequest::default().peer_addr(SocketAddr::new(ip(peer), 4000));
        for value in forwarded {
            request = request.append_header(("X-Forwarded-For", *value));
        }
        let trusted: Vec<IpAddr> = trusted.iter().map(|text| ip(text)).collect();
        caller(&request.to_http_request(), &trusted)
    }

    #[test]
    fn the_header_counts_only_from_a_trusted_proxy() {
        assert_eq!(asked("192.0.2.1", &["198.51.100.7"], &[]), ip("192.0.2.1"));
        assert_eq!(asked("192.0.2.1", &["198.51.100.7"], &["192.0.2.9"]), ip("192.0.2.1"));
        assert_eq!(asked("192.0.2.1", &["198.51.100.7"], &["192.0.2.1"]), ip("198.51.100.7"));
        assert_eq!(
            asked("::ffff:192.0.2.1", &["198.51.100.7"], &["192.0.2.1"]),
            ip("198.51.100.7")
        );
    }

    #[test]
    fn what_the_caller_wrote_himself_is_not_believed() {
        let trusted = ["192.0.2.1", "192.0.2.2"];
        let hops = ["203.0.113.5, 198.51.100.7", "192.0.2.2"];
        assert_eq!(asked("192.0.2.1", &hops, &trusted), ip("198.51.100.7"));
        assert_eq!(asked("192.0.2.1", &["nonsense"], &trusted), ip("192.0.2.1"));
        assert_eq!(asked("192.0.2.1", &[], &trusted), ip("192.0.2.1"));
    }

    #[test]
    fn one_household_is_one_network() {
        let network = network_of(ip("2001:db8:1:2::1"));
        assert_eq!(network, network_of(ip("2001:db8:1:2:ffff::9")));
        assert_ne!(network, network_of(ip("2001:db8:1:3::1")));
    }
}
