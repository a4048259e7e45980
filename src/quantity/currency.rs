//! Currencies: the codes of ISO 4217 in active use, without funds and metals.

use std::fmt;

/// A currency by its ISO 4217 code, three capital letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Currency(pub [u8; 3]);

impl Currency {
    /// The currency of a code, if it is in active use.
    #[must_use]
    pub fn named(code: &str) -> Option<Self> {
        let bytes: [u8; 3] = code.as_bytes().try_into().ok()?;
        currency_codes().any(|known| known == code).then_some(Self(bytes))
    }

    /// How many decimals its amounts are written with.
    #[must_use]
    pub fn decimals(self) -> usize {
        let listed = |codes: &str| codes.split(' ').any(|code| code.as_bytes() == self.0);
        if listed(NO_DECIMALS) {
            0
        } else if listed(THREE_DECIMALS) {
            3
        } else {
            2
        }
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&String::from_utf8_lossy(&self.0))
    }
}

/// Every code that names a currency, in alphabetical order.
pub fn currency_codes() -> impl Iterator<Item = &'static str> {
    ACTIVE.split_ascii_whitespace()
}

/// Read from memory of the standard's list as amended to 2025.
const ACTIVE: &str = "
    AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CLP CNY COP
    CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL HTG HUF IDR ILS INR IQD
    IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR
    MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP
    SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX USD UYU UZS VED VES VND VUV WST XAF XCD XCG
    XOF XPF YER ZAR ZMW ZWG";

const NO_DECIMALS: &str = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF";
const THREE_DECIMALS: &str = "BHD IQD JOD KWD LYD OMR TND";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_sorted_and_distinct() {
        let codes: Vec<_> = currency_codes().collect();
        assert!(codes.windows(2).all(|w| w[0] < w[1]));
        assert!(codes.iter().all(|c| c.len() == 3 && c.bytes().all(|b| b.is_ascii_uppercase())));
    }

    #[test]
    fn only_currencies_in_use_are_known() {
        assert_eq!(Currency::named("EUR").map(|c| c.to_string()), Some("EUR".to_owned()));
        assert_eq!(Currency::named("DEM"), None);
        assert_eq!(Currency::named("eur"), None);
        assert_eq!(Currency::named("EURO"), None);
        assert_eq!(Currency::named("JPY").map(Currency::decimals), Some(0));
        assert_eq!(Currency::named("KWD").map(Currency::decimals), Some(3));
        assert_eq!(Currency::named("USD").map(Currency::decimals), Some(2));
    }
}
