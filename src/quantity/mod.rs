//! Quantities with dimensions, and the units they are read and written in.
//!
//! Base units: millimetre, gram, kelvin, watt, radian, one unit of currency.
//! A dimension is a product of powers of these. This room imports nothing of the house.

mod currency;
mod decimal;
mod dimension;
mod format;
mod newtypes;
mod said;
mod slips;
mod unit;
mod value;

pub use currency::{Currency, currency_codes};
pub use decimal::{push_decimal, push_whole};
pub use dimension::Dimension;
pub use format::{Style, UnitSystem, format_length, format_length_fine, format_quantity};
pub use newtypes::{Angle, Area, Length, Mass, Money};
pub use said::{
    read_in, said, said_apart, said_example, said_fine, said_least, said_length, said_most, said_quantity, said_room, said_short,
};
pub use unit::{Unit, UnitError, unit, unit_names};
pub use value::{ArithmeticError, Quantity};
