//! Reading and printing lengths in the notations of the trade.
//!
//! What can be read in two ways is refused with both readings; what was rounded is printed with a sign that says so.

use std::fmt;

use super::length::{checked_product, round_div};
use super::{Length, Ratio, Unit};

/// Why a text is not a length, and what to write instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotationError {
    /// What is wrong, one sentence without a full stop.
    pub message: String,
    /// What to write instead.
    pub hint: String,
}

impl NotationError {
    fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { message: message.into(), hint: hint.into() }
    }
}

impl fmt::Display for NotationError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}; {}", self.message, self.hint)
    }
}

impl std::error::Error for NotationError {}

/// How a job prints its lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Printing {
    /// The unit of the job.
    pub unit: Unit,
    /// The finest division of the shop's rule: 16, 32 or 64 to the inch. Unused in millimetres.
    pub denominator: i64,
}

impl Default for Printing {
    fn default() -> Self {
        Self { unit: Unit::Inch, denominator: 32 }
    }
}

impl Printing {
    /// Trade notation with its unit: `16-7/8"` or `428.6 mm`. A `+` or `-` after it says that the true size is a little
    /// more or a little less than the rounded one that is printed.
    ///
    /// What is so small that it would read as nothing is told in decimals: `0.005"`.
    pub fn length(self, length: Length) -> String {
        if let Some(text) = hairline(self, length) {
            return text;
        }
        match self.unit {
            Unit::Inch => fractional_inches(length, self.denominator),
            Unit::Millimetre => tenths_of_mm(length),
        }
    }

    /// The length as an exact decimal of the unit without its name, at most six places; in inches the last place is rounded.
    pub fn decimal(self, length: Length) -> String {
        match self.unit {
            Unit::Inch => decimal_inches(length),
            Unit::Millimetre => decimal_mm(length),
        }
    }

    /// Trade notation of both sizes of a face: `16-7/8" x 4"`.
    pub fn by(self, a: Length, b: Length) -> String {
        format!("{} x {}", self.length(a), self.length(b))
    }
}

/// Decimal millimetres, exact: a nanometre is the sixth place. No trailing zeros.
pub fn decimal_mm(length: Length) -> String {
    six_places(i128::from(length.nm()))
}

/// Decimal inches to six places, the last one rounded. No trailing zeros.
pub fn decimal_inches(length: Length) -> String {
    six_places(round_div(i128::from(length.nm()) * 1_000_000, i128::from(Length::INCH.nm())))
}

fn six_places(millionths: i128) -> String {
    // Lengths up to the limit have fewer than nineteen digits in millionths of a millimetre or an inch.
    let all = i64::try_from(millionths.unsigned_abs()).unwrap_or(i64::MAX);
    let (whole, mut rest) = (all / 1_000_000, all % 1_000_000);
    let mut text = String::with_capacity(16);
    if millionths < 0 {
        text.push('-');
    }
    push_digits(&mut text, whole);
    if rest != 0 {
        text.push('.');
        let mut tenths = 100_000;
        while rest != 0 {
            push_digits(&mut text, rest / tenths);
            rest %= tenths;
            tenths /= 10;
        }
    }
    text
}

/// A length that is less than half of the finest division, and not nothing: in thousandths of an inch or hundredths of a millimetre;
/// where that is nothing too, in millionths of them.
fn hairline(printing: Printing, length: Length) -> Option<String> {
    // The unit and its division, and how many fine steps of a length make a whole unit.
    let (unit, divisions, fine, name) = match printing.unit {
        Unit::Inch => (Length::INCH.nm(), printing.denominator, 1_000, "\""),
        Unit::Millimetre => (Length::MM.nm(), 10, 100, " mm"),
    };
    let nm = length.nm().abs();
    if nm <= Length::SAME_SIZE.nm() || (nm + Length::SAME_SIZE.nm()) * 2 * divisions >= unit {
        return None;
    }
    let steps = |fine: i64| (nm * fine + unit / 2) / unit;
    let fine = if steps(fine) == 0 { 1_000_000 } else { fine };
    let text = six_places(i128::from(steps(fine) * (1_000_000 / fine) * length.nm().signum()));
    let off = (nm * fine - steps(fine) * unit).signum() * length.nm().signum();
    Some(format!("{text}{name}{}", rounded_sign(off)))
}

