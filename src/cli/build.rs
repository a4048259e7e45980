//! `lapfell build`

use super::failure::{Failure, Outcome};
use super::options::{Sizes, Source};
use super::terminal::{Format, Terminal};
use super::writing::Writing;
use crate::pipeline::{self, Flavour, Options};
use clap::{Args, ValueEnum};
use std::path::{Path, PathBuf};

/// Write everything there is to cut and sew a design by
///
/// A folder a size: pieces as SVG, cutter files as DXF and for plotters, a pattern file for other pattern makers,
/// sewing order, cut list, bill of materials, and the resolved geometry as JSON. Beside the folders, all sizes
/// together: a page of figures (sizes.txt), a pattern file (pattern.dxf), and with two sizes or more a drawing of
/// one over the other (nested.svg). Nothing is written when there are errors, in this or any other size.
#[derive(Debug, Args)]
pub(super) struct Build {
    #[command(flatten)]
    source: Source,

    #[command(flatten)]
    sizes: Sizes,

    /// Write into this folder [default: out/ and the design's name]
    ///
    /// A folder holds builds of one design. What an earlier build of these sizes wrote there is replaced, and taken
    /// away where this one no longer makes it; a file of any other origin is never changed, and if it is in the way
    /// nothing is written. A build that is stopped leaves every earlier file whole.
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,

    /// Which DXF the cutter reads
    #[arg(long, value_enum, default_value_t, value_name = "RELEASE")]
    dxf: Release,

    /// Lay the sizes of nested.svg over one another at the start of this edge: head, or shell.head
    /// [default: the lower left corner of the finished outline]
    ///
    /// An outline runs counter-clockwise, as seen from the face. Can be given several times, for different pieces.
    #[arg(long, value_name = "EDGE")]
    nest_at: Vec<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
enum Release {
    /// The oldest still in use, which every cutter reads
    #[default]
    R12,
    /// Newer: lighter polylines, and the unit is stated in the file
    R2000,
}

impl Release {
    fn flavour(self) -> Flavour {
        match self {
            Self::R12 => Flavour::R12,
            Self::R2000 => Flavour::R2000,
        }
    }
}

impl Build {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        pipeline::on_threads(self.source.jobs(), || self.build(terminal))
    }

    fn build(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        let compiled = match self.source.compile_clean(terminal)? {
            Ok(compiled) => compiled,
            Err(outcome) => return Ok(outcome),
        };
        let chosen = compiled.chosen(&self.sizes.names)?;
        pipeline::nest_at(&compiled, &self.nest_at)?;
        let options = Options { style: self.source.style(), dxf: self.dxf.flavour(), nest_at: self.nest_at.clone() };
        let name = compiled.name().unwrap_or("design");
        let folder = self.out.clone().unwrap_or_else(|| Path::new("out").join(name));
        let writing = Writing::into(&folder, name)?;
        pipeline::each_file(&compiled, &chosen, &options, &|file| writing.take(file))?;
        let count = writing.finish(self.sizes.names.is_empty())?;
        if terminal.format == Format::Text {
            let sizes = if chosen.len() == 1 { "1 size".to_owned() } else { format!("{} sizes", chosen.len()) };
            let line = format!("wrote {count} files for {sizes} into {}\n", folder.display());
            terminal.out(&crate::diagnostic::plain(&line))?;
        }
        // The program ends here, and the system takes all memory back at once.
        std::mem::forget(compiled);
        Ok(Outcome::Clean)
    }
}
