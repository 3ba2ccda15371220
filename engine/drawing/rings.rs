//! Where the numbers of the cuts stand: in rings on the lines of the cuts, clear of each other and of what is written.

use super::{Anchor, MM, Spot, Stroke, words};

/// An upright rectangle by its lower and upper corner, in which something is written.
pub(super) type Area = (Spot, Spot);

/// The radius of a ring with room around it.
pub(super) const RING: i64 = 19 * MM / 10;

/// The radii of rings, the one that is read best first. In the least one two digits can still be read on paper, in the middle one three.
const RADII: [i64; 3] = [RING, 15 * MM / 10, 115 * MM / 100];

/// A cut as it is drawn, and whether it is the same again as the cut before it.
pub(super) struct Line {
    pub(super) number: u32,
    pub(super) from: Spot,
    pub(super) to: Spot,
    pub(super) again: bool,
}

/// The rings with their numbers. Every cut has one but those that are the same again and have no room left: the list of cuts
/// tells them by their first. A cut that begins or ends at the edge of the sheet may have its ring outside of it.
pub(super) fn rings(lines: &[Line], written: &[Area], sheet: Area) -> Vec<Stroke> {
    let mut taken: Vec<(Spot, i64)> = Vec::new();
    let mut strokes = Vec::new();
    let (again, first): (Vec<_>, Vec<_>) = lines.iter().partition(|line| line.again);
    for line in first.into_iter().chain(again) {
        let Some((at, radius)) = place(line, &taken, written, sheet) else { continue };
        taken.push((at, radius));
        let size = if line.number > 99 { 17 * MM / 10 } else { 23 * MM / 10 } * radius / RING;
        strokes.push(Stroke::Ring(at, radius));
        strokes.push(words((at.0, at.1 + size * 36 / 100), size, Anchor::Middle, line.number.to_string()));
    }
    strokes
}

/// A place on the line, near its beginning: as large as it goes, then beside the sheet, then over what is written, then over other
/// rings too.
fn place(line: &Line, taken: &[(Spot, i64)], written: &[Area], sheet: Area) -> Option<(Spot, i64)> {
    let (from, to) = (line.from, line.to);
    let along = (to.0 - from.0).max(to.1 - from.1).max(0);
    let at = |way: i64| if from.1 == to.1 { (from.0 + way, from.1) } else { (from.0, from.1 + way) };
    let near = |low: Spot, high: Spot| {
        low.0 - RING < to.0 && high.0 + RING > from.0 && low.1 - RING < to.1 && high.1 + RING > from.1
    };
    let written: Vec<&Area> = written.iter().filter(|(low, high)| near(*low, *high)).collect();
    let taken: Vec<&(Spot, i64)> =
        taken.iter().filter(|((x, y), radius)| near((x - radius, y - radius), (x + radius, y + radius))).collect();
    let of_others = |spot: Spot, radius: i64| {
        taken.iter().all(|((x, y), own)| (x - spot.0).abs().max((y - spot.1).abs()) >= radius + own - MM / 5)
    };
    let of_words = |spot: Spot, radius: i64| {
        let apart = |way: i64, low: i64, high: i64| way + radius <= low || way - radius >= high;
        written.iter().all(|(low, high)| apart(spot.0, low.0, high.0) || apart(spot.1, low.1, high.1))
    };
    let legible = if line.number > 99 { &RADII[..2] } else { &RADII[..] };
    let least = *legible.last()?;
    // Across a narrow strip the ring is about as small as the strip.
    let fitting = || legible.iter().copied().filter(|&radius| radius == least || radius * 100 <= along * 48);
    let ways = |radius: i64| {
        let begin = radius + MM;
        let steps = (along - radius - begin) / radius;
        let open = (0..=steps).map(move |step| begin + step * radius).filter(move |way| way + radius < along);
        open.chain([along / 2]).map(at)
    };
    let clear = fitting().find_map(|radius| {
        let spot = ways(radius).find(|&spot| of_others(spot, radius) && of_words(spot, radius))?;
        Some((spot, radius))
    });
    if clear.is_some() || line.again {
        return clear;
    }
    let beside = outside(line, least, sheet).into_iter().flatten().find(|&spot| of_others(spot, least));
    if let Some(spot) = beside {
        return Some((spot, least));
    }
    // What cannot keep clear of what is written covers as little of it as it can.
    let spot = ways(least).find(|&spot| of_others(spot, least)).unwrap_or_else(|| at(along / 2));
    Some((spot, least))
}