fn fractional_inches(length: Length, denominator: i64) -> String {
    let inch = Length::INCH.nm();
    // Lengths are far below the limit of the type even in 64ths: 64 km of them.
    let value = length.nm().abs() * denominator;
    // A length that was split may lie a nanometre below the middle between two marks; it is rounded up as the middle is, so
    // that the same size is printed alike on every paper.
    let steps = (value + inch / 2 + Length::SAME_SIZE.nm() * denominator) / inch;
    let off = (value - steps * inch).signum() * length.nm().signum();
    let (whole, parts) = (steps / denominator, steps % denominator);
    let mut text = String::with_capacity(16);
    if length.is_negative() && steps != 0 {
        text.push('-');
    }
    if whole != 0 || parts == 0 {
        push_digits(&mut text, whole);
    }
    if parts != 0 {
        if whole != 0 {
            text.push('-');
        }
        // The divisions of a rule are powers of two.
        let halvings = parts.trailing_zeros().min(denominator.trailing_zeros());
        push_digits(&mut text, parts >> halvings);
        text.push('/');
        push_digits(&mut text, denominator >> halvings);
    }
    text.push('"');
    text.push_str(rounded_sign(off));
    text
}

/// Puts a whole number that is not negative at the end of a text. Sizes are printed by the thousand, and the general
/// machinery of formatting costs several times what the digits do.
fn push_digits(text: &mut String, number: i64) {
    let mut digits = [0_u8; 20];
    let mut rest = number.unsigned_abs();
    let mut from = digits.len();
    loop {
        from -= 1;
        digits[from] = b'0' + u8::try_from(rest % 10).unwrap_or(0);
        rest /= 10;
        if rest == 0 {
            break;
        }
    }
    text.extend(digits[from..].iter().map(|&digit| char::from(digit)));
}

fn tenths_of_mm(length: Length) -> String {
    let tenth = Length::MM.nm() / 10;
    let tenths = (length.nm().abs() + tenth / 2 + Length::SAME_SIZE.nm()) / tenth * length.nm().signum();
    let off = (length.nm() - tenths * tenth).signum();
    format!("{} mm{}", six_places(i128::from(tenths * 100_000)), rounded_sign(off))
}

const fn rounded_sign(off: i64) -> &'static str {
    match off {
        0 => "",
        1.. => "+",
        _ => "-",
    }
}

/// Reads a length as a maker types it.
///
/// Takes `16 7/8`, `16-7/8"`, `1' 4-7/8"`, `428mm`, `42.8 cm`, `0.703in`, `16½"`; a bare number is in `unit`, and is refused
/// when there is none. Lengths beyond one kilometre are refused.
pub fn parse_length(text: &str, unit: Option<Unit>) -> Result<Length, NotationError> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(NotationError::new("there is no length here", "write one such as 16-7/8\" or 428mm"));
    }
    if trimmed.contains(',') {
        return Err(comma(trimmed));
    }
    Reader { text: trimmed, at: 0 }.length(unit)
}

/// Reads a plain number: `3`, `1.5`, `7/8`, `2-1/2`.
pub fn parse_ratio(text: &str) -> Result<Ratio, NotationError> {
    let mut reader = Reader { text: text.trim(), at: 0 };
    let negative = reader.sign();
    let value = reader.number()?;
    if !reader.rest().is_empty() {
        return Err(NotationError::new(
            format!("`{}` is not a plain number", text.trim()),
            "write digits, with a point or a fraction: 3, 1.5 or 7/8",
        ));
    }
    Ok(if negative { -value.value } else { value.value })
}

fn comma(text: &str) -> NotationError {
    NotationError::new(
        format!("the comma in `{text}` can be read in two ways"),
        format!(
            "write `{}` if it is a decimal point, `{}` if it groups thousands",
            text.replace(',', "."),
            text.replace(',', "")
        ),
    )
}

/// How a number was written, because that decides what may follow it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Written {
    Whole,
    Decimal,
    Fraction,
}

