//! A temperature as it is typed: digits only, and no key to confirm.

use process_model::quantity::{Celsius, Seconds};
use session::habits::Scale;

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
    /// Adds a digit; the last one makes the temperature.
    ///
    /// Celsius takes three digits, the last a tenth. Fahrenheit takes two, and three if the first
    /// is a nought or a one.
    pub fn add(&self, digit: u8, scale: Scale) -> Typing {
        let mut digits = self.digits.clone();
        digits.push(digit.min(9));
        if digits.len() < wanted(&digits, scale) {
            return Typing::Going(Self { digits });
        }
        let whole = digits.iter().fold(0, |whole, digit| whole * 10 + u32::from(*digit));
        let celsius = match scale {
            Scale::Celsius => Celsius::new(f64::from(whole) / 10.0),
            Scale::Fahrenheit => from_fahrenheit(f64::from(whole)),
        };
        Typing::Done(celsius)
    }

    /// Takes the last digit back.
    #[must_use]
    pub fn back(&self) -> Self {
        let keep = self.digits.len().saturating_sub(1);
        Self { digits: self.digits[..keep].to_vec() }
    }

    /// The digits as they stand, with the point once there are two.
    pub fn shown(&self, scale: Scale) -> String {
        let text: String = self.digits.iter().map(|digit| char::from(b'0' + digit)).collect();
        if text.len() == 2 && scale == Scale::Celsius { text + "." } else { text }
    }

    /// Whether nothing has been typed.
    pub fn is_empty(&self) -> bool {
        self.digits.is_empty()
    }

    /// How many digits are still wanted.
    pub fn wanted(&self, scale: Scale) -> usize {
        wanted(&self.digits, scale).saturating_sub(self.digits.len())
    }
}

fn wanted(digits: &[u8], scale: Scale) -> usize {
    match (scale, digits.first()) {
        (Scale::Fahrenheit, Some(2..)) => 2,
        _ => 3,
    }
}

/// The temperature in degrees Fahrenheit that a thermometer shows, as it will be kept: a limit that
/// was kept and a reading of the same number are the same then.
pub fn from_fahrenheit(degrees: f64) -> Celsius {
    let celsius = Celsius::from_fahrenheit(degrees).unwrap_or(Celsius::new(0.0));
    Celsius::new(session::notebook::kept(celsius.get()))
}

/// A temperature that was pasted: `38.9`, `38,9`, `389` or `39`; in Fahrenheit `102` or `102.5`.
///
/// # Errors
///
/// The sentence to show, if it is none between freezing and boiling.
pub fn pasted(text: &str, scale: Scale) -> Result<Celsius, &'static str> {
    let text = text.trim();
    let scale = match text.chars().last() {
        Some('F') => Scale::Fahrenheit,
        Some('C') => Scale::Celsius,
        _ => scale,
    };
    let text = text.trim_end_matches(['C', 'F']).trim_end_matches('°').trim().replace(',', ".");
    let plain =
        !text.is_empty() && text.len() <= 6 && text.bytes().all(|byte| byte.is_ascii_digit());
    let is_tenths = plain && text.len() == 3 && scale == Scale::Celsius;
    let number = decimal(&text).filter(|number| *number < 10_000.0);
    let celsius = number.map(|number| match scale {
        Scale::Celsius => {
            let degrees = if is_tenths { number / 10.0 } else { number };
            Celsius::new((degrees * 10.0).round() / 10.0)
        }
        Scale::Fahrenheit => from_fahrenheit(number),
    });
    celsius.filter(|celsius| (0.0..100.0).contains(&celsius.get())).ok_or(ONLY_DIGITS)
}

/// A time that was typed: minutes and seconds as `3:30`, or seconds as `210`. Nothing typed is none.
///
/// # Errors
///
/// The sentence to show, if it is no time of a day or less.
pub fn time(text: &str) -> Result<Option<Seconds>, &'static str> {
    const SUCH_AS: &str = "A time, such as 3:30.";
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let whole = |text: &str| text.parse::<u32>().ok().filter(|number| *number <= 86_400);
    let seconds = match text.split_once(':') {
        Some((minutes, seconds)) => whole(minutes)
            .zip(whole(seconds).filter(|seconds| *seconds < 60))
            .map(|(minutes, seconds)| minutes * 60 + seconds),
        None => whole(text),
    };
    seconds
        .filter(|seconds| *seconds <= 86_400)
        .map(|seconds| Some(Seconds::whole(seconds)))
        .ok_or(SUCH_AS)
}

