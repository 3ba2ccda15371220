//! The plane across a hinge line: what turns meets what stands, in whole nanometres.
//!
//! A leaf that turns first touches something with a corner on an edge: one of its own corners on an edge of what stands there,
//! or a corner of that on one of its own edges. Either way a point goes along an arc round the hinge line, and the arc crosses
//! a straight edge or does not. Both are worked out from squared distances; only the crossing itself is rounded, to a nanometre.

use crate::base::Length;

/// A point of the plane in nanometres, seen from the hinge line.
pub(super) type Spot = [i128; 2];

/// Four corners in order round.
pub(super) type Quad = [Spot; 4];

/// A rectangle from its low to its high corner.
pub(super) fn rectangle(low: Spot, high: Spot) -> Quad {
    [low, [high[0], low[1]], high, [low[0], high[1]]]
}

/// Whether a leaf that turns by `degrees`, from the first axis towards the second, meets `other` on its way.
pub(super) fn meets(leaf: &Quad, other: &Quad, degrees: u32) -> bool {
    let mirror = |quad: &Quad| quad.map(|[x, y]| [x, -y]);
    edges(other).any(|edge| leaf.iter().any(|&corner| arc_crosses(corner, degrees, edge)))
        || edges(&mirror(leaf)).any(|edge| mirror(other).iter().any(|&corner| arc_crosses(corner, degrees, edge)))
        || share(&turned(leaf, degrees), other)
}

/// The leaf once it has turned.
pub(super) fn turned(quad: &Quad, degrees: u32) -> Quad {
    quad.map(|spot| rotated(spot, degrees))
}

/// Whether two figures with straight edges and no hollows share an area.
pub(super) fn share(a: &Quad, b: &Quad) -> bool {
    let apart = |one: &Quad, other: &Quad| {
        edges(one).any(|(from, to)| {
            let across = [from[1] - to[1], to[0] - from[0]];
            let spread = |quad: &Quad| {
                let places = quad.map(|spot| spot[0] * across[0] + spot[1] * across[1]);
                (places.into_iter().min().unwrap_or(0), places.into_iter().max().unwrap_or(0))
            };
            let ((a_low, a_high), (b_low, b_high)) = (spread(one), spread(other));
            a_high <= b_low || b_high <= a_low
        })
    };
    !apart(a, b) && !apart(b, a)
}

/// The least distance by which `other` must move along `way` (one of the four ways along the axes) for the leaf to pass; none
/// when no distance up to `most` is enough.
pub(super) fn way_out(leaf: &Quad, other: &Quad, degrees: u32, way: Spot, most: Length) -> Option<Length> {
    let free = |by: i128| {
        let moved = other.map(|spot| [spot[0] + way[0] * by, spot[1] + way[1] * by]);
        !meets(leaf, &moved, degrees) && !share(leaf, &moved)
    };
    let mut enough = i128::from(Length::SAME_SIZE.nm());
    while !free(enough) {
        enough *= 2;
        if enough > i128::from(most.nm()) {
            return None;
        }
    }
    let mut too_little = 0;
    while enough - too_little > 1 {
        let middle = i128::midpoint(enough, too_little);
        if free(middle) { enough = middle } else { too_little = middle }
    }
    i64::try_from(enough).ok().map(Length::from_nm)
}

fn edges(quad: &Quad) -> impl Iterator<Item = (Spot, Spot)> {
    let quad = *quad;
    (0..4).map(move |at| (quad[at], quad[(at + 1) % 4]))
}

/// Parts of a nanometre in which the length of a slanting edge is told, so that dividing by it loses nothing that matters.
const FINE: u32 = 16;