struct Number {
    value: Ratio,
    written: Written,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Word {
    Feet,
    Inches,
    Millimetres,
    Centimetres,
    Metres,
}

impl Word {
    fn length(self, count: Ratio) -> Option<Length> {
        let (unit, factor) = match self {
            Self::Feet => (Unit::Inch, 12),
            Self::Inches => (Unit::Inch, 1),
            Self::Millimetres => (Unit::Millimetre, 1),
            Self::Centimetres => (Unit::Millimetre, 10),
            Self::Metres => (Unit::Millimetre, 1000),
        };
        let count = checked_product(count, Ratio::from_integer(factor))?;
        let length = Length::of(count, unit).ok()?;
        (length.abs() <= Length::LIMIT).then_some(length)
    }
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl Reader<'_> {
    fn length(mut self, unit: Option<Unit>) -> Result<Length, NotationError> {
        let negative = self.sign();
        let first = self.number()?;
        let length = match self.unit_word()? {
            Some(Word::Feet) => self.feet_and_inches(&first)?,
            Some(word) => self.measured(word, &first)?,
            None => {
                self.nothing_more()?;
                self.bare(&first, unit)?
            }
        };
        self.nothing_more()?;
        Ok(if negative { -length } else { length })
    }

    fn feet_and_inches(&mut self, feet: &Number) -> Result<Length, NotationError> {
        let whole_feet = self.measured(Word::Feet, feet)?;
        let joined = self.rest().trim_start().trim_start_matches('-').trim_start();
        if joined.is_empty() {
            return Ok(whole_feet);
        }
        if feet.written != Written::Whole {
            return Err(NotationError::new(
                format!("`{}` has a part of a foot and inches as well", self.text),
                "write whole feet before inches: 1' 4-7/8\"",
            ));
        }
        self.at = self.text.len() - joined.len();
        let inches = self.number()?;
        match self.unit_word()? {
            Some(Word::Inches) => {}
            None => {
                return Err(NotationError::new(
                    format!("the last number in `{}` has no unit", self.text),
                    format!("write `{}\"` if it is inches", self.text),
                ));
            }
            Some(_) => return Err(self.not_a_length()),
        }
        if inches.value >= Ratio::from_integer(12) {
            return Err(NotationError::new(
                format!("`{}` has twelve inches or more beside its feet", self.text),
                "write the whole of it in inches, or fewer inches",
            ));
        }
        let inches = self.measured(Word::Inches, &inches)?;
        whole_feet.plus(inches).map_err(|_| self.too_long())
    }

    fn measured(&self, word: Word, number: &Number) -> Result<Length, NotationError> {
        word.length(number.value).ok_or_else(|| self.too_long())
    }

    fn bare(&self, number: &Number, unit: Option<Unit>) -> Result<Length, NotationError> {
        match unit {
            None => Err(NotationError::new(
                format!("`{}` has no unit", self.text),
                format!("write `{0}in` or `{0}mm`", self.text),
            )),
            Some(Unit::Inch) => self.measured(Word::Inches, number),
            Some(Unit::Millimetre) if number.written == Written::Fraction => Err(NotationError::new(
                format!(
                    "`{}` can be read in two ways, because a fraction is an inch notation and this job is in mm",
                    self.text
                ),
                format!("write `{0}in` or `{0}mm`", self.text),
            )),
            Some(Unit::Millimetre) => self.measured(Word::Millimetres, number),
        }
    }

    fn sign(&mut self) -> bool {
        let rest = self.rest();
        for minus in ['-', '\u{2212}'] {
            if rest.starts_with(minus) {
                self.at += minus.len_utf8();
                self.skip_space();
                return true;
            }
        }
        false
    }

