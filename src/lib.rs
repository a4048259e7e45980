//! Lapfell: from a pattern in text to pieces, cutter files and a sewing order.

pub mod analysis;
pub mod check;
pub mod cli;
pub mod diagnostic;
pub mod eval;
pub mod export;
pub mod geometry;
pub mod ir;
pub mod pipeline;
pub mod quantity;
pub mod source;
pub mod stdlib;
pub mod syntax;
