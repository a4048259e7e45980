//! Sorts of material and the figures each may carry. The evaluator reads the same table.

use crate::quantity::Dimension;

/// A sort of goods, as `material x is …` names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Sort {
    /// Woven, knitted or coated, off a roll.
    Cloth,
    /// Insulation off a roll.
    Batting,
    /// Ribbon or tape.
    Ribbon,
    /// Webbing.
    Webbing,
    /// Cord.
    Cord,
    /// Zipper.
    Zipper,
    /// Counted goods.
    Hardware,
    /// Sewing thread.
    Thread,
}

/// What a figure of a material may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FieldKind {
    /// A quantity of this dimension.
    Quantity(Dimension),
    /// A quantity of one of these.
    AnyOf(&'static [Dimension]),
    /// Yes or no.
    Truth,
    /// One of these texts.
    OneOf(&'static [&'static str]),
    /// Any text.
    Text,
}

/// A figure that a sort of material may carry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Field {
    /// How it is written.
    pub name: &'static str,
    /// What it is.
    pub kind: FieldKind,
    /// Whether nothing can be worked out without it.
    pub needed: bool,
}

pub(super) const fn may(name: &'static str, kind: FieldKind) -> Field {
    Field { name, kind, needed: false }
}

pub(super) const fn must(name: &'static str, kind: FieldKind) -> Field {
    Field { name, kind, needed: true }
}

pub(super) const LENGTH: FieldKind = FieldKind::Quantity(Dimension::LENGTH);
const AREAL: FieldKind = FieldKind::Quantity(Dimension::AREAL_MASS);
const LINEAR: FieldKind = FieldKind::Quantity(Dimension::LINEAR_MASS);
const EACH: FieldKind = FieldKind::Quantity(Dimension::MASS);
const NUMBER: FieldKind = FieldKind::Quantity(Dimension::NUMBER);
const PRICE_EACH: FieldKind = FieldKind::Quantity(Dimension::MONEY);
const PRICE_LONG: FieldKind = FieldKind::Quantity(Dimension::PRICE_PER_LENGTH);
const PRICE_ROLL: FieldKind = FieldKind::AnyOf(&[Dimension::PRICE_PER_LENGTH, Dimension::PRICE_PER_AREA]);
const SOURCE: Field = may("source", FieldKind::Text);

const CLOTH: &[Field] = &[
    may("mass", AREAL),
    must("width", LENGTH),
    may("selvedge", LENGTH),
    may("price", PRICE_ROLL),
    may("thickness", LENGTH),
    may("faces", FieldKind::OneOf(&["one_sided", "two_sided"])),
    may("direction", FieldKind::OneOf(&["two_way", "one_way", "any"])),
    may("laser", FieldKind::Truth),
    may("stretch", NUMBER),
    SOURCE,
];
const BATTING: &[Field] = &[
    may("mass", AREAL),
    must("width", LENGTH),
    may("selvedge", LENGTH),
    may("price", PRICE_ROLL),
    may("loft", LENGTH),
    may("laser", FieldKind::Truth),
    SOURCE,
];
const NARROW: &[Field] = &[must("width", LENGTH), may("mass", LINEAR), may("price", PRICE_LONG), may("thickness", LENGTH), SOURCE];
const CORD: &[Field] = &[must("diameter", LENGTH), may("mass", LINEAR), may("price", PRICE_LONG), SOURCE];
const ZIPPER: &[Field] = &[
    must("chain", LENGTH),
    may("tape", LENGTH),
    may("mass", LINEAR),
    may("price", PRICE_LONG),
    may("separating", FieldKind::Truth),
    may("slider_mass", EACH),
    may("slider_price", PRICE_EACH),
    SOURCE,
];
const HARDWARE: &[Field] = &[may("mass", EACH), may("price", PRICE_EACH), may("size", LENGTH), SOURCE];
const THREAD: &[Field] = &[may("mass", LINEAR), may("price", PRICE_LONG), may("tex", NUMBER), SOURCE];

/// Every sort, as a source names it.
pub const SORTS: &[(&str, Sort)] = &[
    ("cloth", Sort::Cloth),
    ("batting", Sort::Batting),
    ("ribbon", Sort::Ribbon),
    ("webbing", Sort::Webbing),
    ("cord", Sort::Cord),
    ("zipper", Sort::Zipper),
    ("hardware", Sort::Hardware),
    ("thread", Sort::Thread),
];

impl Sort {
    /// The sort of a name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        SORTS.iter().find(|(n, _)| *n == name).map(|(_, sort)| *sort)
    }

    /// How it is written.
    #[must_use]
    pub fn name(self) -> &'static str {
        SORTS.iter().find(|(_, sort)| *sort == self).map_or("", |(name, _)| name)
    }

    /// The figures it may carry.
    #[must_use]
    pub fn fields(self) -> &'static [Field] {
        match self {
            Self::Cloth => CLOTH,
            Self::Batting => BATTING,
            Self::Ribbon | Self::Webbing => NARROW,
            Self::Cord => CORD,
            Self::Zipper => ZIPPER,
            Self::Hardware => HARDWARE,
            Self::Thread => THREAD,
        }
    }

    /// One of its figures.
    #[must_use]
    pub fn field(self, name: &str) -> Option<&'static Field> {
        self.fields().iter().find(|f| f.name == name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sort_has_distinct_fields_and_a_source() {
        for (name, sort) in SORTS {
            assert_eq!(Sort::named(name), Some(*sort));
            assert_eq!(sort.name(), *name);
            let mut names: Vec<_> = sort.fields().iter().map(|f| f.name).collect();
            assert!(names.contains(&"source"));
            names.sort_unstable();
            let all = names.len();
            names.dedup();
            assert_eq!(names.len(), all, "{name}");
        }
        assert!(Sort::Cloth.field("width").is_some_and(|f| f.needed));
        assert!(Sort::Cord.field("width").is_none());
    }
}
