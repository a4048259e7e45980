//! The acts themselves, in the words of the source and its library.

use super::Bench;
use super::runs::WHERE_IT_CLOSES;
use super::turning::is_corner;
use crate::eval::finish::{FinishValue, WorkValue};
use crate::eval::trade::join::USUAL_STITCH;
use crate::ir::{
    EdgeId, EdgeSide, Layer, MaterialKind, Opening, Operation, OperationKind, Piece, PieceId, SeamForm, SeamId, Stack, Stitch, StitchKind,
    Subject, Text, TextPart, Where,
};
use crate::quantity::{Length, Style};
use crate::source::Span;
use crate::syntax::ast::WorkPhase;

impl Bench<'_, '_> {
    pub(super) fn write_acts(&mut self) {
        for index in 0..self.evaluator.pieces.len() {
            self.cut_act(PieceId::at(index));
        }
        for index in 0..self.evaluator.pieces.len() {
            self.shape_act(PieceId::at(index));
            self.hem_acts(PieceId::at(index));
        }
        let trade = self.trade;
        for job in &trade.jobs.attached {
            self.attach_acts(job);
        }
        for (index, finish) in trade.jobs.applied.iter().enumerate() {
            self.apply_act(index, finish);
        }
        for index in 0..trade.quilting.len() {
            self.quilt_act(index);
        }
        for job in &trade.jobs.seams {
            self.seam_acts(job.seam, job.finish.as_ref(), job.close.as_ref());
        }
        self.bag_acts();
        self.lining_acts();
        for step in &trade.jobs.steps {
            let mut op = act(&step.name, OperationKind::Extra, Subject::Whole, step.origin);
            op.what = step.text.clone();
            self.push(op);
        }
    }

    pub(super) fn piece(&self, id: PieceId) -> Option<&Piece> {
        self.evaluator.pieces.get(id.index())
    }

    fn is_brought(&self, piece: PieceId) -> bool {
        self.trade.jobs.attached.iter().any(|j| j.brings.contains(&piece))
    }

    fn cut_act(&mut self, id: PieceId) {
        let Some(piece) = self.piece(id) else { return };
        let material = self.evaluator.materials.get(piece.material.index()).map_or("cloth", |m| m.title.as_str());
        let mirrored = piece.copies.iter().filter(|c| c.mirrored).count();
        let names: Vec<&str> = piece.copies.iter().filter_map(|c| c.name.as_deref()).collect();
        let fold = if piece.fold_line.is_some() { " on the fold" } else { "" };
        let mut what = format!("Cut {} of {}{fold} from {}", piece.copies.len(), piece.label, lower_first(material));
        if mirrored > 0 {
            what += &format!(", {mirrored} of them turned over");
        }
        if !names.is_empty() {
            what += &format!(" ({})", names.join(", "));
        }
        let mut marks = Vec::new();
        if !piece.notches.is_empty() {
            marks.push("its notches");
        }
        if !piece.marks.is_empty() {
            marks.push("its marks");
        }
        if !piece.folds.is_empty() {
            marks.push("its fold lines");
        }
        if !marks.is_empty() {
            what += &format!(", and carry over {}", join_words(&marks));
        }
        if let Some(raw) = self.left_raw(id) {
            what += &raw;
        }
        let mut op = act(&piece.name, OperationKind::Cut, Subject::Piece(id), piece.origin);
        op.what = Text::words(what);
        self.push(op);
    }

    /// What becomes of cloth edges that stay as cut.
    fn left_raw(&self, id: PieceId) -> Option<String> {
        let piece = self.piece(id).filter(|_| !self.is_brought(id))?;
        let cloth = self.evaluator.materials.get(piece.material.index()).is_some_and(|m| m.kind == MaterialKind::Cloth);
        let raw: Vec<&str> = piece.edges.iter().filter(|e| e.raw_because.is_some()).map(|e| e.name.as_str()).collect();
        (cloth && !raw.is_empty()).then(|| {
            format!(
                "; {} {} raw: woven cloth frays there with wear and washing, unless it is a selvedge, coated, or cut hot",
                join_words(&raw),
                if raw.len() == 1 { "stays" } else { "stay" }
            )
        })
    }

