//! The fixed words of the trade that a statement may end in. The evaluator reads the same lists.

/// The side of a piece that a component says it lies on.
pub const SIDES: &[&str] = &["face", "back", "either"];
/// The side of a piece that an `attach` line asks for.
pub const FACING: &[&str] = &["face", "back"];
/// Which way a component points.
pub const POINTING: &[&str] = &["in", "out"];
/// How drawings mark a component.
pub const SYMBOLS: &[&str] = &["bar", "band", "cross", "ring", "tick"];
/// What a component may need on its edge.
pub const NEEDS: &[&str] = &["casing"];
/// What an attachment may lie across.
pub const MAY_CROSS: &[&str] = &["corner", "notch", "opening", "attachment"];
/// How two allowances meet at a corner.
pub const CORNER_JOINS: &[&str] = &["mitred", "square", "folded", "bevelled"];
/// Which way a layer's face lies.
pub const FACE_WAYS: &[&str] = &["up", "down"];
/// Stitches.
pub const STITCHES: &[&str] = &["lockstitch", "zigzag", "chainstitch", "overlock", "bartack", "handstitch"];
/// Sorts of extra step.
pub const STEP_KINDS: &[&str] = &["prepare", "mark", "baste", "press", "sew", "trim", "turn", "thread", "seal", "hand", "inspect"];
/// What an expression may read of a panel, beside its edges.
pub const PANEL_MEASURES: &[&str] = &["width", "height", "area"];
/// What a component's expressions may read beside its own names.
pub const COMPONENT_WORDS: &[&str] = &["stretch", "edge_length", "allowance", "places"];
/// What a finish's expressions may read beside its own names.
pub const FINISH_WORDS: &[&str] = &["stretch"];
