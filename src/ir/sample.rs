//! Small designs built by hand, for tests of everything that reads resolved geometry.

mod designs;

use super::*;
use crate::geometry::{Path, Point, Segment, Vector};
use crate::quantity::{Angle, Area, Length, Mass, Money};
use crate::source::FileId;
pub(crate) use designs::{QuiltIds, quilt, tarp};

/// A millimetre length, short.
pub(crate) const fn mm(value: f64) -> Length {
    Length::mm(value)
}

/// A design under construction.
pub(crate) struct Sample {
    pub(crate) design: Design,
    line: usize,
}

impl Sample {
    pub(crate) fn new(name: &str, title: &str) -> Self {
        let design = Design {
            format: FORMAT_VERSION,
            name: name.into(),
            title: title.into(),
            size: None,
            size_title: "as drawn".into(),
            files: vec![format!("{name}.fell")],
            parameters: Vec::new(),
            materials: Vec::new(),
            pieces: Vec::new(),
            attachments: Vec::new(),
            seams: Vec::new(),
            applied: Vec::new(),
            quilting: Vec::new(),
            operations: Vec::new(),
            cutters: Vec::new(),
            cautions: Vec::new(),
            accepted: Vec::new(),
            provenance: Provenance::default(),
        };
        Self { design, line: 0 }
    }

    /// A fresh line of the imagined source.
    pub(crate) fn span(&mut self) -> Span {
        self.line += 1;
        Span::new(FileId(0), self.line * 100, self.line * 100 + 80)
    }

    /// A step of provenance without inputs.
    pub(crate) fn trace(&mut self, what: &str, value: &str, number: f64) -> TraceId {
        let origin = self.span();
        self.design.provenance.add(TraceNode {
            what: what.into(),
            how: "as written".into(),
            value: value.into(),
            number: Some(number),
            origin: Some(origin),
            place: format!("{}.fell:{}", self.design.name, self.line),
            inputs: Vec::new(),
        })
    }

    pub(crate) fn material(&mut self, name: &str, kind: MaterialKind) -> MaterialId {
        let why_mass = self.trace(&format!("mass of {name}"), "given", 0.0);
        let why_price = self.trace(&format!("price of {name}"), "given", 0.0);
        let origin = self.span();
        self.design.materials.push(Material {
            name: name.into(),
            title: format!("The {name}"),
            kind,
            mass: None,
            price: None,
            width: None,
            selvedge: mm(0.0),
            thickness: None,
            one_sided: false,
            direction: Direction::TwoWay,
            laser: None,
            chain: None,
            separating: false,
            slider_mass: None,
            slider_price: None,
            source: "memory".into(),
            why_mass,
            why_price,
            origin,
        });
        MaterialId::at(self.design.materials.len() - 1)
    }

    pub(crate) fn goods(&mut self, id: MaterialId) -> &mut Material {
        self.design.materials.get_mut(id.index()).expect("made by this sample")
    }

    pub(crate) fn price(&mut self, id: MaterialId, amount: f64, currency: &str, per: PricedBy) {
        self.goods(id).price = Some(Price { money: Money { amount, currency: currency.into() }, per });
    }