/// The places beside the sheet at both ends of a line, where it reaches so far.
fn outside(line: &Line, radius: i64, (low, high): Area) -> [Option<Spot>; 2] {
    // The trim of an edge lies between a cut's end and the edge; beyond the ring stand the dimensions.
    let (near, off) = (15 * MM / 10, radius + MM / 10);
    let (from, to) = (line.from, line.to);
    if from.1 == to.1 {
        let before = (from.0 - low.0 < near).then_some((low.0 - off, from.1));
        [before, (high.0 - to.0 < near).then_some((high.0 + off, to.1))]
    } else {
        let before = (from.1 - low.1 < near).then_some((from.0, low.1 - off));
        [before, (high.1 - to.1 < near).then_some((to.0, high.1 + off))]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A sheet whose edges are far away.
    const FAR: Area = ((-MM * 1_000, -MM * 1_000), (MM * 1_000, MM * 1_000));

    fn across(number: u32, x: i64, long: i64, again: bool) -> Line {
        Line { number, from: (x * MM / 10, 0), to: (x * MM / 10, long * MM / 10), again }
    }

    fn numbered(strokes: &[Stroke]) -> Vec<(u32, Spot, i64)> {
        let pairs = strokes.chunks(2).map(|pair| match pair {
            [Stroke::Ring(at, radius), Stroke::Words(own)] => (own.text.parse().unwrap(), *at, *radius),
            other => panic!("a ring and its number, not {other:?}"),
        });
        pairs.collect()
    }

    #[test]
    fn a_ring_stands_near_the_beginning_of_its_line() {
        // The radius of the ring and a millimetre from the end: 1.9 mm + 1 mm.
        assert_eq!(numbered(&rings(&[across(7, 300, 500, false)], &[], FAR)), [(7, (30 * MM, 2_900), RING)]);
    }

    #[test]
    fn a_ring_keeps_clear_of_what_is_written() {
        // The mark covers the line from 1 mm to 10 mm, so the ring begins below that.
        let mark = ((28 * MM, MM), (32 * MM, 10 * MM));
        let found = numbered(&rings(&[across(7, 300, 500, false)], &[mark], FAR));
        assert!(found[0].1.1 - RING >= 10 * MM, "{found:?}");
    }

    #[test]
    fn rings_that_are_close_keep_clear_of_each_other() {
        let lines: Vec<Line> =
            (0..6).map(|i| across(10 + u32::try_from(i).unwrap(), 300 + 15 * i, 500, false)).collect();
        let found = numbered(&rings(&lines, &[], FAR));
        assert_eq!(found.len(), 6);
        for (i, (_, a, ra)) in found.iter().enumerate() {
            for (_, b, rb) in &found[..i] {
                let apart = (a.0 - b.0).abs().max((a.1 - b.1).abs());
                assert!(apart >= ra + rb - MM / 5, "{found:?}");
            }
        }
    }

    #[test]
    fn only_a_cut_that_is_the_same_again_goes_without_its_ring() {
        // Strips of a millimetre, half a millimetre apart: there is room for the first ring of them.
        let mut lines: Vec<Line> =
            (0..5).map(|i| across(20 + u32::try_from(i).unwrap(), 300 + 5 * i, 10, i > 0)).collect();
        let told: Vec<u32> = numbered(&rings(&lines, &[], FAR)).iter().map(|(number, ..)| *number).collect();
        // 2.3 mm less 0.2 mm between the middles of the least rings: 21 tenths, so the fifth at 20 tenths has no room.
        assert_eq!(told, [20]);
        for line in &mut lines {
            line.again = false;
        }
        assert_eq!(numbered(&rings(&lines, &[], FAR)).len(), 5);
    }

    #[test]
    fn a_ring_without_room_stands_beside_the_sheet() {
        // A line of 3 mm from the upper edge, with a mark over all of it: the least ring, 1.15 mm, stands 0.1 mm above the edge.
        let sheet = ((0, 0), (200 * MM, 100 * MM));
        let mark = ((28 * MM, 0), (32 * MM, 3 * MM));
        let least = RADII[2];
        let found = numbered(&rings(&[across(7, 300, 30, false)], &[mark], sheet));
        assert_eq!(found, [(7, (30 * MM, -least - MM / 10), least)]);
        // Not so where the line does not reach the edge.
        let found = numbered(&rings(&[across(7, 300, 30, false)], &[mark], FAR));
        assert_eq!(found[0].1, (30 * MM, 15 * MM / 10));
    }
}