    /// Darts are sewn, pleats basted, while the piece lies flat.
    fn shape_act(&mut self, id: PieceId) {
        let Some(piece) = self.piece(id) else { return };
        let label = &piece.label;
        let of = |sort: &'static str| piece.folds.iter().filter(move |f| is_take(&f.of, sort));
        let mut what = Text::default();
        if of("dart").next().is_some() {
            let words = "along the middle of each dart, faces together and notches level, and stitch from the edge to the point; press";
            what = what.then(format!("Fold {label} {words}"));
        }
        if of("pleat").next().is_some() {
            let lead = if what.is_empty() { format!("Fold {label} ") } else { "; then fold it ".to_owned() };
            what = what.then(lead);
            what = what.then("along the lines of each pleat, notches level, and baste the pleat inside the allowance");
        }
        if what.is_empty() {
            return;
        }
        // A dart's line runs up one leg and down the other, and both are caught in one row of stitches.
        let sewn: f64 = of("dart").map(|f| f.path.length() / 2.0).sum::<f64>() * piece.copies.len() as f64;
        let mut op = act(&piece.name, OperationKind::Shape, Subject::Piece(id), piece.origin);
        op.what = what;
        if sewn > 0.0 {
            op.stitch = Some(Stitch { kind: StitchKind::Lockstitch, length: Length::mm(USUAL_STITCH) });
        }
        op.sewn = Length::mm(sewn);
        op.plies = 2;
        self.push(op);
    }

    /// One act for all edges of a piece that are finished alike.
    fn hem_acts(&mut self, id: PieceId) {
        let Some(piece) = self.piece(id) else { return };
        if self.is_brought(id) {
            return;
        }
        let mut groups: Vec<(&FinishValue, bool, Vec<EdgeId>)> = Vec::new();
        for (index, edge) in piece.edges.iter().enumerate() {
            let Some(finish) = self.evaluator.edge_finishes.get(&(piece.name.clone(), edge.name.clone())) else { continue };
            let early = self.run_is_early(id, EdgeId::at(index), &finish.run);
            // Edges that leave the choice go with whichever come first.
            let fits = |e: bool| early.is_none_or(|early| early == e);
            match groups.iter_mut().find(|(f, e, _)| f.name == finish.name && f.work == finish.work && fits(*e)) {
                Some((_, _, edges)) => edges.push(EdgeId::at(index)),
                None => groups.push((finish, early.unwrap_or(false), vec![EdgeId::at(index)])),
            }
        }
        let mut acts = Vec::new();
        for (finish, _, edges) in groups {
            let lead = Text::words(format!("Finish {} of {}: ", self.runs_in_words(piece, &edges), piece.label));
            let mut op = act(&piece.name, OperationKind::Hem, Subject::Piece(id), finish.origin);
            op.what = lead.text(sentences(
                &finish.work,
                &[WorkPhase::Prepare, WorkPhase::Place, WorkPhase::Sew, WorkPhase::Complete],
                "fold and stitch it",
            ));
            // A hem closes on itself by itself; a strip has two ends.
            if finish.closes && finish.folds.is_empty() && !finish.uses.is_empty() {
                op.what = std::mem::take(&mut op.what).then(WHERE_IT_CLOSES);
            }
            if !finish.folds.is_empty() && piece.edges.len() > 1 && edges.iter().any(|e| meets_next(*e, &edges, piece)) {
                op.what = std::mem::take(&mut op.what).then(AT_HEM_CORNERS);
            }
            op.stitch.clone_from(&finish.stitch);
            let length: f64 = edges.iter().filter_map(|e| piece.edges.get(e.index())).map(|e| e.sewn_length.as_mm()).sum();
            op.sewn = Length::mm(length * f64::from(finish.rows) * piece.copies.len() as f64);
            op.plies = u32::try_from(finish.folds.len() + 1).unwrap_or(2);
            op.places = self.on_copies(id, &edges);
            acts.push((op, edges));
        }
        for (op, edges) in acts {
            let op = self.push(op);
            self.hems.push((op, id, edges));
        }
    }

