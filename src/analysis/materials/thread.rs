//! How much thread a stitch takes.
//!
//! C is the length of thread, all threads together, for one length of seam; T the thickness
//! sewn through, S the stitches per length, p = 1 / S the stitch length, W the width of the stitch.
//! The formulas for types 301, 401 and 504 were read in published guides to thread consumption;
//! for 504 published pages disagree (one has 3 for the 5), and the larger is taken. Zigzag and hand
//! stitching are worked out from the thread's path.

use crate::ir::StitchKind;
use crate::quantity::Length;

/// Thread cut off, wound on bobbins and left at ends: a published range is 10 to 20 %.
pub(super) const WASTE: f64 = 0.15;

/// How wide a household zigzag or bartack is taken to be, mm.
pub(super) const ZIGZAG_WIDTH: f64 = 3.0;

/// How wide an overlocked edge is taken to be, mm: published specifications ask for 4.8 to 6.4.
pub(super) const OVERLOCK_WIDTH: f64 = 5.0;

/// Length of thread for one length of seam. A stitch of no length has no answer.
pub(super) fn consumption(kind: StitchKind, stitch: Length, thickness: Length) -> Option<f64> {
    let (p, t) = (stitch.as_mm(), thickness.as_mm());
    if !(p > 0.0 && t >= 0.0) {
        return None;
    }
    let ratio = match kind {
        StitchKind::Lockstitch => 2.0 + 2.0 * t / p,
        StitchKind::Chainstitch => 4.0 + 2.0 * t / p,
        StitchKind::Zigzag | StitchKind::Bartack => 2.0 * p.hypot(ZIGZAG_WIDTH) / p + 2.0 * t / p,
        StitchKind::Overlock => 5.0 + 4.0 * (OVERLOCK_WIDTH + t) / p,
        // One thread, through and on.
        StitchKind::Handstitch => 1.0 + t / p,
    };
    ratio.is_finite().then_some(ratio)
}

/// The formula, as a sentence.
pub(super) const fn formula(kind: StitchKind) -> &'static str {
    match kind {
        StitchKind::Lockstitch => "2 + 2 × thickness ÷ stitch length",
        StitchKind::Chainstitch => "4 + 2 × thickness ÷ stitch length",
        StitchKind::Zigzag | StitchKind::Bartack => {
            "2 × √(stitch length² + width²) ÷ stitch length + 2 × thickness ÷ stitch length, 3 mm wide"
        }
        StitchKind::Overlock => "5 + 4 × (width + thickness) ÷ stitch length, 5 mm wide",
        StitchKind::Handstitch => "1 + thickness ÷ stitch length",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const INCH: f64 = 25.4;

    fn per_inch(kind: StitchKind, stitches: f64, thickness_inch: f64) -> f64 {
        consumption(kind, Length::mm(INCH / stitches), Length::mm(thickness_inch * INCH)).expect("a stitch with a length")
    }

    fn close(a: f64, b: f64) {
        assert!((a - b).abs() < 1e-9, "{a} is not {b}");
    }

    #[test]
    fn lockstitch_as_published() {
        // Published sewing-thread consumption guide, read: 301, T 0.01 in, 10 stitches an inch.
        close(per_inch(StitchKind::Lockstitch, 10.0, 0.01), 2.20);
    }

    #[test]
    fn chainstitch_as_published() {
        // Published sewing-thread consumption chart, read: 401, 8 stitches an inch.
        for (thickness, ratio) in [(0.055, 4.88), (0.060, 4.96), (0.065, 5.04), (0.070, 5.12), (0.075, 5.20)] {
            close(per_inch(StitchKind::Chainstitch, 8.0, thickness), ratio);
        }
    }

    #[test]
    fn two_thin_plies() {
        // By hand: 2 + 2 × (0.2 / 25.4) × 10 = 2.15748…
        let ratio = per_inch(StitchKind::Lockstitch, 10.0, 0.2 / INCH);
        assert!((ratio - 2.157_48).abs() < 1e-5);
    }

    #[test]
    fn zigzag_is_two_slants_a_stitch() {
        // By hand: p 2, w 3, T 0: each of two threads runs √13 for every 2 mm: 3.6056 in all.
        let ratio = consumption(StitchKind::Zigzag, Length::mm(2.0), Length::mm(0.0)).expect("a length");
        assert!((ratio - 3.606).abs() < 1e-3);
        // A bartack is a dense zigzag: p 0.4 → 2 × √(0.16 + 9) / 0.4 = 15.13.
        let bar = consumption(StitchKind::Bartack, Length::mm(0.4), Length::mm(0.0)).expect("a length");
        assert!((bar - 15.133).abs() < 1e-3);
    }

    #[test]
    fn overlock_takes_more_than_any_straight_stitch() {
        // By hand: 5 + 4 × (5 + 0.2) / 2.5 = 13.32.
        let ratio = consumption(StitchKind::Overlock, Length::mm(2.5), Length::mm(0.2)).expect("a length");
        close(ratio, 13.32);
    }

    #[test]
    fn hand_stitching_uses_one_thread() {
        // By hand: a stitch of 4 mm through 1 mm: 5 mm of thread for 4 mm of seam.
        close(consumption(StitchKind::Handstitch, Length::mm(4.0), Length::mm(1.0)).expect("a length"), 1.25);
    }

    #[test]
    fn no_length_no_answer() {
        for p in [0.0, -1.0, f64::NAN] {
            assert_eq!(consumption(StitchKind::Lockstitch, Length::mm(p), Length::mm(0.1)), None);
        }
    }
}
