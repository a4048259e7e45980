//! What may stand in each kind of block, and how each statement reads: for errors, and for reading on after one.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use pest::Parser;

use super::grammar::{Grammar, Rule};
use super::wording;
use crate::diagnostic::nearest;

/// The kinds of block.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Block {
    /// The file itself.
    File,
    /// `design … { }`
    Design,
    /// `panel … { }`
    Panel,
    /// `outline … { }` or `shape { }`
    Outline,
    /// `component … { }`
    Component,
    /// `finish … { }`
    Finish,
    /// `seam … { }`
    Seam,
    /// `quilt … { }`
    Quilt,
    /// `size … { }`
    Size,
    /// `material … { }`
    Material,
    /// `cutter … { }`
    Cutter,
}

/// An example of a `shape` that is traced.
pub(super) const TRACED: &str = "shape traced from \"hood.svg\" unit 1 mm edges neck, face, crown where neck is 42 cm";

/// A statement: the word it begins with, and an example of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Statement {
    /// The word.
    pub(super) word: &'static str,
    /// An example.
    pub(super) example: &'static str,
}

const fn s(word: &'static str, example: &'static str) -> Statement {
    Statement { word, example }
}

const LET: Statement = s("let", "let wide = 140 cm");
const FUNCTION: Statement = s("fn", "fn around(d) = 3.1416 * d");
const REQUIRE: Statement = s("require", "require long <= 240 cm else \"longer than the table\"");
const MATERIAL: Statement = s("material", "material skin is cloth \"Light nylon\" { mass = 36 g/m2 }");
const COMPONENT: Statement = s("component", "component loop(cut: length = 8 cm) \"A loop\" { sits at places }");
const OUTLINE: Statement = s("outline", "outline kite(width: length) \"A kite\" { start (0 mm, 0 mm) … }");
const FINISH: Statement = s("finish", "finish flat(width: length = 8 mm) \"Flat\" { allow width }");
const CUTTER: Statement = s("cutter", "cutter bench is laser \"Laser on the bench\" { bed_length = 90 cm }");
const PANEL: Statement = s("panel", "panel shell \"Shell\" { cut 1 of skin … }");
const WHEN: Statement = s("when", "when long > 2 m { … } else { … }");
const STITCH: Statement = s("stitch", "stitch lockstitch 3 mm");
const USES: Statement = s("uses", "uses 8 cm of ribbon");
const PREPARE: Statement = s("prepare", "prepare \"Cut the ribbon\"");
const PLACE: Statement = s("place", "place \"Lay it on the edge\"");
const SEW: Statement = s("sew", "sew \"Sew it down\" with lockstitch 3 mm");
const COMPLETE: Statement = s("complete", "complete \"Trim the ends\"");
const CAUTION: Statement = s("caution", "caution \"Needles break on thick layers\"");
const USE: Statement = s("use", "use std.trims { ribbon_loop }");

/// Words of other notations, and of the sewing room, for what the language has a word for.
const ELSEWHERE: &[(&str, &str)] = &[
    ("import", "use"),
    ("include", "use"),
    ("const", "let"),
    ("var", "let"),
    ("set", "let"),
    ("def", "fn"),
    ("function", "fn"),
    ("func", "fn"),
    ("if", "when"),
    ("assert", "require"),
    ("parameter", "param"),
    ("input", "param"),
    ("piece", "panel"),
    ("part", "panel"),
    ("pattern", "design"),
    ("project", "design"),
    ("fabric", "material"),
    ("allowance", "allow"),
    ("margin", "allow"),
    ("hem", "finish"),
    ("bind", "finish"),
    ("grainline", "grain"),
    ("right", "faces"),
    ("wrong", "backs"),
];

