//! The marks that are pencilled on parts.

/// The mark of part number `part` (from 0) of piece kind `piece` (from 0): `A1`, `B12`, `AA3`.
///
/// A mark depends on where a part stands in the job's structure, never on its size, so it stays when a size changes.
pub fn mark(piece: usize, part: usize) -> String {
    format!("{}{}", letters(piece), part + 1)
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
}
