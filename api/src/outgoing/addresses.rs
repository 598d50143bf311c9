//! Which addresses may be reached.
//!
//! The table follows the registries of special-purpose addresses (RFC 6890, kept up to date by IANA for
//! IPv4 and IPv6). What carries an IPv4 address inside an IPv6 one is refused whole: who has such an address may as
//! well name the other.

use std::net::{IpAddr, Ipv4Addr, Ipv6Addr};

use ipnet::{IpNet, Ipv4Net, Ipv6Net};

use super::error::OutgoingError;

const fn v4(a: u8, b: u8, c: u8, d: u8, length: u8) -> IpNet {
    IpNet::V4(Ipv4Net::new_assert(Ipv4Addr::new(a, b, c, d), length))
}

const fn v6(head: [u16; 4], fifth: u16, sixth: u16, length: u8) -> IpNet {
    let [a, b, c, d] = head;
    IpNet::V6(Ipv6Net::new_assert(Ipv6Addr::new(a, b, c, d, fifth, sixth, 0, 0), length))
}

/// The networks that are not on the public internet, and what each is.
const REFUSED: &[(IpNet, &str)] = &[
    (v4(0, 0, 0, 0, 8), "this computer itself"),
    (v4(10, 0, 0, 0, 8), "a private network"),
    (v4(100, 64, 0, 0, 10), "an address shared by a provider's customers"),
    (v4(127, 0, 0, 0, 8), "this computer itself"),
    (v4(169, 254, 0, 0, 16), "an address of the local link"),
    (v4(172, 16, 0, 0, 12), "a private network"),
    (v4(192, 0, 0, 0, 24), "an address for protocols"),
    (v4(192, 0, 2, 0, 24), "an address for documentation"),
    (v4(192, 31, 196, 0, 24), "an address for a special service"),
    (v4(192, 52, 193, 0, 24), "an address for a special service"),
    (v4(192, 88, 99, 0, 24), "a relay between IPv4 and IPv6"),
    (v4(192, 168, 0, 0, 16), "a private network"),
    (v4(192, 175, 48, 0, 24), "an address for a special service"),
    (v4(198, 18, 0, 0, 15), "an address for measurements"),
    (v4(198, 51, 100, 0, 24), "an address for documentation"),
    (v4(203, 0, 113, 0, 24), "an address for documentation"),
    (v4(224, 0, 0, 0, 4), "an address of a group"),
    (v4(240, 0, 0, 0, 4), "a reserved address"),
    (v6([0, 0, 0, 0], 0, 0, 96), "this computer itself, or an IPv4 address inside an IPv6 one"),
    (v6([0, 0, 0, 0], 0, 0xffff, 96), "an IPv4 address inside an IPv6 one"),
    (v6([0x64, 0xff9b, 0, 0], 0, 0, 96), "an IPv4 address inside an IPv6 one"),
    (v6([0x64, 0xff9b, 1, 0], 0, 0, 48), "an IPv4 address inside an IPv6 one"),
    (v6([0x2001, 0, 0, 0], 0, 0, 23), "an address for protocols, tunnels among them"),
    (v6([0x2001, 0xdb8, 0, 0], 0, 0, 32), "an address for documentation"),
    (v6([0x2002, 0, 0, 0], 0, 0, 16), "an IPv4 address inside an IPv6 one"),
    (v6([0x2620, 0x4f, 0x8000, 0], 0, 0, 48), "an address for a special service"),
    (v6([0x3fff, 0, 0, 0], 0, 0, 20), "an address for documentation"),
    (v6([0xfc00, 0, 0, 0], 0, 0, 7), "a private network"),
    (v6([0xfe80, 0, 0, 0], 0, 0, 10), "an address of the local link"),
    (v6([0xfec0, 0, 0, 0], 0, 0, 10), "a private network"),
    (v6([0xff00, 0, 0, 0], 0, 0, 8), "an address of a group"),
];

/// All IPv6 addresses that are given out to the public internet so far.
const PUBLIC_V6: IpNet = v6([0x2000, 0, 0, 0], 0, 0, 3);

/// What an address is, if it is not on the public internet.
fn not_public(address: IpAddr) -> Option<&'static str> {
    let named = REFUSED.iter().find(|(network, _)| network.contains(&address)).map(|row| row.1);
    let given_out = address.is_ipv4() || PUBLIC_V6.contains(&address);
    named.or((!given_out).then_some("a reserved address"))
}

/// The rule for addresses: those on the public internet, and those that the operator allows.
#[derive(Debug, Clone, Default)]
pub struct Networks {
    allowed: Vec<IpNet>,
}

impl Networks {
    /// The operator allows these as well.
    pub fn allowing(allowed: &[IpNet]) -> Self {
        Self { allowed: allowed.to_vec() }
    }

