//! The marks that are pencilled on parts.

/// The mark of part number `part` (from 0) of piece kind `piece` (from 0): `A1`, `B12`, `AA3`.
///
/// A mark depends on where a part stands in the job's structure, never on its size, so it stays when a size changes.
/// It is never the short name of a month, because a spreadsheet would read `MAR1` as a date.
pub fn mark(piece: usize, part: usize) -> String {
    format!("{}{}", letters(past_the_months(piece)), part + 1)
}

/// The short English names of the months that are marks, in the order of [`letters`], as a spreadsheet reads them.
const MONTHS: [&str; 12] = ["APR", "AUG", "DEC", "FEB", "JAN", "JUL", "JUN", "MAR", "MAY", "NOV", "OCT", "SEP"];

/// The place of the `n`th group of letters that is no month.
fn past_the_months(n: usize) -> usize {
    // Groups of three letters, the first that can be a month, begin after 26 of one letter and 676 of two.
    if n < 26 + 26 * 26 {
        return n;
    }
    MONTHS.iter().fold(n, |n, month| if place(month) <= n { n + 1 } else { n })
}

/// The place of a group of capital letters: `A` is 0, `AA` is 26.
fn place(letters: &str) -> usize {
    letters.bytes().fold(0, |sum, letter| sum * 26 + usize::from(letter - b'A') + 1) - 1
}

/// 0 is `A`, 25 is `Z`, 26 is `AA`.
fn letters(mut n: usize) -> String {
    let mut out = Vec::new();
    loop {
        out.push(char::from(b'A' + u8::try_from(n % 26).unwrap_or(0)));
        if n < 26 {
            break;
        }
        n = n / 26 - 1;
    }
    out.iter().rev().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_count_like_columns() {
        assert_eq!(mark(0, 0), "A1");
        assert_eq!(mark(25, 9), "Z10");
        assert_eq!(mark(26, 0), "AA1");
        assert_eq!(mark(26 + 26 * 26, 0), "AAA1");
    }

    #[test]
    fn no_mark_is_a_month_and_none_comes_twice() {
        assert!(MONTHS.is_sorted());
        assert_eq!(place("AAA"), 26 + 26 * 26);
        let mut last = 0;
        for n in 0..20_000 {
            let there = past_the_months(n);
            assert!(n == 0 || there > last);
            last = there;
            assert!(!MONTHS.contains(&letters(there).as_str()));
        }
        // `MAQ` is followed by `MAS`. Before it stand 26 + 676 groups, 12 x 676 + 16 of three letters, and seven months are left out
        // (APR, AUG, DEC, FEB, JAN, JUL, JUN).
        let maq = 26 + 676 + 12 * 676 + 16 - 7;
        assert_eq!((mark(maq, 0), mark(maq + 1, 0)), ("MAQ1".into(), "MAS1".into()));
    }
}
