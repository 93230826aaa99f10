//! A network of addresses, as an operator writes it.

use std::net::IpAddr;
use std::str::FromStr;

/// An address and how many of its first bits count (RFC 4632).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Network {
    address: IpAddr,
    bits: u32,
}

/// It is no address and no network.
#[derive(Debug)]
pub struct NoNetwork;

impl FromStr for Network {
    type Err = NoNetwork;

    fn from_str(text: &str) -> Result<Self, NoNetwork> {
        let (address, bits) = text.split_once('/').map_or((text, None), |(address, bits)| (address, Some(bits)));
        let address: IpAddr = address.trim().parse().map_err(|_| NoNetwork)?;
        let most = if address.is_ipv4() { 32 } else { 128 };
        let bits = bits.map_or(Ok(most), |bits| bits.trim().parse().map_err(|_| NoNetwork))?;
        if bits <= most { Ok(Self { address, bits }) } else { Err(NoNetwork) }
    }
}

impl Network {
    /// Whether an address is one of it.
    pub fn holds(&self, address: IpAddr) -> bool {
        let first = |value: u128, length: u32| value.checked_shr(length - self.bits).unwrap_or_default();
        match (self.address, address) {
            (IpAddr::V4(own), IpAddr::V4(other)) => first(u32::from(own).into(), 32) == first(u32::from(other).into(), 32),
            (IpAddr::V6(own), IpAddr::V6(other)) => first(own.into(), 128) == first(other.into(), 128),
            _ => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_network_holds_its_addresses_and_no_others() {
        let holds = |network: &str, address: &str| {
            network.parse::<Network>().is_ok_and(|network| network.holds(address.parse().unwrap()))
        };
        for (network, address) in [
            ("127.0.0.1", "127.0.0.1"),
            ("10.0.0.0/8", "10.255.0.1"),
            ("0.0.0.0/0", "203.0.113.9"),
            ("2001:db8::/32", "2001:db8:ffff::1"),
            ("::/0", "2001:db8::1"),
        ] {
            assert!(holds(network, address), "{network} {address}");
        }
        for (network, address) in
            [("127.0.0.1", "127.0.0.2"), ("10.0.0.0/8", "11.0.0.1"), ("2001:db8::/32", "2001:db9::1"), ("::/0", "10.0.0.1")]
        {
            assert!(!holds(network, address), "{network} {address}");
        }
        for bad in ["", "10.0.0.0/33", "10.0.0/8", "::/129", "proxy", "10.0.0.0/x"] {
            assert!(bad.parse::<Network>().is_err(), "{bad}");
        }
    }
}