    /// A whole number, a decimal, a fraction, or a whole number and a fraction.
    fn number(&mut self) -> Result<Number, NotationError> {
        self.skip_space();
        if let Some(value) = self.glyph() {
            return Ok(Number { value, written: Written::Fraction });
        }
        let whole_digits = self.digits();
        if self.rest().starts_with('.') {
            self.at += 1;
            let places = self.digits();
            if whole_digits.is_empty() && places.is_empty() {
                return Err(self.not_a_length());
            }
            return self.decimal(&whole_digits, &places);
        }
        if whole_digits.is_empty() {
            return Err(self.not_a_length());
        }
        let whole = self.whole(&whole_digits)?;
        if self.rest().starts_with('/') {
            let value = self.fraction(whole, false)?;
            return Ok(Number { value, written: Written::Fraction });
        }
        let before = self.at;
        self.skip_space();
        if self.rest().starts_with('-') {
            self.at += 1;
            self.skip_space();
        }
        if let Some(part) = self.glyph() {
            return self.mixed(whole, part);
        }
        let digits = self.digits();
        if !digits.is_empty() && self.rest().starts_with('/') {
            let numerator = self.whole(&digits)?;
            let part = self.fraction(numerator, true)?;
            return self.mixed(whole, part);
        }
        self.at = before;
        Ok(Number { value: Ratio::from_integer(whole), written: Written::Whole })
    }

    fn mixed(&self, whole: i64, part: Ratio) -> Result<Number, NotationError> {
        let value = part + Ratio::from_integer(0);
        let value = i64::checked_mul(whole, *value.denom())
            .and_then(|n| n.checked_add(*value.numer()))
            .ok_or_else(|| self.too_long())?;
        Ok(Number { value: Ratio::new(value, *part.denom()), written: Written::Fraction })
    }

    fn fraction(&mut self, numerator: i64, after_whole: bool) -> Result<Ratio, NotationError> {
        self.at += 1;
        let digits = self.digits();
        if digits.is_empty() {
            return Err(self.not_a_length());
        }
        let denominator = self.whole(&digits)?;
        if denominator == 0 {
            return Err(NotationError::new(
                format!("`{}` divides by zero", self.text),
                "write the fraction that was meant",
            ));
        }
        if after_whole && numerator >= denominator {
            return Err(NotationError::new(
                format!("the fraction in `{}` is one or more, beside a whole number", self.text),
                format!("write it as one number: {numerator}/{denominator} is {}", Ratio::new(numerator, denominator)),
            ));
        }
        if self.rest().starts_with('/') {
            return Err(self.not_a_length());
        }
        Ok(Ratio::new(numerator, denominator))
    }

    fn decimal(&self, whole: &str, places: &str) -> Result<Number, NotationError> {
        let places = places.trim_end_matches('0');
        let digits = format!("{whole}{places}");
        let scale = u32::try_from(places.len()).ok().and_then(|n| 10_i64.checked_pow(n));
        let number = if digits.is_empty() { Some(0) } else { digits.parse::<i64>().ok() };
        match (number, scale) {
            (Some(number), Some(scale)) => Ok(Number { value: Ratio::new(number, scale), written: Written::Decimal }),
            _ => Err(NotationError::new(
                format!("`{}` has more digits than a length can hold", self.text),
                "nine decimal places are finer than any saw",
            )),
        }
    }

    fn glyph(&mut self) -> Option<Ratio> {
        const GLYPHS: [(char, i64, i64); 7] =
            [('½', 1, 2), ('¼', 1, 4), ('¾', 3, 4), ('⅛', 1, 8), ('⅜', 3, 8), ('⅝', 5, 8), ('⅞', 7, 8)];
        let next = self.rest().chars().next()?;
        let &(glyph, n, d) = GLYPHS.iter().find(|(glyph, ..)| *glyph == next)?;
        self.at += glyph.len_utf8();
        Some(Ratio::new(n, d))
    }