    /// Edges of every copy that has a name of its own, or of the piece where none has.
    fn on_copies(&self, id: PieceId, edges: &[EdgeId]) -> Vec<Where> {
        let Some(piece) = self.piece(id) else { return Vec::new() };
        let named = piece.copies.iter().any(|c| c.name.is_some());
        let copies: Vec<Option<u32>> = if named { (0..piece.copies.len()).map(|i| u32::try_from(i).ok()).collect() } else { vec![None] };
        copies
            .iter()
            .flat_map(|&copy| edges.iter().map(move |&e| (copy, e)))
            .map(|(c, e)| whole(self.evaluator.whole_edge(id, c, e)))
            .collect()
    }

    fn apply_act(&mut self, index: usize, finish: &FinishValue) {
        let Some(applied) = self.trade.applied.get(index) else { return };
        let (Some(piece), Some(onto)) = (self.piece(applied.piece), self.piece(applied.onto)) else { return };
        let onto_name = applied.onto_copy.and_then(|c| onto.copies.get(c as usize)).and_then(|c| c.name.clone());
        let onto_name = onto_name.unwrap_or_else(|| onto.label.clone());
        let names: Vec<&str> = applied.edges.iter().filter_map(|e| piece.edges.get(e.index())).map(|e| e.name.as_str()).collect();
        let lead = format!("Lay {} on {onto_name}, on its marked outline, and sew down its {}: ", piece.label, join_words(&names));
        let mut op = act(&piece.name, OperationKind::Apply, Subject::Applied(u32::try_from(index).unwrap_or(u32::MAX)), applied.origin);
        op.what = Text::words(lead).text(sentences(&finish.work, &[WorkPhase::Prepare, WorkPhase::Sew], "stitch it down"));
        op.stitch.clone_from(&finish.stitch);
        op.sewn = applied.length * f64::from(finish.rows);
        op.plies = 3;
        op.facing = Some(format!("both faces up: {} on top", piece.label));
        op.places = applied.edges.iter().map(|&edge| whole(self.evaluator.whole_edge(applied.piece, None, edge))).collect();
        self.push(op);
    }

    fn quilt_act(&mut self, index: usize) {
        let Some(quilt) = self.trade.quilting.get(index) else { return };
        let names: Vec<String> = quilt.layers.iter().map(|(piece, copy)| self.layer_name(*piece, *copy)).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let mut parts = Vec::new();
        if !quilt.lines.is_empty() {
            parts.push(format!("stitch the {} marked lines, from the middle outwards", quilt.lines.len()));
        }
        if !quilt.ties.is_empty() {
            parts.push(format!("tie through at the {} marks, loose enough that the loft stays", quilt.ties.len()));
        }
        let mut op = act(&quilt.name, OperationKind::Quilt, Subject::Quilting(u32::try_from(index).unwrap_or(u32::MAX)), quilt.origin);
        op.what =
            Text::words(format!("Through {}, {}", join_words(&names), join_words(&parts.iter().map(String::as_str).collect::<Vec<_>>())));
        op.stitch = Some(quilt.stitch.clone());
        op.sewn = Length::mm(quilt.lines.iter().map(crate::geometry::Path::length).sum());
        op.plies = u32::try_from(quilt.layers.len()).unwrap_or(2);
        self.push(op);
    }

    pub(super) fn layer_name(&self, piece: PieceId, copy: Option<u32>) -> String {
        let Some(piece) = self.piece(piece) else { return String::new() };
        copy.and_then(|c| piece.copies.get(c as usize)).and_then(|c| c.name.clone()).unwrap_or_else(|| piece.label.clone())
    }

