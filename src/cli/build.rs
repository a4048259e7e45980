//! `lapfell build`

use super::failure::{Failure, Outcome};
use super::options::{Sizes, Source, Units};
use super::terminal::{Format, Terminal};
use super::writing::write_all;
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

    #[command(flatten)]
    units: Units,

    /// Write into this folder [default: out/ and the design's name]
    ///
    /// Files that an earlier build of these sizes wrote there and this one no longer makes are taken away.
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
        let compiled = match self.source.compile_clean(terminal)? {
            Ok(compiled) => compiled,
            Err(outcome) => return Ok(outcome),
        };
        let chosen = compiled.chosen(&self.sizes.names)?;
        pipeline::nest_at(&compiled, &self.nest_at)?;
        let options = Options { style: self.units.style(), dxf: self.dxf.flavour(), nest_at: self.nest_at.clone() };
        let files = pipeline::files(&compiled, &chosen, &options).map_err(|reason| Failure::Export { reason })?;
        let folder = match &self.out {
            Some(folder) => folder.clone(),
            None => Path::new("out").join(compiled.name().unwrap_or("design")),
        };
        compiled.at_once(|| write_all(&folder, &files, self.sizes.names.is_empty()))?;
        if terminal.format == Format::Text {
            let sizes = if chosen.len() == 1 { "1 size".to_owned() } else { format!("{} sizes", chosen.len()) };
            let line = format!("wrote {} files for {sizes} into {}\n", files.len(), folder.display());
            terminal.out(&crate::diagnostic::plain(&line))?;
        }
        Ok(Outcome::Clean)
    }
}
