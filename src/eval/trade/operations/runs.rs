//! Edges that one strip finishes together, in one act.

use super::Bench;
use super::acts::join_words;
use crate::ir::{Edge, EdgeId, Piece, PieceId};

/// What is done with the ends of a strip that goes all the way round.
pub(super) const WHERE_IT_CLOSES: &str =
    "; it goes all the way round: start away from corners and seams, and lay its end over its beginning, turned under";

impl Bench<'_, '_> {
    /// As [`Self::hem_is_early`], for all edges of a run: one strip is sewn on at one time.
    pub(super) fn run_is_early(&self, id: PieceId, edge: EdgeId, run: &[String]) -> Option<bool> {
        let Some(piece) = self.piece(id).filter(|_| !run.is_empty()) else { return self.hem_is_early(id, edge) };
        let of_run = |(index, e): (usize, &Edge)| run.contains(&e.name).then(|| self.hem_is_early(id, EdgeId::at(index))).flatten();
        piece.edges.iter().enumerate().filter_map(of_run).reduce(|a, b| a || b)
    }

    /// Edges by their names, those that one strip goes along together: `head, and left and foot in one`.
    pub(super) fn runs_in_words(&self, piece: &Piece, edges: &[EdgeId]) -> String {
        let mut said: Vec<String> = Vec::new();
        for edge in edges.iter().filter_map(|e| piece.edges.get(e.index())) {
            let run =
                self.evaluator.edge_finishes.get(&(piece.name.clone(), edge.name.clone())).map(|f| f.run.as_slice()).unwrap_or_default();
            let words = match run {
                [] => edge.name.clone(),
                run => format!("{} in one", join_words(&run.iter().map(String::as_str).collect::<Vec<_>>())),
            };
            if !said.contains(&words) {
                said.push(words);
            }
        }
        let several = said.iter().any(|s| s.ends_with(" in one"));
        if several { said.join(", and ") } else { join_words(&said.iter().map(String::as_str).collect::<Vec<_>>()) }
    }
}
