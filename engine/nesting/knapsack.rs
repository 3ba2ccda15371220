//! The best filling of one length, exactly, in whole numbers.

/// Lengths with their worth and how many of each may be used.
#[derive(Clone, Copy, Debug)]
pub(super) struct Choice {
    pub length: i64,
    pub worth: i64,
    pub most: u32,
}

impl Choice {
    /// What this is worth when it fills a room to the last, pieces of it counted.
    #[inline]
    fn fills(&self, room: i64) -> i64 {
        if let Some(product) = self.worth.checked_mul(room) {
            return product / self.length;
        }
        i64::try_from(i128::from(self.worth) * i128::from(room) / i128::from(self.length)).unwrap_or(i64::MAX / 4)
    }
}

/// A filling, and a figure that no filling is worth more than; the two are equal unless the search was cut short.
#[derive(Clone, Debug, Default)]
pub(super) struct Filling {
    pub counts: Vec<u32>,
    pub worth: i64,
    pub upper: i64,
    /// Whether it took or would take much work to be sure.
    pub is_hard: bool,
    /// How much work it took, in entries of a table.
    pub steps: u64,
}

/// Entries of a table that take as long as one step of branching, about.
const BRANCHING: i64 = 10;

/// The filling of `room` that is worth most.
pub(super) fn fill(choices: &[Choice], room: i64) -> Filling {
    fill_past(choices, room, i64::MAX)
}

/// The same, but any filling that is worth more than `enough` will do when it is found with little effort.
pub(super) fn fill_past(choices: &[Choice], room: i64, enough: i64) -> Filling {
    let order = densest_first(choices, room);
    if order.is_empty() {
        // Nothing is worth anything here; a table would still be as large as the room, which may be billions.
        return Filling { counts: vec![0; choices.len()], ..Filling::default() };
    }
    let copies: i64 = order.iter().map(|&at| i64::from(choices[at].most).min(room / choices[at].length)).sum();
    let steps = room.saturating_mul(copies);
    if steps <= 400_000 || order.len() <= 1 && room <= 100_000 {
        return by_table(choices, &order, room);
    }
    if enough < i64::MAX {
        let found = by_branching(choices, &order, room, 3_000);
        if found.worth > enough || found.worth == found.upper {
            return Filling { is_hard: found.worth != found.upper, ..found };
        }
    }
    // Sizes in unlike units, and kerfs to the nanometre, have rooms that no table holds.
    let allowed = if steps <= 40_000_000 { (steps / 8).clamp(20_000, 300_000) } else { 300_000 };
    let found = by_branching(choices, &order, room, allowed);
    if found.worth == found.upper || steps > 40_000_000 {
        return found;
    }
    let table = by_table(choices, &order, room);
    Filling { steps: found.steps + table.steps, ..table }
}

/// A good filling, found with so many steps at most.
pub(super) fn fill_roughly(choices: &[Choice], room: i64, steps: i64) -> Filling {
    by_branching(choices, &densest_first(choices, room), room, steps)
}

/// The choices that can be of use, by worth for their length.
fn densest_first(choices: &[Choice], room: i64) -> Vec<usize> {
    let mut order: Vec<usize> = (0..choices.len())
        .filter(|&at| choices[at].worth > 0 && choices[at].length <= room && choices[at].most > 0)
        .collect();
    order.sort_by(|&a, &b| {
        let density = |a: usize, b: usize| i128::from(choices[a].worth) * i128::from(choices[b].length);
        density(b, a).cmp(&density(a, b)).then(a.cmp(&b))
    });
    order
}

