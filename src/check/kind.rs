//! What an expression is, as far as can be told without its numbers.

use super::goods::{FieldKind, Sort};
use crate::quantity::{Currency, Dimension};
use std::rc::Rc;

/// The kind of a value.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) enum Kind {
    /// Not known, or already reported: fits everywhere.
    Any,
    /// A quantity, and its currency where a literal tells.
    Quantity(Dimension, Option<Currency>),
    /// Yes or no.
    Truth,
    /// Text.
    Text,
    /// One of these words, in source order.
    Word(Rc<Vec<String>>),
    /// A point on a panel.
    Point,
    /// A list of values alike.
    List(Box<Kind>),
    /// A material, of a sort where it is known.
    Material(Option<Sort>),
}

/// A kind of parameter beside the dimensions.
const PLAIN_KINDS: &[&str] = &["yes_no", "text", "word", "point", "list", "material", "any"];

impl Kind {
    /// A bare number.
    pub(super) const NUMBER: Self = Self::Quantity(Dimension::NUMBER, None);
    /// A length.
    pub(super) const LENGTH: Self = Self::Quantity(Dimension::LENGTH, None);
    /// An area.
    pub(super) const AREA: Self = Self::Quantity(Dimension::AREA, None);
    /// An angle.
    pub(super) const ANGLE: Self = Self::Quantity(Dimension::ANGLE, None);

    /// A quantity without a currency.
    pub(super) const fn of(dimension: Dimension) -> Self {
        Self::Quantity(dimension, None)
    }

    /// One word.
    pub(super) fn word(word: &str) -> Self {
        Self::Word(Rc::new(vec![word.to_owned()]))
    }

    /// The kind that a parameter states; `word` is any word.
    pub(super) fn named(name: &str) -> Option<Self> {
        Some(match name {
            "yes_no" => Self::Truth,
            "text" => Self::Text,
            "word" | "any" => Self::Any,
            "point" => Self::Point,
            "list" => Self::List(Box::new(Self::Any)),
            "material" => Self::Material(None),
            _ => match Sort::named(name) {
                Some(sort) => Self::Material(Some(sort)),
                None => Self::of(Dimension::named(name)?),
            },
        })
    }

    /// Every name of a kind.
    pub(super) fn names() -> impl Iterator<Item = &'static str> {
        Dimension::kinds().chain(PLAIN_KINDS.iter().copied()).chain(super::goods::SORTS.iter().map(|(name, _)| *name))
    }

    /// In words, with its article.
    pub(super) fn describe(&self) -> String {
        match self {
            Self::Any => "anything".to_owned(),
            Self::Quantity(dimension, _) => dimension.describe(),
            Self::Truth => "yes or no".to_owned(),
            Self::Text => "a text".to_owned(),
            Self::Word(words) => match words.iter().next() {
                Some(word) if words.len() == 1 => format!("the word `{word}`"),
                _ => "a word".to_owned(),
            },
            Self::Point => "a point".to_owned(),
            Self::List(of) => match of.as_ref() {
                Self::Any => "a list".to_owned(),
                Self::Quantity(..) | Self::Point => format!("a list, each {}", of.describe()),
                _ => "a list".to_owned(),
            },
            Self::Material(Some(sort)) => match sort {
                Sort::Cloth => "cloth".to_owned(),
                Sort::Batting => "batting".to_owned(),
                Sort::Webbing => "webbing".to_owned(),
                Sort::Hardware => "hardware".to_owned(),
                Sort::Thread => "thread".to_owned(),
                Sort::Ribbon | Sort::Cord | Sort::Zipper => format!("a {}", sort.name()),
            },
            Self::Material(None) => "a material".to_owned(),
        }
    }

    /// Whether a value of this kind may stand where `wanted` is.
    pub(super) fn fits(&self, wanted: &Self) -> bool {
        match (self, wanted) {
            (Self::Any, _) | (_, Self::Any) | (Self::Material(_), Self::Material(None)) | (Self::Material(None), Self::Material(_)) => true,
            (Self::Quantity(a, _), Self::Quantity(b, _)) => a == b,
            (Self::List(a), Self::List(b)) => a.fits(b),
            (Self::Word(a), Self::Word(b)) => a.iter().any(|word| b.contains(word)),
            (a, b) => a == b,
        }
    }

    /// One kind for a value that is one or the other; none when they are unlike.
    pub(super) fn or(&self, other: &Self) -> Option<Self> {
        match (self, other) {
            (Self::Any, _) | (_, Self::Any) => Some(Self::Any),
            (Self::Word(a), Self::Word(b)) => {
                let more = b.iter().filter(|word| !a.contains(word));
                Some(Self::Word(Rc::new(a.iter().chain(more).cloned().collect())))
            }
            (Self::Material(a), Self::Material(b)) => Some(Self::Material(a.filter(|_| a == b))),
            (Self::Quantity(a, c), Self::Quantity(b, d)) if a == b => Some(Self::Quantity(*a, c.filter(|_| c == d))),
            (Self::List(a), Self::List(b)) => a.or(b).map(|k| Self::List(Box::new(k))),
            (a, b) => (a == b).then(|| a.clone()),
        }
    }

    /// Whether it can be set by hand: what parameters are.
    pub(super) fn is_plain(&self) -> bool {
        !matches!(self, Self::Point | Self::List(_))
    }
}

