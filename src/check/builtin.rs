//! Names that every file knows without importing them: a few functions of numbers, and `pi`.
//!
//! The evaluator reads the same table, so that what is checked is what is worked out.

/// A built-in name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Builtin {
    /// `pi`, a bare number.
    Pi,
    /// `sqrt(value)`
    Sqrt,
    /// `cbrt(value)`
    Cbrt,
    /// `sin(angle)`
    Sin,
    /// `cos(angle)`
    Cos,
    /// `tan(angle)`
    Tan,
    /// `asin(ratio)`
    Asin,
    /// `acos(ratio)`
    Acos,
    /// `atan(ratio)`
    Atan,
    /// `min(a, b, …)` or `min(list)`
    Min,
    /// `max(a, b, …)` or `max(list)`
    Max,
    /// `abs(value)`
    Abs,
    /// `round(value, step)`: to the nearest whole number of steps.
    Round,
    /// `floor(value, step)`: down to a whole number of steps.
    Floor,
    /// `ceil(value, step)`: up to a whole number of steps.
    Ceil,
    /// `sum(list)`
    Sum,
    /// `count(list)`
    Count,
}

/// What a built-in function takes and gives, as far as kinds go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// No function: a bare number by itself.
    Number,
    /// One quantity; its root of this degree.
    Root(u8),
    /// An angle; a ratio.
    OfAngle,
    /// A ratio; an angle.
    ToAngle,
    /// One or more like quantities, or one list of them; one of them.
    Extreme,
    /// One quantity; one like it.
    Same,
    /// A quantity, and a step like it, which only a bare number may leave out; one like it.
    Step,
    /// A list of like quantities; one like them.
    Sum,
    /// A list; a bare number.
    Count,
}

/// One row of the table.
#[derive(Debug, Clone, Copy)]
pub struct BuiltinRow {
    /// Which.
    pub builtin: Builtin,
    /// How it is written.
    pub name: &'static str,
    /// What it takes and gives.
    pub shape: Shape,
    /// Names of what it must be given, in order.
    pub needs: &'static [&'static str],
    /// Names of what it may be given beside, in order.
    pub may: &'static [&'static str],
    /// What it does, for `explain` and the reference.
    pub doc: &'static str,
}

const fn row(
    builtin: Builtin,
    name: &'static str,
    shape: Shape,
    needs: &'static [&'static str],
    may: &'static [&'static str],
    doc: &'static str,
) -> BuiltinRow {
    BuiltinRow { builtin, name, shape, needs, may, doc }
}

/// Every built-in name, in the reference's order.
pub const BUILTINS: &[BuiltinRow] = &[
    row(Builtin::Pi, "pi", Shape::Number, &[], &[], "the circumference of a circle over its diameter"),
    row(Builtin::Sqrt, "sqrt", Shape::Root(2), &["value"], &[], "square root; of an area, a length"),
    row(Builtin::Cbrt, "cbrt", Shape::Root(3), &["value"], &[], "cube root; of a volume, a length"),
    row(Builtin::Sin, "sin", Shape::OfAngle, &["angle"], &[], "sine of an angle"),
    row(Builtin::Cos, "cos", Shape::OfAngle, &["angle"], &[], "cosine of an angle"),
    row(Builtin::Tan, "tan", Shape::OfAngle, &["angle"], &[], "tangent of an angle: rise over run"),
    row(Builtin::Asin, "asin", Shape::ToAngle, &["ratio"], &[], "the angle that has this sine"),
    row(Builtin::Acos, "acos", Shape::ToAngle, &["ratio"], &[], "the angle that has this cosine"),
    row(Builtin::Atan, "atan", Shape::ToAngle, &["ratio"], &[], "the angle that has this tangent"),
    row(Builtin::Min, "min", Shape::Extreme, &["values"], &[], "the least of its values, or of one list"),
    row(Builtin::Max, "max", Shape::Extreme, &["values"], &[], "the greatest of its values, or of one list"),
    row(Builtin::Abs, "abs", Shape::Same, &["value"], &[], "the value without its sign"),
    row(Builtin::Round, "round", Shape::Step, &["value"], &["step"], "to the nearest whole number of steps, halves away from zero"),
    row(Builtin::Floor, "floor", Shape::Step, &["value"], &["step"], "down to a whole number of steps"),
    row(Builtin::Ceil, "ceil", Shape::Step, &["value"], &["step"], "up to a whole number of steps"),
    row(Builtin::Sum, "sum", Shape::Sum, &["values"], &[], "all of a list added together"),
    row(Builtin::Count, "count", Shape::Count, &["values"], &[], "how many a list holds"),
];

impl Builtin {
    /// Its row of the table.
    #[must_use]
    pub fn row(self) -> &'static BuiltinRow {
        const PI: &BuiltinRow = &row(Builtin::Pi, "pi", Shape::Number, &[], &[], "");
        BUILTINS.iter().find(|r| r.builtin == self).unwrap_or(PI)
    }

    /// How it is written.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.row().name
    }

    /// The built-in of a name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        BUILTINS.iter().find(|r| r.name == name).map(|r| r.builtin)
    }

    /// Whether it is called, and not a value by itself.
    #[must_use]
    pub fn is_function(self) -> bool {
        self.row().shape != Shape::Number
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_finds_itself() {
        for r in BUILTINS {
            assert_eq!(Builtin::named(r.name), Some(r.builtin));
            assert_eq!(r.builtin.row().name, r.name);
            assert!(!r.doc.is_empty());
        }
        assert!(!Builtin::Pi.is_function() && Builtin::Round.is_function());
    }
}
