//! Trials: a question across rolls that outlives the page, and the days to look at them again.

use crate::notebook::{Record, Value};
use crate::timestamp::Timestamp;

/// The day on which a trial is looked at next: the first that has no answer from then on. Days are
/// those of a clock that is so far ahead of UTC.
pub fn next_look(trial: &Record, offset_ms: i64) -> Option<&str> {
    let day = |answer: &Value| {
        let at = Timestamp::from_iso(answer.get("at")?.as_str()?)?;
        at.plus_ms(offset_ms).to_iso().get(..10).map(str::to_owned)
    };
    let answered = trial.list("answers").iter().filter_map(day).max();
    let days = trial.list("look_again_on").iter().filter_map(Value::as_str);
    days.filter(|day| answered.as_deref().is_none_or(|answered| *day > answered)).min()
}

/// The trials that ought to be looked at on `today`, a day such as `2026-11-25`.
pub fn is_due(trial: &Record, today: &str, offset_ms: i64) -> bool {
    next_look(trial, offset_ms).is_some_and(|day| day <= today)
}

/// The days on which to look again as a calendar file (RFC 5545): each an event of a whole day, with
/// an alarm at nine. `rolls` says which rolls to look at, and where they are.
pub fn calendar(trial: &Record, rolls: &str, made: Timestamp) -> String {
    let mut about = trial.text("differs").to_owned();
    if !rolls.is_empty() {
        about.push_str(if about.is_empty() { "" } else { "\n" });
        about.push_str(rolls);
    }
    let asks = escaped(&format!("Look again: {}", trial.text("question")));
    let stamp: String = made.to_iso().chars().filter(|sign| !"-:".contains(*sign)).collect();
    let stamp = format!("{}Z", stamp.split('.').next().unwrap_or_default());
    let mut lines = vec![
        "BEGIN:VCALENDAR".to_owned(),
        "VERSION:2.0".to_owned(),
        "PRODID:-//Sinkside//Sinkside//EN".to_owned(),
    ];
    for day in trial.list("look_again_on").iter().filter_map(Value::as_str) {
        lines.extend([
            "BEGIN:VEVENT".to_owned(),
            format!("UID:{}-{day}", trial.id()),
            format!("DTSTAMP:{stamp}"),
            format!("DTSTART;VALUE=DATE:{}", day.replace('-', "")),
            format!("SUMMARY:{asks}"),
            format!("DESCRIPTION:{}", escaped(&about)),
            "TRANSP:TRANSPARENT".to_owned(),
            "BEGIN:VALARM".to_owned(),
            "ACTION:DISPLAY".to_owned(),
            format!("DESCRIPTION:{asks}"),
            "TRIGGER:PT9H".to_owned(),
            "END:VALARM".to_owned(),
            "END:VEVENT".to_owned(),
        ]);
    }
    lines.push("END:VCALENDAR".to_owned());
    lines.iter().map(|line| folded(line)).collect()
}

/// A text as the standard wants it (RFC 5545, 3.3.11).
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for sign in text.chars() {
        match sign {
            '\\' | ';' | ',' => out.extend(['\\', sign]),
            '\n' => out.push_str("\\n"),
            sign if sign.is_control() => {}
            sign => out.push(sign),
        }
    }
    out
}

/// A line of at most 75 bytes, and what is left of it on further ones, each after a blank (RFC 5545,
/// 3.1).
fn folded(line: &str) -> String {
    let (mut out, mut length) = (String::new(), 0);
    for sign in line.chars() {
        if length + sign.len_utf8() > 75 {
            out.push_str("\r\n ");
            length = 1;
        }
        length += sign.len_utf8();
        out.push(sign);
    }
    out + "\r\n"
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notebook::Kind;

    fn days(days: &[&str]) -> Value {
        days.iter().map(|day| Value::from(*day)).collect()
    }

    fn trial() -> Record {
        let at = Timestamp::from_milliseconds(1_795_000_000_123);
        Record::new(Kind::Trial, "a1", "phone", at)
            .with("question", "Does it fade, in sun; or not?")
            .with("look_again_on", days(&["2028-11-25", "2027-11-25"]))
    }

    #[test]
    fn a_trial_is_due_on_its_day_and_until_it_is_answered() {
        assert_eq!(next_look(&trial(), 0), Some("2027-11-25"));
        assert!(!is_due(&trial(), "2027-11-24", 0) && is_due(&trial(), "2027-11-25", 0));
        let answer = crate::notebook::pairs(&[("at", "2027-12-01T09:00:00.000Z"), ("text", "No.")]);
        let seen = trial().with("answers", Value::from(vec![answer]));
        assert_eq!(next_look(&seen, 0), Some("2028-11-25"));
        assert!(!is_due(&seen, "2028-11-24", 0));
    }

    #[test]
    fn an_answer_belongs_to_the_day_on_the_persons_wall() {
        const HOUR_MS: i64 = 3_600_000;
        let answered = |at: &str, hours: i64| {
            let answer = crate::notebook::pairs(&[("at", at), ("text", "No.")]);
            let seen = trial().with("answers", Value::from(vec![answer]));
            next_look(&seen, hours * HOUR_MS).map(str::to_owned)
        };
        // Just after midnight of the day itself, two hours east of Greenwich.
        assert_eq!(answered("2027-11-24T22:30:00.000Z", 2).as_deref(), Some("2028-11-25"));
        // On the evening before, seven hours west of it.
        assert_eq!(answered("2027-11-25T04:00:00.000Z", -7).as_deref(), Some("2027-11-25"));
    }

    #[test]
    fn a_long_line_goes_on_after_a_blank_and_no_sign_is_torn() {
        let long = "ä".repeat(100);
        let text = folded(&long);
        assert!(text.split("\r\n").all(|line| line.len() <= 75));
        assert_eq!(text.replace("\r\n ", ""), format!("{long}\r\n"));
    }
}
