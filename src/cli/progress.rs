//! A bar for families of many sizes.

use indicatif::ProgressBar;
use std::io::IsTerminal;
use std::sync::OnceLock;

/// Fewer sizes are done before anyone could read a bar.
const WORTH_SHOWING: usize = 20;

/// Counts sizes on a terminal.
#[derive(Debug, Default)]
pub(super) struct Progress {
    bar: OnceLock<Option<ProgressBar>>,
}

impl Progress {
    /// One of `total` sizes is ready.
    pub(super) fn one_done(&self, total: usize) {
        let wanted = || total > WORTH_SHOWING && std::io::stderr().is_terminal();
        if let Some(bar) = self.bar.get_or_init(|| wanted().then(|| ProgressBar::new(total as u64))) {
            bar.inc(1);
        }
    }

    /// Takes the bar away.
    pub(super) fn finish(&self) {
        if let Some(Some(bar)) = self.bar.get() {
            bar.finish_and_clear();
        }
    }
}