    fn unit_word(&mut self) -> Result<Option<Word>, NotationError> {
        self.skip_space();
        let rest = self.rest();
        for (mark, word) in [
            ("''", Word::Inches),
            ("\"", Word::Inches),
            ("″", Word::Inches),
            ("”", Word::Inches),
            ("'", Word::Feet),
            ("′", Word::Feet),
            ("’", Word::Feet),
        ] {
            if rest.starts_with(mark) {
                self.at += mark.len();
                return Ok(Some(word));
            }
        }
        let letters: String = rest.chars().take_while(|c| c.is_alphabetic()).collect();
        if letters.is_empty() {
            return Ok(None);
        }
        let word = match letters.to_lowercase().as_str() {
            "in" | "inch" | "inches" => Word::Inches,
            "ft" | "foot" | "feet" => Word::Feet,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Word::Millimetres,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Word::Centimetres,
            "m" | "metre" | "metres" | "meter" | "meters" => Word::Metres,
            _ => {
                return Err(NotationError::new(
                    format!("`{letters}` is not a unit that is known here"),
                    "write mm, cm, m, in, \" or '",
                ));
            }
        };
        self.at += letters.len();
        if self.rest().starts_with('.') && word == Word::Inches {
            self.at += 1;
        }
        Ok(Some(word))
    }

    fn digits(&mut self) -> String {
        let digits: String = self.rest().chars().take_while(char::is_ascii_digit).collect();
        self.at += digits.len();
        digits
    }

    fn whole(&self, digits: &str) -> Result<i64, NotationError> {
        digits.parse().map_err(|_| self.too_long())
    }

    fn skip_space(&mut self) {
        self.at = self.text.len() - self.rest().trim_start().len();
    }

    fn rest(&self) -> &str {
        &self.text[self.at..]
    }

    fn nothing_more(&self) -> Result<(), NotationError> {
        let rest = self.rest().trim();
        if rest.is_empty() {
            return Ok(());
        }
        if rest == "+" || rest == "-" {
            return Err(NotationError::new(
                format!("the `{rest}` at the end of `{}` says that it was rounded", self.text),
                "write the exact size, or leave the sign away to mean just this",
            ));
        }
        if rest.starts_with('-') {
            let first = self.text[..self.at].trim();
            return Err(NotationError::new(
                format!("`{}` can be read in two ways, a mixed number or a subtraction", self.text),
                format!("write one size: `{first}`, or a fraction after the dash as in 16-7/8"),
            ));
        }
        Err(self.not_a_length())
    }

    fn not_a_length(&self) -> NotationError {
        NotationError::new(
            format!("`{}` is not a length", self.text),
            "write one such as 16-7/8\", 1' 4-7/8\", 428mm, 42.8 cm or 0.703in",
        )
    }