/// Whether a point that goes round the origin by `degrees` crosses a straight edge.
fn arc_crosses(start: Spot, degrees: u32, (from, to): (Spot, Spot)) -> bool {
    let edge = [to[0] - from[0], to[1] - from[1]];
    let length = root(dot(edge, edge) << (2 * FINE));
    if length == 0 {
        return false;
    }
    // How far the edge's line is from the origin, and where along the edge it is nearest.
    let distance = (cross(from, edge) << FINE) / length;
    let nearest = -(dot(from, edge) << FINE) / length;
    let reach = dot(start, start) - distance * distance;
    // A circle that only touches the line does not cross it.
    if reach <= 0 {
        return false;
    }
    // Both roots, rounded the way that keeps each comparison exact. A corner that only grazes an end does not cross.
    let (down, up) = (root(reach), root(reach - 1) + 1);
    [(nearest - up, nearest - down), (nearest + down, nearest + up)].into_iter().any(|(low, high)| {
        let along = i128::midpoint(low, high);
        // Along an axis this is exact, because the edge's length is a whole number.
        let there = [0, 1].map(|axis| from[axis] + ((edge[axis] * along) << FINE) / length);
        high > 0 && low << FINE < length && within_arc(start, there, degrees)
    })
}

/// Whether a point on the circle lies on the arc that begins at `start`.
fn within_arc(start: Spot, there: Spot, degrees: u32) -> bool {
    let end = rotated(start, degrees);
    if degrees <= 180 {
        // Where the arc ends on an edge it only touches it; whether the leaf then shares an area is asked by itself.
        cross(start, there) >= 0 && cross(there, end) > 0 && there != start
    } else {
        !(cross(end, there) > 0 && cross(there, start) > 0)
    }
}

/// A point once it has turned round the origin.
fn rotated([x, y]: Spot, degrees: u32) -> Spot {
    let (sine, cosine) = sine_and_cosine(degrees);
    let rounded = |scaled: i128| (scaled + ONE / 2).div_euclid(ONE);
    [rounded(x * cosine - y * sine), rounded(x * sine + y * cosine)]
}

/// What stands for one in sines and cosines.
const ONE: i128 = 1_000_000_000_000;

/// Sine and cosine of whole degrees, in parts of [`ONE`], by their series from the nearest right angle.
fn sine_and_cosine(degrees: u32) -> (i128, i128) {
    // Pi with eighteen places; series terms beyond the twenty-second change nothing at that fineness.
    const PI: i128 = 3_141_592_653_589_793_238;
    const FINE_ONE: i128 = 1_000_000_000_000_000_000;
    let (quarter, rest) = ((degrees + 45) / 90, i128::from(degrees % 360));
    let rest = rest - i128::from(quarter % 4) * 90;
    let rest = if rest > 180 { rest - 360 } else { rest };
    let angle = PI * rest / 180;
    let (mut term, mut sine, mut cosine) = (FINE_ONE, 0, 0);
    for power in 0..22 {
        match power % 4 {
            0 => cosine += term,
            1 => sine += term,
            2 => cosine -= term,
            _ => sine -= term,
        }
        term = term * angle / FINE_ONE / (power + 1);
    }
    let coarse = |fine: i128| (fine + FINE_ONE / ONE / 2).div_euclid(FINE_ONE / ONE);
    let (sine, cosine) = (coarse(sine), coarse(cosine));
    match quarter % 4 {
        0 => (sine, cosine),
        1 => (cosine, -sine),
        2 => (-sine, -cosine),
        _ => (-cosine, sine),
    }
}

fn dot(a: Spot, b: Spot) -> i128 {
    a[0] * b[0] + a[1] * b[1]
}

fn cross(a: Spot, b: Spot) -> i128 {
    a[0] * b[1] - a[1] * b[0]
}

