//! Plans of the samples, measured.