/// A number from nought on that was typed. Nothing typed is none.
///
/// # Errors
///
/// The sentence to show, if it is none.
pub fn number(text: &str) -> Result<Option<f64>, &'static str> {
    let text = text.trim().replace(',', ".");
    if text.is_empty() {
        return Ok(None);
    }
    let number = decimal(&text).filter(|number| *number <= 1e6);
    number.map(Some).ok_or("A number, such as 15.")
}

/// A number with or without a sign; a comma is a point. Nothing if it is none.
pub fn signed(text: &str) -> Option<f64> {
    let text = text.trim().replace(',', ".");
    match text.strip_prefix(['-', '−']) {
        Some(text) => decimal(text).map(|number| -number),
        None => decimal(&text),
    }
}

/// A number of digits with one point at most. By whole numbers: reading every floating point
/// number there is brings six kilobytes along.
fn decimal(text: &str) -> Option<f64> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let is_digits = |text: &str| text.len() <= 9 && text.bytes().all(|byte| byte.is_ascii_digit());
    if !is_digits(whole) || !is_digits(part) || whole.len() + part.len() == 0 {
        return None;
    }
    let number = |text: &str| if text.is_empty() { Some(0) } else { text.parse::<u32>().ok() };
    let scale = (0..part.len()).fold(1.0, |scale, _| scale * 10.0);
    Some(f64::from(number(whole)?) + f64::from(number(part)?) / scale)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_may_be_below_nought_and_have_a_comma() {
        assert_eq!(signed("−0.3"), Some(-0.3));
        assert_eq!(signed(" -0,3 "), Some(-0.3));
        assert_eq!(signed("0.0"), Some(0.0));
        assert_eq!(signed("--1"), None);
        assert_eq!(signed("cold"), None);
    }

    #[test]
    fn the_third_digit_is_the_tenth() {
        let celsius = Scale::Celsius;
        let Typing::Going(one) = Typed::default().add(3, celsius) else { panic!("one digit") };
        let Typing::Going(two) = one.add(8, celsius) else { panic!("two digits") };
        assert_eq!((two.shown(celsius).as_str(), two.wanted(celsius)), ("38.", 1));
        assert_eq!(two.add(9, celsius), Typing::Done(Celsius::new(38.9)));
        assert_eq!(two.back(), one);
        assert_eq!(Typed::default().back(), Typed::default());
    }

    #[test]
    fn fahrenheit_takes_three_digits_after_a_one_and_two_otherwise() {
        let type_all = |digits: &[u8]| {
            digits.iter().fold(Typing::Going(Typed::default()), |typing, digit| match typing {
                Typing::Going(typed) => typed.add(*digit, Scale::Fahrenheit),
                Typing::Done(_) => panic!("done before {digit}"),
            })
        };
        let Typing::Done(warm) = type_all(&[1, 0, 2]) else { panic!("not done") };
        assert!((warm.get() - 38.889).abs() < 0.001);
        let Typing::Done(cool) = type_all(&[7, 5]) else { panic!("not done") };
        assert!((cool.get() - 23.889).abs() < 0.001);
    }

    #[test]
    fn what_is_pasted_is_read_or_explained() {
        for (text, degrees) in
            [("389", 38.9), ("38,9", 38.9), (" 38.9 °C", 38.9), ("39", 39.0), ("7.25", 7.3)]
        {
            assert_eq!(pasted(text, Scale::Celsius), Ok(Celsius::new(degrees)), "{text}");
        }
        for text in ["", "warm", "38.9.1", "1e1", "-3", "3890", "<b>38</b>", "nan"] {
            assert_eq!(pasted(text, Scale::Celsius), Err(ONLY_DIGITS), "{text}");
        }
        for text in ["102", "102 °F", "102.0"] {
            let read = pasted(text, Scale::Fahrenheit).map(|celsius| celsius.get().round());
            assert_eq!(read, Ok(39.0), "{text}");
        }
        assert_eq!(pasted("38.9 °C", Scale::Fahrenheit), Ok(Celsius::new(38.9)));
    }

    #[test]
    fn times_and_numbers_are_read_or_explained() {
        for (text, seconds) in [("3:30", 210), ("210", 210), (" 0:05 ", 5), ("90:00", 5_400)] {
            assert_eq!(time(text), Ok(Some(Seconds::whole(seconds))), "{text}");
        }
        assert_eq!(time(" "), Ok(None));
        for text in ["3:60", "-3", "3.5", "soon", "1:2:3", "86401", "99999999999"] {
            assert!(time(text).is_err(), "{text}");
        }
        assert_eq!(number("12,5"), Ok(Some(12.5)));
        for text in ["-1", "nan", "inf", "1e9", "many"] {
            assert!(number(text).is_err(), "{text}");
        }
    }
}
