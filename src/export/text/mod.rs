//! Pages for people: the sewing order, what to do at a cutter, the cut list and materials, sizes, and why a value is what it is.

mod cutting;
mod materials;
mod order;
mod sizes;
#[cfg(test)]
mod tests;
mod why;
mod words;
mod wrap;

pub use cutting::cutting;
pub use materials::materials;
pub use order::order;
pub use sizes::sizes;
pub use why::why;
pub use words::words;
