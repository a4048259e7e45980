//! Trade words for what the lists of choices hold, said in one place.

use super::{MaterialKind, OperationKind, StitchKind, Together};

impl StitchKind {
    /// Its name with its ISO 4915 type: `lockstitch (301)`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Lockstitch => "lockstitch (301)",
            Self::Zigzag => "zigzag (304)",
            Self::Chainstitch => "chainstitch (401)",
            Self::Overlock => "overlock (504)",
            Self::Bartack => "bartack (304)",
            Self::Handstitch => "hand stitch",
        }
    }
}

impl MaterialKind {
    /// Its name as the source writes it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Cloth => "cloth",
            Self::Batting => "batting",
            Self::Ribbon => "ribbon",
            Self::Webbing => "webbing",
            Self::Cord => "cord",
            Self::Zipper => "zipper",
            Self::Hardware => "hardware",
            Self::Thread => "thread",
        }
    }

    /// Whether it comes off a wide roll and is bought for its area.
    #[must_use]
    pub const fn is_sheet(self) -> bool {
        matches!(self, Self::Cloth | Self::Batting)
    }
}

impl OperationKind {
    /// What is done, in a word.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Prepare => "prepare",
            Self::Shape => "shape",
            Self::Apply => "sew on the face",
            Self::Quilt => "quilt",
            Self::Hem => "hem",
            Self::Place => "set in place",
            Self::Join => "join",
            Self::FinishSeam => "finish the seam",
            Self::SewOn => "sew on",
            Self::Stack => "sew the stack",
            Self::Turn => "turn",
            Self::Close => "close",
            Self::Complete => "complete",
            Self::Extra => "step",
        }
    }
}

impl Together {
    /// How the two lie.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Faces => "faces together",
            Self::Backs => "backs together",
            Self::Lapped => "lapped",
        }
    }
}