    /// Whether an address may be reached; without TLS only what the operator allows.
    ///
    /// # Errors
    /// When it may not.
    pub fn check(&self, address: IpAddr, is_plain: bool) -> Result<(), OutgoingError> {
        if self.allowed.iter().any(|network| network.contains(&address)) {
            return Ok(());
        }
        match not_public(address) {
            Some(what) => Err(OutgoingError::NotPublic { what }),
            None if is_plain => Err(OutgoingError::Plain),
            None => Ok(()),
        }
    }

    /// Whether plain HTTP can go anywhere at all.
    pub(super) fn allow_any(&self) -> bool {
        !self.allowed.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::{Networks, OutgoingError};
    use std::net::IpAddr;

    fn address(text: &str) -> IpAddr {
        text.parse().expect(text)
    }

    /// First and last address of each block of the registries, and of what carries IPv4 inside IPv6.
    #[test]
    fn what_is_not_on_the_public_internet_is_refused() {
        let networks = Networks::default();
        for text in [
            "0.0.0.0",
            "0.255.255.255",
            "10.0.0.0",
            "10.255.255.255",
            "100.64.0.0",
            "100.127.255.255",
            "127.0.0.1",
            "127.255.255.255",
            "169.254.0.0",
            "169.254.169.254",
            "172.16.0.0",
            "172.31.255.255",
            "192.0.0.0",
            "192.0.0.8",
            "192.0.0.170",
            "192.0.2.1",
            "192.31.196.1",
            "192.52.193.1",
            "192.88.99.1",
            "192.168.0.0",
            "192.168.255.255",
            "192.175.48.1",
            "198.18.0.0",
            "198.19.255.255",
            "198.51.100.255",
            "203.0.113.0",
            "224.0.0.1",
            "239.255.255.255",
            "240.0.0.0",
            "255.255.255.255",
            "::",
            "::1",
            "::7f00:1",
            "::ffff:127.0.0.1",
            "::ffff:8.8.8.8",
            "::ffff:0:7f00:1",
            "64:ff9b::7f00:1",
            "64:ff9b:1::1",
            "100::1",
            "100:0:0:1::1",
            "2001::1",
            "2001:0:7f00:1::1",
            "2001:2::1",
            "2001:10::1",
            "2001:20::1",
            "2001:1ff:ffff:ffff:ffff:ffff:ffff:ffff",
            "2001:db8::1",
            "2001:db8:ffff:ffff:ffff:ffff:ffff:ffff",
            "2002:7f00:1::1",
            "2002:808:808::1",
            "2620:4f:8000::1",
            "3fff::1",
            "3fff:fff:ffff:ffff:ffff:ffff:ffff:ffff",
            "4000::1",
            "5f00::1",
            "fc00::1",
            "fdff:ffff:ffff:ffff:ffff:ffff:ffff:ffff",
            "fe80::1",
            "febf:ffff::1",
            "fec0::1",
            "ff02::1",
        ] {
            let refused = networks.check(address(text), false);
            assert!(matches!(refused, Err(OutgoingError::NotPublic { .. })), "{text}: {refused:?}");
        }
    }

    #[test]
    fn neighbours_of_those_blocks_are_reached() {
        let networks = Networks::default();
        for text in [
            "1.0.0.0",
            "8.8.8.8",
            "9.255.255.255",
            "11.0.0.0",
            "100.63.255.255",
            "100.128.0.0",
            "126.255.255.255",
            "128.0.0.0",
            "169.253.255.255",
            "169.255.0.0",
            "172.15.255.255",
            "172.32.0.0",
            "192.0.1.0",
            "192.0.3.0",
            "192.167.255.255",
            "192.169.0.0",
            "198.17.255.255",
            "198.20.0.0",
            "203.0.112.255",
            "203.0.114.0",
            "223.255.255.255",
            "2001:200::1",
            "2001:db7:ffff::1",
            "2001:db9::1",
            "2003::1",
            "2620:4f:8001::1",
            "2a00::1",
            "3fff:1000::1",
        ] {
            networks.check(address(text), false).expect(text);
        }
    }

    #[test]
    fn the_operator_allows_networks_and_plain_http_goes_only_there() {
        let allowed: Vec<_> = ["127.0.0.0/8", "fd00::/8"].map(|it| it.parse().expect(it)).into();
        let networks = Networks::allowing(&allowed);
        for text in ["127.0.0.1", "fd12::1"] {
            networks.check(address(text), true).expect(text);
            networks.check(address(text), false).expect(text);
        }
        for text in ["10.0.0.1", "::ffff:127.0.0.1", "fc12::1", "::1"] {
            let refused = networks.check(address(text), false);
            assert!(matches!(refused, Err(OutgoingError::NotPublic { .. })), "{text}");
        }
        assert!(matches!(networks.check(address("8.8.8.8"), true), Err(OutgoingError::Plain)));
    }
}