    /// A piece with straight edges, named in order, counter-clockwise. `cut` is width, height, area of the cut line.
    pub(crate) fn piece(
        &mut self,
        name: &str,
        material: MaterialId,
        corners: &[(f64, f64, &str)],
        allow: f64,
        cut: (f64, f64, f64),
    ) -> PieceId {
        let why = self.trace(&format!("area of {name}"), "drawn", cut.2);
        let points: Vec<Point> = corners.iter().map(|c| Point::new(c.0, c.1)).collect();
        let around = |i: usize| corners.get(i % corners.len()).map(|c| c.2.to_owned()).unwrap_or_default();
        let mut edges = Vec::new();
        for (i, (&start, &end)) in points.iter().zip(points.iter().cycle().skip(1)).enumerate() {
            let length = mm(start.distance(end));
            let why = self.trace(&format!("finished length of {name}.{}", around(i)), "drawn", length.as_mm());
            let why_allowance = self.trace(&format!("allowance of {name}.{}", around(i)), "as written", allow);
            let origin = self.span();
            edges.push(Edge {
                name: around(i),
                path: Path { start, segments: vec![Segment::Line { end }] },
                length,
                sewn_length: length,
                parts: Vec::new(),
                allowance: mm(allow),
                finish: None,
                raw_because: None,
                start_neighbour: around(i + corners.len() - 1),
                end_neighbour: around(i + 1),
                why,
                why_allowance,
                origin,
            });
        }
        let twice: f64 = points.iter().zip(points.iter().cycle().skip(1)).map(|(a, b)| a.x * b.y - b.x * a.y).sum();
        let spread = |get: fn(&Point) -> f64| {
            let low = points.iter().map(get).fold(f64::INFINITY, f64::min);
            points.iter().map(get).fold(f64::NEG_INFINITY, f64::max) - low
        };
        let (width, height) = (spread(|p| p.x), spread(|p| p.y));
        let (dx, dy) = ((cut.0 - width) / 2.0, (cut.1 - height) / 2.0);
        let boxed = [Point::new(-dx, -dy), Point::new(width + dx, -dy), Point::new(width + dx, height + dy), Point::new(-dx, height + dy)];
        let origin = self.span();
        self.design.pieces.push(Piece {
            name: name.into(),
            label: name.into(),
            copies: vec![Copy { name: None, mirrored: false }],
            material,
            edges,
            cut_line: Path {
                start: Point::new(-dx, -dy),
                segments: boxed.iter().cycle().skip(1).take(4).map(|&end| Segment::Line { end }).collect(),
            },
            folds: Vec::new(),
            notches: Vec::new(),
            marks: Vec::new(),
            holes: Vec::new(),
            fold_line: None,
            split_from: None,
            grain: Grain { angle: Some(Angle::radians(std::f64::consts::FRAC_PI_2)), within: Angle::radians(0.0), origin },
            finished: Extent { width: mm(width), height: mm(height), area: Area::mm2(twice / 2.0), why },
            cut: Extent { width: mm(cut.0), height: mm(cut.1), area: Area::mm2(cut.2), why },
            origin,
        });
        PieceId::at(self.design.pieces.len() - 1)
    }

    /// A rectangle `foot, right, head, left`.
    pub(crate) fn rectangle(&mut self, name: &str, material: MaterialId, (w, h): (f64, f64), allow: f64) -> PieceId {
        let cut = (w + 2.0 * allow, h + 2.0 * allow);
        let corners = [(0.0, 0.0, "foot"), (w, 0.0, "right"), (w, h, "head"), (0.0, h, "left")];
        self.piece(name, material, &corners, allow, (cut.0, cut.1, cut.0 * cut.1))
    }

    pub(crate) fn copies(&mut self, piece: PieceId, copies: &[(&str, bool)]) {
        let made = copies.iter().map(|&(name, mirrored)| Copy { name: Some(name.into()), mirrored }).collect();
        self.piece_mut(piece).copies = made;
    }

    pub(crate) fn piece_mut(&mut self, piece: PieceId) -> &mut Piece {
        self.design.pieces.get_mut(piece.index()).expect("made by this sample")
    }

    pub(crate) fn edge_mut(&mut self, piece: PieceId, name: &str) -> &mut Edge {
        self.piece_mut(piece).edges.iter_mut().find(|e| e.name == name).expect("an edge of the sample")
    }

    /// The whole of a named edge.
    pub(crate) fn side(&self, piece: PieceId, copy: Option<u32>, edge: &str) -> EdgeSide {
        let owner = self.design.piece(piece).expect("made by this sample");
        let index = owner.edges.iter().position(|e| e.name == edge).expect("an edge of the sample");
        let to = owner.edges.get(index).expect("just found").length;
        EdgeSide { piece, copy, edge: EdgeId::at(index), line: None, from: mm(0.0), to }
    }

    /// An attachment over `from..to` (from the edge's start).
    pub(crate) fn attach(&mut self, name: &str, side: &EdgeSide, (from, to): (f64, f64), stretch: bool) -> AttachmentId {
        let edge = self.design.edge(side.piece, side.edge).expect("an edge of the sample").clone();
        let why = self.trace(&format!("place of {name}"), "as written", from);
        let origin = self.span();
        let number = 1 + self.design.attachments.iter().filter(|a| a.name == name).count();
        self.design.attachments.push(Attachment {
            name: name.into(),
            number: u32::try_from(number).expect("few"),
            component: "ribbon_loop".into(),
            title: "A loop of ribbon".into(),
            piece: side.piece,
            copy: side.copy,
            place: Place::Edge {
                edge: side.edge,
                from: mm(from),
                to: mm(to),
                distance: mm(if stretch { from } else { f64::midpoint(from, to) }),
                from_end: edge.start_neighbour,
                stretch,
                why,
            },
            depth: mm(30.0),
            catches: mm(8.0),
            side: Side::Face,
            points: Pointing::In,
            symbol: if stretch { Symbol::Band } else { Symbol::Bar },
            needs_casing: false,
            pair: None,
            one_with: None,
            may_cross: Vec::new(),
            uses: Vec::new(),
            origin,
        });
        AttachmentId::at(self.design.attachments.len() - 1)
    }

