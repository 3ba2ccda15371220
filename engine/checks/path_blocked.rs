//! A drawer, door or lid meets something on its way.

use super::{Check, Subject};
use crate::diag::Finding;
use crate::model::{Model, Way};
use crate::proof::order::to;
use crate::proof::travel::{After, Meeting, Stand, Thing, ways};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "path-blocked",
    summary: "a drawer, a door or a lid meets something on its way",
    why: "What moves must move all the way: a drawer by the travel of its slides, a door and a lid by their angle. The whole volume \
          that it sweeps, with its pulls and all that is fixed to it, must be free of every part and of everything else that \
          moves, as that stands closed; and as that stands open, where the recipe says `with_open` or `behind`. A door turns \
          about the outer edge of its front face unless `line: \"back\"` is said: a concealed hinge keeps the leaf within its own \
          outline up to a right angle, and the knuckle of an inset door stands at its face.",
    source: "integer geometry; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let ways = ways(subject.proof);
    findings.extend(ways.meetings.iter().map(|meeting| told(model, meeting)));
    if !ways.complete {
        findings.push(
            Finding::error(CHECK.code, "more moves past more parts than can be looked at")
                .hint("draw the pieces in several jobs")
                .source(CHECK.source),
        );
    }
}

fn told(model: &Model, meeting: &Meeting) -> Finding {
    let print = model.printing;
    let motion = &model.motions[meeting.motion];
    let name = model.moving_name(motion.moving);
    let (own, other) = (thing(model, meeting.own), thing(model, meeting.other));
    let mover = meeting.other_moves.map(|(at, stand)| (model.moving_name(model.motions[at].moving), stand));
    let open = mover.as_ref().filter(|(_, stand)| *stand == Stand::Open);
    let state = open.map(|(mover, _)| format!(", with `{mover}` open")).unwrap_or_default();
    let goes = match (meeting.after, motion.way) {
        (After::Length(after), Way::Slide { travel, .. }) => {
            format!("`{name}` comes out only {} of {}", print.length(after), print.length(travel))
        }
        (After::Degrees(after), Way::Turn(turn)) => {
            format!("`{name}` opens only to {after} of {} degrees", turn.degrees)
        }
        _ => format!("`{name}` does not open"),
    };
    let cure =
        meeting.cure.map(|(face, by)| format!("{other} would be clear {} further {}", print.length(by), to(face)));
    let cure = cure.unwrap_or_else(|| format!("make {own} smaller, or let it open less far"));
    let hint = match &mover {
        Some((mover, Stand::Closed)) => format!("say `behind` if `{mover}` is always opened first; else {cure}"),
        _ => cure,
    };
    Finding::error(CHECK.code, format!("{goes}: {own} meets {other}{state}"))
        .at(motion.at.clone())
        .hint(hint)
        .source(CHECK.source)
}

