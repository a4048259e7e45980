//! Everything that validity can find, worded. A file a topic; each wording stands beside its variant.

mod allowance;
mod bounds;
mod casing;
mod caught;
mod cutter;
mod length;
mod opening;
mod order;
mod pair;
mod piece;
mod place;
mod stack;

pub(super) use allowance::AllowanceError;
pub(super) use bounds::BoundsError;
pub(super) use casing::CasingError;
pub(super) use caught::{CaughtError, Instead};
pub(super) use cutter::CutterError;
pub(super) use length::{LengthError, Measured};
pub(super) use opening::OpeningError;
pub(super) use order::{OrderError, Waiting};
pub(super) use pair::PairError;
pub(super) use piece::PieceError;
pub(super) use place::{PlaceError, Taken};
pub(super) use stack::StackError;

use crate::quantity::{Length, said_fine, said_least, said_length};

/// Every code of this stage.
pub const CODES: &[&str] = &[
    "order-cycle",
    "attachments-collide",
    "past-end",
    "in-opening",
    "across-notch",
    "caught-too-shallow",
    "caught-twice",
    "not-caught",
    "no-casing",
    "cord-shut-in",
    "casing-without-cord",
    "casing-too-narrow",
    "points-inside",
    "cord-near-neck",
    "pair-lengths-differ",
    "pair-on-one-edge",
    "pair-in-one-seam",
    "pair-apart",
    "pair-not-level",
    "zipper-twisted",
    "snaps-face-alike",
    "lengths-differ",
    "ease-high",
    "gather-differs",
    "layers-differ",
    "notches-differ",
    "allowance-too-narrow-for-finish",
    "allowances-differ",
    "edge-sewn-twice",
    "raw-edge-exposed",
    "too-few-layers",
    "no-opening",
    "opening-between-layers",
    "opening-not-sewn",
    "inside-out",
    "opening-short",
    "opening-on-curve",
    "edge-unused",
    "edge-part-open",
    "straight-binding-on-curve",
    "panel-unused",
    "wider-than-cloth",
    "grain-any-on-one-way",
    "needs-mirrored-pair",
    "patch-past-edge",
    "drill-near-seam",
    "not-for-laser",
    "laser-not-known",
    "finer-than-cutter",
    "too-many-frames",
    "allowance-wide",
    "stitch-length",
];

/// A length as a tape shows it.
pub(super) fn tape(length: Length) -> String {
    said_length(length)
}

/// A length that will do, and more would.
fn or_more(length: Length) -> String {
    said_least(length)
}

/// A length told finely, where two lie close together.
fn fine(length: Length) -> String {
    said_fine(length)
}

/// `a`, `a` and `b`, each in the source's own letters.
fn listed(names: &[String]) -> String {
    let quoted: Vec<String> = names.iter().map(|n| format!("`{n}`")).collect();
    match quoted.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
