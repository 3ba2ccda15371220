//! A part is shown, and no face of its stock is good enough.

use super::{Check, Subject};
use crate::diag::Finding;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "no-good-face",
    summary: "a part has a show face and its stock has no face that may be seen",
    why: "Sheets are sold with two good faces, one or none. A part whose face will be seen needs one; if its stock has none, it is \
          veneered, painted or of another stock.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    for (id, part) in subject.model.part_ids() {
        if part.show.is_none() || part.stock.show_faces > 0 {
            continue;
        }
        let name = subject.model.full_name(id);
        findings.push(
            Finding::warning(CHECK.code, format!("`{name}` is seen, and no face of {} is good", part.stock.name))
                .at(part.at.clone())
                .hint("choose a stock with a good face, or leave `show` out if the face will be covered or painted")
                .source(CHECK.source),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, sheet};
    use super::*;
    use crate::base::Face;
    use crate::model::Model;

    #[test]
    fn a_shown_part_needs_a_good_face() {
        for (faces, show, count) in [(2, true, 0), (1, true, 0), (0, true, 1), (0, false, 0)] {
            let mut model = job();
            let mut stock = sheet(12);
            stock.show_faces = faces;
            let part = add(&mut model, Model::ROOT, "top", &stock, [0, 0, 0], [160, 80, 12]);
            model.part_mut(part).show = show.then_some(Face::Top);
            assert_eq!(found(model, &CHECK).len(), count);
        }
    }
}
