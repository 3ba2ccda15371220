//! Something is said to be open that does not open.

use super::{Check, Subject};
use crate::diag::Finding;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "opens-nothing",
    summary: "`behind` or `with_open` names a part or piece that does not open",
    why: "What is opened first, or stands open at the same time, must be hung by `hang`, `swing` or `lift` itself. Otherwise the \
          way past it would not be looked at.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    for motion in &model.motions {
        for (key, named) in [("behind", &motion.behind), ("with_open", &motion.with_open)] {
            for &other in named {
                let message = if other == motion.moving {
                    format!("`{}` is said to be `{key}` itself", model.moving_name(other))
                } else if model.motions.iter().all(|known| known.moving != other) {
                    let (name, other) = (model.moving_name(motion.moving), model.moving_name(other));
                    format!("`{name}` is said to open `{key}` `{other}`, and `{other}` does not open")
                } else {
                    continue;
                };
                findings.push(
                    Finding::error(CHECK.code, message)
                        .at(motion.at.clone())
                        .hint("name what was given to `hang`, `swing` or `lift`: a piece where a piece was hung")
                        .source(CHECK.source),
                );
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, sheet};
    use super::*;
    use crate::base::{Face, Length};
    use crate::model::{Model, Motion, Moving, Way};

    #[test]
    fn what_is_behind_a_panel_that_stands_still_is_told() {
        let build = |hung: bool| {
            let mut model = job();
            let tray = add(&mut model, Model::ROOT, "tray", &sheet(12), [0, 0, 0], [160, 160, 12]);
            let door = add(&mut model, Model::ROOT, "door", &sheet(12), [0, -12, 0], [160, 0, 160]);
            let slide = |part, behind| Motion {
                moving: Moving::Part(part),
                way: Way::Slide { out: Face::Front, travel: Length::from_mm(300) },
                behind,
                with_open: vec![],
                opening: None,
                at: None,
            };
            model.motions.push(slide(tray, vec![Moving::Part(door)]));
            if hung {
                model.motions.push(slide(door, vec![]));
            }
            found(model, &CHECK)
        };
        assert_eq!(build(true), vec![]);
        assert!(build(false)[0].message.contains("`door` does not open"));
    }
}