    fn too_long(&self) -> NotationError {
        NotationError::new(format!("`{}` is longer than a kilometre", self.text), "check the number and its unit")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn inches(n: i64, d: i64) -> Length {
        Length::of(Ratio::new(n, d), Unit::Inch).unwrap()
    }

    #[test]
    fn the_trades_notations_are_read() {
        let table = [
            ("16 7/8", inches(135, 8)),
            ("16-7/8\"", inches(135, 8)),
            ("16 - 7/8 in", inches(135, 8)),
            ("16⅞\"", inches(135, 8)),
            ("1' 4-7/8\"", inches(135, 8)),
            ("1'4 7/8\"", inches(135, 8)),
            ("1 ft 4 in", inches(16, 1)),
            ("6'", inches(72, 1)),
            ("7/8", inches(7, 8)),
            (".5", inches(1, 2)),
            ("16.875", inches(135, 8)),
            ("0.703in", inches(703, 1000)),
            ("-3/8", inches(-3, 8)),
            ("428mm", Length::from_mm(428)),
            ("42.8 cm", Length::from_mm(428)),
            ("0.428 m", Length::from_mm(428)),
            ("3 in.", inches(3, 1)),
        ];
        for (text, expected) in table {
            assert_eq!(parse_length(text, Some(Unit::Inch)), Ok(expected), "{text}");
        }
        assert_eq!(parse_length("428", Some(Unit::Millimetre)), Ok(Length::from_mm(428)));
    }

    #[test]
    fn what_can_be_read_twice_or_not_at_all_is_refused() {
        for (text, part) in [
            ("", "no length"),
            ("1,200mm", "two ways"),
            ("16-7", "two ways"),
            ("16 9/8", "one or more"),
            ("1/0", "zero"),
            ("3 furlongs", "not a unit"),
            ("16-7/8\"+", "rounded"),
            ("1.5' 3\"", "part of a foot"),
            ("1' 13\"", "twelve inches"),
            ("1' 4", "no unit"),
            ("1/2/3", "not a length"),
            ("banana", "not a length"),
            ("99999999999999999999", "kilometre"),
            ("2000 m", "kilometre"),
            ("1e3", "not a unit"),
        ] {
            let error = parse_length(text, Some(Unit::Inch)).unwrap_err();
            assert!(error.message.contains(part), "{text}: {error}");
        }
        assert!(parse_length("7/8", Some(Unit::Millimetre)).unwrap_err().message.contains("two ways"));
        assert!(parse_length("18", None).unwrap_err().message.contains("no unit"));
    }

    #[test]
    fn rounding_is_marked() {
        let print = |nm, denominator| Printing { unit: Unit::Inch, denominator }.length(Length::from_nm(nm));
        // 18 mm is 0.70866 in: 45.35/64, so 45/64 and a little more; 22.68/32, so 23/32 and a little less.
        assert_eq!(print(18_000_000, 64), "45/64\"+");
        assert_eq!(print(18_000_000, 32), "23/32\"-");
        assert_eq!(print(-18_000_000, 64), "-45/64\"-");
        assert_eq!(print(1, 64), "0\"+");
        assert_eq!(print(0, 16), "0\"");
        // What would read as nothing is told in decimals: 5 thousandths are 127 000 nm, 0.2 mm is 7.87 thousandths, 2 micrometres are
        // 78.7 millionths. A 64th is 396 875 nm; from half of it on the rule tells.
        assert_eq!(print(127_000, 32), "0.005\"");
        assert_eq!(print(200_000, 32), "0.008\"-");
        assert_eq!(print(-200_000, 32), "-0.008\"+");
        assert_eq!(print(2_000, 32), "0.000079\"-");
        assert_eq!(print(198_000, 64), "1/64\"-");
        let metric = Printing { unit: Unit::Millimetre, denominator: 16 };
        assert_eq!(metric.length(Length::from_inch(23, 32)), "18.3 mm-");
        assert_eq!(metric.length(Length::from_mm(18)), "18 mm");
        assert_eq!(metric.length(Length::from_um(20)), "0.02 mm");
        assert_eq!(metric.length(Length::from_um(2)), "0.002 mm");
        assert_eq!(decimal_inches(Length::from_inch(1, 64)), "0.015625");
        assert_eq!(decimal_mm(Length::from_inch(23, 32)), "18.25625");
    }

    proptest! {
        #[test]
        fn parse_of_print_is_the_identity(n in -1_000_000_i64..1_000_000) {
            let length = inches(n, 64);
            let printed = Printing { unit: Unit::Inch, denominator: 64 }.length(length);
            prop_assert_eq!(parse_length(&printed, None), Ok(length), "{}", printed);
            let thousandths = inches(n, 1000);
            let printed = format!("{} in", decimal_inches(thousandths));
            prop_assert_eq!(parse_length(&printed, None), Ok(thousandths), "{}", printed);
        }

        #[test]
        fn exact_millimetres_are_the_identity(nm in -1_000_000_000_000_i64..1_000_000_000_000) {
            let length = Length::from_nm(nm);
            prop_assert_eq!(parse_length(&length.to_string(), None), Ok(length));
        }

        #[test]
        fn rounding_is_to_the_nearest(nm in -10_000_000_000_i64..10_000_000_000, bits in 4_u32..7) {
            let denominator = 1_i64 << bits;
            let printed = Printing { unit: Unit::Inch, denominator }.length(Length::from_nm(nm));
            let bare = printed.trim_end_matches(['+', '-']);
            let back = parse_length(bare, None).unwrap();
            let off = (back.nm() - nm).abs();
            let most = Length::INCH.nm() / denominator + 2 * Length::SAME_SIZE.nm();
            prop_assert!(2 * off <= most, "{} for {}", printed, nm);
            prop_assert_eq!(printed.ends_with('+'), back.nm() < nm);
            prop_assert_eq!(printed.ends_with('-'), back.nm() > nm);
        }

        #[test]
        fn no_text_panics(text in "\\PC{0,20}") {
            let _ = parse_length(&text, Some(Unit::Inch));
            let _ = parse_ratio(&text);
        }
    }
}
