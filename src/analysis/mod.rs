//! Analyses of the resolved geometry. Each is a room of its own and none knows another.

pub mod materials;
pub mod order;
pub mod provenance;
pub mod report;
pub mod validity;
