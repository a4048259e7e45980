//! Newtypes for the quantities that the resolved geometry carries.
//! Private fields; made from and read in base units; one shared tolerance for lengths.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

macro_rules! measure {
    ($(#[$doc:meta])* $name:ident, $from:ident, $get:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize, JsonSchema)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("From the base unit; see [`", stringify!($name), "`].")]
            #[must_use]
            pub const fn $from(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("In the base unit; see [`", stringify!($name), "`].")]
            #[must_use]
            pub const fn $get(self) -> f64 {
                self.0
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, by: f64) -> Self {
                Self(self.0 * by)
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                Self(all.map(|v| v.0).sum())
            }
        }
    };
}

measure!(
    /// A length in millimetres.
    Length, mm, as_mm
);
measure!(
    /// An area in square millimetres.
    Area, mm2, as_mm2
);
measure!(
    /// An angle in radians.
    Angle, radians, as_radians
);
measure!(
    /// A mass in grams.
    Mass, grams, as_grams
);

impl Length {
    /// Two lengths closer than this are the same to a maker: half a millimetre,
    /// what a marked and cut edge can hold.
    pub const SAME: Self = Self(0.5);

    /// Whether two lengths are the same to a maker.
    #[must_use]
    pub fn is_same(self, other: Self) -> bool {
        (self.0 - other.0).abs() <= Self::SAME.0
    }
}

impl Angle {
    /// In degrees.
    #[must_use]
    pub fn as_degrees(self) -> f64 {
        self.0.to_degrees()
    }
}

/// An amount of money in one currency.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Money {
    /// How much.
    pub amount: f64,
    /// ISO 4217 code.
    pub currency: String,
}
