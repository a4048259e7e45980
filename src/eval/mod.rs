//! Evaluation: from the checked program and parameter values to resolved geometry.
//!
//! [`resolve`] works one size out: parameters first, then whatever they reach, each value once
//! and with its provenance; then pieces, attachments, seams and the operations these ask for.

mod along;
mod builtin;
mod call;
mod cutter;
mod derive;
pub mod draft;
mod error;
mod evaluator;
mod expr;
mod finish;
mod intake;
mod material;
mod outline;
mod panel;
mod params;
mod parts;
mod piece;
mod renaming;
mod resolve;
mod traced;
mod trade;
mod value;

pub use cutter::CODES as CUTTER_CODES;
pub use error::CODES;
pub use resolve::{Override, Request, resolve};
pub use trade::CODES as TRADE_CODES;

#[cfg(test)]
mod tests;