    pub(crate) fn attachment(&mut self, id: AttachmentId) -> &mut Attachment {
        self.design.attachments.get_mut(id.index()).expect("made by this sample")
    }

    pub(crate) fn uses(&mut self, id: AttachmentId, material: MaterialId, amount: Amount) {
        let why = self.trace("goods used", "as written", 0.0);
        self.attachment(id).uses.push(Use { material, amount, why });
    }

    pub(crate) fn seam(&mut self, name: &str, form: SeamForm, length: f64) -> SeamId {
        let why = self.trace(&format!("length of {name}"), "drawn", length);
        let origin = self.span();
        self.design.seams.push(Seam {
            name: name.into(),
            title: name.into(),
            form,
            stitch: lockstitch(2.5),
            finish: None,
            length: mm(length),
            why,
            origin,
        });
        SeamId::at(self.design.seams.len() - 1)
    }

    pub(crate) fn join(&mut self, name: &str, first: EdgeSide, second: EdgeSide) -> SeamId {
        let length = |s: &EdgeSide| s.to - s.from;
        let (first_length, second_length) = (length(&first), length(&second));
        let join = Join {
            first: vec![first],
            second: vec![second],
            first_length,
            second_length,
            together: Together::Faces,
            ease: None,
            gather: None,
            opening: None,
            close: None,
        };
        self.seam(name, SeamForm::Join(join), first_length.as_mm())
    }

    pub(crate) fn seam_mut(&mut self, id: SeamId) -> &mut Seam {
        self.design.seams.get_mut(id.index()).expect("made by this sample")
    }

    pub(crate) fn stack_mut(&mut self, id: SeamId) -> &mut Stack {
        match &mut self.seam_mut(id).form {
            SeamForm::Stack(stack) => stack,
            SeamForm::Join(_) => panic!("the sample made a join"),
        }
    }

    pub(crate) fn join_mut(&mut self, id: SeamId) -> &mut Join {
        match &mut self.seam_mut(id).form {
            SeamForm::Join(join) => join,
            SeamForm::Stack(_) => panic!("the sample made a stack"),
        }
    }

    pub(crate) fn operation(&mut self, name: &str, kind: OperationKind, subject: Subject, what: &str) -> OperationId {
        let origin = self.span();
        self.design.operations.push(Operation {
            name: name.into(),
            kind,
            subject,
            what: Text::words(what),
            places: Vec::new(),
            facing: None,
            stitch: None,
            sewn: mm(0.0),
            plies: 0,
            after: Vec::new(),
            origin,
        });
        OperationId::at(self.design.operations.len() - 1)
    }

    pub(crate) fn op(&mut self, id: OperationId) -> &mut Operation {
        self.design.operations.get_mut(id.index()).expect("made by this sample")
    }

    /// `later` follows `earlier`.
    pub(crate) fn after(&mut self, later: OperationId, earlier: OperationId, because: &str) {
        self.op(later).after.push(After { operation: earlier, because: because.into(), asked: false });
    }
}

pub(crate) fn lockstitch(length: f64) -> Stitch {
    Stitch { kind: StitchKind::Lockstitch, length: mm(length) }
}

pub(crate) fn finish(name: &str, needs: f64, encloses: bool, origin: Span) -> SeamFinish {
    SeamFinish {
        name: name.into(),
        needs: mm(needs),
        encloses,
        stitch: Some(lockstitch(3.0)),
        stitch_at: mm(2.0),
        rows: 1,
        uses: Vec::new(),
        origin,
    }
}

/// The inward direction at an edge's start, for notches.
pub(crate) fn notch(edge: EdgeId, at: f64, origin: Span) -> Notch {
    Notch {
        edge,
        at: mm(at),
        place: mm(at),
        shape: super::NotchShape::Slit,
        rows: 1,
        width: mm(0.0),
        lines: vec![Path::line(Point::new(0.0, 0.0), Point::new(0.0, 4.0))],
        point: Point::new(0.0, 0.0),
        inward: Vector::new(0.0, 1.0),
        depth: mm(4.0),
        reason: NotchReason::Asked,
        origin,
    }
}
