//! Lapfell: from a pattern in text to pieces, cutter files and a sewing order.
//!
//! A source goes through these stages, each a room of the house, and never back:
//!
//! 1. [`source`] holds the text of every file, and points into it. A [`source::Loader`] fetches modules:
//!    [`stdlib`] serves those that travel with the program, [`cli::Folder`] those beside the main file.
//! 2. [`syntax`] turns text into a tree of what was written, and says what can't be read.
//! 3. [`check`] follows the imports, looks every name up and works out what kind of thing every expression is:
//!    a length, an area, money per length. What leaves it makes sense in every size.
//!    Where a panel is traced from a drawing, [`trace`] reads its outline.
//! 4. [`eval`] takes one size, gives every parameter its value, drafts every panel to its cut line, and sets
//!    every attachment and seam in its place. What leaves it is plain data, the resolved design of [`ir`].
//! 5. [`analysis`] reads that design as a master sewer would: what can't be sewn, in which order the rest is, what it takes and costs.
//! 6. [`export`] writes it down: drawings, cutter files, pages, tables. A back end decides nothing about the design.
//!
//! [`pipeline`] is the only place that knows all of them, and [`cli`] the only one that knows files and the
//! terminal. [`quantity`] and [`geometry`] know nothing of sewing; [`diagnostic`] is how every stage says what is wrong.
//!
//! ```
//! use lapfell::pipeline::{Request, compile, goods, Kind, Style};
//! use lapfell::source::Loaded;
//! use lapfell::stdlib::{Nothing, WithLibrary};
//!
//! let text = r#"
//! use std.cloths { sack_cloth }
//! use std.finishes { rolled_hem }
//! use std.shapes { rectangle }
//!
//! design mat "A mat to sit on" {
//!   panel seat {
//!     cut 1 of sack_cloth
//!     shape rectangle(width: 40 cm, height: 40 cm)
//!     finish foot, right, head, left with rolled_hem(width: 8 mm)
//!     grain along left
//!   }
//! }
//! "#;
//! let main = Loaded { name: "mat.fell".into(), text: text.into() };
//! let compiled = compile(main, &WithLibrary(Nothing), &Request::default(), &|_| {})?;
//! assert!(!compiled.problems.has_errors());
//! let as_drawn = compiled.size(lapfell::pipeline::AS_DRAWN)?;
//! println!("{}", goods(as_drawn, Kind::Text(Style::METRIC)).unwrap());
//! # Ok::<(), lapfell::pipeline::UsageError>(())
//! ```

// What the parser generator writes names it so.
extern crate alloc;

pub mod analysis;
pub mod check;
pub mod cli;
pub mod diagnostic;
pub mod eval;
pub mod export;
pub mod geometry;
pub mod ir;
pub mod pipeline;
pub mod quantity;
pub mod source;
pub mod stdlib;
pub mod syntax;
pub mod trace;
