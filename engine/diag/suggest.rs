//! "Did you mean": the nearest known word to one that is not known.

use std::cmp::Reverse;

/// The known word nearest to `word`, if one is near enough to be a slip of the hand.
///
/// Distance counts a swap of neighbours as one slip; a third of the word, and at least one letter, may be wrong.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let wanted = word.to_lowercase();
    let letters = wanted.chars().count();
    known
        .into_iter()
        .filter_map(|candidate| {
            let candidate_letters = candidate.chars().count();
            let most = (candidate_letters.max(letters) / 3).max(1);
            // Asked first, because to measure the distance of a very long word takes very long.
            if candidate_letters.abs_diff(letters) > most || letters > LONGEST_WORD {
                return None;
            }
            let known = candidate.to_lowercase();
            let distance = strsim::damerau_levenshtein(&wanted, &known);
            // Of two that are as near, the one with more of its ends in common is meant, then the one of the same length.
            let ends = Reverse(ends_in_common(&wanted, &known));
            (distance <= most).then_some((distance, ends, candidate_letters.abs_diff(letters), candidate))
        })
        .min()
        .map(|(_, _, _, candidate)| candidate)
}

/// The nearest known word as a hint, or else the whole list of what is known.
pub fn did_you_mean<'a>(word: &str, known: impl IntoIterator<Item = &'a str> + Clone) -> Option<String> {
    if let Some(near) = nearest(word, known.clone()) {
        return Some(format!("did you mean `{near}`?"));
    }
    let mut all: Vec<&str> = known.into_iter().collect();
    all.sort_unstable();
    all.dedup();
    match all.len() {
        1..=40 => Some(format!("known here: {}", all.join(", "))),
        _ => None,
    }
}

fn ends_in_common(a: &str, b: &str) -> usize {
    let from_start = a.chars().zip(b.chars()).take_while(|(a, b)| a == b).count();
    let from_end = a.chars().rev().zip(b.chars().rev()).take_while(|(a, b)| a == b).count();
    from_start + from_end
}

/// No name that a maker could have meant is longer.
const LONGEST_WORD: usize = 100;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_found_and_a_stranger_is_not() {
        assert_eq!(nearest("widht", ["width", "depth", "height"]), Some("width"));
        assert_eq!(nearest("Thicknes", ["thickness", "width"]), Some("thickness"));
        assert_eq!(nearest("stok", ["stock", "stop"]), Some("stock"));
        assert_eq!(nearest("mn", ["inch", "m", "mm"]), Some("mm"));
        assert_eq!(nearest("banana", ["width", "depth"]), None);
        assert_eq!(nearest(&"width".repeat(100), ["width"]), None);
        assert_eq!(did_you_mean("banana", ["width", "depth"]).unwrap(), "known here: depth, width");
    }
}