const FILE: &[Statement] = &[USE, s("design", "design larch \"Larch\" { … }"), MATERIAL, COMPONENT, OUTLINE, FINISH, CUTTER, FUNCTION, LET];
const DESIGN: &[Statement] = &[
    s("param", "param stature = 176 cm from 150 cm to 205 cm \"standing height\""),
    s("size", "size tall \"Tall\" { stature = 192 cm }"),
    LET,
    FUNCTION,
    MATERIAL,
    COMPONENT,
    OUTLINE,
    FINISH,
    CUTTER,
    REQUIRE,
    PANEL,
    s("attach", "attach loops = ribbon_loop(cut: 8 cm) at 25 cm from head on outer.left"),
    s("seam", "seam ridge \"Ridge\" { join outer.left to inner.right … }"),
    s("apply", "apply pocket on outer at (10 cm, 20 cm) sewing left, foot, right with edgestitch()"),
    s("quilt", "quilt hold { layers batt, inner lines parallel to head every 25 cm … }"),
    s("step", "step press_open press \"Press the seam open\" after ridge"),
    s("cut", "cut skin, lining with bench"),
    s("accept", "accept unused-material because \"spare for repairs\""),
    s("thread", "thread polyester"),
    WHEN,
];
const IN_PANEL: &[Statement] = &[
    LET,
    REQUIRE,
    s("cut", "cut 2 of skin as outer, inner"),
    s("shape", "shape rectangle(width: 140 cm, height: 2 m)"),
    s("inset", "inset 5 mm"),
    s("outset", "outset 2 cm on left, right"),
    s("add", "add flap = rectangle(width: 8 cm, height: 5 cm) at (20 cm, 0 mm)"),
    s("keep", "keep reach = circle(diameter: 40 cm) at corner head-left"),
    s("remove", "remove scoop = circle(diameter: 24 cm) at (70 cm, 2 m)"),
    s("taper", "taper left, right by 13 cm over 40% from foot"),
    s("round", "round corner head-left, head-right by 3 cm"),
    s("bevel", "bevel corner foot-left by 2 cm"),
    s("box", "box corner foot-left, foot-right by 5 cm"),
    s("corner", "corner head-left is folded"),
    s("hole", "hole vent = circle(diameter: 1 cm) at (10 cm, 20 cm)"),
    s("allow", "allow 12 mm on head, foot"),
    s("finish", "finish head with double_hem(width: 2 cm)"),
    s("raw", "raw foot because \"hot cut\""),
    s("grain", "grain along left within 3 deg"),
    s("notch", "notch left, right at 30 cm from foot"),
    s("mark", "mark line fold from (0 mm, 10 cm) to (1 m, 10 cm)"),
    s("dart", "dart head at 10 cm from left wide 2 cm deep 8 cm"),
    s("pleat", "pleat head at middle take 3 cm"),
    s("rename", "rename head to mouth"),
    s("split", "split middle from (1 m, 0 mm) to (1 m, 2 m) as port, starboard"),
    s("place", "place left on fold"),
    WHEN,
];
const IN_OUTLINE: &[Statement] = &[LET, REQUIRE, s("start", "start (0 mm, 0 mm)"), s("edge", "edge head line to (10 cm, 0 mm)")];
const IN_COMPONENT: &[Statement] = &[
    LET,
    REQUIRE,
    s("sits", "sits at places"),
    s("pair", "pair socket, stud"),
    s("footprint", "footprint 2 cm"),
    s("depth", "depth 3 cm"),
    s("catches", "catches 8 mm"),
    s("faces", "faces face"),
    s("points", "points in"),
    s("symbol", "symbol bar"),
    s("needs", "needs casing"),
    USES,
    PREPARE,
    PLACE,
    SEW,
    COMPLETE,
    CAUTION,
    PANEL,
    WHEN,
];
const IN_FINISH: &[Statement] = &[
    LET,
    REQUIRE,
    s("allow", "allow 2 * width"),
    s("needs", "needs 12 mm"),
    s("folds", "folds at 1 cm, 2 cm"),
    s("encloses", "encloses raw edges"),
    s("stitch", "stitch lockstitch 3 mm at 2 mm rows 2"),
    USES,
    PREPARE,
    PLACE,
    SEW,
    COMPLETE,
    CAUTION,
    WHEN,
];
const IN_SEAM: &[Statement] = &[
    s("join", "join outer.left to inner.right"),
    s("stack", "stack batt, outer face up, inner face down"),
    s("sew", "sew around"),
    s("faces", "faces together"),
    s("backs", "backs together"),
    s("lapped", "lapped"),
    s("with", "with felled(width: 8 mm)"),
    STITCH,
    s("ease", "ease 2%"),
    s("gather", "gather 1.5"),
    s("after", "after side"),
    s("before", "before bottom"),
    s("opening", "opening 30 cm of outer.right starting 40% from foot between outer and inner"),
    s("close", "close with edgestitch()"),
    WHEN,
];
const IN_QUILT: &[Statement] = &[
    s("layers", "layers batt, inner"),
    s("lines", "lines parallel to head every 25 cm starting 20 cm"),
    s("ties", "ties at (10 cm, 20 cm), (30 cm, 40 cm)"),
    STITCH,
];

