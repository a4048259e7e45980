//! Tests of tracing: in `tests.rs` what single drawings give.
