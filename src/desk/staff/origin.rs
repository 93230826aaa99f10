//! Where a request comes from: the other end of its connection, or, behind proxies that the configuration trusts, what the
//! nearest of them says. Anybody can write the header; only what a trusted proxy added to it counts.

use std::net::{IpAddr, Ipv6Addr};

use axum::http::HeaderMap;

use crate::config::Network;

/// The other end of a request's connection.
#[derive(Debug, Clone, Copy)]
pub struct Peer(pub IpAddr);

/// From where a request comes, as far as one household or office goes: an IPv4 address, or the first half of an IPv6 one,
/// of which whoever has it has all the rest (RFC 6177).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Origin(pub IpAddr);

impl std::fmt::Display for Origin {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.0 {
            IpAddr::V4(address) => write!(f, "{address}"),
            IpAddr::V6(address) => write!(f, "{address}/64"),
        }
    }
}

impl Origin {
    /// Of a request by its connection and its headers.
    pub fn of_request(peer: Option<Peer>, headers: &HeaderMap, trusted: &[Network]) -> Self {
        // Every connection has another end; without one it is counted with all of its kind.
        let peer = peer.map_or(IpAddr::V4([0, 0, 0, 0].into()), |peer| peer.0);
        Self::of(sender(peer, headers, trusted))
    }

    fn of(address: IpAddr) -> Self {
        Self(match address.to_canonical() {
            IpAddr::V6(address) => {
                let [a, b, c, d, ..] = address.segments();
                Ipv6Addr::new(a, b, c, d, 0, 0, 0, 0).into()
            }
            address => address,
        })
    }
}

/// The nearest address that is no trusted proxy, from the connection outwards; each proxy appends whom it heard.
fn sender(peer: IpAddr, headers: &HeaderMap, trusted: &[Network]) -> IpAddr {
    let is_trusted = |address: &IpAddr| trusted.iter().any(|network| network.holds(*address));
    let told = headers.get_all("x-forwarded-for").iter().filter_map(|value| value.to_str().ok());
    let mut told: Vec<&str> = told.flat_map(|value| value.split(',')).map(str::trim).collect();
    let mut nearest = peer.to_canonical();
    while is_trusted(&nearest) {
        let Some(next) = told.pop().and_then(|text| text.parse::<IpAddr>().ok()) else { break };
        nearest = next.to_canonical();
    }
    nearest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_trusted_proxies_added_counts() {
        let trusted: Vec<Network> = ["127.0.0.1", "10.0.0.0/8"].map(|text| text.parse().unwrap()).into();
        let from = |peer: &str, told: &str| {
            let mut headers = HeaderMap::new();
            headers.insert("x-forwarded-for", told.parse().unwrap());
            sender(peer.parse().unwrap(), &headers, &trusted).to_string()
        };
        // Addresses of RFC 5737's ranges for documentation.
        assert_eq!(from("192.0.2.1", "198.51.100.7"), "192.0.2.1", "a stranger may say what it likes");
        assert_eq!(from("127.0.0.1", "198.51.100.7"), "198.51.100.7");
        assert_eq!(from("127.0.0.1", "203.0.113.9, 198.51.100.7, 10.1.2.3"), "198.51.100.7", "two proxies of ours");
        assert_eq!(from("127.0.0.1", "nonsense"), "127.0.0.1");
        assert_eq!(from("::ffff:127.0.0.1", "198.51.100.7"), "198.51.100.7");
        let of = |text: &str| Origin::of(text.parse().unwrap()).to_string();
        assert_eq!(of("2001:db8:1:2:3:4:5:6"), of("2001:db8:1:2:ffff::1"));
        assert_eq!(of("192.0.2.1"), "192.0.2.1");
    }
}
