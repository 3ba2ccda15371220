//! Names with a number at their end, and how many of them are said shortly: `drawer 1..6`.

use crate::model::Model;

/// A name without the number at its end, and that number: `drawer 2` is `drawer` and 2, `case` is `case` and none.
///
/// Digits that belong to a size (`shelf 3/4`, `rev 1.2`) are no numbering, and a name of digits alone stays whole.
pub(super) fn numbered(name: &str) -> (&str, Option<u32>) {
    let stem = name.trim_end_matches(|c: char| c.is_ascii_digit());
    let number = name[stem.len()..].parse().ok();
    let part_of_a_size = stem.ends_with(['/', '.', ',', ':', '\'', '"']);
    let kind = stem.trim_end_matches([' ', '#', '-', '_']);
    if number.is_none() || part_of_a_size || kind.is_empty() { (name, None) } else { (kind, number) }
}

/// Numbers in order with runs of three and more drawn together: `1, 2, 4..7`. Sorts them and drops those that come twice.
pub(super) fn runs(mut numbers: Vec<u32>) -> String {
    numbers.sort_unstable();
    numbers.dedup();
    let mut words = Vec::new();
    let mut rest = numbers.as_slice();
    while let Some((&first, _)) = rest.split_first() {
        let length = rest.iter().zip(first..=u32::MAX).take_while(|(number, expected)| *number == expected).count();
        let (run, after) = rest.split_at(length);
        match run {
            [.., last] if length > 2 => words.push(format!("{first}..{last}")),
            _ => words.extend(run.iter().map(u32::to_string)),
        }
        rest = after;
    }
    words.join(", ")
}

/// Draws sentences together that differ only in the number of one piece of the job.
pub(super) struct Shortener<'a> {
    /// Numbered pieces with their stems, the longest names first, so that `tall drawer 1` is found before `drawer 1`.
    pieces: Vec<(&'a str, &'a str, u32)>,
}

impl<'a> Shortener<'a> {
    pub(super) fn new(model: &'a Model) -> Self {
        let mut pieces: Vec<_> = model
            .pieces
            .iter()
            .filter_map(|piece| match numbered(&piece.name) {
                (stem, Some(number)) => Some((piece.name.as_str(), stem, number)),
                _ => None,
            })
            .collect();
        pieces.sort_unstable_by(|a, b| b.0.len().cmp(&a.0.len()).then(a.cmp(b)));
        pieces.dedup();
        Self { pieces }
    }

    /// The texts in order of first appearance, each once; those that differ only in a piece's number are one.
    pub(super) fn join<'t>(&self, texts: impl IntoIterator<Item = &'t str>) -> Vec<String> {
        self.group(texts.into_iter().map(|text| (text, ()))).into_iter().map(|(text, _)| text).collect()
    }

    /// As [`Shortener::join`], with what belongs to the texts that were drawn together.
    pub(super) fn group<'t, T>(&self, texts: impl IntoIterator<Item = (&'t str, T)>) -> Vec<(String, Vec<T>)> {
        struct Group<'g, T> {
            whole: &'g str,
            before: &'g str,
            stem: &'g str,
            after: &'g str,
            numbers: Vec<u32>,
            with: Vec<T>,
        }
        let mut groups: Vec<Group<'_, T>> = Vec::new();
        let mut places: std::collections::HashMap<(&str, &str, &str), usize> = std::collections::HashMap::new();
        for (text, with) in texts {
            let (before, stem, number, after) = self.split(text);
            let place = *places.entry((before, stem, after)).or_insert_with(|| {
                groups.push(Group { whole: text, before, stem, after, numbers: Vec::new(), with: Vec::new() });
                groups.len() - 1
            });
            groups[place].numbers.extend(number);
            groups[place].with.push(with);
        }
        groups
            .into_iter()
            .map(|group| {
                let text = if group.with.len() == 1 || group.numbers.is_empty() {
                    group.whole.to_owned()
                } else {
                    format!("{}{} {}{}", group.before, group.stem, runs(group.numbers), group.after)
                };
                (text, group.with)
            })
            .collect()
    }

    /// The text before a numbered piece, its stem, its number and the text after it; where no piece is named, a number at the
    /// end of the text counts as one.
    fn split<'t>(&self, text: &'t str) -> (&'t str, &'t str, Option<u32>, &'t str) {
        // A numbered name ends in digits, so only the ends of runs of digits are looked at.
        let mut end = 0;
        while let Some(start) = text[end..].find(|c: char| c.is_ascii_digit()).map(|at| end + at) {
            let digits = text[start..].bytes().take_while(u8::is_ascii_digit).count();
            end = start + digits;
            let after = &text[end..];
            let size_goes_on = after.starts_with('/')
                || after.strip_prefix('.').is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
            let named = self.pieces.iter().find(|(name, ..)| {
                let before = text[..end].strip_suffix(name);
                before.is_some_and(|before| !before.ends_with(char::is_alphanumeric))
            });
            if let Some(&(name, stem, number)) = named.filter(|_| !size_goes_on) {
                let begin = end - name.len();
                return (&text[..begin], &text[begin..begin + stem.len()], Some(number), after);
            }
        }
        match numbered(text) {
            (stem, Some(number)) => ("", stem, Some(number), ""),
            _ => ("", text, None, ""),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Printing;

    #[test]
    fn numbering_is_told_from_sizes() {
        for (name, stem, number) in [
            ("drawer 2", "drawer", Some(2)),
            ("drawer #12", "drawer", Some(12)),
            ("drawer-3", "drawer", Some(3)),
            ("drawer4", "drawer", Some(4)),
            ("shelf 3/4", "shelf 3/4", None),
            ("rev 1.2", "rev 1.2", None),
            ("7", "7", None),
            ("", "", None),
            ("Fach 2", "Fach", Some(2)),
            ("é1", "é", Some(1)),
            ("d 99999999999999999999999", "d 99999999999999999999999", None),
        ] {
            assert_eq!(numbered(name), (stem, number), "{name}");
        }
    }

    #[test]
    fn runs_are_drawn_together() {
        assert_eq!(runs(vec![6, 1, 2, 3, 3]), "1..3, 6");
        assert_eq!(runs(vec![2, 1]), "1, 2");
        assert_eq!(runs(vec![u32::MAX, u32::MAX - 1]), "4294967294, 4294967295");
        assert_eq!(runs(vec![]), "");
    }

    #[test]
    fn sentences_that_differ_in_a_piece_are_one() {
        let mut model = Model::new("bench", Printing::default());
        for n in 1..=12 {
            model.add_piece(&format!("drawer {n}"), None);
        }
        let short = Shortener::new(&model);
        let steps: Vec<String> = (1..=12).map(|n| format!("Glue drawer {n} / side; drive 4 screws.")).collect();
        assert_eq!(short.join(steps.iter().map(String::as_str)), ["Glue drawer 1..12 / side; drive 4 screws."]);
        // Screws are no pieces, so their count keeps two sentences apart.
        assert_eq!(
            short.join(["drive 4 screws", "drive 6 screws", "drive 4 screws"]),
            ["drive 4 screws", "drive 6 screws"]
        );
        assert_eq!(short.join(["shelf 1", "shelf 2", "top"]), ["shelf 1, 2", "top"]);
    }
}