impl From<FieldKind> for Kind {
    fn from(field: FieldKind) -> Self {
        match field {
            FieldKind::Quantity(dimension) => Self::of(dimension),
            FieldKind::AnyOf(_) => Self::Any,
            FieldKind::Truth => Self::Truth,
            FieldKind::OneOf(_) | FieldKind::Text => Self::Text,
        }
    }
}

/// What may stand at a place of a statement.
#[derive(Debug, Clone)]
pub(super) enum Want {
    /// One kind.
    One(Kind),
    /// A quantity of one of these dimensions.
    AnyOf(&'static [Dimension]),
    /// A length, or a share of the edge.
    Along,
    /// A length or share of the edge, or a list of these.
    Distances,
    /// A point, or a list of points.
    Points,
    /// A material of one of these sorts.
    Goods(&'static [Sort]),
    /// Whatever can be written into a text.
    Printable,
}

impl Want {
    /// Whether a kind will do.
    pub(super) fn takes(&self, kind: &Kind) -> bool {
        match self {
            Self::One(wanted) => kind.fits(wanted),
            Self::AnyOf(dimensions) => match kind {
                Kind::Quantity(dimension, _) => dimensions.contains(dimension),
                other => *other == Kind::Any,
            },
            Self::Along => kind.fits(&Kind::LENGTH) || kind.fits(&Kind::NUMBER),
            Self::Distances => match kind {
                Kind::List(of) => Self::Along.takes(of),
                other => Self::Along.takes(other),
            },
            Self::Points => match kind {
                Kind::List(of) => of.fits(&Kind::Point),
                other => other.fits(&Kind::Point),
            },
            Self::Goods(sorts) => match kind {
                Kind::Material(sort) => sort.is_none_or(|s| sorts.contains(&s)),
                other => *other == Kind::Any,
            },
            Self::Printable => !matches!(kind, Kind::List(_) | Kind::Point),
        }
    }

    /// In words, with its article.
    pub(super) fn describe(&self) -> String {
        match self {
            Self::One(kind) => kind.describe(),
            Self::AnyOf(dimensions) => dimensions.iter().map(|d| d.describe()).collect::<Vec<_>>().join(" or "),
            Self::Along | Self::Distances => "a length or a share of the edge".to_owned(),
            Self::Points => "a point".to_owned(),
            Self::Goods(sorts) => sorts.iter().map(|s| Kind::Material(Some(*s)).describe()).collect::<Vec<_>>().join(" or "),
            Self::Printable => "a measure, a word or a text".to_owned(),
        }
    }
}

impl From<Kind> for Want {
    fn from(kind: Kind) -> Self {
        Self::One(kind)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_named_kind_is_one() {
        for name in Kind::names() {
            assert!(Kind::named(name).is_some(), "{name}");
        }
        assert_eq!(Kind::named("length"), Some(Kind::LENGTH));
        assert_eq!(Kind::named("cord"), Some(Kind::Material(Some(Sort::Cord))));
        assert_eq!(Kind::named("lenght"), None);
    }

    #[test]
    fn what_fits_where() {
        let length = Kind::LENGTH;
        assert!(Want::Along.takes(&length) && Want::Along.takes(&Kind::NUMBER) && !Want::Along.takes(&Kind::AREA));
        assert!(Want::Distances.takes(&Kind::List(Box::new(length))));
        assert!(!Want::Points.takes(&Kind::LENGTH) && Want::Points.takes(&Kind::Point));
        assert!(Kind::Material(None).fits(&Kind::Material(Some(Sort::Cloth))));
        assert!(!Kind::Material(Some(Sort::Cord)).fits(&Kind::Material(Some(Sort::Cloth))));
        assert!(Kind::word("a").fits(&Kind::Word(Rc::new(vec!["a".into(), "b".into()]))));
        assert!(!Kind::word("c").fits(&Kind::word("a")));
    }
}
