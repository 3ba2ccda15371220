//! A piece was made and never placed.

use super::{Check, Subject};
use crate::diag::Finding;
use crate::model::{Model, PieceId};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "piece-not-placed",
    summary: "a piece is made and never placed",
    why: "Its parts are cut all the same, but where they stand is not known, so that nothing proves that they fit.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    for (index, piece) in model.pieces.iter().enumerate() {
        let id = PieceId(u32::try_from(index).unwrap_or(0));
        if id == Model::ROOT || piece.parent.is_some() {
            continue;
        }
        findings.push(
            Finding::warning(CHECK.code, format!("the piece `{}` is made and never placed", piece.name))
                .at(piece.at.clone())
                .hint("place it with `place(...)`")
                .source(CHECK.source),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{found, job};
    use super::*;
    use crate::base::Length;

    #[test]
    fn a_placed_piece_is_quiet() {
        let mut model = job();
        let piece = model.add_piece("drawer", None);
        assert_eq!(found(model.clone(), &CHECK).len(), 1);
        model.place(piece, Model::ROOT, [Length::ZERO; 3]);
        assert!(found(model, &CHECK).is_empty());
    }
}
