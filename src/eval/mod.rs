//! Evaluation: from the checked program and parameter values to resolved geometry.

pub mod draft;