/// The whole square root, rounded down.
fn root(square: i128) -> i128 {
    square.max(0).cast_unsigned().isqrt().cast_signed()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A leaf 300 wide and 40 thick whose hinge line is the corner of its outer face, so that it fills 0 to 300 and -40 to 0.
    fn leaf() -> Quad {
        rectangle([0, -40_000], [300_000, 0])
    }

    #[test]
    fn the_far_corner_goes_out_to_its_diagonal() {
        // Three four five in tens of micrometres: the corner 300, -40 is the root of 300^2 + 40^2 = 91 600 away. With the
        // thickness 225 the diagonal of 300 by 225 is 375.
        let thick = rectangle([0, -225_000], [300_000, 0]);
        let beside = |from: i128| rectangle([from, -500_000], [from + 10_000, 500_000]);
        assert!(meets(&thick, &beside(374_999), 95));
        assert!(!meets(&thick, &beside(375_000), 95));
        // A post that begins above the corner's height on the arc is met by the arc before it is upright: at height 0 the
        // corner is 375 out, at height 225 it is 300 out.
        let post = |from: i128| rectangle([from, 225_000], [from + 10_000, 400_000]);
        assert!(meets(&thick, &post(299_999), 95));
        assert!(!meets(&thick, &post(300_001), 95));
    }

    #[test]
    fn the_angle_ends_where_it_is_said_to() {
        // At 90 degrees the outer face stands on the line 0, and the leaf fills 0 to 40 beside it.
        let wall = rectangle([-50_000, 100_000], [-1, 200_000]);
        assert!(!meets(&leaf(), &wall, 90));
        assert!(meets(&leaf(), &wall, 91));
        // Folded back by 180 degrees it lies at -300 to 0, 0 to 40.
        let block = rectangle([-200_000, 5_000], [-100_000, 10_000]);
        assert!(!meets(&leaf(), &block, 170) && meets(&leaf(), &block, 180));
        assert!(meets(&leaf(), &block, 270));
        assert_eq!(turned(&leaf(), 180), [[0, 40_000], [-300_000, 40_000], [-300_000, 0], [0, 0]]);
    }

    #[test]
    fn a_small_thing_in_the_way_is_met_by_the_face_and_not_by_a_corner() {
        // The face sweeps over a peg that no corner of the leaf comes near: 30-40-50, half way along the leaf.
        let peg = rectangle([90_000, 120_000], [91_000, 121_000]);
        assert!(meets(&leaf(), &peg, 95));
        // The peg stands at atan 4/3 = 53.13 degrees.
        assert!(!meets(&leaf(), &peg, 52) && meets(&leaf(), &peg, 54));
    }

    #[test]
    fn sines_are_those_of_the_table() {
        // From the definition: 1/2 at 30 degrees, the root of 3/4 at 60, and right angles exactly.
        assert_eq!(sine_and_cosine(30), (500_000_000_000, 866_025_403_784));
        assert_eq!(sine_and_cosine(60).0, 866_025_403_784);
        assert_eq!([90, 180, 270].map(sine_and_cosine), [(ONE, 0), (0, -ONE), (-ONE, 0)]);
        assert_eq!(sine_and_cosine(135), (707_106_781_187, -707_106_781_187));
    }

    #[test]
    fn turned_figures_share_area_or_do_not() {
        let square = rectangle([0, 0], [100, 100]);
        let diamond = turned(&square, 45);
        // Turned by 45 degrees about its corner it fills a diamond from -70.7 to 70.7 across and up to 141.4.
        assert!(share(&diamond, &rectangle([60, 60], [90, 90])));
        assert!(!share(&diamond, &rectangle([60, 120], [90, 140])));
        assert!(!share(&square, &rectangle([100, 0], [200, 100])));
    }

    #[test]
    fn the_way_out_is_how_much_is_missing() {
        // The inner corner 300, -40 is the root of 91 600 away; at height 100 it is out by the root of 81 600, 285.657.
        let wall = |from: i128| rectangle([from, 100_000], [400_000, 300_000]);
        assert!(!meets(&leaf(), &wall(285_658), 95) && meets(&leaf(), &wall(285_657), 95));
        let out = way_out(&leaf(), &wall(280_000), 95, [1, 0], Length::from_mm(1)).unwrap();
        assert_eq!(out.nm(), 285_658 - 280_000);
    }
}