    fn seam_acts(&mut self, id: SeamId, finish: Option<&FinishValue>, close: Option<&FinishValue>) {
        let trade = self.trade;
        let Some(seam) = trade.seams.get(id.index()) else { return };
        let subject = Subject::Seam(id);
        if let Some(finish) = finish.filter(|f| f.work.iter().any(|w| w.phase == WorkPhase::Prepare)) {
            let mut op = act(&seam.name, OperationKind::Prepare, subject, seam.origin);
            op.what = sentences(&finish.work, &[WorkPhase::Prepare], "").text(Text::words(format!(" ({})", seam.title)));
            self.push(op);
        }
        let late = |w: &WorkValue| matches!(w.phase, WorkPhase::Sew | WorkPhase::Complete);
        // The stitching of a finish that says no more once the seam is sewn is that of the row before it.
        let row = |f: &&FinishValue| f.work.iter().any(|w| w.phase == WorkPhase::Place);
        if let Some(finish) = finish.filter(row) {
            let mut op = act(&seam.name, OperationKind::Place, subject, seam.origin);
            op.what = Text::words(format!("{}: ", seam.title)).text(sentences(&finish.work, &[WorkPhase::Place], ""));
            if !finish.work.iter().any(late) && finish.stitch.is_some() {
                op.stitch.clone_from(&finish.stitch);
                op.sewn = seam.length * f64::from(finish.rows);
                op.plies = 2;
            }
            self.push(op);
        }
        let mut op = match &seam.form {
            SeamForm::Join(join) => self.join_act(id, seam, join),
            SeamForm::Stack(stack) => self.stack_act(stack, seam, subject),
        };
        if let Some(first) = self.of_seam(id, OperationKind::Place).and_then(|row| self.list.get_mut(row.index())) {
            first.places.clone_from(&op.places);
        }
        op.stitch = Some(seam.stitch.clone());
        op.sewn = seam.length;
        self.push(op);
        if let Some(finish) = finish.filter(|f| f.work.iter().any(late) || f.stitch.is_some() && !row(f)) {
            let mut op = act(&seam.name, OperationKind::FinishSeam, subject, seam.origin);
            op.what = Text::words(format!("{}: ", seam.title)).text(sentences(
                &finish.work,
                &[WorkPhase::Sew, WorkPhase::Complete],
                "finish the allowances",
            ));
            op.stitch.clone_from(&finish.stitch);
            op.sewn = if finish.stitch.is_some() { seam.length * f64::from(finish.rows) } else { Length::mm(0.0) };
            op.plies = 4;
            self.push(op);
        }
        self.turn_acts(id, close);
        self.open_turn_act(id);
    }

    /// `, but leave 25 cm of outer.right open, starting 30 cm from head`
    pub(super) fn left_open(&self, what: Text, opening: &Opening, between: &str) -> Text {
        what.then(", but leave ")
            .length(opening.side.to - opening.side.from)
            .then(format!(" of {} open{between}, starting ", self.evaluator.side_name(&opening.side)))
            .length(opening.distance)
            .then(format!(" from {}", opening.from_end))
    }

    fn stack_act(&self, stack: &Stack, seam: &crate::ir::Seam, subject: Subject) -> Operation {
        let mut op = act(&seam.name, OperationKind::Stack, subject, seam.origin);
        let laid = |l: &Layer| {
            let name = self.layer_name(l.piece, l.copy);
            match l.face_up {
                Some(true) => format!("{name} face up"),
                Some(false) => format!("{name} face down"),
                None => name,
            }
        };
        let layers: Vec<String> = stack.layers.iter().map(laid).collect();
        let edges = if stack.around {
            "all round".to_owned()
        } else {
            format!("along {}", join_words(&stack.edges.iter().map(String::as_str).collect::<Vec<_>>()))
        };
        let mut what = Text::words(format!(
            "{}: lay {} on the table, each on the last, edges and notches level; sew {edges}",
            seam.title,
            layers.join(", then ")
        ));
        if let Some(opening) = &stack.opening {
            let (a, b) = opening.between;
            let name = |i: u32| stack.layers.get(i as usize).map(|l| self.layer_name(l.piece, l.copy)).unwrap_or_default();
            what = self.left_open(what, opening, &format!(" between {} and {}", name(a), name(b)));
        }
        op.what = what;
        op.facing = Some(format!("from the table up: {}", layers.join(", ")));
        if let Some(base) = stack.layers.first()
            && let Some(piece) = self.piece(base.piece)
            && !stack.around
        {
            let edges = piece.edges.iter().enumerate().filter(|(_, e)| stack.edges.contains(&e.name));
            op.places = edges.map(|(i, _)| whole(self.evaluator.whole_edge(base.piece, base.copy, EdgeId::at(i)))).collect();
        }
        op.plies = u32::try_from(stack.layers.len()).unwrap_or(2);
        op
    }

