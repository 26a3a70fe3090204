//! A temperature as it is typed: three digits, the last a tenth.

use process_model::quantity::Celsius;

/// The digits so far. Fewer than three.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Typed {
    digits: Vec<u8>,
}

/// What typing led to.
#[derive(Clone, Debug, PartialEq)]
pub enum Typing {
    /// More digits are wanted.
    Going(Typed),
    /// A temperature.
    Done(Celsius),
}

/// What is said when something other than a temperature is typed or pasted.
pub const ONLY_DIGITS: &str = "Digits only, such as 38.9.";

impl Typed {
    /// Adds a digit; the third is the tenth of a degree.
    pub fn add(&self, digit: u8) -> Typing {
        let mut digits = self.digits.clone();
        digits.push(digit.min(9));
        match digits.as_slice() {
            [tens, ones, tenth] => {
                let tenths = u32::from(*tens) * 100 + u32::from(*ones) * 10 + u32::from(*tenth);
                Typing::Done(Celsius::new(f64::from(tenths) / 10.0))
            }
            _ => Typing::Going(Self { digits }),
        }
    }

    /// Takes the last digit back.
    #[must_use]
    pub fn back(&self) -> Self {
        let keep = self.digits.len().saturating_sub(1);
        Self { digits: self.digits[..keep].to_vec() }
    }

    /// The digits as they stand, with the point once there are two.
    pub fn shown(&self) -> String {
        let text: String = self.digits.iter().map(|digit| char::from(b'0' + digit)).collect();
        if text.len() == 2 { text + "." } else { text }
    }

    /// How many digits are still wanted.
    pub fn wanted(&self) -> usize {
        3 - self.digits.len().min(3)
    }
}

/// A temperature that was pasted: `38.9`, `38,9`, `389` or `39`.
///
/// # Errors
///
/// The sentence to show, if it is none below 100 °C.
pub fn pasted(text: &str) -> Result<Celsius, &'static str> {
    let text = text.trim().trim_end_matches("°C").trim().replace(',', ".");
    let plain =
        !text.is_empty() && text.len() <= 6 && text.bytes().all(|byte| byte.is_ascii_digit());
    let scale = if plain && text.len() == 3 { 10.0 } else { 1.0 };
    let allowed = |byte: u8| byte.is_ascii_digit() || byte == b'.';
    let number = if text.bytes().all(allowed) { text.parse::<f64>().ok() } else { None };
    match number.map(|number| (number / scale * 10.0).round() / 10.0) {
        Some(degrees) if (0.0..100.0).contains(&degrees) => Ok(Celsius::new(degrees)),
        _ => Err(ONLY_DIGITS),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_third_digit_is_the_tenth() {
        let Typing::Going(one) = Typed::default().add(3) else { panic!("one digit") };
        let Typing::Going(two) = one.add(8) else { panic!("two digits") };
        assert_eq!((two.shown().as_str(), two.wanted()), ("38.", 1));
        assert_eq!(two.add(9), Typing::Done(Celsius::new(38.9)));
        assert_eq!(two.back(), one);
        assert_eq!(Typed::default().back(), Typed::default());
    }

    #[test]
    fn what_is_pasted_is_read_or_explained() {
        for (text, degrees) in
            [("389", 38.9), ("38,9", 38.9), (" 38.9 °C", 38.9), ("39", 39.0), ("7.25", 7.3)]
        {
            assert_eq!(pasted(text), Ok(Celsius::new(degrees)), "{text}");
        }
        for text in ["", "warm", "38.9.1", "1e1", "-3", "3890", "<b>38</b>", "nan"] {
            assert_eq!(pasted(text), Err(ONLY_DIGITS), "{text}");
        }
    }
}
