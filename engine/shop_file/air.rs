//! The air of the shop file: how dry and how damp the year is where the work will stand.

use toml::Spanned;
use toml::de::DeValue;

use super::{Reader, VALUE};
use crate::base::{Ratio, parse_ratio};
use crate::model::Shop;

// The equation for the moisture of wood was fitted to a table from 30 F to some 200 F and 5 to 98 % (from memory); a room that wood
// stands in is well within these.
const HUMIDITY: (i64, i64) = (5, 95);
const CELSIUS: (i64, i64) = (-10, 50);

impl Reader<'_> {
    /// A relative humidity: a percentage with its sign, or a plain number of percents.
    pub(super) fn humidity(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<Ratio> {
        let written = self.text_or_digits(key, value, "a percentage: \"30%\"")?;
        let number = written.trim().trim_end_matches('%');
        let (low, high) = HUMIDITY;
        let percent = parse_ratio(number).ok().filter(|percent| within(*percent, HUMIDITY));
        if percent.is_none() {
            let message = format!("`{key}` of `{written}` is not a humidity from {low}% to {high}%");
            self.tell(VALUE, message, value.span(), &format!("write it with its sign: {key} = \"30%\""));
        }
        // Whole tenths of a percent keep the number far from overflow.
        percent.map(|percent| (percent * Ratio::from_integer(10)).round() / Ratio::from_integer(1_000))
    }

    /// A temperature with its scale, in degrees Celsius.
    pub(super) fn temperature(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Option<Ratio> {
        let written = self.text_or_digits(key, value, "a temperature: \"70 F\" or \"21 C\"")?;
        let plain = written.trim().replace('°', "");
        let scale =
            plain.chars().last().map(|letter| letter.to_ascii_uppercase()).filter(|letter| "CF".contains(*letter));
        let Some(scale) = scale else {
            let message = format!("`{key}` of `{written}` can be read in two ways, as Fahrenheit or as Celsius");
            self.tell(VALUE, message, value.span(), &format!("write it with its scale: {key} = \"70 F\" or \"21 C\""));
            return None;
        };
        let (sign, number) = match plain.trim().strip_prefix('-') {
            Some(rest) => (-1, rest.to_owned()),
            None => (1, plain),
        };
        let number = number.trim().trim_end_matches(['C', 'c', 'F', 'f']).trim().to_owned();
        let celsius = parse_ratio(&number).ok().filter(|degrees| within(*degrees, (0, 1_000))).map(|degrees| {
            let tenths = (degrees * Ratio::from_integer(10)).round() / Ratio::from_integer(10);
            let degrees = tenths * Ratio::from_integer(sign);
            if scale == 'F' { (degrees - Ratio::from_integer(32)) * Ratio::new(5, 9) } else { degrees }
        });
        let celsius = celsius.filter(|celsius| within(*celsius, CELSIUS));
        if celsius.is_none() {
            let message = format!("`{key}` of `{written}` is not a temperature from 14 F to 122 F (-10 C to 50 C)");
            self.tell(VALUE, message, value.span(), &format!("write it with its scale: {key} = \"70 F\" or \"21 C\""));
        }
        celsius
    }

    /// Air that is damper when it is at its driest is a slip.
    pub(super) fn refuse_turned_seasons(&mut self, shop: &Shop, at: Option<std::ops::Range<usize>>) {
        if shop.dampest.humidity > shop.driest.humidity {
            return;
        }
        let percent = |share: Ratio| (share * Ratio::from_integer(100)).round().to_integer();
        let message = format!(
            "`dampest_humidity` is {}%, and `driest_humidity` {}%",
            percent(shop.dampest.humidity),
            percent(shop.driest.humidity)
        );
        self.tell(VALUE, message, at.unwrap_or(0..0), "the dampest month must be damper than the driest one");
    }

    fn text_or_digits(&mut self, key: &str, value: &Spanned<DeValue<'_>>, wanted: &str) -> Option<String> {
        match value.get_ref() {
            DeValue::String(text) => Some(text.to_string()),
            DeValue::Integer(_) | DeValue::Float(_) => Some(self.digits(value)),
            _ => {
                self.wrong_kind(key, value, wanted);
                None
            }
        }
    }
}

fn within(number: Ratio, (low, high): (i64, i64)) -> bool {
    number >= Ratio::from_integer(low) && number <= Ratio::from_integer(high)
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use super::*;

    #[test]
    fn air_is_read_in_both_scales() {
        let shop = read(
            "shop.toml",
            "driest_humidity = \"25 %\"\ndriest_temperature = \"68 F\"\ndampest_humidity = 72.5\ndampest_temperature = \"-4 °C\"\n",
        )
        .unwrap();
        // 68 F is 20 C.
        assert_eq!((shop.driest.humidity, shop.driest.celsius), (Ratio::new(1, 4), Ratio::from_integer(20)));
        assert_eq!((shop.dampest.humidity, shop.dampest.celsius), (Ratio::new(29, 40), Ratio::from_integer(-4)));
    }

    #[test]
    fn what_is_no_air_is_told() {
        for (text, expected) in [
            ("driest_humidity = \"120%\"", "`driest_humidity` of `120%` is not a humidity from 5% to 95%"),
            ("driest_humidity = true", "`driest_humidity` cannot be true"),
            (
                "driest_temperature = 70",
                "`driest_temperature` of `70` can be read in two ways, as Fahrenheit or as Celsius",
            ),
            (
                "dampest_temperature = \"70 C\"",
                "`dampest_temperature` of `70 C` is not a temperature from 14 F to 122 F (-10 C to 50 C)",
            ),
            ("dampest_humidity = \"30%\"", "`dampest_humidity` is 30%, and `driest_humidity` 30%"),
        ] {
            let findings = read("shop.toml", text).unwrap_err();
            assert_eq!(findings[0].message, expected, "{text}");
            assert_eq!(findings.len(), 1, "{text}");
        }
    }
}