const IN_CUTTER: &[Statement] =
    &[s("draw", "draw marks, folds on layer \"PEN\" colour 5"), s("cut", "cut outlines on layer \"OUTER\" colour 1")];

/// No keyword, however misspelt, is longer.
const MAX_WORD: usize = 40;

/// Every kind of block, the outermost first.
pub(super) const ALL: &[Block] = &[
    Block::File,
    Block::Design,
    Block::Panel,
    Block::Outline,
    Block::Component,
    Block::Finish,
    Block::Seam,
    Block::Quilt,
    Block::Size,
    Block::Material,
    Block::Cutter,
];

impl Block {
    /// What may stand in it beside settings; empty where there are only settings.
    pub(super) fn statements(self) -> &'static [Statement] {
        match self {
            Self::File => FILE,
            Self::Design => DESIGN,
            Self::Panel => IN_PANEL,
            Self::Outline => IN_OUTLINE,
            Self::Component => IN_COMPONENT,
            Self::Finish => IN_FINISH,
            Self::Seam => IN_SEAM,
            Self::Quilt => IN_QUILT,
            Self::Cutter => IN_CUTTER,
            Self::Size | Self::Material => &[],
        }
    }

    /// The statement that begins with a word.
    pub(super) fn statement(self, word: &str) -> Option<Statement> {
        self.statements().iter().copied().find(|s| s.word == word)
    }

    /// The word of the statement that one spelt like this was most likely meant to be.
    pub(super) fn nearest(self, word: &str) -> Option<&'static str> {
        let word = word.to_lowercase();
        let elsewhere = ELSEWHERE.iter().filter(|(other, _)| *other == word).find_map(|(_, here)| self.statement(here));
        elsewhere.map(|s| s.word).or_else(|| near(&word, self.statements().iter().map(|s| s.word)))
    }

    /// Whether a word of other notations stands for one of its own.
    pub(super) fn knows_elsewhere(self, word: &str) -> bool {
        ELSEWHERE.iter().any(|(other, here)| *other == word && self.statement(here).is_some())
    }

    /// The words that its lines begin with, for a sentence.
    pub(super) fn words(self) -> String {
        self.statements().iter().map(|s| s.word).collect::<Vec<_>>().join(", ")
    }

    /// An example of a setting, where there are settings.
    pub(super) fn setting(self) -> Option<Statement> {
        match self {
            Self::Size => Some(s("", "stature = 192 cm")),
            Self::Material => Some(s("", "mass = 36 g/m2")),
            Self::Cutter => Some(s("", "kerf = 0.2 mm")),
            _ => None,
        }
    }

    /// The rule of one thing in it, to be followed by anything.
    pub(super) fn item(self) -> Rule {
        match self {
            Self::File => Rule::file_item,
            Self::Design => Rule::design_item,
            Self::Panel => Rule::panel_item,
            Self::Outline => Rule::outline_item,
            Self::Component => Rule::component_item,
            Self::Finish => Rule::finish_item,
            Self::Seam => Rule::seam_item,
            Self::Quilt => Rule::quilt_item,
            Self::Cutter => Rule::cutter_item,
            Self::Size | Self::Material => Rule::setting,
        }
    }

    /// The rule of one thing in it that must be followed by nothing.
    pub(super) fn lone_item(self) -> Rule {
        match self {
            Self::File => Rule::lone_file_item,
            Self::Design => Rule::lone_design_item,
            Self::Panel => Rule::lone_panel_item,
            Self::Outline => Rule::lone_outline_item,
            Self::Component => Rule::lone_component_item,
            Self::Finish => Rule::lone_finish_item,
            Self::Seam => Rule::lone_seam_item,
            Self::Quilt => Rule::lone_quilt_item,
            Self::Cutter => Rule::lone_cutter_item,
            Self::Size | Self::Material => Rule::lone_setting,
        }
    }

    /// Where its statements stand, as part of a sentence.
    pub(super) fn place(self) -> &'static str {
        match self {
            Self::File => "outside a design",
            Self::Design => "in a design",
            Self::Panel => "in a panel",
            Self::Outline => "in an outline",
            Self::Component => "in a component",
            Self::Finish => "in a finish",
            Self::Seam => "in a seam",
            Self::Quilt => "in a quilt",
            Self::Size => "in a size",
            Self::Material => "in a material",
            Self::Cutter => "in a cutter",
        }
    }

    /// The block that a statement in this one opens with its brace.
    pub(super) fn inside(self, word: &str) -> Option<Self> {
        Some(match (self, word) {
            (_, "when") => self,
            (_, "design") => Self::Design,
            (_, "panel") => Self::Panel,
            (_, "outline") | (Self::Panel, "shape") => Self::Outline,
            (_, "component") => Self::Component,
            (Self::File | Self::Design, "finish") => Self::Finish,
            (_, "seam") => Self::Seam,
            (_, "quilt") => Self::Quilt,
            (_, "size") => Self::Size,
            (_, "material") => Self::Material,
            (_, "cutter") => Self::Cutter,
            _ => return None,
        })
    }
}