fn thing(model: &Model, thing: Thing) -> String {
    match thing {
        Thing::Part(part) => format!("`{}`", model.full_name(part)),
        Thing::StandsOut(at) => {
            let stands_out = &model.stands_out[at];
            format!("the {} on `{}`", stands_out.what, model.full_name(stands_out.part))
        }
        Thing::Obstacle(at) => format!("`{}`", model.obstacles[at].name),
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, s, sheet};
    use super::*;
    use crate::base::{Face, Length, Solid};
    use crate::model::{Motion, Moving, Obstacle, Options, PartId, StandsOut, Turn};

    fn moving(model: &mut Model, moving: Moving, way: Way) -> usize {
        model.motions.push(Motion { moving, way, behind: vec![], with_open: vec![], opening: None, at: None });
        model.motions.len() - 1
    }

    fn door_on(hinged: Face, degrees: u32) -> Way {
        Way::Turn(Turn { hinged, opens: Face::Front, line: Face::Front, degrees })
    }

    /// A case of two sides 24 in apart with a drawer 20 in deep between them, all in sixteenths.
    fn drawer(sixteenths_to_side: i64) -> (Model, PartId) {
        let mut model = job();
        let ply = sheet(12);
        add(&mut model, Model::ROOT, "side", &ply, [-12, 0, 0], [0, 320, 480]);
        add(&mut model, Model::ROOT, "side", &ply, [384, 0, 0], [396, 320, 480]);
        let drawer = model.add_piece("drawer", None);
        model.place(drawer, Model::ROOT, [Length::ZERO; 3]);
        let front = add(&mut model, drawer, "front", &ply, [sixteenths_to_side, 0, 0], [376, 12, 100]);
        moving(&mut model, Moving::Piece(drawer), Way::Slide { out: Face::Front, travel: s(320) });
        (model, front)
    }

    #[test]
    fn a_drawer_needs_its_way_to_a_thousandth() {
        assert_eq!(found(drawer(8).0, &CHECK), vec![]);
        // A strip on the inner face of the left side, in front of the drawer: it reaches just to the drawer, a micrometre into
        // its way, and two.
        let strip = |more: i64| {
            let (mut model, _) = drawer(8);
            let strip = add(&mut model, Model::ROOT, "strip", &sheet(8), [0, -40, 0], [8, -4, 100]);
            model.part_mut(strip).placed.high[0] += Length::from_um(more);
            found(model, &CHECK)
        };
        assert_eq!((strip(0).len(), strip(1).len(), strip(2).len()), (0, 0, 1));
        // The strip ends 1/4 in before the drawer's face.
        let told = &strip(1_000)[0];
        assert!(told.message.contains("comes out only 1/4\" of 20\": `drawer / front` meets `strip`"), "{told}");
        assert!(told.hint.as_ref().unwrap().contains("further to the left"), "{told}");
    }

    #[test]
    fn a_wall_without_end_is_cleared_where_it_ends() {
        // A drawer that comes out 20 in before a wall 19-7/8 in away, which has a face and no other end.
        let (mut model, _) = drawer(8);
        let mut wall = Solid::new([-Length::LIMIT; 3], [Length::LIMIT; 3]);
        wall.set_face(Face::Back, -s(318));
        model.obstacles.push(Obstacle { name: "wall".into(), solid: wall, at: None });
        let told = &found(model, &CHECK)[0];
        let hint = told.hint.as_ref().unwrap();
        assert!(hint.starts_with("`wall` would be clear 1/8\" further"), "{told}");
    }

    #[test]
    fn an_inset_door_needs_room_for_its_diagonal() {
        // 12 in wide and 5 in thick, so that the diagonal is 13: 1 in of reveal is just enough.
        let swing = |gap_less: i64| {
            let mut model = job();
            let door = add(&mut model, Model::ROOT, "door", &sheet(80), [0, 0, 0], [192, 80, 320]);
            let post = add(&mut model, Model::ROOT, "post", &sheet(12), [208, 0, 0], [220, 160, 320]);
            model.part_mut(post).placed.low[0] -= Length::from_um(gap_less);
            moving(&mut model, Moving::Part(door), door_on(Face::Left, 95));
            found(model, &CHECK)
        };
        assert_eq!((swing(0).len(), swing(1).len(), swing(2).len()), (0, 0, 1));
        assert!(swing(1_000)[0].message.contains("opens only to"), "{}", swing(1_000)[0]);
        // A common door, 3/4 in thick and 16 in wide with 1/16 in at its free edge: the root of 256.5625 is 16.0176.
        let mut model = job();
        let door = add(&mut model, Model::ROOT, "door", &sheet(12), [1, 0, 0], [257, 12, 320]);
        add(&mut model, Model::ROOT, "side", &sheet(12), [-12, 0, 0], [0, 160, 320]);
        add(&mut model, Model::ROOT, "side", &sheet(12), [258, 0, 0], [270, 160, 320]);
        moving(&mut model, Moving::Part(door), door_on(Face::Left, 110));
        assert_eq!(found(model, &CHECK), vec![]);
    }

    #[test]
    fn a_pair_of_overlay_doors_opens_together() {
        // Two doors of 12 in, 1/8 in apart, on the face of a case with sides at both ends and a neighbour 1/8 in beside it.
        let mut model = job();
        let ply = sheet(12);
        add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 320, 480]);
        add(&mut model, Model::ROOT, "side", &ply, [374, 0, 0], [386, 320, 480]);
        let left = add(&mut model, Model::ROOT, "door", &ply, [0, -12, 0], [192, 0, 480]);
        let right = add(&mut model, Model::ROOT, "door", &ply, [194, -12, 0], [386, 0, 480]);
        add(&mut model, Model::ROOT, "neighbour", &ply, [388, -12, 0], [580, 0, 480]);
        moving(&mut model, Moving::Part(left), door_on(Face::Left, 90));
        moving(&mut model, Moving::Part(right), door_on(Face::Right, 90));
        model.motions[0].with_open = vec![Moving::Part(right)];
        assert_eq!(found(model.clone(), &CHECK), vec![]);
        // Knuckles behind the leaf let it swing beyond its own edge, by its thickness.
        model.motions[1].way =
            Way::Turn(Turn { hinged: Face::Right, opens: Face::Front, line: Face::Back, degrees: 90 });
        let told = found(model, &CHECK);
        assert!(told.len() == 1 && told[0].message.contains("meets `neighbour`"), "{told:?}");
    }

    /// A drawer behind an overlay door: 1/2 in of room beside it, or not.
    fn behind(drawer_from: i64, say: bool, degrees: u32) -> Vec<Finding> {
        behind_by(drawer_from, Length::ZERO, say, degrees)
    }

    /// The same with the drawer so much wider at its left.
    fn behind_by(drawer_from: i64, wider: Length, say: bool, degrees: u32) -> Vec<Finding> {
        let (mut model, front) = drawer(drawer_from);
        model.part_mut(front).placed.low[0] -= wider;
        let door = add(&mut model, Model::ROOT, "door", &sheet(12), [-12, -12, 0], [396, 0, 480]);
        let door = moving(&mut model, Moving::Part(door), door_on(Face::Left, degrees));
        if say {
            model.motions[0].behind = vec![model.motions[door].moving];
        }
        found(model, &CHECK)
    }

    #[test]
    fn a_drawer_behind_a_door_is_found() {
        // At 90 degrees the leaf fills 3/4 in beside its closed edge: as far as the inside of the side, 0.
        assert_eq!(behind(8, true, 90), vec![]);
        assert_eq!(behind(0, true, 90), vec![]);
        let nearer = |um: i64| behind_by(0, Length::from_um(um), true, 90).len();
        assert_eq!([0, 1, 2].map(nearer), [0, 0, 1]);
        let into_the_way = behind(-1, true, 90);
        assert!(into_the_way[0].message.contains("with `door` open"), "{into_the_way:?}");
        let closed = behind(8, false, 90);
        assert!(closed[0].message.contains("comes out only 0\""), "{closed:?}");
        assert!(closed[0].hint.as_ref().unwrap().contains("say `behind` if `door`"), "{closed:?}");
        // A door that opens to 80 degrees only stands in the way with its far edge.
        let told = behind(8, true, 80);
        assert!(told.len() == 1 && told[0].message.contains("with `door` open"), "{told:?}");
    }

    /// Something 2 in square that stands out from a face.
    fn stands_out(what: &str, part: PartId, face: Face, by: Length) -> StandsOut {
        let (size, middle) = ([s(32), s(32)], [None, None]);
        StandsOut { what: what.into(), part, face, by, size, middle, count: 1, at: None }
    }

    #[test]
    fn a_drawer_beside_a_hinge_is_found() {
        // A hinge plate that stands out of the left side, before a drawer with 1/2 in of room.
        let hinge = |by: Length| {
            let (mut model, _) = drawer(8);
            let plate = stands_out("hinge", PartId(0), Face::Right, by);
            model.stands_out.push(StandsOut { middle: [Some(s(-20)), Some(s(50))], ..plate });
            found(model, &CHECK)
        };
        let um = Length::from_um;
        assert_eq!([s(8), s(8) + um(1), s(8) + um(2)].map(|by| hinge(by).len()), [0, 0, 1]);
        let told = &hinge(s(12))[0];
        assert!(told.message.contains("meets the hinge on `side`"), "{told}");
        // The plate reaches 1/4 in into the way.
        assert!(told.hint.as_ref().unwrap().contains("would be clear 1/4\" further to the left"), "{told}");
    }

    #[test]
    fn nothing_passes_through_a_mitred_corner() {
        // A post and a rail, both 2 in wide, mitred at the lower left of a frame before the drawer. The drawer is so narrow and so
        // low that it would meet nothing but that corner; it reaches so many micrometres above the frame's lower edge.
        let build = |more: i64| {
            let mut model = job();
            let ply = sheet(12);
            let post = add(&mut model, Model::ROOT, "post", &ply, [-32, -40, -32], [0, -28, 320]);
            let rail = add(&mut model, Model::ROOT, "rail", &ply, [0, -40, -32], [384, -28, 0]);
            join(&mut model, "mitre", rail, &[post], Options::new());
            let drawer = model.add_piece("drawer", None);
            model.place(drawer, Model::ROOT, [Length::ZERO; 3]);
            let tray = add(&mut model, drawer, "tray", &ply, [-24, 0, -64], [-8, 12, -32]);
            model.part_mut(tray).placed.high[2] += Length::from_um(more);
            moving(&mut model, Moving::Piece(drawer), Way::Slide { out: Face::Front, travel: s(320) });
            found(model, &CHECK)
        };
        assert_eq!([0, 1, 2].map(|more| build(more).len()), [0, 0, 1]);
    }

    #[test]
    fn a_pull_that_hits_a_wall_filler_is_found() {
        // A pull in the middle of a door, 1-1/4 in out: at 90 degrees it reaches that far beyond the door's edge.
        let filler = |right: i64, by: i64, more: i64| {
            let mut model = job();
            let door = add(&mut model, Model::ROOT, "door", &sheet(12), [0, -12, 0], [256, 0, 480]);
            add(&mut model, Model::ROOT, "filler", &sheet(12), [right - 12, -320, 0], [right, 0, 480]);
            model.stands_out.push(stands_out("pull", door, Face::Front, s(by) + Length::from_um(more)));
            moving(&mut model, Moving::Part(door), door_on(Face::Left, 90));
            found(model, &CHECK)
        };
        assert_eq!([0, 1, 2].map(|more| filler(-20, 20, more).len()), [0, 0, 1]);
        let told = filler(-16, 20, 0);
        assert!(told.len() == 1 && told[0].message.contains("the pull on `door` meets `filler`"), "{told:?}");
        // 20 - 16 sixteenths are missing.
        assert!(told[0].hint.as_ref().unwrap().contains("would be clear 1/4\""), "{told:?}");
    }

    #[test]
    fn a_wall_at_the_end_of_a_run_is_found() {
        // A door of 16 in on its right edge, whose pull stands out 1-1/4 in: at 90 degrees that reaches so far beyond the edge. The
        // wall goes on without end to the right, up and down, and both ways along.
        let wall = |from: i64, nearer: i64| {
            let mut model = job();
            let door = add(&mut model, Model::ROOT, "door", &sheet(12), [0, -12, 0], [256, 0, 480]);
            model.stands_out.push(stands_out("pull", door, Face::Front, s(20)));
            let mut solid = Solid::new([-Obstacle::WITHOUT_END; 3], [Obstacle::WITHOUT_END; 3]);
            solid.low[0] = s(from) - Length::from_um(nearer);
            model.obstacles.push(Obstacle { name: "wall".into(), solid, at: None });
            moving(&mut model, Moving::Part(door), door_on(Face::Right, 90));
            found(model, &CHECK)
        };
        assert_eq!([0, 1, 2].map(|nearer| wall(276, nearer).len()), [0, 0, 1]);
        let told = &wall(272, 0)[0];
        assert!(told.message.contains("the pull on `door` meets `wall`"), "{told}");
        assert!(told.hint.as_ref().unwrap().contains("`wall` would be clear 1/4\" further to the right"), "{told}");
    }

    #[test]
    fn a_lid_needs_the_wall_to_keep_its_distance() {
        let lid = |wall: i64, nearer: i64| {
            let mut model = job();
            let ply = sheet(12);
            let lid = add(&mut model, Model::ROOT, "lid", &ply, [0, 0, 100], [320, 160, 112]);
            add(&mut model, Model::ROOT, "back", &ply, [0, 148, 0], [320, 160, 100]);
            let there = add(&mut model, Model::ROOT, "wall", &ply, [0, 160 + wall, 0], [320, 172 + wall, 480]);
            model.part_mut(there).placed.low[1] -= Length::from_um(nearer);
            let way = Way::Turn(Turn { hinged: Face::Back, opens: Face::Top, line: Face::Bottom, degrees: 90 });
            moving(&mut model, Moving::Part(lid), way);
            found(model, &CHECK)
        };
        // Upright it stands behind its hinge line by its thickness, 3/4 in; on its way its upper back corner, 3/4 in from the
        // line, goes no further back than that.
        assert_eq!([0, 1, 2].map(|nearer| lid(12, nearer).len()), [0, 0, 1]);
        assert_eq!(lid(11, 0).len(), 1);
    }
}