    /// Where a side is, measured from the end at which its edge starts when it is only part of that.
    pub(super) fn on(&self, side: &EdgeSide) -> Where {
        let edge = self.evaluator.edge_of(side).ok().filter(|_| side.line.is_none());
        match edge {
            Some(edge) if side.from.as_mm() > 0.0 || side.to.as_mm() < edge.length.as_mm() => {
                Where { side: side.clone(), distances: vec![side.from], from_end: edge.start_neighbour.clone() }
            }
            _ => whole(side.clone()),
        }
    }
}

pub(super) fn act(name: &str, kind: OperationKind, subject: Subject, origin: Span) -> Operation {
    Operation {
        name: name.to_owned(),
        kind,
        subject,
        what: Text::default(),
        places: Vec::new(),
        facing: None,
        stitch: None::<Stitch>,
        sewn: Length::mm(0.0),
        plies: 0,
        after: Vec::new(),
        origin,
    }
}

pub(super) fn whole(side: EdgeSide) -> Where {
    Where { side, distances: Vec::new(), from_end: String::new() }
}

/// What is done where two hems meet, which folded and stitched at once would be nine layers and more.
const AT_HEM_CORNERS: &str = "; where two hems meet, stitch the first to its very end, cut a small triangle off the corner of the second \
                              allowance so that no raw edge lies under it, then fold and stitch the second across";

/// Whether an edge and the next one round the piece are both among these, and meet in a corner that points out.
fn meets_next(edge: EdgeId, edges: &[EdgeId], piece: &Piece) -> bool {
    let next = EdgeId::at((edge.index() + 1) % piece.edges.len().max(1));
    let both = piece.edges.get(edge.index()).zip(piece.edges.get(next.index()));
    edges.contains(&next) && both.is_some_and(|(a, b)| is_corner(&a.path, &b.path))
}

/// The work texts of some phases, one after the other in one sentence. What reads alike is said once: lengths of edges that are
/// alike differ by rounding noise.
pub(super) fn sentences(work: &[WorkValue], phases: &[WorkPhase], otherwise: &str) -> Text {
    let mut said: Vec<String> = Vec::new();
    let mut text = Text::default();
    for item in work.iter().filter(|w| phases.contains(&w.phase)) {
        let words = item.text.worded(Style::METRIC);
        if said.contains(&words) {
            continue;
        }
        said.push(words);
        text = if text.is_empty() { item.text.clone() } else { text.then("; then ").text(lower_start(item.text.clone())) };
    }
    if text.is_empty() { Text::words(otherwise) } else { text }
}

/// Whether a fold belongs to a dart, or a pleat, and not to a hem: `dart head`.
fn is_take(of: &str, sort: &str) -> bool {
    of.split_once(' ').is_some_and(|(first, _)| first == sort)
}

pub(super) fn join_words(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// A text that goes on in a sentence.
pub(super) fn lower_start(mut text: Text) -> Text {
    if let Some(TextPart::Words(words)) = text.0.first_mut() {
        *words = lower_first(words);
    }
    text
}

/// A text that begins one.
pub(super) fn upper_start(mut text: Text) -> Text {
    if let Some(TextPart::Words(words)) = text.0.first_mut() {
        let mut letters = words.chars();
        *words = letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect());
    }
    text
}

pub(super) fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    match (chars.next(), chars.as_str().chars().next()) {
        // A word that is all capitals, or starts with a figure, stays as it is.
        (Some(first), Some(second)) if second.is_lowercase() => first.to_lowercase().chain(chars).collect(),
        _ => text.to_owned(),
    }
}
