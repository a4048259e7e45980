//! Back ends: plain functions of a resolved design and their options.
//!
//! A back end reads [`crate::ir`] and the reports of the analyses; it never decides anew what the
//! source meant. [`drawing`] is what those that draw have in common: pieces laid out on a sheet, with their
//! labels placed, as plain shapes in millimetres. [`cutting`] is what a cutter
//! does, frame by frame, which several write down. `pairs` is what those that write DXF share, `letters` plain ASCII.

pub mod csv;
pub mod cutting;
pub mod drawing;
pub mod dxf;
pub mod interchange;
pub mod json;
mod letters;
mod pairs;
pub mod plotter;
pub mod svg;
pub mod text;

#[cfg(test)]
pub(crate) mod sample;