/// The nearest of some words; nothing is near to a word far longer than any of them.
pub(super) fn near(word: &str, words: impl Iterator<Item = &'static str>) -> Option<&'static str> {
    if word.len() > MAX_WORD { None } else { nearest(word, words) }
}

/// Whether some statement begins with this word.
pub(super) fn starts_a_line(word: &str) -> bool {
    static WORDS: LazyLock<BTreeSet<&str>> = LazyLock::new(|| ALL.iter().flat_map(|b| b.statements()).map(|s| s.word).collect());
    WORDS.contains(word)
}

/// Whether a word is reserved, so that no name may be spelt like it.
pub(super) fn is_reserved(word: &str) -> bool {
    static RESERVED: LazyLock<BTreeSet<&str>> =
        LazyLock::new(|| wording::keywords().filter(|w| Grammar::parse(Rule::reserved, w).is_ok()).collect());
    RESERVED.contains(word)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::syntax::parse::recover::failure;

    #[test]
    fn every_example_reads_as_its_block_has_it() {
        for block in ALL {
            for statement in block.statements().iter().copied().chain(block.setting()) {
                let text = statement.example.replace('…', "");
                assert!(text.starts_with(statement.word), "{text}");
                assert!(Grammar::parse(block.lone_item(), &text).is_ok(), "{} {text}", block.place());
            }
        }
    }

    #[test]
    fn the_lists_name_what_the_grammar_takes_and_nothing_else() {
        for block in ALL.iter().filter(|b| b.setting().is_none()) {
            for word in wording::keywords() {
                // A word that begins a statement is read before something is missed.
                let begins = Grammar::parse(block.lone_item(), word).map_or_else(|e| failure(&e, 0).at > 0, |_| true);
                assert_eq!(begins, block.statement(word).is_some(), "`{word}` {}", block.place());
            }
        }
    }
}
