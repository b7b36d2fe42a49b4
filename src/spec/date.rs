//! Dates, as a day of the calendar.

use std::fmt;

/// A day of the Gregorian calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// The day, if there is one.
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let days = match month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            _ => 0,
        };
        (1..=days).contains(&day).then_some(Self { year, month, day })
    }

    /// Reads `2026-03-01` (ISO 8601).
    pub fn from_text(text: &str) -> Option<Self> {
        let bytes = text.as_bytes();
        if bytes.len() != 10 || bytes[4] != b'-' || bytes[7] != b'-' {
            return None;
        }
        let digits = |range: std::ops::Range<usize>| {
            text.get(range).filter(|part| part.bytes().all(|byte| byte.is_ascii_digit()))
        };
        Self::new(digits(0..4)?.parse().ok()?, digits(5..7)?.parse().ok()?, digits(8..10)?.parse().ok()?)
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_days_of_the_calendar_are_dates() {
        assert_eq!(Date::from_text("2026-03-01").unwrap().to_string(), "2026-03-01");
        assert!(Date::from_text("2024-02-29").is_some());
        for text in
            ["2026-02-29", "2100-02-29", "2026-13-01", "2026-00-10", "1.3.2026", "2026-3-1", "+026-03-01", "½026-1-1"]
        {
            assert_eq!(Date::from_text(text), None, "{text}");
        }
    }
}