/// Depth first, the densest first, bounded by what the next density could fill.
fn by_branching(choices: &[Choice], order: &[usize], room: i64, given: i64) -> Filling {
    let mut allowed = given;
    let items: Vec<Choice> = order.iter().map(|&at| choices[at]).collect();
    let count = items.len();
    // The shortest length from here on: below it nothing fits any more.
    let mut shortest = vec![i64::MAX; count + 1];
    for at in (0..count).rev() {
        shortest[at] = shortest[at + 1].min(items[at].length);
    }
    let bound = |at: usize, room: i64| -> i64 {
        if at >= count || room < shortest[at] {
            return 0;
        }
        // Two steps of the greedy filling, then the density of the next.
        let mut room = room;
        let mut worth = 0_i64;
        for item in &items[at..(at + 3).min(count)] {
            let take = i64::from(item.most).min(room / item.length);
            worth += take * item.worth;
            room -= take * item.length;
            if take < i64::from(item.most) {
                return worth + item.fills(room);
            }
        }
        worth + items.get(at + 3).map_or(0, |item| item.fills(room))
    };
    let upper = bound(0, room);
    let mut taken = vec![0_u32; count];
    let mut best = (0_i64, taken.clone());
    let (mut at, mut left, mut worth) = (0, room, 0);
    loop {
        // Down: as many as fit of everything that follows.
        while at < count {
            if worth + bound(at, left) <= best.0 {
                break;
            }
            allowed -= 1;
            let take = i64::from(items[at].most).min(left / items[at].length);
            taken[at] = u32::try_from(take).unwrap_or(0);
            left -= take * items[at].length;
            worth += take * items[at].worth;
            at += 1;
        }
        if worth > best.0 {
            best = (worth, taken.clone());
        }
        if allowed <= 0 {
            break;
        }
        // Up: one fewer of the last that was taken.
        let Some(last) = (0..at).rev().find(|&last| taken[last] > 0) else { break };
        taken[last] -= 1;
        left += items[last].length;
        worth -= items[last].worth;
        for later in taken.iter_mut().skip(last + 1) {
            *later = 0;
        }
        at = last + 1;
    }
    let mut counts = vec![0; choices.len()];
    for (&at, &take) in order.iter().zip(&best.1) {
        counts[at] = take;
    }
    let upper = if allowed <= 0 { upper } else { best.0 };
    let steps = u64::try_from((given - allowed) * BRANCHING).unwrap_or(0);
    Filling { counts, worth: best.0, upper, is_hard: allowed <= 0, steps }
}

/// A table of the best worth for every room.
fn by_table(choices: &[Choice], order: &[usize], room: i64) -> Filling {
    let size = usize::try_from(room.max(0)).unwrap_or(0) + 1;
    let mut worth = vec![0_i64; size];
    let mut takes: Vec<Vec<u16>> = Vec::with_capacity(order.len());
    let mut old = worth.clone();
    for &at in order {
        let item = choices[at];
        let length = usize::try_from(item.length).unwrap_or(size);
        let most = u16::try_from(i64::from(item.most).min(room / item.length)).unwrap_or(u16::MAX);
        let mut take = vec![0_u16; size];
        old.copy_from_slice(&worth);
        for copies in 1..=most {
            let shift = length * usize::from(copies);
            let add = item.worth * i64::from(copies);
            for (((now, take), &before), _) in
                worth[shift..].iter_mut().zip(&mut take[shift..]).zip(&old).zip(shift..size)
            {
                if before + add > *now {
                    *now = before + add;
                    *take = copies;
                }
            }
        }
        takes.push(take);
    }
    let mut counts = vec![0; choices.len()];
    let mut left = size - 1;
    for (&at, take) in order.iter().zip(&takes).rev() {
        let copies = take[left];
        counts[at] = u32::from(copies);
        left -= usize::from(copies) * usize::try_from(choices[at].length).unwrap_or(0);
    }
    // Numbers are compared by `u16::max`, which takes many at a time; `Iterator::max` took as long as the table itself.
    let most = takes.iter().map(|take| take.iter().copied().fold(0, u16::max));
    let steps = size as u64 * most.map(|most| u64::from(most) + 1).sum::<u64>();
    Filling { counts, worth: worth[size - 1], upper: worth[size - 1], is_hard: room > 20_000, steps }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_room_of_kilometres_for_nothing_takes_no_table() {
        let room = 1_000_000_000_000;
        let nothing = Choice { length: 7, worth: 0, most: 3 };
        let filling = fill(&[nothing, Choice { length: room + 1, worth: 5, most: 1 }], room);
        assert_eq!((filling.counts, filling.worth, filling.upper, filling.steps), (vec![0, 0], 0, 0, 0));
        // Two at most of the one: 2 x 9.
        let filling = fill(&[Choice { length: 7, worth: 9, most: 2 }], room);
        assert_eq!((filling.counts, filling.worth, filling.upper), (vec![2], 18, 18));
    }
}
